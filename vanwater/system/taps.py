"""A mixing tap that was set while its outlet ran alone, and what comes of it when others open: rows of the same solve.

A tap set by hand is a fixed throttle in one of its two sides. The solve knows taps by their hot share, so that the
set is solved at a row of shares; at the one where the throttle takes just the pressure between the two sides, the
tap stands as it was left.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from vanwater.quantities import Array
from vanwater.system.batch import Batch
from vanwater.system.network import Case, Solved
from vanwater.system.path_conditions import mixed_temperature
from vanwater.system.thermostat import thermostatic
from vanwater.system.water_temperature import cold_water
from vanwater.system.ways import Way

__all__ = ["LeftTap", "left_tap", "tap_cases"]

STEPS = (-12.0, -8.0, -4.0, 0.0, 4.0, 8.0, 12.0)
"""Where the set is solved, around the wanted temperature [K]; between them the cubic through four points is within
some hundredths of a kelvin."""


@dataclass(frozen=True, slots=True, kw_only=True)
class LeftTap:
    """A mixing tap that was set with its outlet open alone and is left so.

    Parameters
    ----------
    outlet, tap : str
        The outlet and its mixing tap.
    wanted, comes : float
        Temperature that it was set for, and that comes while the others run too [K].
    share, shifted : float
        Hot share at the one and at the other [-].
    beyond : bool
        Whether it comes colder or hotter still than told: it lies beyond what was solved.
    side : str
        "hot" or "cold": the side that the tap throttles while its outlet runs alone.
    alone, together : float
        Pressure that the throttled side must lose for the wanted temperature, alone and with the others; below zero
        where the other side must be throttled [Pa].
    """

    outlet: str
    tap: str
    wanted: float
    comes: float
    share: float
    shifted: float
    beyond: bool
    side: str
    alone: float
    together: float


def tap_cases(batch: Batch, way: Way, opened: Sequence[str]) -> list[Case]:
    """The cases from which :func:`left_tap` finds what comes.

    Parameters
    ----------
    batch : Batch
        The plan with its rows; its own row is solved.
    way : Way
        Way to a mixed outlet of the set.
    opened : sequence of str
        The set.

    Returns
    -------
    list of Case
        The outlet alone, then the set at several hot shares; none where the heater is not warmer than the water, and
        none for a thermostatic valve, which sets itself.
    """
    if not way.mixer or not way.heater or thermostatic(batch.plan, way.mixer):
        return []
    shares = _shares(batch, way)
    if not shares.size:
        return []
    at_shares = [Case(tuple(opened), 0, ((way.mixer, float(share)),)) for share in shares]
    return [Case((way.outlet,)), *at_shares]


def left_tap(batch: Batch, way: Way, solved: Solved, first: int) -> LeftTap:
    """What comes at an outlet whose tap is left as it was set for it alone.

    Parameters
    ----------
    batch : Batch
        The plan with its rows.
    way : Way
        Way to the mixed outlet.
    solved : Solved
        With the cases of :func:`tap_cases`.
    first : int
        Place of the first of them.

    Returns
    -------
    LeftTap
        The throttle is taken as a fixed one, its loss in proportion to the square of the flow.
    """
    cold, hot, wanted = _ends(batch, way)
    shares = _shares(batch, way)
    cases = slice(first, first + 1 + shares.size)
    flow = solved.flows.mixer(way.mixer)[cases]
    gap = (solved.flows.at(f"{way.mixer} hot") - solved.flows.at(f"{way.mixer} cold"))[cases]
    share = (wanted - cold) / (hot - cold)
    left = np.array([share, *shares])
    throttled = 1.0 if gap[0] > 0.0 else -1.0
    through = left * flow if throttled > 0.0 else (1.0 - left) * flow
    constant = abs(gap[0]) / max(through[0], 1e-12) ** 2
    rest = gap[1:] - throttled * constant * through[1:] ** 2
    at_wanted = float(np.interp(share, shares, gap[1:]))
    shifted, beyond = _root(shares, rest)
    return LeftTap(
        outlet=way.outlet,
        tap=way.mixer,
        wanted=wanted,
        comes=cold + shifted * (hot - cold),
        share=share,
        shifted=shifted,
        beyond=beyond,
        side="hot" if throttled > 0.0 else "cold",
        alone=abs(float(gap[0])),
        together=throttled * at_wanted,
    )


def _ends(batch: Batch, way: Way) -> tuple[float, float, float]:
    """Temperature of the cold and the hot water and the one wanted, in the plan's own row [K]."""
    cold = float(cold_water(batch, way)[0])
    hot = float(batch.number(f"heaters.{way.heater}.set_point")[0])
    return cold, hot, min(float(mixed_temperature(batch, way)[0]), hot)


def _shares(batch: Batch, way: Way) -> Array:
    """Hot shares at which the set is solved, rising; none where no mixing is possible."""
    cold, hot, wanted = _ends(batch, way)
    if not cold < wanted < hot:
        return np.zeros(0)
    shares = np.clip((wanted - cold + np.array(STEPS)) / (hot - cold), 0.0, 1.0)
    return np.array(sorted({*shares.tolist()}))  # np.unique would import the masked arrays, 20 ms of a command


def _root(shares: Array, rest: Array) -> tuple[float, bool]:
    """Where the rest falls through nothing, by the cubic through four points around; the end where it does not."""
    if rest[0] <= 0.0:
        return float(shares[0]), bool(shares[0] > 0.0 and rest[0] < 0.0)
    if rest[-1] >= 0.0:
        return float(shares[-1]), bool(shares[-1] < 1.0 and rest[-1] > 0.0)
    below = int(np.argmax(rest < 0.0))
    first = max(0, min(below - 2, rest.size - 4))
    x, y = shares[first : first + 4], rest[first : first + 4]
    straight = float(np.interp(0.0, rest[[below, below - 1]], shares[[below, below - 1]]))
    if np.any(np.diff(y) >= 0.0):
        return straight, False
    weights = [np.prod([-y[j] / (y[i] - y[j]) for j in range(y.size) if j != i]) for i in range(y.size)]
    bent = float(np.dot(weights, x))
    return (bent if shares[below - 1] <= bent <= shares[below] else straight), False
