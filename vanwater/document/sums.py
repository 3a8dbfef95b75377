"""The sums of a document: every step behind a number that it shows once, numbered, each knowing what it is made of.

Sums that are worked out in the same way stand together below their formula, which is told once: what it means, its
letters, its source. Each of them is a row then, whatever question asked for it first.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import cached_property
from itertools import groupby

from markupsafe import Markup

from vanwater.answers.core.finding import Finding
from vanwater.answers.core.gathered import numbers_in
from vanwater.answers.core.number import Number
from vanwater.answers.core.pieces import Piece, Shown
from vanwater.answers.core.question import Answer
from vanwater.answers.core.statement import Given, say
from vanwater.answers.core.table import Column, Laid, Table
from vanwater.document.sources import Named, Sources
from vanwater.document.words import Words
from vanwater.quantities import retold

__all__ = ["Formula", "Operand", "Sum", "Sums"]

_LETTER = re.compile(r", ([^\W\d_][₀-₉′]?(?:_\w+)?)(?=$|[;:]| =)")
"""A letter that stands for what is meant, though the formula that is told does without it."""

_ROWS, _ACROSS = 3, 8
"""From so many sums on a formula has a table, where no more than so many things differ from sum to sum."""


@dataclass(frozen=True, slots=True)
class Operand:
    """One thing that was put into a sum.

    Parameters
    ----------
    symbol, meaning : str
        Its letter in the formula, and what it is.
    value : Amount, Range, Say or str
        What was put in.
    sum : int
        Number of the sum that it is the result of; 0 where it is none's.
    """

    symbol: str
    meaning: str
    value: Shown | str
    sum: int

    @property
    def label(self) -> tuple[str, str]:
        """Its letter, or what it is where it has none; and what the letter means."""
        return (self.symbol, self.meaning) if self.symbol else (self.meaning, "")


@dataclass(frozen=True, slots=True, kw_only=True)
class Sum:
    """A number with its sum, as the appendix prints it.

    Parameters
    ----------
    number : int
        Its number in the appendix.
    step : Number
        Name, result.
    put : tuple of Operand
        What was put in, and what else belongs beside it.
    """

    number: int
    step: Number
    put: tuple[Operand, ...]


@dataclass(frozen=True, kw_only=True)
class Formula:
    """A way to work numbers out, with the sums that are worked out by it.

    Parameters
    ----------
    answer : str
        Key of the answer that needs it first.
    meaning, formula, note : str
        As the docstring of the physics says it.
    source : Named or None
        Where it comes from.
    sums : tuple of Sum
        In the order of their numbers.
    words : Words
        What writes them.
    """

    answer: str
    meaning: str
    formula: str
    note: str
    source: Named | None
    sums: tuple[Sum, ...]
    words: Words

    @cached_property
    def letters(self) -> tuple[tuple[Operand, bool], ...]:
        """What its letters mean, each with whether its value is the same in all sums and so is told with it."""
        first = self.sums[0].put
        return tuple(
            (put, place in self._alike) for place, put in enumerate(first) if put.symbol or place in self._alike
        )

    @cached_property
    def tabular(self) -> bool:
        """Whether its sums stand in a table: many, and not too wide."""
        return len(self.sums) >= _ROWS and self._even and len(self._differing) <= _ACROSS

    @cached_property
    def laid(self) -> Laid:
        """The table: units in its heads, what is the same in all sums left out."""
        heads = ("which", "is", *(self.sums[0].put[place].label[0] for place in self._differing))
        rows = tuple(
            (each.step.name, each.step.result, *(each.put[place].value for place in self._differing))
            for each in self.sums
        )
        table = Table("sums", say(""), tuple(map(Column, heads)), rows)
        return table.cells(self.words.us, lambda text: Markup(self.words.escape(text)))

    def differing(self, each: Sum) -> tuple[Operand, ...]:
        """What was put into one sum and not into all of them alike."""
        return tuple(put for place, put in enumerate(each.put) if place not in self._alike)

    @cached_property
    def _even(self) -> bool:
        """Whether all sums are made of the same things."""
        return len({tuple(put.label for put in each.put) for each in self.sums}) == 1

    @cached_property
    def _alike(self) -> frozenset[int]:
        """Places of what has the same value in all sums, where there are several."""
        if len(self.sums) < 2 or not self._even:
            return frozenset()
        columns = enumerate(zip(*(each.put for each in self.sums), strict=True))
        return frozenset(
            place for place, column in columns if len({(self.words.bare(put.value), put.sum) for put in column}) == 1
        )

    @cached_property
    def _differing(self) -> tuple[int, ...]:
        return tuple(place for place in range(len(self.sums[0].put)) if place not in self._alike)


class Sums:
    """The sums of all that a document shows; two numbers that say the same are one sum.

    Parameters
    ----------
    answers : iterable of Answer
        In the order in which they are told.
    words : Words
        What writes them.
    sources : Sources
        Where their sources are noted.
    """

    def __init__(self, answers: Iterable[Answer], words: Words, sources: Sources) -> None:
        self._words = words
        self._kinds: dict[int, int] = {}
        self._said: dict[tuple[object, ...], int] = {}
        ways: dict[tuple[str, ...], list[tuple[str, Number]]] = {}
        for answer, number in self._met(answers):
            said = (number.meaning, number.formula, number.note, number.source)
            ways.setdefault(said, []).append((answer, number))
        order = [number for way in ways.values() for _, number in way]
        self._numbers = {self._alike(number): place for place, number in enumerate(order, 1)}
        self.formulas: tuple[Formula, ...] = tuple(
            Formula(
                answer=way[0][0],
                meaning=said[0],
                formula=said[1],
                note=said[2],
                source=sources.named(said[3]),
                sums=tuple(self._sum(number) for _, number in way),
                words=words,
            )
            for said, way in ways.items()
        )
        self.each: tuple[Sum, ...] = tuple(each for formula in self.formulas for each in formula.sums)

    def number(self, number: Number) -> int:
        """The number of its sum; 0 where it has none to print."""
        return self._numbers.get(self._alike(number), 0)

    def behind(self, *shown: Finding | Given | None) -> tuple[int, ...]:
        """The numbers of the sums behind what a finding, a row or a sentence shows.

        Parameters
        ----------
        *shown : Finding, Say, Amount, Range, Number
            Whose numbers are looked for.

        Returns
        -------
        tuple of int
            Each once, in the order of the appendix.
        """
        return tuple(sorted({self.number(number) for number in numbers_in(*shown)} - {0}))

    def by_answer(self) -> Iterator[tuple[str, tuple[Formula, ...]]]:
        """The formulas by the answer that was the first to need them."""
        for key, formulas in groupby(self.formulas, lambda formula: formula.answer):
            yield key, tuple(formulas)

    def _met(self, answers: Iterable[Answer]) -> Iterator[tuple[str, Number]]:
        """Numbers with something to be followed to, each once and before those it is made of, and who shows it."""
        met: set[int] = set()
        for answer in answers:
            for top in _shown(answer):
                for _, number in top.walk():
                    kind = self._alike(number)
                    if kind not in met and (number.formula or number.given or number.facts):
                        met.add(kind)
                        yield answer.key, number

    def _sum(self, number: Number) -> Sum:
        put = tuple(self._operand(piece) for piece in (*number.given, *number.facts))
        return Sum(number=self.number(number), step=number, put=put)

    def _operand(self, piece: Piece) -> Operand:
        inner = piece.value if isinstance(piece.value, Number) else None
        # the range of what is put in stands in its own sum
        value = piece.value if not isinstance(piece.value, Number) else piece.value.words or piece.value.amount
        place = self.number(inner) if inner is not None else 0
        meaning, symbol = piece.meaning, piece.symbol
        if not symbol and (letter := _LETTER.search(meaning)):
            meaning, symbol = meaning[: letter.start()] + meaning[letter.end() :], letter[1]
        return Operand(symbol, retold(meaning, self._words.us) or piece.name, value, place)

    def _alike(self, number: Number) -> int:
        """What two numbers share when they say the same, whatever objects they are."""
        known = self._kinds.get(id(number))
        if known is None:
            pieces = tuple(
                (piece.name, piece.symbol, self._alike(piece.value))
                if isinstance(piece.value, Number)
                else (piece.name, piece.symbol, self._words.bare(piece.value))
                for piece in (*number.given, *number.facts)
            )
            said = (number.name, number.meaning, number.formula, number.source, number.note)
            texts = (*said, self._words.bare(number.result), repr(number.likely), pieces)
            known = self._kinds[id(number)] = self._said.setdefault(texts, len(self._said))
        return known


def _shown(answer: Answer) -> Iterator[Number]:
    """The numbers that the pages lead to: of the verdict, the findings, the tables."""
    yield from numbers_in(answer.verdict)
    for finding in answer.findings:
        yield from numbers_in(finding.statement, finding.value)
    for table in answer.tables:
        for row in table.rows:
            yield from numbers_in(*row)
