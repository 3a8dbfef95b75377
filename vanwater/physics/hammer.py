"""Water hammer when an outlet shuts, and how far a hose gives under pressure."""

from __future__ import annotations

import numpy as np

from vanwater.physics._checks import above_zero, not_negative
from vanwater.quantities import (
    Array,
    Bore,
    Compliance,
    Density,
    Elasticity,
    Length,
    PressureDifference,
    Ratio,
    Real,
    Seconds,
    Share,
    Speed,
    Thickness,
)

__all__ = [
    "LATE",
    "WATER_BULK_MODULUS",
    "effective_closing",
    "hammer",
    "joukowsky",
    "reflection_time",
    "slow_closing",
    "tube_compliance",
    "wave_speed",
]

WATER_BULK_MODULUS: Elasticity[float] = 2.1e9
"""Bulk modulus of cold water [Pa], handbook figure from memory; IAPWS gives 2.09 GPa at 10 °C."""

LATE: Ratio[float] = 0.8
"""Most that a tap raises over 2 ρ L Δv / t, times the square root of its share of the losses; see effective_closing."""


def wave_speed(
    density: Density[Real],
    bore: Bore[Real],
    wall: Thickness[Real],
    modulus: Elasticity[Real],
    bulk_modulus: Elasticity[Real] = WATER_BULK_MODULUS,
) -> Speed[Array]:
    """Speed of a pressure wave in water that fills an elastic tube.

    Formula: √(K / ρ / (1 + K d / (E e)))

    Parameters
    ----------
    density : float or array
        Density of the water, ρ [kg/m³].
    bore : float or array
        Bore of the tube, d [m].
    wall : float or array
        Thickness of its wall, e [m].
    modulus : float or array
        Modulus of elasticity of the wall, E; infinite for a rigid tube [Pa].
    bulk_modulus : float or array
        Bulk modulus of the water, K [Pa].

    Returns
    -------
    array
        Wave speed, a [m/s].

    Raises
    ------
    ValueError
        When a size, density or modulus is not above zero.

    Notes
    -----
    Thin wall, no air in the water; a trace of air slows the wave much more than a soft wall does.

    References
    ----------
    Korteweg (1878); Subramanya, 1000 Solved Problems in Fluid Mechanics, example 14.15.

    Examples
    --------
    >>> round(float(wave_speed(998.0, 0.6, 0.012, 2.1e11)))
    1184
    """
    stiff, held = above_zero("bulk_modulus", bulk_modulus), above_zero("modulus", modulus) * above_zero("wall", wall)
    return np.sqrt(stiff / above_zero("density", density) / (1.0 + stiff * above_zero("bore", bore) / held))


def joukowsky(density: Density[Real], wave: Speed[Real], stopped: Speed[Real]) -> PressureDifference[Array]:
    """Pressure rise when water is stopped faster than the wave returns.

    Formula: ρ a Δv

    Parameters
    ----------
    density : float or array
        Density of the water, ρ [kg/m³].
    wave : float or array
        Speed of the pressure wave, a [m/s].
    stopped : float or array
        Speed of the water that is stopped, Δv [m/s].

    Returns
    -------
    array
        Pressure rise [Pa].

    References
    ----------
    Joukowsky (1898); Subramanya, 1000 Solved Problems in Fluid Mechanics, example 14.15.

    Examples
    --------
    >>> round(float(joukowsky(998.0, 1184.4, 2.1)) / 1e6, 3)
    2.482
    """
    return np.asarray(density, dtype=np.float64) * wave * stopped


def slow_closing(
    density: Density[Real], length: Length[Real], stopped: Speed[Real], closing: Seconds[Real]
) -> PressureDifference[Array]:
    """Pressure rise when water is stopped evenly, more slowly than the wave returns.

    Formula: 2 ρ L Δv / t

    Parameters
    ----------
    density : float or array
        Density of the water, ρ [kg/m³].
    length : float or array
        Length of the run up to the accumulator or the open tank, L [m].
    stopped : float or array
        Speed of the water that is stopped, Δv [m/s].
    closing : float or array
        Time in which the speed falls evenly to nothing, t [s].

    Returns
    -------
    array
        Pressure rise; infinite for an instant [Pa].

    Raises
    ------
    ValueError
        When the closing time is negative.

    Notes
    -----
    Twice what a rigid column would do: the column swings about that. For a slower closing than 2 L / a.

    References
    ----------
    Michaud (1878); Wylie and Streeter, Fluid Transients in Systems (from memory).

    Examples
    --------
    >>> round(float(slow_closing(998.0, 4.0, 1.5, 0.2)))
    59880
    """
    column = 2.0 * np.asarray(density, dtype=np.float64) * length * stopped
    column, time = np.broadcast_arrays(column, not_negative("closing", closing))
    with np.errstate(over="ignore"):
        rise: Array = np.divide(column, time, out=np.full(time.shape, np.inf), where=time > 0)
    return rise


