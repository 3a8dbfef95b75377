"""Yesterday's answers against today's, number by number, by a table of how the keys are called now.

    python -m tests.net.compare            # all plans; prints each difference with plan, key, old, new
    python -m tests.net.compare weight     # only keys in which that stands, old or new

``before.json.xz`` is yesterday (see ``record.py``). A key that is called the same today needs no line. One that is not
gets a line in ``keys.csv``:

    old,new,note
    autonomy.days.{store},tank.{store}.days,
    autonomy.use.{use},gone: the table of uses holds it as use.{use}.volume,held twice
    finding:autonomy.stay,finding:stay,
    cell:autonomy|stores|{store}|days,cell:stay|stores|{store}|days,

How to write it: one line a pattern, sorted by the first column (a test holds that), so that two people's lines merge.
A hole in braces takes one name, that is all up to the next "." (in a cell: up to the next "|"), and is found again by
its name in the new key. " or " stands between new keys of which one is there. Of two patterns that fit, the one with
fewer holes counts, then the longer one. A line that fits no old key is an error. A finding's line carries its numbers
("finding:KEY|value") along, and an answer's ("answer:weight") only says whether it is decided. Two old keys may have
one new key: a thing is held once. "gone: reason" takes a key out of the comparison; "(new)" in the first column allows
a finding or an answer that was not there before. An answer that was not decided may be left out.

``ranges.csv`` (old,note) lists the old keys, as patterns, whose range may differ, with the reason; value, unit and
verdict may not. ``values.csv`` (old,most,note) lists the old keys, as patterns, that may lie apart by a relative
difference at most, with the reason. A number that had no range may get one, if low ≤ value ≤ high: what was not told
may be told now, and a range without width need not be told any more.
"""

from __future__ import annotations

import csv
import math
import re
import sys
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from functools import cache, cached_property
from pathlib import Path
from typing import Any

from tests.net.plans import raw_plans
from tests.net.record import answered, before, kept
from vanwater.answers.core.key import key_text

__all__ = ["Difference", "Rules", "differences", "read_rules"]

HERE = Path(__file__).parent
NEARNESS = 1e-12
"""Relative."""

ENDS = ("value", "low", "high")


@dataclass(frozen=True, slots=True)
class Difference:
    """Where today is not as yesterday."""

    plan: str
    key: str
    old: Any
    new: Any

    def __str__(self) -> str:
        return f"{self.plan}: {self.key}: {self.old!r} -> {self.new!r}"


@dataclass(frozen=True)
class Rules:
    """How yesterday's keys are called today, whose range may differ, and whose numbers may lie a little apart."""

    keys: tuple[tuple[str, str], ...]
    ranges: tuple[str, ...]
    values: tuple[tuple[str, float], ...] = ()

    def today(self, key: str) -> str:
        """Today's key; "gone: ..." where there is none."""
        head, bar, part = key.partition("|") if key.startswith("finding:") else (key, "", "")
        for pattern, old, new in self._compiled:
            match = pattern.fullmatch(head)
            if match:
                if new.startswith("gone:"):
                    return new
                names = dict(zip(re.findall(r"{\w+}", old), match.groups(), strict=True))
                return " or ".join(_filled(each, names) for each in new.split(" or ")) + bar + part
        return key

    def may_be_new(self, key: str) -> bool:
        """Whether a finding or an answer may be there that was not before."""
        return any(compiled(new).fullmatch(key) for old, new in self.keys if old == "(new)")

    def range_may_differ(self, key: str) -> bool:
        """Whether the range of yesterday's key is listed."""
        return any(compiled(pattern).fullmatch(key) for pattern in self.ranges)

    def nearness(self, key: str) -> float:
        """The relative difference that yesterday's key allows."""
        return max((most for pattern, most in self.values if compiled(pattern).fullmatch(key)), default=NEARNESS)

    @cached_property
    def _compiled(self) -> list[tuple[re.Pattern[str], str, str]]:
        named = [(old, new) for old, new in self.keys if old != "(new)"]
        named.sort(key=lambda line: (line[0].count("{"), -len(line[0]), line[0]))
        return [(compiled(old), old, new) for old, new in named]


