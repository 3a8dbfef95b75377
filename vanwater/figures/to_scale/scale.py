"""Round scales as they are used on drawings, and the bar that shows one."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from fractions import Fraction

from vanwater.figures.way import place
from vanwater.quantities import FOOT, INCH

__all__ = ["Scale", "bar", "largest", "n", "scales"]

_METRIC = (5, 10, 20, 25, 30, 40, 50, 75, 100, 150, 200, 300, 500)
"""ISO 5455 (1979), Scales: 1:5, 1:10, 1:20, 1:50, 1:100 and their tens; those between are common practice."""

_US: Mapping[str, Fraction] = {
    size: Fraction(12) / inches
    for size, inches in {
        "3": Fraction(3),
        "1 1/2": Fraction(3, 2),
        "1": Fraction(1),
        "3/4": Fraction(3, 4),
        "1/2": Fraction(1, 2),
        "3/8": Fraction(3, 8),
        "1/4": Fraction(1, 4),
        "3/16": Fraction(3, 16),
        "1/8": Fraction(1, 8),
        "3/32": Fraction(3, 32),
        "1/16": Fraction(1, 16),
        "1/32": Fraction(1, 32),
    }.items()
}
"""Scales of the architect's ruler: so many inches a foot (common practice)."""

_POINT = INCH / 72

_BARS = ((0.1, 0.25, 0.5, 1.0, 2.0, 5.0), tuple(FOOT * feet for feet in (0.25, 0.5, 1.0, 2.0, 4.0, 10.0)))
"""Lengths that a bar shows, metric and US [m]."""


def n(value: float) -> str:
    """A place in hundredths of a point: at 1:500 a part lies within two millimetres of where it is."""
    return place(value, 2)


@dataclass(frozen=True, slots=True)
class Scale:
    """A round scale.

    Parameters
    ----------
    ratio : float
        How many times smaller than the van the drawing is.
    words : str
        As it is written on a drawing.
    """

    ratio: float
    words: str

    @property
    def points(self) -> float:
        """Points on the sheet for a metre in the van."""
        return 1.0 / (_POINT * self.ratio)


def scales(us: bool) -> tuple[Scale, ...]:
    """The round scales of a system of units.

    Parameters
    ----------
    us : bool
        US ones instead of metric ones.

    Returns
    -------
    tuple of Scale
        The largest drawing first.
    """
    if us:
        return tuple(Scale(float(ratio), f"{size} in = 1 ft (1:{float(ratio):g})") for size, ratio in _US.items())
    return tuple(Scale(ratio, f"1:{ratio}") for ratio in _METRIC)


def largest(us: bool, fits: Callable[[float], bool]) -> Scale:
    """The largest round scale at which a drawing fits its sheet.

    Parameters
    ----------
    us : bool
        US scales instead of metric ones.
    fits : callable
        Whether it fits with so many points a metre.

    Returns
    -------
    Scale
        The smallest one where none fits.
    """
    ladder = scales(us)
    return next((scale for scale in ladder if fits(scale.points)), ladder[-1])


def bar(scale: Scale, us: bool, longest: float) -> tuple[float, str]:
    """The length that the bar of a scale shows.

    Parameters
    ----------
    scale : Scale
        The scale.
    us : bool
        Feet instead of metres.
    longest : float
        Room for it [pt].

    Returns
    -------
    (float, str)
        The length [m], and as it is written.
    """
    fitting = [length for length in _BARS[us] if length * scale.points <= longest]
    length = max(fitting, default=_BARS[us][0])
    if us:
        feet = length / FOOT
        return length, f"{feet:g} ft" if feet >= 1.0 else f"{round(12 * feet):g} in"
    return length, f"{length:g} m" if math.isclose(length, round(length)) else f"{round(100 * length):g} cm"
