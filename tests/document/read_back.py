"""Reads the numbers of a paper back from its page, as somebody does who has nothing but the paper.

What is told is looked for by its words; what stands in the place of a number is read with its unit and held against the
value that it tells, to half of the last digit that says something. Of what writes numbers nothing is used to read them
but the table of units, which pint judges.
"""

from __future__ import annotations

import math
import re
from bisect import bisect_left
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cache
from string import Formatter

from tests.document.strict_reader import Element
from vanwater.answers.core.amount import Amount, Range
from vanwater.answers.core.number import Number
from vanwater.answers.core.statement import BySystem, Count, Say, plain
from vanwater.answers.core.table import Table
from vanwater.quantities import Quantity, retold
from vanwater.quantities.quantity import Unit
from vanwater.quantities.vocabulary import QUANTITIES

__all__ = ["NUMBER", "Page", "flat", "unlike"]

MINUS, THOUSANDS = "\N{MINUS SIGN}", "\N{NARROW NO-BREAK SPACE}"
NUMBER = re.compile(rf"{MINUS}?(?:\d+/\d+|\d+(?:{THOUSANDS}\d{{3}})*(?:\.\d+)?(?: \d+/\d+)?(?: × 10[⁻⁰¹²³⁴⁵⁶⁷⁸⁹]+)?)")
LONE = re.compile(rf"(?<![\w.,/{MINUS}⁻-]){NUMBER.pattern}(?![\w/]|\.\d)")
"""A number that is no part of a word, a name or a date."""
NO_NUMBER = {"not known": math.nan, "unlimited": math.inf}
_POWER = str.maketrans("⁻⁰¹²³⁴⁵⁶⁷⁸⁹", "-0123456789")
_SLACK = 1.02
"""Of half a step: a five that is rounded either way."""

_LONGEST = 70
"""Letters of a number with its range."""

BREAK = " \N{PILCROW SIGN} "
"""Between two blocks of a page; nothing that is told goes across."""
BLOCKS = frozenset({*("p", "li", "td", "th", "dt", "dd", "div", "h1", "h2", "h3", "h4", "caption", "figcaption"),
                    *("table", "tr", "ul", "ol", "dl", "section", "br", "nav", "title", "sup")})  # fmt: skip


def flat(text: str) -> str:
    """One line, one kind of blank; the one between thousands stays."""
    return re.sub(r"[ \n\t\xa0\u2007\u2008]+", " ", text)


def value_of(text: str) -> float:
    """A number as it stands there."""
    if text in NO_NUMBER:
        return NO_NUMBER[text]
    text, _, power = text.replace(MINUS, "-").replace(THOUSANDS, "").partition(" × 10")
    sign = -1.0 if text[:1] == "-" else 1.0
    whole = sum(
        float(top) / float(bottom or 1) for top, _, bottom in (part.partition("/") for part in text.lstrip("-").split())
    )
    return sign * whole * 10.0 ** int(power.translate(_POWER) or 0)


@cache
def _shape(quantity: Quantity) -> re.Pattern[str]:
    """What a number of a quantity looks like, its range in brackets behind it."""
    spelt = {unit for each in QUANTITIES if each.si == quantity.si for unit in each.spellings if unit}
    units = "|".join(map(re.escape, sorted({*spelt, *quantity.spellings} - {""}, key=len, reverse=True)))
    unit = rf"(?: ?(?P<unit>{units})(?![\w/·²³]))?" if units else "(?P<unit>)"
    return re.compile(
        rf"(?P<below>below )?(?P<likely>{NUMBER.pattern}|{'|'.join(NO_NUMBER)}){unit}(?: \((?P<ends>[^()]*)\))?"
    )


@cache
def _unit(quantity: Quantity, name: str) -> Unit | None:
    """A unit by its name, of the quantity or of a like one; that of a number without one, where there is none."""
    if not name:
        return quantity.spellings.get("") or (Unit(1.0) if quantity.si == "1" else None)
    alike = (quantity, *(each for each in QUANTITIES if each.si == quantity.si))
    return next((each.spellings[name] for each in alike if name in each.spellings), None)


def _step(text: str, coarsest: float) -> float:
    """The step of the last digit that says something; a nought before the point says nothing where it may be none."""
    text, _, power = text.lstrip(MINUS).replace(THOUSANDS, "").partition(" × 10")
    if "/" in text:
        return 1e-6
    whole, _, decimals = text.partition(".")
    scale = 10.0 ** int(power.translate(_POWER) or 0)
    if decimals:
        return scale * 10.0 ** -len(decimals)
    noughts = len(whole) - len(whole.rstrip("0")) if whole.strip("0") else 0
    return scale * min(10.0**noughts, max(coarsest, 1.0))


