"""Water hammer along several runs one behind the other, from the tap that shuts back to what takes the blow."""

from __future__ import annotations

import numpy as np

from vanwater.physics._checks import above_zero, not_negative
from vanwater.physics.hammer import WATER_BULK_MODULUS, joukowsky, slow_closing
from vanwater.quantities import (
    Array,
    Compliance,
    Density,
    Elasticity,
    Length,
    PressureDifference,
    Real,
    Seconds,
    Speed,
    Volume,
)

__all__ = ["surge", "wave_speed_of_run"]


def wave_speed_of_run(
    density: Density[Real],
    give: Compliance[Real],
    content: Volume[Real],
    bulk_modulus: Elasticity[Real] = WATER_BULK_MODULUS,
) -> Speed[Array]:
    """Speed of a pressure wave in a run whose give is known.

    Formula: √(1 / (ρ (1/K + C / V)))

    Parameters
    ----------
    density : float or array
        Density of the water, ρ [kg/m³].
    give : float or array
        Water that the run's wall takes up for each pascal, C; none for a rigid one [m³/Pa].
    content : float or array
        Water in the run, V [m³].
    bulk_modulus : float or array
        Bulk modulus of the water, K [Pa].

    Returns
    -------
    array
        Wave speed, a [m/s].

    Raises
    ------
    ValueError
        When the give is negative, or density, content or modulus is not above zero.

    Notes
    -----
    The same law as hammer.wave_speed, for thick walls too; no air in the water. A hose gives less in a fast blow
    than in a slow change: the stiff end of its range is the safe one.

    References
    ----------
    Korteweg (1878), with the wall's give as measured or by Lamé.

    Examples
    --------
    >>> round(float(wave_speed_of_run(999.0, 8e-12, 7.854e-5)), 1)
    98.9
    """
    soft = not_negative("give", give) / above_zero("content", content)
    return np.sqrt(1.0 / (above_zero("density", density) * (1.0 / above_zero("bulk_modulus", bulk_modulus) + soft)))


def surge(
    density: Density[Real], wave: Speed[Real], length: Length[Real], stopped: Speed[Real], closing: Seconds[Real]
) -> PressureDifference[Array]:
    """Pressure rise when a tap shuts at the end of several runs.

    Formula: min(max(ρ a Δv), Σ ρ L Δv / t)

    Parameters
    ----------
    density : float or array
        Density of the water, ρ [kg/m³].
    wave : array
        Speed of the pressure wave in each run along the last axis, a [m/s].
    length : array
        Length of each run up to the accumulator, 0 where a row has fewer runs, L [m].
    stopped : array
        Speed of the water in each run, Δv [m/s].
    closing : float or array
        Time in which the tap shuts, without the axis of runs, t [s].

    Returns
    -------
    array
        Pressure rise, without the axis of runs [Pa].

    Raises
    ------
    ValueError
        When the closing time is negative.

    Notes
    -----
    The rigid column bounds a slow closing. A wave that goes on into the next run stays below the larger ρ a Δv of the
    two, since both carry the same flow.

    References
    ----------
    Joukowsky (1898) as the bound; rigid column below it; wave at a change of bore by the runs' impedances.

    Examples
    --------
    >>> round(float(surge(999.0, np.array([280.0, 95.0]), np.array([3.0, 1.5]), np.array([1.2, 1.6]), 0.2)))
    29970
    """
    fast = np.max(joukowsky(density, wave, stopped), axis=-1)
    each = slow_closing(density, length, stopped, np.asarray(closing, dtype=np.float64)[..., np.newaxis])
    return np.asarray(np.minimum(fast, np.sum(each, axis=-1)), dtype=np.float64)
