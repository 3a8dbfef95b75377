"""A van's living room after the heating stopped, as a body with its air, and water that cools beside it.

The air falls at once by a share of its difference to the outside; walls, furniture and bedding then hold the rest of it
and let it decay. What surrounds the water (room, boxes between room and outside) follows that air, each by its share.
"""

from __future__ import annotations

import numpy as np

from vanwater.physics._checks import above_zero, not_negative, share
from vanwater.physics._cooling_room import Course, while_freezing
from vanwater.physics._lump import Lump
from vanwater.physics.water import FREEZING_POINT
from vanwater.quantities import Array, Conductance, Duration, Energy, Hours, Mass, Real, Share, Temperature

__all__ = [
    "body_time_constant",
    "heat_lost_in_cooling_room",
    "room_air_after",
    "time_to_ice_in_cooling_room",
    "water_in_cooling_room",
]


def room_air_after(
    room: Temperature[Real],
    outside: Temperature[Real],
    duration: Duration[Real],
    time_constant: Hours[Real],
    fall: Share[Real],
) -> Temperature[Array]:
    """Temperature of the air in a van's living room after the heating stopped.

    Formula: T_o + (1 − s) (T_r − T_o) exp(−t / τ)

    Parameters
    ----------
    room : float or array
        Temperature of the heated room, T_r [K].
    outside : float or array
        Temperature outside, T_o [K].
    duration : float or array
        Time since the heating stopped, t [s].
    time_constant : float or array
        Time constant of the body, τ [s].
    fall : float or array
        Share of the difference by which the air falls at once, s [-].

    Returns
    -------
    array
        Temperature of the air [K].

    Raises
    ------
    ValueError
        When the time constant is not above zero, the duration is negative, or the share is outside 0 to 1.

    Notes
    -----
    The air alone holds little heat: within some minutes it is down to what walls and furniture keep it at. Without
    people, animals, cooking or sun inside, doors shut.

    References
    ----------
    Two-node lumped capacity with a quick node, any handbook of heat transfer; size of the fall: common practice.

    Examples
    --------
    >>> round(float(room_air_after(291.15, 261.15, 2.2 * 3600.0, 2.2 * 3600.0, 0.2)) - 273.15, 1)
    -3.2
    """
    cold, left = np.asarray(outside, dtype=np.float64), 1.0 - share("fall", fall)
    decayed = np.exp(-not_negative("duration", duration) / above_zero("time_constant", time_constant))
    return cold + left * (np.asarray(room, dtype=np.float64) - cold) * decayed


def body_time_constant(
    first: Temperature[Real], later: Temperature[Real], duration: Duration[Real], outside: Temperature[Real]
) -> Hours[Array]:
    """Time constant of a van's body from two readings inside after the heating stopped.

    Formula: t / ln((T₁ − T_o) / (T₂ − T_o))

    Parameters
    ----------
    first : float or array
        First reading inside, half an hour or more after the heating stopped, T₁ [K].
    later : float or array
        Second reading inside, T₂ [K].
    duration : float or array
        Time between the two, t [s].
    outside : float or array
        Temperature outside meanwhile, T_o [K].

    Returns
    -------
    array
        Time constant, τ [s].

    Raises
    ------
    ValueError
        When the readings do not fall toward the outside, or no time lies between them.

    Notes
    -----
    The quick fall of the air is over after half an hour. Read at night, doors shut, nobody inside.

    References
    ----------
    Lumped capacity, any handbook of heat transfer, for example Incropera and DeWitt, section 5.1.

    Examples
    --------
    >>> round(float(body_time_constant(283.15, 274.15, 2 * 3600.0, 268.15)) / 3600, 2)
    2.18
    """
    begun, ended, cold = (np.asarray(x, dtype=np.float64) for x in (first, later, outside))
    above_zero("first - later", begun - ended)
    return above_zero("duration", duration) / np.log((begun - cold) / above_zero("later - outside", ended - cold))


def water_in_cooling_room(
    start: Temperature[Real],
    duration: Duration[Real],
    beside: Temperature[Real],
    outside: Temperature[Real],
    conductance: Conductance[Real],
    mass: Mass[Real],
    time_constant: Hours[Real],
) -> Temperature[Array]:
    """Temperature of a lump of water beside air that decays toward the outside.

    Formula: T_o + (T₀ − T_o) exp(−k t) + (T_b − T_o) k (exp(−t / τ) − exp(−k t)) / (k − 1 / τ), k = UA / (m c)

    Parameters
    ----------
    start : float or array
        Temperature of the water at the start, T₀ [K].
    duration : float or array
        Time since the heating stopped, t [s].
    beside : float or array
        Temperature beside it once the air has fallen, for several neighbours that of rest between them, T_b [K].
    outside : float or array
        Temperature outside, toward which what is beside it decays, T_o [K].
    conductance : float or array
        Heat lost for each degree, UA [W/K].
    mass : float or array
        Water with the water equivalent of what surrounds it, m [kg].
    time_constant : float or array
        Time constant of the van's body, τ [s].

    Returns
    -------
    array
        Temperature of the water [K].

    Raises
    ------
    ValueError
        When the time constant is not above zero, the lump has no mass, or the duration or conductance is negative.

    Notes
    -----
    Exact without freezing, also where both decay alike: then the last part is (T_b − T_o) k t exp(−k t). What the
    water gives back to the room is left out. c = 4186 J/(kg·K).

    References
    ----------
    First-order lag driven by an exponential, any handbook of heat transfer or control.

    Examples
    --------
    >>> round(float(water_in_cooling_room(283.15, 4 * 3600.0, 285.15, 261.15, 1.5, 20.0, 2.2 * 3600.0)) - 273.15, 2)
    7.42
    """
    first, warm, cold = (np.asarray(x, dtype=np.float64) for x in (start, beside, outside))
    rate = not_negative("conductance", conductance) / Lump.of(mass, 0.0).liquid
    course = Course(first, warm, cold, rate, 1.0 / above_zero("time_constant", time_constant))
    return course.temperature(not_negative("duration", duration))