def unlike(text: str, told: Amount | Range, unit: str = "", ends: str = "") -> str:
    """What a text tells otherwise than what it is to tell; empty where it tells the same.

    ``unit`` is the one that the head of its column names, ``ends`` what stands in the column beside it.
    """
    said = _shape(told.quantity).fullmatch(flat(text).strip())
    return "no number" if said is None else _unlike(said, told, unit, ends)


def _unlike(said: re.Match[str], told: Amount | Range, head: str = "", beside: str = "") -> str:
    quantity, text = told.quantity, said["likely"]
    likely = told.likely if isinstance(told, Range) else told.value
    if not math.isfinite(likely) or text in NO_NUMBER:
        same = math.isnan(likely) if text == "not known" else likely == NO_NUMBER.get(text)
        return "" if same else f"{text} is not {likely}"
    unit = _unit(quantity, said["unit"] or head)
    if unit is None:
        return f"“{said['unit'] or head}” is no unit of {quantity.name}"
    if said["below"]:
        return "" if likely < quantity.lowest_told else f"{likely} is not below {quantity.lowest_told}"
    steps = quantity.steps.get(said["unit"] or head, (0.0, 0.0))
    exact = 0.0 if abs(likely) < quantity.nothing else float(unit.from_si(likely))
    coarsest = max(_leading(exact) * 10.0 ** (1 - told.digits), min(_width(told, unit) / 3.0, _leading(exact)))
    if abs(value_of(text) - exact) > _half(text, exact, steps, coarsest):
        return f"{text} {said['unit'] or head} is not {exact:.6g}"
    ends = flat(beside).strip("() ") or said["ends"] or ""
    if not isinstance(told, Range):
        return "ends of nothing" if ends else ""
    return _ends_unlike(ends, told, unit, steps, coarsest)


def _ends_unlike(text: str, told: Range, unit: Unit, steps: tuple[float, float], coarsest: float) -> str:
    quantity = told.quantity
    low, high = (0.0 if abs(end) < quantity.nothing else float(unit.from_si(end)) for end in (told.low, told.high))
    if not text:
        least = max(coarsest, steps[0], 0.0 if quantity.places is None else 10.0**-quantity.places)
        same = high - low <= least or told.likely < quantity.lowest_told
        return "" if same else f"no ends, which are {low:.6g} and {high:.6g}"
    if text == "range not known":
        return "" if math.isnan(low + high) else "its ends are known"
    first, _, last = text.rpartition("to " if text.startswith(("to ", "up to ")) else " to ")
    if first.removeprefix("from ").startswith("below "):
        first, low = first.removeprefix("below "), max(low, float(unit.from_si(quantity.lowest_told)))
    for words, true in ((first.removeprefix("from ") if first != "up " else "", low), (last, high)):
        shown = NO_NUMBER.get(words) or NUMBER.match(words)
        if words and (shown is None or (isinstance(shown, float) and shown != true)):
            return f"({text}) is not {true:.6g}"
        if isinstance(shown, re.Match) and abs(value_of(shown[0]) - true) > _half(shown[0], true, steps, coarsest):
            return f"({text}) is not {true:.6g}"
    return ""


def _leading(exact: float) -> float:
    """What one more of the first digit of a number is."""
    return 10.0 ** math.floor(math.log10(abs(exact))) if exact else 1.0


def _width(told: Amount | Range, unit: Unit) -> float:
    """How wide the range of a number is, as far as it is known."""
    whole = told if isinstance(told, Range) or told.number is None else told.number.shown
    ends = (whole.low, whole.likely, whole.high) if isinstance(whole, Range) else (0.0,)
    known = [float(unit.from_si(end)) for end in ends if math.isfinite(end)]
    return max(known) - min(known)


def _half(text: str, exact: float, steps: tuple[float, float], coarsest: float) -> float:
    """Half of the last digit that says something, or of the step in which the quantity is told."""
    return 0.5 * _SLACK * max(_step(text, coarsest), steps[0] if abs(exact) >= 9.9 else steps[1])


# --- what is told, as words and numbers by turns ------------------------------------------------------------


