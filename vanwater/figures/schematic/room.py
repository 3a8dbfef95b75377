"""Where words find room on a drawing: on a stretch of their line or elsewhere, clear of pieces, lines, other words."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import islice, pairwise
from typing import TypeVar

import numpy as np

from vanwater.figures.schematic.placing import Point
from vanwater.quantities import Array

__all__ = ["Area", "Room"]

V = TypeVar("V")

_SHARES = (0.5, 0.4, 0.6, 0.3, 0.7, 0.2, 0.8, 0.1, 0.9)
"""Where along a stretch words are tried, the middle first."""

_LINE = 0.8  # width of a line, as far as words are to be clear of it
_AT_ONCE = 24  # tries that are looked at together
_OFF = 3.5  # between a line and the foot of what stands above it


@dataclass(frozen=True, slots=True)
class Area:
    """A rectangle.

    Parameters
    ----------
    left, top, right, bottom : float
        Its edges.
    """

    left: float
    top: float
    right: float
    bottom: float

    def meets(self, other: Area) -> bool:
        """Whether two share more than an edge."""
        across = self.left < other.right and other.left < self.right
        return across and self.top < other.bottom and other.top < self.bottom

    @classmethod
    def of(cls, a: Point, b: Point) -> Area:
        """What a level or upright stretch of a line covers."""
        half = _LINE / 2
        return cls(min(a[0], b[0]) - half, min(a[1], b[1]) - half, max(a[0], b[0]) + half, max(a[1], b[1]) + half)


class Room:
    """What is taken of a sheet, and what is still free.

    Parameters
    ----------
    taken : sequence of Area
        By pieces and their words.
    ways : sequence of sequence of (float, float)
        Corners of every line.
    """

    def __init__(self, taken: Sequence[Area], ways: Sequence[Sequence[Point]]) -> None:
        self._taken = _corners(taken)
        self._ways = ways
        self._lines = _corners([Area.of(a, b) for way in ways for a, b in pairwise(way)])

    def first(self, mine: Sequence[int], tries: Sequence[Sequence[float]], high: float) -> tuple[int, list[Point]]:
        """Take room for the words of a line: for the first of several wordings that finds any.

        Parameters
        ----------
        mine : sequence of int
            Which ways are the line's.
        tries : sequence of sequence of float
            Widths of the rows of each wording, the shortest wording last.
        high : float
            Height of a row.

        Returns
        -------
        (int, list of (float, float))
            Which wording, and middle and foot of each of its rows; where none has room, where it is least in the way.
        """

        def every() -> Iterator[tuple[tuple[int, list[Point]], list[Area], tuple[()]]]:
            for place, widths in enumerate(tries):
                for feet in self._tries(mine, (max(widths), high), len(widths)):
                    rows = zip(feet, widths, strict=True)
                    areas = [Area(x - wide / 2, y - high + 1.5, x + wide / 2, y + 1.5) for (x, y), wide in rows]
                    yield (place, feet), areas, ()

        return self.place(every())

    def place(
        self, tries: Iterable[tuple[V, Sequence[Area], Sequence[Area]]], burden: Callable[[V], float] = lambda _: 0.0
    ) -> V:
        """Take room for the first of several things that is clear of all else.

        Parameters
        ----------
        tries : iterable of (object, sequence of Area, sequence of Area)
            What each is, what it covers, and what of it may cross lines; one or more.
        burden : callable
            How many lines each is as bad as before it covers anything.

        Returns
        -------
        object
            Which; where none has room, the one that is least in the way.
        """
        best: tuple[float, V, Sequence[Area], Sequence[Area]] | None = None
        every = iter(tries)
        while some := list(islice(every, _AT_ONCE)):
            bad = self._in_the_way([areas for _, areas, _ in some], lines=True)
            bad += self._in_the_way([crossing for _, _, crossing in some], lines=False)
            bad += np.array([burden(what) for what, _, _ in some])
            least = int(np.argmin(bad))
            if best is None or bad[least] < best[0]:
                best = (float(bad[least]), *some[least])
            if not best[0]:
                break
        assert best is not None
        self._taken = np.concatenate((self._taken, _corners([*best[2], *best[3]])))
        return best[1]

    def _in_the_way(self, tries: Sequence[Sequence[Area]], lines: bool) -> Array:
        """For each try how many lines run through it, each other thing that it covers counted thrice."""
        owners = np.repeat(np.arange(len(tries)), [len(areas) for areas in tries])
        each = _corners([area for areas in tries for area in areas])
        hits = 3.0 * _meeting(each, self._taken) + (_meeting(each, self._lines) if lines else 0.0)
        return np.asarray(np.bincount(owners, hits, len(tries)), dtype=np.float64)

    def _tries(self, mine: Sequence[int], size: tuple[float, float], rows: int) -> Iterator[list[Point]]:
        stretches = [pair for number in mine for pair in pairwise(self._ways[number])]
        level = sorted((pair for pair in stretches if pair[0][1] == pair[1][1]), key=_length, reverse=True)
        upright = sorted((pair for pair in stretches if pair[0][0] == pair[1][0]), key=_length, reverse=True)
        wide, high = size
        for (x, y), (to, _) in level:
            for share in _SHARES:
                middle = x + share * (to - x)
                yield [(middle, y - _OFF), *((middle, y + high * row) for row in range(1, rows))]
            for share in _SHARES:
                middle = x + share * (to - x)
                yield [(middle, y - _OFF - high * (rows - 1 - row)) for row in range(rows)]
                yield [(middle, y + high * (row + 1)) for row in range(rows)]
        for (x, y), (_, to) in upright:
            for share in _SHARES:
                foot = y + share * (to - y) + high * (1 - rows / 2)
                for side in (1, -1):
                    yield [(x + side * (wide / 2 + _OFF), foot + high * row) for row in range(rows)]


def _corners(areas: Sequence[Area]) -> Array:
    rows = [(area.left, area.top, area.right, area.bottom) for area in areas]
    return np.array(rows, dtype=np.float64).reshape(-1, 4)


def _meeting(areas: Array, others: Array) -> Array:
    """With how many others each area shares more than an edge."""
    left, top, right, bottom = (areas[:, edge, None] for edge in range(4))
    apart = (left >= others[:, 2]) | (others[:, 0] >= right) | (top >= others[:, 3]) | (others[:, 1] >= bottom)
    return np.asarray(others.shape[0] - apart.sum(axis=1), dtype=np.float64)


def _length(pair: tuple[Point, Point]) -> float:
    (x, y), (to_x, to_y) = pair
    return abs(to_x - x) + abs(to_y - y)