def heat_lost_in_cooling_room(
    start: Temperature[Real],
    duration: Duration[Real],
    beside: Temperature[Real],
    outside: Temperature[Real],
    conductance: Conductance[Real],
    mass: Mass[Real],
    time_constant: Hours[Real],
    wall: Mass[Real] = 0.0,
) -> Energy[Array]:
    """Heat that a lump of water has lost beside air that decays toward the outside, through cooling and freezing.

    Formula: (m + m_w) c (T₀ − T) down to 0 °C at t₁, then UA ∫ (273.15 − T_o − (T_b − T_o) exp(−t / τ)) dt from t₁

    Parameters
    ----------
    start : float or array
        Temperature of the water at the start, T₀ [K].
    duration : float or array
        Time since the heating stopped, t [s].
    beside : float or array
        Temperature beside it once the air has fallen, for several neighbours that of rest between them, T_b [K].
    outside : float or array
        Temperature outside, toward which what is beside it decays, T_o [K].
    conductance : float or array
        Heat lost for each degree, UA [W/K].
    mass : float or array
        Mass of the water, m [kg].
    time_constant : float or array
        Time constant of the van's body, τ [s].
    wall : float or array
        Water equivalent of the wall, m_w [kg].

    Returns
    -------
    array
        Heat; negative while it is still warmed; no more than until all of it is ice [J].

    Raises
    ------
    ValueError
        When the start is below 0 °C, what is beside it colder than outside, the time constant or the conductance not
        above zero, the duration negative, or the lump has no mass.

    Notes
    -----
    c = 4186 J/(kg·K), r = 334 kJ/kg.

    References
    ----------
    Lumped capacity with the enthalpy as state (enthalpy method).

    Examples
    --------
    >>> lost = heat_lost_in_cooling_room(283.15, 24 * 3600.0, 285.15, 261.15, 1.5, 20.0, 2.2 * 3600.0)
    >>> round(float(lost) / 1e3)
    1617
    """
    seconds, lump = not_negative("duration", duration), Lump.of(mass, wall)
    course = Course.of(start, beside, outside, conductance, lump, time_constant)
    thawed = course.until_freezing()
    freezing = np.maximum(seconds - thawed, 0.0)
    drawn = (FREEZING_POINT - course.cold) * freezing + course.beside(thawed) * np.expm1(
        -course.decay * freezing
    ) / course.decay
    cooled = np.where(seconds > thawed, FREEZING_POINT, course.temperature(np.minimum(seconds, thawed)))
    return lump.liquid * (course.first - cooled) + np.minimum(conductance * drawn, lump.fusion)


def time_to_ice_in_cooling_room(
    start: Temperature[Real],
    ice_share: Share[Real],
    beside: Temperature[Real],
    outside: Temperature[Real],
    conductance: Conductance[Real],
    mass: Mass[Real],
    time_constant: Hours[Real],
    wall: Mass[Real] = 0.0,
) -> Hours[Array]:
    """Time after the heating stopped in which water cools to 0 °C and a share of it freezes.

    Formula: t₁ + u, T(t₁) = 273.15, x m r = UA ((273.15 − T_o) u − (T_b − T_o) τ exp(−t₁ / τ) (1 − exp(−u / τ)))

    Parameters
    ----------
    start : float or array
        Temperature of the water at the start, T₀ [K].
    ice_share : float or array
        Share of the water that has turned to ice, 0 for water at 0 °C, x [-].
    beside : float or array
        Temperature beside it once the air has fallen, for several neighbours that of rest between them, T_b [K].
    outside : float or array
        Temperature outside, toward which what is beside it decays, T_o [K].
    conductance : float or array
        Heat lost for each degree, UA [W/K].
    mass : float or array
        Mass of the water, m [kg].
    time_constant : float or array
        Time constant of the van's body, τ [s].
    wall : float or array
        Water equivalent of the wall, m_w [kg].

    Returns
    -------
    array
        Time; infinite when the outside is no frost [s].

    Raises
    ------
    ValueError
        When the start is below 0 °C, the share outside 0 to 1, what is beside it colder than outside, the time constant
        or the conductance not above zero, or the lump has no mass.

    Notes
    -----
    T(t) is that of water in a cooling room, with k = UA / ((m + m_w) c), from T₀ on. By the heat balance: still water
    cools below 0 °C and turns at once by the share that makes up for it, at about the same time.
    c = 4186 J/(kg·K), r = 334 kJ/kg.

    References
    ----------
    Lumped capacity with the enthalpy as state (enthalpy method); heat of fusion: IAPWS R10-06 (2009), rounded.

    Examples
    --------
    >>> round(float(time_to_ice_in_cooling_room(283.15, 0.0, 285.15, 261.15, 1.5, 20.0, 2.2 * 3600.0)) / 3600, 1)
    11.9
    """
    frozen, lump = share("ice_share", ice_share), Lump.of(mass, wall)
    course = Course.of(start, beside, outside, conductance, lump, time_constant)
    thawed = course.until_freezing()
    below = np.where(course.cold < FREEZING_POINT, FREEZING_POINT - course.cold, 1.0)  # else it never freezes
    fusion = frozen * lump.fusion
    still = np.where(fusion > 0, np.minimum(course.beside(thawed) / below, 1.0), 0.0)  # of the frost, at 0 °C
    freezing = while_freezing(course.decay * fusion / (conductance * below), still) / course.decay
    return np.where(np.isfinite(thawed), thawed + freezing, np.inf)