def pieces(told: object, us: bool) -> list[str | Amount | Range]:
    """A sentence as the words and the numbers that follow each other in it."""
    joined: list[str | Amount | Range] = []
    for piece in _pieces(told, us):
        if isinstance(piece, str) and joined and isinstance(joined[-1], str):
            joined[-1] = flat(joined[-1] + piece)
        else:
            joined.append(flat(piece) if isinstance(piece, str) else piece)
    return [piece for piece in joined if piece != ""]


def _pieces(told: object, us: bool) -> Iterator[str | Amount | Range]:
    if isinstance(told, Say):
        given = dict(told.given)
        for words, hole, *_ in Formatter().parse(told.template):
            yield words
            if hole is not None:
                yield from _pieces(given[hole], us)
    elif isinstance(told, Number):
        yield told.shown
    elif isinstance(told, Amount | Range):
        yield told
    elif isinstance(told, tuple):
        for place, each in enumerate(told):
            yield "" if not place else " and " if place == len(told) - 1 else ", "
            yield from _pieces(each, us)
    elif isinstance(told, list):  # one behind the other
        for each in told:
            yield from [each] if isinstance(each, str) else _pieces(each, us)
    elif isinstance(told, Count):
        yield (
            f"{told.number:,}".replace(",", THOUSANDS)
            + f" {told.one if told.number == 1 else told.many or told.one + 's'}"
        )
    elif isinstance(told, BySystem):
        yield told.us if us else told.metric
    elif told is not None:
        yield plain(str(told), "terminal") if not isinstance(told, int) else f"{told:,}".replace(",", THOUSANDS)


# --- a page -----------------------------------------------------------------------------------------------


@dataclass(frozen=True)
class _Cell:
    start: int
    end: int