def _filled(new: str, names: Mapping[str, str]) -> str:
    """A new key with its holes filled; in a number's key each part is quoted as the library quotes it."""

    def put(text: str) -> str:
        return re.sub(r"{\w+}", lambda hole: names[hole[0]], text)

    return put(new) if ":" in new else key_text(tuple(put(part) for part in new.split(".")))


@cache
def compiled(pattern: str) -> re.Pattern[str]:
    """A pattern's holes as groups."""
    hole = "([^|]+)" if "|" in pattern else "([^.|]+)"
    return re.compile(hole.join(re.escape(piece) for piece in re.split(r"{\w+}", pattern)))


def lines(name: str) -> list[list[str]]:
    """The lines of a table below its head."""
    with (HERE / name).open(encoding="utf-8", newline="") as file:
        return list(csv.reader(file))[1:]


def read_rules() -> Rules:
    """The committed tables."""
    return Rules(
        tuple((old, new) for old, new, _ in lines("keys.csv")),
        tuple(old for old, _ in lines("ranges.csv")),
        tuple((old, float(most)) for old, most, _ in lines("values.csv")),
    )


def differences(plan: str, old: Mapping[str, Any], new: Mapping[str, Any], rules: Rules) -> Iterator[Difference]:
    """Each number, range, unit and verdict of a plan that is not as it was."""
    numbers = {_cut(key): number for key, number in new["numbers"].items()}
    for key, number in old["numbers"].items():
        today = rules.today(key)
        if today.startswith("gone:"):
            continue
        today = next((each for each in map(_cut, today.split(" or ")) if each in numbers), today)
        if today not in numbers:
            yield Difference(plan, key, number, f"no {today}")
            continue
        for what, was, now in _unequal(number, numbers[today], rules.nearness(key)):
            if what in ("low", "high") and rules.range_may_differ(key):
                continue
            yield Difference(plan, _both(key, today) + f" ({what})", was, now)
    named = {key: rules.today(key) for key in old["words"]}
    for key, word in old["words"].items():
        if key.startswith("answer:") and word == "not decided" and named[key] not in new["words"]:
            continue
        if not named[key].startswith("gone:") and new["words"].get(named[key]) != word:
            yield Difference(plan, _both(key, named[key]), word, new["words"].get(named[key], "not there"))
    for key, word in new["words"].items():
        if key not in named.values() and not rules.may_be_new(key):
            yield Difference(plan, key, "not there", word)


def _cut(key: str) -> str:
    """A key without the blanks at the end of a name, which yesterday cut off where it ended the key."""
    return re.sub(r'\s+"', '"', key)


def _unequal(old: list[Any], new: list[Any], nearness: float) -> Iterator[tuple[str, Any, Any]]:
    for what, was, now in zip(ENDS, old, new, strict=False):
        if was is None and now is not None and what != "value":
            if not _ordered(new):
                yield what, "no range", new[:3]
        elif not _same(was, now, nearness) and not (now is None and old[0] == old[1] == old[2]):
            yield what, was, now
    if old[3] != new[3]:
        yield "unit", old[3], new[3]


def _same(was: Any, now: Any, nearness: float) -> bool:
    if isinstance(was, float | int) and isinstance(now, float | int):
        return math.isclose(was, now, rel_tol=nearness, abs_tol=0.0)
    return bool(was == now)


def _ordered(number: list[Any]) -> bool:
    value, low, high = (float(end) if end is not None else math.nan for end in number[:3])
    return (math.isnan(low) or low <= value) and (math.isnan(high) or value <= high)


def _both(old: str, new: str) -> str:
    return old if old == new else f"{old} = {new}"


def old_keys(plans: Iterable[str]) -> set[str]:
    """All keys of yesterday, for the lines that fit none."""
    return {key for plan in plans for kind in ("numbers", "words") for key in before()["plans"][plan][kind]}


def main(word: str = "") -> int:
    """Compare all plans; the exit code says whether they differ."""
    rules = read_rules()
    count = 0
    for plan, raw in raw_plans().items():
        for difference in differences(plan, before()["plans"][plan], kept(answered(raw)), rules):
            if word in difference.key:
                count += 1
                sys.stdout.write(f"{difference}\n")
    sys.stdout.write(f"{len(raw_plans())} plans, {count} differences from {before()['commit'][:7]}\n")
    return bool(count)


if __name__ == "__main__":
    sys.exit(main(*sys.argv[1:]))
