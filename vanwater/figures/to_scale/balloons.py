"""The number of each part, in a circle: within a part that has room, else beside it at the end of a short line."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from vanwater.answers.core.escaping import plain
from vanwater.figures.layout import text_width
from vanwater.figures.roles import tone
from vanwater.figures.schematic.piece_pen import SMALL
from vanwater.figures.schematic.placing import Point
from vanwater.figures.schematic.room import Area, Room
from vanwater.figures.to_scale.scale import n

__all__ = ["balloon"]

_ROUND = 6.0
_NEAR = (4.0, 8.0, 13.0, 19.0, 26.0, 34.0, 42.0, 50.0, 60.0, 70.0, 80.0)
"""Lengths of lines that are tried [pt]."""

_WAYS = tuple(
    (math.cos(math.radians(angle)), math.sin(math.radians(angle)))
    for angle in (
        -60,
        -120,
        -30,
        -150,
        60,
        120,
        30,
        150,
        -90,
        90,
        0,
        180,
        -45,
        -135,
        45,
        135,
        -75,
        -105,
        75,
        105,
        -15,
        -165,
    )
)
"""Directions that are tried, up first."""

_SHARES = (0.5, 0.3, 0.7, 0.18, 0.82)
"""Where within a part its number is tried."""

_FREE = f'paint-order="stroke" stroke="{tone("paper")}" stroke-width="2"'
_PIECE = 9.0  # of a line, as it is held against what is there [pt]
_ASTRAY = 2.5  # as many lines as that are covered before a number stands within another part
_LONGEST = 90.0  # of a name beside its number [pt]


def balloon(room: Room, tag: str, name: str, around: Area, inside: bool, others: Sequence[Area] = ()) -> Iterator[str]:
    """Take room for the number of a part.

    Parameters
    ----------
    room : Room
        What is free.
    tag, name : str
        Its number; its name, which stands beside it where there is room.
    around : Area
        What the part covers.
    inside : bool
        Whether the number may stand within it.
    others : sequence of Area
        Other parts with sides, within which it stands only where there is no room elsewhere.

    Yields
    ------
    str
        Elements of SVG.
    """
    round_ = max(_ROUND, text_width(tag, SMALL) / 2 + 1.5)
    wide = text_width(name, SMALL) + 2.5
    names = ([name] if name and wide <= _LONGEST else []) + [""]

    def tries() -> Iterator[tuple[_Try, Sequence[Area], Sequence[Area]]]:
        for said in names:
            more = wide if said else 0.0
            if inside:
                for x, y in _spots(around):
                    label = _covers((x - more / 2, y), round_, more)
                    if _within(label, around):
                        yield _Try((x - more / 2, y), None, said, 1), [label], ()
            for far in _NEAR if not said else _NEAR[:5]:
                for right, down in _WAYS:
                    edge = _edge(around, right, down)
                    middle = edge[0] + right * (far + round_), edge[1] + down * (far + round_)
                    side = -1 if right < -0.1 else 1  # a name stands away from the part
                    end = middle[0] - right * round_, middle[1] - down * round_
                    label = _covers(middle, round_, side * more)
                    astray = any(label.meets(other) for other in others)
                    yield _Try(middle, (edge, end), said, side, astray), [label], tuple(_along(edge, end))

    at = room.place(tries(), lambda at: _ASTRAY * at.astray)
    if at.leader is not None:
        (x, y), (to_x, to_y) = at.leader
        thin = f'stroke="{tone("faint")}" stroke-width="0.6"'
        yield f'<path class="vw-leader" d="M{n(x)},{n(y)}L{n(to_x)},{n(to_y)}" {thin}/>'
    x, y = at.middle
    look = f'fill="{tone("paper")}" stroke="{tone("faint")}" stroke-width="0.8"'
    yield f'<circle class="vw-balloon" cx="{n(x)}" cy="{n(y)}" r="{n(round_)}" {look}/>'
    yield f'<text x="{n(x)}" y="{n(y + 2.5)}" text-anchor="middle" font-size="{SMALL}">{tag}</text>'
    if at.said:
        anchor = "" if at.side > 0 else ' text-anchor="end"'
        place = f'x="{n(x + at.side * (round_ + 2))}" y="{n(y + 2.5)}" font-size="{SMALL}"{anchor}'
        yield f'<text {_FREE} {place} fill="{tone("ink")}">{plain(at.said, "html")}</text>'


@dataclass(frozen=True, slots=True)
class _Try:
    """Where a number might stand: middle, line to it, name beside it and on which side, whether in another part."""

    middle: Point
    leader: tuple[Point, Point] | None
    said: str
    side: int
    astray: bool = False


def _spots(around: Area) -> Iterator[Point]:
    """Places within a part, its middle first."""
    for up in _SHARES:
        for along in _SHARES:
            yield (
                around.left + along * (around.right - around.left),
                around.top + up * (around.bottom - around.top),
            )


def _covers(middle: Point, round_: float, more: float) -> Area:
    x, y = middle
    reach = round_ + 0.5
    return Area(x - reach + min(more, 0.0), y - reach, x + reach + max(more, 0.0), y + reach)


def _within(label: Area, around: Area) -> bool:
    return (
        label.left > around.left and label.right < around.right and label.top > around.top
    ) and label.bottom < around.bottom


def _edge(around: Area, right: float, down: float) -> Point:
    """Where a line from the middle of an area leaves it."""
    x, y = (around.left + around.right) / 2, (around.top + around.bottom) / 2
    half, high = (around.right - around.left) / 2, (around.bottom - around.top) / 2
    far = min(half / abs(right) if abs(right) > 1e-9 else math.inf, high / abs(down) if abs(down) > 1e-9 else math.inf)
    return x + right * far, y + down * far


def _along(start: Point, end: Point) -> Iterator[Area]:
    """What a slanting line covers, in short pieces, but for its first point."""
    (x, y), right, down = start, end[0] - start[0], end[1] - start[1]
    pieces = max(1, int(math.hypot(right, down) // _PIECE))
    half, high = abs(right) / pieces / 2, abs(down) / pieces / 2
    for piece in range(pieces):
        share = (piece + 0.5) / pieces
        first = 0.6 if not piece else 1.0  # the part itself is no obstacle
        middle = (x + right * (share + (1.0 - first) / pieces / 2), y + down * (share + (1.0 - first) / pieces / 2))
        yield Area(
            middle[0] - half * first, middle[1] - high * first, middle[0] + half * first, middle[1] + high * first
        )
