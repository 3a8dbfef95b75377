"""From where to where a slider goes, and in which steps: room around the plan's value, round ends."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from vanwater.figures.layout import round_step
from vanwater.quantities import BORE, DURATION, LENGTH, SECONDS, Quantity

__all__ = ["Scale", "even", "scale", "told_in"]

_FINER = ((LENGTH, BORE, 0.1), (DURATION, SECONDS, 300.0))
"""Below these many metres and seconds a length is told as bores are (mm, in) and a time in seconds."""

_STEPS = (50, 100, 250, 500)
_WHOLE_RANGE = 4.0  # times the value: up to here a slider spans all that is believable
_BELOW, _ABOVE = 0.25, 2.5  # of the value, else


@dataclass(frozen=True, slots=True)
class Scale:
    """Ends and step of a slider, in the unit that is shown.

    Parameters
    ----------
    low, high : float
        Its ends.
    step : float
        From one value to the next.
    """

    low: float
    high: float
    step: float

    def holding(self, value: float) -> Scale:
        """The same slider, made wider where a value lies beyond its ends."""
        if self.low <= value <= self.high:
            return self
        return replace(self, low=min(self.low, value), high=max(self.high, value))


def scale(value: float, low: float, high: float) -> Scale:
    """Ends and step of a slider for a value that may lie between two bounds.

    Parameters
    ----------
    value : float
        Where it stands first.
    low, high : float
        What is believable.

    Returns
    -------
    Scale
        All that is believable where that is not far from the value, else from a quarter of it to two and a half
        times as much. The step is round, and leads to the value where it is round itself.

    Examples
    --------
    >>> scale(75.0, 0.5, 1000.0)
    Scale(low=15.0, high=190.0, step=5.0)
    >>> scale(0.5, 0.0, 1000.0)
    Scale(low=0.0, high=1.25, step=0.025)
    """
    first, last = low, high
    some = value > 1e-9 * (high - low)  # less stands for nothing
    if low >= 0 and some and high - low > _WHOLE_RANGE * value:
        first, last = (0.0 if low == 0 else max(low, _BELOW * value)), min(high, _ABOVE * value)
    step = round_step(last - first, _STEPS[0])
    for count in _STEPS:
        finer = round_step(last - first, count)
        if _divides(finer, value) or count == _STEPS[-1]:
            step = finer if _divides(finer, value) else step
            break
    begin, end = math.floor(first / step + 1e-9) * step, math.ceil(last / step - 1e-9) * step
    begin = begin if begin >= low else begin + step
    end = end if end <= high else end - step
    return Scale(even(begin), even(end), step).holding(value)


def even(value: float) -> float:
    """A number without the last digits that only arithmetic put there."""
    return float(f"{value:.10g}") + 0.0


def told_in(quantity: Quantity, value: float) -> Quantity:
    """The quantity by whose unit a value is told: small lengths as bores are, short times in seconds.

    Parameters
    ----------
    quantity : Quantity
        The field's own, with its believable range.
    value : float
        Value in SI.

    Returns
    -------
    Quantity
        With the same range.
    """
    for wide, fine, below in _FINER:
        if quantity.si == wide.si and quantity.metric == wide.metric and 0 < abs(value) < below:
            return replace(quantity, metric=fine.metric, us=fine.us)
    return quantity


def _divides(step: float, value: float) -> bool:
    return math.isclose(round(value / step) * step, value, rel_tol=1e-9, abs_tol=1e-9 * step)
