"""What a pen sets down: no finer, with no more points than can be seen, and what looks alike told once."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from itertools import groupby
from operator import itemgetter

import numpy as np

from vanwater.quantities import Array

__all__ = ["SEEN", "alike", "place", "way"]

SEEN = 0.05
"""Points that what is drawn may lie off what it draws: half of the finest step."""

_STEP = 1  # decimals of a point
_FEW = 50  # points of a stretch


def place(value: float, decimals: int = _STEP) -> str:
    """A place in tenths of a point, or finer where it is measured on the drawing.

    Parameters
    ----------
    value : float
        In points.
    decimals : int
        Of a point.

    Returns
    -------
    str
        Such as "93.1", and "93" for a whole number.
    """
    return f"{round(value, decimals) + 0.0:.9g}"


def way(points: Array) -> str:
    """A way from point to point, without those that lie on a straight way between others.

    Of a stretch the point that lies farthest off its chord is kept, until none lies farther off than can be seen
    (Douglas and Peucker 1973); so ends, peaks and steps stay.

    Parameters
    ----------
    points : array
        Two columns, across and down, in points; all of them known.

    Returns
    -------
    str
        As the ``d`` of a path tells it; empty without any point.
    """
    places: list[tuple[float, float]] = list(map(tuple, points.tolist()))
    kept = {0, len(places) - 1} if places else set()
    stretches = [(0, len(places) - 1)]
    while stretches:
        first, last = stretches.pop()
        if last - first < 2:
            continue
        apart, middle = _farthest(places, points, first, last)
        if apart > SEEN * SEEN:
            kept.add(middle)
            stretches += [(first, middle), (middle, last)]
    told = [spot for spot, _ in groupby(f"{place(x)},{place(y)}" for x, y in map(places.__getitem__, sorted(kept)))]
    return f"M{'L'.join(told)}" if told else ""


def alike(elements: Iterable[tuple[str, str]]) -> Iterator[str]:
    """Elements in their order, those that look alike and follow each other with their look told once.

    Parameters
    ----------
    elements : iterable of (str, str)
        The look as attributes, empty where an element has its own; and the element.

    Yields
    ------
    str
        Elements of SVG.
    """
    for look, group in groupby(elements, itemgetter(0)):
        inside = "".join(element for _, element in group)
        yield f"<g {look}>{inside}</g>" if look else inside


def _farthest(places: list[tuple[float, float]], points: Array, first: int, last: int) -> tuple[float, int]:
    """The square of how far the farthest point of a stretch lies off its chord, and which one it is."""
    (x, y), (end_x, end_y) = places[first], places[last]
    across, up = end_x - x, end_y - y
    square = across * across + up * up or 1.0
    if last - first > _FEW:  # many at once are quicker than one by one, few are not
        rights, downs = points[first + 1 : last, 0] - x, points[first + 1 : last, 1] - y
        shares = np.clip((rights * across + downs * up) / square, 0.0, 1.0)
        offs = (rights - shares * across) ** 2 + (downs - shares * up) ** 2
        middle = int(np.argmax(offs))
        return float(offs[middle]), first + 1 + middle
    most, middle = 0.0, first + 1
    for at in range(first + 1, last):
        right, down = places[at][0] - x, places[at][1] - y
        share = (right * across + down * up) / square
        share = 0.0 if share < 0.0 else min(share, 1.0)
        off = (right - share * across) ** 2 + (down - share * up) ** 2
        if off > most:
            most, middle = off, at
    return most, middle
