"""What is drawn with its true shape: floor, road, axles, wheels, tanks, the outside as far as the plan says it.

Of the van only what has a length in the plan is drawn; its outside is a dashed box, no shape is made up for it.
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

from vanwater.figures.roles import tone
from vanwater.figures.schematic.placing import Point
from vanwater.figures.to_scale.frame import Frame
from vanwater.figures.to_scale.parts import VIEWS, Placed, Van
from vanwater.figures.to_scale.scale import n

__all__ = ["body", "edges", "vehicle"]

_INK = f'fill="none" stroke="{tone("ink")}"'
_FAINT = f'fill="none" stroke="{tone("faint")}"'
_CHAINED = 'stroke-width="0.5" stroke-dasharray="9 2 1.5 2"'
_DASHED = 'stroke-width="0.8" stroke-dasharray="5 3"'

Way = tuple[Point, Point]


def vehicle(van: Van, frame: Frame) -> Iterator[tuple[str, tuple[Way, ...]]]:
    """The van itself in a view: each line as an element, and where it runs.

    Parameters
    ----------
    van : Van
        What is drawn.
    frame : Frame
        The view.

    Yields
    ------
    (str, tuple)
        An element of SVG, and its level and upright lines.
    """
    yield from _outside(van, frame)
    yield from _base(van, frame)
    yield from _axles(van, frame)


def _line(look: str, kind: str, *ways: Way) -> tuple[str, tuple[Way, ...]]:
    path = "".join(f"M{n(a[0])},{n(a[1])}L{n(b[0])},{n(b[1])}" for a, b in ways)
    return f'<path class="vw-{kind}" d="{path}" {look}/>', ways


def _outside(van: Van, frame: Frame) -> Iterator[tuple[str, tuple[Way, ...]]]:
    """The box around the van; open where the plan says no length."""
    ahead, long = van.length("front_overhang"), van.length("length")
    if ahead is None:
        return
    low, high = _reach(van, frame)
    front = frame.across(-ahead)
    ends = [front] if long is None else [front, frame.across(long - ahead)]
    ways: list[Way] = [((x, low), (x, high)) for x in ends]
    if len(ends) == 2:
        ways += [((ends[0], y), (ends[1], y)) for y in _closed(van, frame)]
    yield _line(f"{_FAINT} {_DASHED}", "outside", *ways)


def _closed(van: Van, frame: Frame) -> list[float]:
    """Where the box is closed along the van: its roof, or its two sides."""
    floor, high, wide = van.length("floor"), van.length("height"), van.length("width")
    if frame.view == "side":
        return [] if floor is None or high is None else [frame.down(high - floor)]
    return [] if wide is None else [frame.down(side * wide / 2) for side in (-1, 1)]


def _reach(van: Van, frame: Frame) -> tuple[float, float]:
    """From where to where its front and rear are drawn, across the van's length."""
    floor = van.length("floor")
    closed = _closed(van, frame)
    if frame.view == "plan":
        return (min(closed), max(closed)) if closed else (frame.top, frame.bottom)
    foot = frame.down(-floor) if floor is not None else frame.down(0.0)
    return (closed[0] if closed else frame.top), foot


def _base(van: Van, frame: Frame) -> Iterator[tuple[str, tuple[Way, ...]]]:
    """Floor and road from the side; the centre line from above."""
    level = frame.down(0.0)
    whole = ((frame.left, level), (frame.right, level))
    if frame.view == "plan":
        yield _line(f"{_FAINT} {_CHAINED}", "centre-line", whole)
        return
    yield _line(f'{_INK} stroke-width="1.4"', "floor", whole)
    floor = van.length("floor")
    if floor is not None:
        road = frame.down(-floor)
        yield _line(f'{_FAINT} stroke-width="0.8"', "road", ((frame.left, road), (frame.right, road)))


def _axles(van: Van, frame: Frame) -> Iterator[tuple[str, tuple[Way, ...]]]:
    base, wheel, floor, track = (van.length(name) for name in ("wheelbase", "wheel", "floor", "track"))
    for axle in (0.0,) if base is None else (0.0, base):
        x = frame.across(axle)
        yield _line(f"{_FAINT} {_CHAINED}", "axle", ((x, frame.top), (x, frame.bottom)))
        if wheel is None:
            continue
        radius = wheel * frame.points / 2
        if frame.view == "side" and floor is not None:
            y = frame.down(wheel / 2 - floor)
            place = f'cx="{n(x)}" cy="{n(y)}" r="{n(radius)}"'
            yield f'<circle class="vw-wheel" {place} {_INK} stroke-width="0.9"/>', _around((x, y), radius)
        elif frame.view == "plan" and track is not None:
            sides = (frame.down(-track / 2), frame.down(track / 2))
            ways = tuple(((x - radius, y), (x + radius, y)) for y in sides)
            yield _line(f'{_INK} stroke-width="2.2"', "wheel", *ways)


def _around(middle: Point, radius: float) -> tuple[Way, ...]:
    """A circle as short level and upright lines, for what has to keep clear of it."""
    x, y = middle
    steps = ((1.0, 0.0), (0.92, 0.38), (0.71, 0.71), (0.38, 0.92), (0.0, 1.0))
    points = [(x + sx * a * radius, y + sy * b * radius) for a, b in steps for sx in (1, -1) for sy in (1, -1)]
    return tuple(((px - 1.5, py), (px + 1.5, py)) for px, py in points)


def _round(part: Placed, frame: Frame) -> bool:
    """Whether it is a circle in a view."""
    return bool(part.round) and part.round not in VIEWS[frame.view]


def edges(part: Placed, frame: Frame) -> tuple[Way, ...]:
    """The level and upright lines of a part with sides.

    Parameters
    ----------
    part : Placed
        The part.
    frame : Frame
        The view.

    Returns
    -------
    tuple of ((float, float), (float, float))
        Its outline.
    """
    left, top, right, bottom = frame.corners(part)
    if _round(part, frame):
        return _around(((left + right) / 2, (top + bottom) / 2), (right - left) / 2)
    corners = [(left, top), (right, top), (right, bottom), (left, bottom), (left, top)]
    return tuple(pairwise(corners))


def body(part: Placed, frame: Frame, hidden: bool) -> str:
    """A part with its sides.

    Parameters
    ----------
    part : Placed
        The part.
    frame : Frame
        The view.
    hidden : bool
        Whether its outline is dashed.

    Returns
    -------
    str
        Elements of SVG.
    """
    left, top, right, bottom = frame.corners(part)
    colour = tone("hot" if not part.holds else "fresh" if part.holds == "fresh" else "grey")
    dashed = ' stroke-dasharray="4 2.5"' if hidden else ""
    look = f'fill="{colour}" fill-opacity="0.22" stroke="{tone("ink")}" stroke-width="1.1"{dashed}'
    x, y = frame.spot(part)
    if _round(part, frame):
        return f'<circle cx="{n(x)}" cy="{n(y)}" r="{n((right - left) / 2)}" {look}/>'
    box = f'x="{n(left)}" y="{n(top)}" width="{n(right - left)}" height="{n(bottom - top)}"'
    shape = f"<rect {box} {look}/>"
    if part.round and part.round in VIEWS[frame.view]:
        level = part.round == VIEWS[frame.view][0]
        axis = f"M{n(left)},{n(y)}H{n(right)}" if level else f"M{n(x)},{n(top)}V{n(bottom)}"
        shape += f'<path d="{axis}" {_FAINT} {_CHAINED}/>'
    return shape
