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


def place(value: float) -> str:
    """A place in tenths of a point.

    Parameters
    ----------
    value : float
        In points.

    Returns
    -------
    str
        Such as "93.1", and "93" for a whole number.
    """
    return f"{round(value, _STEP) + 0.0:.9g}"


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
    kept = np.zeros(len(points), dtype=bool)
    kept[:1] = kept[-1:] = True
    stretches = [(0, len(points) - 1)]
    while stretches:
        first, last = stretches.pop()
        if last - first < 2:
            continue
        off = _off(points[first + 1 : last] - points[first], points[last] - points[first])
        middle = first + 1 + int(np.argmax(off))
        if off[middle - first - 1] > SEEN:
            kept[middle] = True
            stretches += [(first, middle), (middle, last)]
    places = [spot for spot, _ in groupby(f"{place(x)},{place(y)}" for x, y in points[kept].tolist())]
    return f"M{'L'.join(places)}" if places else ""


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


def _off(offsets: Array, chord: Array) -> Array:
    """How far some places, seen from a chord's start, lie off the chord."""
    square = float(chord @ chord)
    share = np.clip(offsets @ chord / square, 0.0, 1.0) if square else np.zeros(len(offsets))
    return np.asarray(np.hypot(*(offsets - share[:, None] * chord).T), dtype=np.float64)
