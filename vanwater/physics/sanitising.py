"""Sanitising tank and lines: how long chlorine must stand, how much water flushes it out again."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from vanwater.physics._checks import above_zero, not_negative
from vanwater.quantities import Array, Concentration, Hours, Ratio, Real, Share, Volume

__all__ = [
    "BOTTOM_LEVEL",
    "BOTTOM_PART",
    "BOTTOM_TIME",
    "FILLED_LEFT",
    "FILLED_TIME",
    "FULL_TANK",
    "FULL_TANK_LEFT",
    "FULL_TANK_TIME",
    "METHODS",
    "RETURN_TO_SERVICE",
    "SURFACE_LEVEL",
    "SURFACE_TIME",
    "TWO_STEPS",
    "US_MAXIMUM",
    "WALLS",
    "Method",
    "Stand",
    "changes",
    "contact_time",
    "flush_mixed",
    "flush_plug",
]


@dataclass(frozen=True, slots=True, kw_only=True)
class Stand:
    """How chlorinated water stands once.

    Parameters
    ----------
    part : float
        Share of the tank that is filled [-].
    start : float, optional
        Free chlorine that it starts with, where that is prescribed [kg/m³].
    left : float, optional
        Free chlorine that must be left at its end, where that is prescribed [kg/m³].
    time : float
        How long it stands [s].
    """

    part: Share
    start: Concentration | None = None
    left: Concentration | None = None
    time: Hours


@dataclass(frozen=True, slots=True, kw_only=True)
class Method:
    """A published way to disinfect a tank.

    Parameters
    ----------
    words : str
        What is done.
    stands : tuple of Stand
        One after the other.
    source : str
        Who says so.
    basis : str
        What of it was read in the source, and what is from memory.
    """

    words: str
    stands: tuple[Stand, ...]
    source: str
    basis: str


FULL_TANK_LEFT: Concentration = 10e-3
"""Free chlorine that is left at the end in a tank filled to its overflow [kg/m³]; ANSI/AWWA C652-11, 4.3, method 1."""

FULL_TANK_TIME: Hours = 24 * 3600.0
"""How long that stands [s]; ANSI/AWWA C652-11, 4.3, method 1; 6 h only where chlorine gas is fed evenly."""

SURFACE_LEVEL: Concentration = 200e-3
"""Available chlorine sprayed or painted on walls [kg/m³]; ANSI/AWWA C652-11, 4.3, method 2; CDC Vessel Sanitation
Program (2018), 5.3.5."""

SURFACE_TIME: Hours = 2 * 3600.0
"""How long walls stay wet with it [s]; CDC Vessel Sanitation Program (2018), 5.3.5. AWWA asks for half an hour at least
(from memory), Oregon for three hours."""

BOTTOM_LEVEL: Concentration = 50e-3
"""Available chlorine to start with in the bottom of a tank [kg/m³]; ANSI/AWWA C652-11, 4.3, method 3."""

BOTTOM_PART: Share = 0.05
"""Share of the tank that is so filled [-]; ANSI/AWWA C652, method 3, from memory."""

BOTTOM_TIME: Hours = 6 * 3600.0
"""How long that stands before the tank is filled [s]; ANSI/AWWA C652, method 3, from memory."""

FILLED_LEFT: Concentration = 2e-3
"""Free chlorine that is then kept in the tank filled to its overflow [kg/m³]; ANSI/AWWA C652-11, 4.3, method 3."""

FILLED_TIME: Hours = 24 * 3600.0
"""How long that stands [s]; ANSI/AWWA C652-11, 4.3, method 3."""

FULL_TANK = Method(
    words="tank and lines full",
    stands=(Stand(part=1.0, left=FULL_TANK_LEFT, time=FULL_TANK_TIME),),
    source="ANSI/AWWA C652-11, 4.3, method 1",
    basis="seen",
)
WALLS = Method(
    words="walls wetted by spray or brush",
    stands=(Stand(part=1.0, start=SURFACE_LEVEL, time=SURFACE_TIME),),
    source="ANSI/AWWA C652-11, 4.3, method 2; CDC Vessel Sanitation Program (2018), 5.3.5",
    basis="level seen in both, two hours in the latter; half an hour of the former from memory",
)
TWO_STEPS = Method(
    words="bottom strong, then tank and lines full",
    stands=(
        Stand(part=BOTTOM_PART, start=BOTTOM_LEVEL, time=BOTTOM_TIME),
        Stand(part=1.0, left=FILLED_LEFT, time=FILLED_TIME),
    ),
    source="ANSI/AWWA C652-11, 4.3, method 3",
    basis="levels and 24 h seen; the bottom's share and its 6 h from memory",
)
METHODS = (FULL_TANK, WALLS, TWO_STEPS)
"""The three ways of ANSI/AWWA C652. What must be left decides the first: how much to start with is for the user."""

RETURN_TO_SERVICE: Concentration = 5e-3
"""Free chlorine at or below which the water may be used again [kg/m³]: WHO guideline value; CDC Vessel Sanitation
Program (2018), 5.3.5."""

US_MAXIMUM: Concentration = 4e-3
"""The same in the United States: the maximum residual disinfectant level [kg/m³]; 40 CFR 141.65."""


def contact_time(level: Concentration[Real], known_level: Concentration[Real], known_time: Hours[Real]) -> Hours[Array]:
    """Time that another level must stand for the same product of concentration and time.

    Formula: t₀ c₀ / c

    Parameters
    ----------
    level : float or array
        Level of free chlorine, c [kg/m³].
    known_level : float or array
        Level of a published method, c₀ [kg/m³].
    known_time : float or array
        Time of that method, t₀ [s].

    Returns
    -------
    array
        Time to stand [s].

    Raises
    ------
    ValueError
        When a level is not above zero or the time is negative.

    Notes
    -----
    For levels within a factor of three or so of the published one (common practice). Cold or alkaline water wants
    longer, and free chlorine must still be found at the end.

    References
    ----------
    Chick (1908) and Watson (1908), disinfection by concentration times time, exponent 1.

    Examples
    --------
    >>> round(float(contact_time(20e-3, 10e-3, 24 * 3600.0)) / 3600, 2)
    12.0
    """
    product = above_zero("known_level", known_level) * not_negative("known_time", known_time)
    return np.asarray(product / above_zero("level", level), dtype=np.float64)


def flush_mixed(
    volume: Volume[Real],
    level: Concentration[Real],
    limit: Concentration[Real] = RETURN_TO_SERVICE,
    supplied: Concentration[Real] = 0.0,
) -> Volume[Array]:
    """Water that runs through a full, fully mixed tank until it is down to a limit: the most that it takes.

    Formula: V ln((c − cₛ) / (c₁ − cₛ))

    Parameters
    ----------
    volume : float or array
        Water in tank and lines, V [m³].
    level : float or array
        Free chlorine at the start, c [kg/m³].
    limit : float or array
        Free chlorine that may be left, c₁ [kg/m³].
    supplied : float or array
        Free chlorine in the water that runs in, cₛ [kg/m³].

    Returns
    -------
    array
        Water to run through; none where the level is low enough already [m³].

    Raises
    ------
    ValueError
        When the volume or a level is negative, or the water that runs in is not below the limit.

    Notes
    -----
    The careful end of the bracket; ``flush_plug`` is the other one.

    References
    ----------
    Balance of an ideally stirred tank.

    Examples
    --------
    >>> round(float(flush_mixed(83e-3, 50e-3)) * 1e3, 1)
    191.1
    """
    return np.asarray(not_negative("volume", volume) * np.log(_fall(level, limit, supplied)), dtype=np.float64)


def flush_plug(
    volume: Volume[Real], level: Concentration[Real], limit: Concentration[Real] = RETURN_TO_SERVICE
) -> Volume[Array]:
    """Water that pushes the chlorine out like a plug, without mixing: the least that it takes.

    Parameters
    ----------
    volume : float or array
        Water in tank and lines, V [m³].
    level : float or array
        Free chlorine at the start [kg/m³].
    limit : float or array
        Free chlorine that may be left [kg/m³].

    Returns
    -------
    array
        One content; none where the level is low enough already [m³].

    Raises
    ------
    ValueError
        When the volume or a level is negative.

    Notes
    -----
    True for hoses; a tank lies between this and ``flush_mixed``, near the latter.

    References
    ----------
    Plug flow.

    Examples
    --------
    >>> round(float(flush_plug(0.65e-3, 50e-3)) * 1e3, 2)
    0.65
    """
    above = not_negative("level", level) > not_negative("limit", limit)
    return np.where(above, not_negative("volume", volume), 0.0)


def changes(
    left: Share[Real],
    level: Concentration[Real],
    limit: Concentration[Real] = RETURN_TO_SERVICE,
    supplied: Concentration[Real] = 0.0,
) -> Ratio[Array]:
    """How many times a tank is drained and filled until it is down to a limit.

    Formula: ⌈ln((c − cₛ) / (c₁ − cₛ)) / ln(1 / r)⌉

    Parameters
    ----------
    left : float or array
        Share of the water that stays when it is drained, below 1, r [-].
    level : float or array
        Free chlorine at the start, c [kg/m³].
    limit : float or array
        Free chlorine that may be left, c₁ [kg/m³].
    supplied : float or array
        Free chlorine in the water that is filled in, cₛ [kg/m³].

    Returns
    -------
    array
        Whole changes; none where the level is low enough already, one for a tank that drains dry [-].

    Raises
    ------
    ValueError
        When the share is not at least 0 and below 1, a level is negative, or the fill is not below the limit.

    Notes
    -----
    What is left mixes with the fill. Water below the pick-up or in the heater are left too, unless drained.

    References
    ----------
    Mass balance of each filling.

    Examples
    --------
    >>> float(changes(0.05, 50e-3)), float(changes(0.20, 50e-3))
    (1.0, 2.0)
    """
    stays = np.asarray(left, dtype=np.float64)
    if np.any((stays < 0.0) | (stays >= 1.0)) or np.any(np.isnan(stays)):
        raise ValueError(f"left: {left}, expected at least 0 and below 1.")
    fall = np.log(_fall(level, limit, supplied))
    with np.errstate(divide="ignore"):
        each = -np.log(stays)
    needed = np.ceil(fall / each - 1e-9)
    return np.asarray(np.where(fall > 0.0, np.maximum(needed, 1.0), 0.0), dtype=np.float64)


def _fall(level: Real, limit: Real, supplied: Real) -> Array:
    """How many times the level above the supply is too high, at least 1."""
    low = not_negative("supplied", supplied)
    allowed = not_negative("limit", limit) - low
    if np.any(allowed <= 0.0):
        raise ValueError(f"supplied: {supplied} kg/m³ in the water that runs in, expected less than the limit {limit}.")
    return np.asarray(np.maximum((not_negative("level", level) - low) / allowed, 1.0), dtype=np.float64)