class Page:
    """A page as one line of blocks, which knows of each of its numbers whether it was read."""

    def __init__(self, root: Element, us: bool) -> None:
        self.us, self.root = us, root
        self._parts: list[str] = []
        self._size = 0
        self._spans: dict[int, _Cell] = {}
        self._lay(root)
        self.text = "".join(self._parts)
        self._numbers = [(each.start(), each.end()) for each in LONE.finditer(self.text)]
        self._starts = [
            each.start() for each in re.finditer(rf"{NUMBER.pattern}|{'|'.join(NO_NUMBER)}|below ", self.text)
        ]
        self._read = bytearray(len(self.text) + 1)
        self.read = 0
        self.wrong: list[str] = []

    def _put(self, text: str) -> None:
        text = flat(text)
        if not self._parts or self._parts[-1].endswith(" "):
            text = text.removeprefix(" ")
        if text:
            self._parts.append(text)
            self._size += len(text)

    def _cut(self) -> None:
        if self._parts and not self._parts[-1].endswith(BREAK.lstrip()):
            self._put(BREAK)

    def _lay(self, element: Element) -> None:
        if element.tag in ("style", "svg", "head"):
            return
        block = element.tag in BLOCKS
        if block:
            self._cut()
        start = self._size
        for part in element.parts:
            self._put(part) if isinstance(part, str) else self._lay(part)
        self._spans[id(element)] = _Cell(start, self._size)
        if block:
            self._cut()

    def words(self, element: Element) -> str:
        """What stands in a block."""
        span = self._spans[id(element)]
        return self.text[span.start : span.end].strip()

    def mark(self, element: Element) -> None:
        """Take all numbers of a block as read."""
        span = self._spans[id(element)]
        self._mark(span.start, span.end)

    def _mark(self, start: int, end: int) -> None:
        self._read[start:end] = b"\1" * (end - start)

    def left(self) -> list[str]:
        """Each number that nothing told, with its neighbours."""
        return [
            f"{self.text[max(start - 60, 0) : start]}>{self.text[start:end]}<{self.text[end : end + 30]}"
            for start, end in self._numbers
            if not all(self._read[start:end])
        ]

    def tell(self, told: object, *, wanted: bool = False) -> bool:
        """Look for what is told, everywhere; whether it stands somewhere with its numbers.

        A number alone stands nowhere: it is told with what it stands beside. Where it is ``wanted``, it is noted as
        wrong if it stands nowhere.
        """
        parts = pieces(told, self.us)
        hits, near = 0, ""
        for start in self._candidates(parts):
            end, odd = self._follow(parts, start)
            if end >= 0 and not odd:
                self._mark(start, end)
                hits += 1
            elif odd:
                near = f"{self.text[start : start + 120]!r}: {odd}"
        if hits:
            self.read += sum(not isinstance(part, str) for part in parts)
        elif wanted:
            self.wrong.append(near or f"does not stand there: {''.join(map(str, parts))[:160]}")
        return hits > 0

    def _candidates(self, parts: Sequence[str | Amount | Range]) -> Iterator[int]:
        if not parts:
            return
        said = [part for part in parts if isinstance(part, str)]
        if not re.search(r"[^\W\d_]{2}", " ".join(said)) or any(part not in self.text for part in said):
            return
        if isinstance(parts[0], str):
            yield from self._places(parts[0])
        elif len(parts) > 1:
            for place in self._places(str(parts[1])):
                begin, end = bisect_left(self._starts, place - _LONGEST), bisect_left(self._starts, place)
                yield from self._starts[begin:end]

    def _places(self, words: str) -> Iterator[int]:
        place = self.text.find(words)
        while place >= 0:
            yield place
            place = self.text.find(words, place + 1)

    def _follow(self, parts: Sequence[str | Amount | Range], place: int) -> tuple[int, str]:
        """Where what is told ends that begins at a place, and what of its numbers is another; -1 where it does not."""
        odd = ""
        for number, part in enumerate(parts):
            if isinstance(part, str):
                if not self.text.startswith(part, place):
                    return -1, ""
                place += len(part)
                if part[-1:].isdigit() and re.match(rf"[.{THOUSANDS}]?\d", self.text[place : place + 2]):
                    return -1, ""  # the beginning of a longer number
                continue
            said = _shape(part.quantity).match(self.text, place)
            if said is None:
                return -1, ""
            after = parts[number + 1] if number + 1 < len(parts) else ""
            ends = said.end()
            if said["ends"] is not None and not isinstance(part, Range):  # brackets that follow, none of its own
                ends = said.start("ends") - 2
                said = _shape(part.quantity).fullmatch(self.text, place, ends)
                assert said is not None
            if isinstance(after, str) and not self.text.startswith(after, ends):
                return -1, ""
            odd = odd or _unlike(said, part)
            place = ends
        return place, odd

    def table(self, shown: Element, table: Table, summed: bool = False) -> None:
        """Read a table cell by cell; ``summed`` where each cell may name the sum of its number at its end."""
        heads = [each for each in shown.all("thead")[0].all("tr")[0].parts if not isinstance(each, str)]
        rows = shown.all("tbody")[0].all("tr")
        where = self.words(shown)[:60]
        if len(rows) != len(table.rows):
            self.wrong.append(f"{where}: {len(rows)} rows and not {len(table.rows)}")
            return
        if len(heads) - len(table.columns) not in (0, 1):  # one more leads to the sums
            self.wrong.append(f"{where}: {len(heads)} heads over {len(table.columns)} columns")
            return
        wide = [int(head.attributes.get("colspan", 1)) for head in heads]
        units = []
        for head, column in zip(heads, table.columns, strict=False):
            name, heading = self.words(head), flat(column.heading)
            units.append(name[len(heading) :].removeprefix(", "))
            if name.startswith(heading):
                self.mark(head)
            else:
                self.wrong.append(f"{where}: “{name}” stands above {heading}")
        for row, cells in zip(rows, table.rows, strict=True):
            every = [each for each in row.parts if not isinstance(each, str)]
            place = 0
            for cell, unit, across in zip(cells, units, wide, strict=False):
                text, ends = self.words(every[place]), self.words(every[place + 1]) if across > 1 else ""
                text = re.sub(r"(?<=.) S\d+$", "", text) if summed else text
                if odd := self._cell_unlike(text, cell, unit, ends):
                    self.wrong.append(f"{where}: {text!r} {ends}: {odd}")
                for each in every[place : place + across]:
                    self.mark(each)
                place += across
            if len(every) - place != len(heads) - len(table.columns):
                self.wrong.append(f"{where}: {len(every)} cells under {len(heads)} heads")

    def _cell_unlike(self, text: str, cell: object, unit: str, ends: str) -> str:
        if isinstance(cell, Amount | Range):
            self.read += 1
            return unlike(text, cell, unit, ends)
        parts = pieces(cell, self.us)
        if len(parts) == 1 and not isinstance(parts[0], str):
            self.read += 1
            return unlike(text, parts[0], unit, ends)
        if all(isinstance(part, str) for part in parts):
            told = flat("".join(map(str, parts))).strip()
            return "" if text in (told, flat(retold(told, self.us))) else f"is not {told!r}"
        other = Page(Element("p", {}, (), [text]), self.us)
        self.read += sum(not isinstance(part, str) for part in parts)
        end, odd = other._follow(parts, 0)
        return odd or ("" if end == len(other.text.rstrip(BREAK)) else f"is not {''.join(map(str, parts))[:160]}")
