"""Every number that is shown, gathered by its key: a thing that two show is held once."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping

from vanwater.answers.core.amount import Amount, Range
from vanwater.answers.core.chart import Bars, Chart
from vanwater.answers.core.finding import Finding
from vanwater.answers.core.key import key_text
from vanwater.answers.core.listing import Numbers
from vanwater.answers.core.number import Number
from vanwater.answers.core.statement import Count, Given, Say
from vanwater.answers.core.table import Table

__all__ = ["by_key", "numbers_in", "together"]

_COUNTED = (str, int, Count)


def by_key(*several: Iterable[Number]) -> Numbers:
    """Numbers by their keys as they are typed, in the order of the alphabet.

    Raises
    ------
    ValueError
        When two numbers of one key differ.
    """
    return _together((key_text(number.key), number) for numbers in several for number in numbers if number.key)


def together(several: Iterable[Mapping[str, Number]]) -> Numbers:
    """Numbers of several answers as one mapping, in the order of the alphabet.

    A thing that two show is held once, by the one that knows its range.

    Raises
    ------
    ValueError
        When two numbers of one key differ.
    """
    return _together(pair for numbers in several for pair in numbers.items())


def _together(pairs: Iterable[tuple[str, Number]]) -> Numbers:
    keyed: dict[str, Number] = {}
    for key, number in pairs:
        other = keyed.setdefault(key, number)
        if other is number:
            continue
        if repr(other.likely) != repr(number.likely):
            raise ValueError(f"{key}: held twice, as {other.likely!r} and as {number.likely!r}")
        if other.range is None and number.range is not None:
            keyed[key] = number
    return Numbers(dict(sorted(keyed.items())))


def numbers_in(*shown: Finding | Table | Chart | Given | None) -> Iterator[Number]:
    """Every number that findings, tables, charts and sentences show.

    Parameters
    ----------
    *shown : Finding, Table, Chart, Say, Amount, Range, Number
        What is shown.

    Yields
    ------
    Number
        In the order in which they are shown; what is no number of a key and a sum is passed over.
    """
    for thing in shown:
        if thing is None or isinstance(thing, _COUNTED):
            continue
        if isinstance(thing, Number):
            yield thing
        elif isinstance(thing, Amount | Range):
            if thing.number is not None:
                yield thing.number
        elif isinstance(thing, Say):
            yield from numbers_in(*(given for _, given in thing.given))
        elif isinstance(thing, tuple):
            yield from numbers_in(*thing)
        elif isinstance(thing, Finding):
            yield from numbers_in(thing.statement, thing.value, thing.limit, thing.change, thing.gain)
        elif isinstance(thing, Table):
            yield from numbers_in(thing.caption, *(cell for row in thing.rows for cell in row), thing.note)
        elif isinstance(thing, Chart):
            yield from numbers_in(thing.title, thing.sentence)
            for draw in thing.draws:
                yield from numbers_in(getattr(draw, "label", None))
                yield from draw.numbers if isinstance(draw, Bars) else ()