def hammer(
    density: Density[Real], wave: Speed[Real], length: Length[Real], stopped: Speed[Real], closing: Seconds[Real]
) -> PressureDifference[Array]:
    """Pressure rise when the water in one run is stopped evenly.

    Formula: ρ a Δv min(1, 2 L / (a t))

    Parameters
    ----------
    density : float or array
        Density of the water, ρ [kg/m³].
    wave : float or array
        Speed of the pressure wave, a [m/s].
    length : float or array
        Length of the run up to the accumulator or the open tank, L [m].
    stopped : float or array
        Speed of the water that is stopped, Δv [m/s].
    closing : float or array
        Time in which the speed falls evenly to nothing, t [s].

    Returns
    -------
    array
        Pressure rise [Pa].

    Raises
    ------
    ValueError
        When the closing time is negative.

    Notes
    -----
    The full rise ρ a Δv while the outlet shuts within 2 L / a, in which the wave comes back; 2 ρ L Δv / t beyond it.
    Losses on the way and air in the water are left out; both make it less. A tap does not stop the water evenly: see
    ``effective_closing``.

    References
    ----------
    Joukowsky (1898) up to 2 L / a, Michaud (1878) beyond; Wylie and Streeter, Fluid Transients in Systems (from
    memory).

    Examples
    --------
    >>> round(float(hammer(998.0, 400.0, 4.0, 1.5, 0.2)))
    59880
    """
    return np.minimum(joukowsky(density, wave, stopped), slow_closing(density, length, stopped, closing))


def effective_closing(closing: Seconds[Real], share: Share[Real]) -> Seconds[Array]:
    """Time of an evenly falling flow that raises as much as a real tap does at most.

    Formula: t min(1, √s / 0.8)

    Parameters
    ----------
    closing : float or array
        Time in which the tap is shut, t [s].
    share : float or array
        Share of the pressure that the open tap itself takes, losses on the way and behind it the rest, s [-].

    Returns
    -------
    array
        Effective closing time [s].

    Raises
    ------
    ValueError
        When the closing time is negative, or the share is not above zero.

    Notes
    -----
    A wide tap behind a long thin hose hardly lessens the flow until it is almost shut, and stops it all in the last
    part of its way: near the end the flow falls as Q / √s over the closing time. By characteristics with losses, for
    an opening that falls evenly and ρ a Δv up to twice the pressure, the rise is 0.5 / √s to 0.8 / √s of Michaud's,
    and never above ρ a Δv. The most is taken here.

    References
    ----------
    Allievi (1903), law of the evenly closed opening, with losses on the way; the factor by the method of
    characteristics, Wylie and Streeter, Fluid Transients in Systems (from memory).

    Examples
    --------
    >>> [round(float(effective_closing(0.1, share)), 4) for share in (1.0, 0.16, 0.04)]
    [0.1, 0.05, 0.025]
    """
    return not_negative("closing", closing) * np.minimum(1.0, np.sqrt(above_zero("share", share)) / LATE)


def reflection_time(length: Length[Real], wave: Speed[Real]) -> Seconds[Array]:
    """Time a pressure wave needs along a run and back.

    Formula: 2 L / a

    Parameters
    ----------
    length : float or array
        Length of the run up to the accumulator or the open tank, L [m].
    wave : float or array
        Speed of the pressure wave, a [m/s].

    Returns
    -------
    array
        Time there and back; an outlet that shuts within it raises the full hammer [s].

    Raises
    ------
    ValueError
        When the wave speed is not above zero.

    References
    ----------
    Joukowsky (1898).

    Examples
    --------
    >>> float(reflection_time(4.0, 400.0))
    0.02
    """
    return 2.0 * np.asarray(length, dtype=np.float64) / above_zero("wave", wave)


def tube_compliance(
    length: Length[Real],
    bore: Bore[Real],
    outside: Bore[Real],
    modulus: Elasticity[Real],
    poisson: Ratio[Real] = 0.45,
) -> Compliance[Array]:
    """Water that an elastic tube takes up for each pascal.

    Formula: L π/4 d² (2 / E) ((D² + d²) / (D² − d²) + ν)

    Parameters
    ----------
    length : float or array
        Length of the tube, L [m].
    bore : float or array
        Bore, d [m].
    outside : float or array
        Outside diameter, D [m].
    modulus : float or array
        Modulus of elasticity of the wall, E [Pa].
    poisson : float or array
        Poisson's ratio of the wall, ν; near 0.45 for hoses and plastic pipe [-].

    Returns
    -------
    array
        Compliance [m³/Pa].

    Raises
    ------
    ValueError
        When the outside is not above the bore, or a modulus is not above zero.

    Notes
    -----
    Thick-walled cylinder with free ends; a thin wall gives L π/4 d² d / (E e). The modulus of a hose varies by four
    and more with braid, warmth and speed: use a range.

    References
    ----------
    Lamé's thick-walled cylinder, any handbook of strength of materials.

    Examples
    --------
    >>> round(float(tube_compliance(1.0, 10e-3, 15e-3, 60e6)) * 1e11, 3)
    0.798
    """
    above_zero("outside less bore", np.asarray(outside, dtype=np.float64) - bore)
    inner, outer = above_zero("bore", bore) ** 2, np.asarray(outside, dtype=np.float64) ** 2
    strain = 2.0 / above_zero("modulus", modulus) * ((outer + inner) / (outer - inner) + poisson)
    return np.asarray(length, dtype=np.float64) * (np.pi / 4.0) * inner * strain
