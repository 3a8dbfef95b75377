"""Running dimensions from an origin, and chains, as drawings have them (ISO 129-1, from memory).

Thin extension lines lead from the parts to one line that begins with a circle at its origin; each has a tick and its
value, read along its extension line. A chain has a tick at each end and its value over the line.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from vanwater.figures.layout import apart, text_width
from vanwater.figures.roles import tone
from vanwater.figures.schematic.piece_pen import SMALL
from vanwater.figures.schematic.placing import Point
from vanwater.figures.schematic.room import Area
from vanwater.figures.to_scale.scale import n

__all__ = ["BAND", "Dimension", "Running", "chain"]

_GAP = SMALL + 1.0
"""From the middle of a value to that of the next [pt]."""

_LEG, _OFF = 6.0, 8.0  # from the line to the end of a leg, and to its value
_TICK = 2.2

BAND = 34.0
"""Room of a line with its values [pt]."""


@dataclass(frozen=True, slots=True)
class Dimension:
    """A value at its place.

    Parameters
    ----------
    at : float
        Where its tick is, along the line [pt].
    text : str
        The value.
    start : float
        Where its extension line begins, across the line [pt].
    """

    at: float
    text: str
    start: float


@dataclass(frozen=True, slots=True)
class Running:
    """A line with its values.

    Parameters
    ----------
    origin : float
        Where it begins, along it [pt].
    line : float
        Where it lies, across it [pt].
    values : tuple of Dimension
        What stands at it.
    level : bool
        Whether it lies level; else it stands upright, its values to the right.
    above : bool
        Of a level line: whether its values stand above it.
    """

    origin: float
    line: float
    values: tuple[Dimension, ...]
    level: bool
    above: bool = False

    def _values(self) -> list[tuple[float, float, str]]:
        """Each tick, where its value stands along the line, and the value; equal ones once."""
        once = sorted({(round(value.at, 2), value.text) for value in self.values})
        spots = apart([at for at, _ in once], [_GAP] * len(once))
        return [(at, spot, text) for (at, text), spot in zip(once, spots, strict=True)]

    def _point(self, along: float, across: float) -> Point:
        return (along, across) if self.level else (across, along)

    @property
    def _forth(self) -> int:
        """To which side of the line the values stand."""
        return -1 if self.level and self.above else 1

    def ways(self) -> Iterator[tuple[Point, Point]]:
        """Its level and upright lines: the extension lines, and the line itself."""
        for value in self.values:
            yield self._point(value.at, value.start), self._point(value.at, self.line)
        ends = [self.origin, *(value.at for value in self.values)]
        yield self._point(min(ends), self.line), self._point(max(ends), self.line)

    def areas(self) -> Iterator[Area]:
        """What its values cover."""
        half = SMALL / 2
        for _, spot, text in self._values():
            near, far = (self.line + self._forth * off for off in (_OFF, _OFF + text_width(text, SMALL)))
            low, high = min(near, far), max(near, far)
            yield Area(spot - half, low, spot + half, high) if self.level else Area(low, spot - half, high, spot + half)

    def drawn(self) -> Iterator[str]:
        """Its marks."""
        for start, end in self.ways():
            thin = f'stroke="{tone("saved")}" stroke-width="0.4"'
            yield f'<path class="vw-extension" d="M{_at(start)}L{_at(end)}" {thin}/>'
        ends = [self.origin, *(value.at for value in self.values)]
        line = f"M{_at(self._point(min(ends), self.line))}L{_at(self._point(max(ends), self.line))}"
        ink = f'stroke="{tone("ink")}" stroke-width="0.6"'
        legs = ""
        for at, spot, _ in self._values():
            legs += _tick(self._point(at, self.line))
            leg = self._point(at, self.line), self._point(spot, self.line + self._forth * _LEG)
            legs += f"M{_at(leg[0])}L{_at(leg[1])}"
        yield f'<path class="vw-dimension" d="{line}{legs}" fill="none" {ink}/>'
        x, y = self._point(self.origin, self.line)
        yield f'<circle class="vw-origin" cx="{n(x)}" cy="{n(y)}" r="2.4" fill="{tone("paper")}" {ink}/>'
        for _, spot, text in self._values():
            yield self._text(spot, text)

    def _text(self, spot: float, text: str) -> str:
        x, y = self._point(spot, self.line + self._forth * _OFF)
        if not self.level:
            return f'<text x="{n(x)}" y="{n(y + 2.4)}" font-size="{SMALL}">{text}</text>'
        anchor = "" if self.above else ' text-anchor="end"'
        turned = f'transform="translate({n(x + 2.4)} {n(y)}) rotate(-90)"'
        return f'<text {turned} font-size="{SMALL}"{anchor}>{text}</text>'


def chain(line: float, stretches: Sequence[tuple[float, float, str]], start: float) -> Iterator[str]:
    """A level chain of dimensions with its extension lines.

    Parameters
    ----------
    line : float
        Where it lies [pt].
    stretches : sequence of (float, float, str)
        From where to where each reaches [pt], and its value.
    start : float
        Where its extension lines begin [pt].

    Yields
    ------
    str
        Elements of SVG.
    """
    thin = f'stroke="{tone("faint")}" stroke-width="0.4"'
    for at in sorted({end for low, high, _ in stretches for end in (low, high)}):
        yield f'<path class="vw-extension" d="M{n(at)},{n(start)}V{n(line - 3)}" {thin}/>'
    for low, high, text in stretches:
        way = f"M{n(low)},{n(line)}H{n(high)}{_tick((low, line))}{_tick((high, line))}"
        yield f'<path class="vw-dimension" d="{way}" stroke="{tone("ink")}" stroke-width="0.6"/>'
        if text_width(text, SMALL) + 4 <= high - low:
            place = f'x="{n((low + high) / 2)}" y="{n(line - 2.5)}" text-anchor="middle"'
            yield f'<text {place} font-size="{SMALL}">{text}</text>'


def _tick(point: Point) -> str:
    """A short stroke across a line, the way it is drawn by hand."""
    x, y = point
    return f"M{n(x - _TICK)},{n(y + _TICK)}l{n(2 * _TICK)},{n(-2 * _TICK)}"


def _at(point: Point) -> str:
    return f"{n(point[0])},{n(point[1])}"
