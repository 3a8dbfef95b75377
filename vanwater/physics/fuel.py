"""Fuel for heat: what a burner takes for it, and what height and frost leave of its gas."""

from __future__ import annotations

import numpy as np

from vanwater.physics._checks import above_zero
from vanwater.physics._checks import efficiency as checked
from vanwater.quantities import Altitude, Array, Energy, LatentHeat, Mass, Power, Real, Share

__all__ = ["BUTANE", "DIESEL", "PROPANE", "burner_power", "fuel_mass"]

PROPANE = 46.3e6
"""Lower heating value of propane, J/kg: by the heats of formation."""
BUTANE = 45.7e6
"""Lower heating value of n-butane, J/kg: by the heats of formation."""
DIESEL = 42.8e6
"""Lower heating value of road diesel, J/kg (common practice, from memory; EN 590 sets none)."""

_LEVEL = 600.0
_EACH = 300.0
_LESS = 0.035


def fuel_mass(heat: Energy[Real], efficiency: Share[Real], heating_value: LatentHeat[Real]) -> Mass[Array]:
    """Fuel that a burner takes for heat in the water.

    Formula: Q / (η H)

    Parameters
    ----------
    heat : float or array
        Heat that reaches the water, Q [J].
    efficiency : float or array
        Share of the fuel's heat that does, η [-].
    heating_value : float or array
        Lower heating value of the fuel, H [J/kg].

    Returns
    -------
    array
        Mass of fuel [kg].

    Raises
    ------
    ValueError
        When the efficiency is not above 0 or above 1, or the heating value is not above zero.

    Notes
    -----
    Small heaters bring 70 to 85 % of it into the water (common practice).

    References
    ----------
    Energy balance.

    Examples
    --------
    >>> round(float(fuel_mass(2.0 * 3.6e6, 0.78, 46.3e6)) * 1e3)
    199
    """
    return np.asarray(heat, dtype=np.float64) / (
        checked("efficiency", efficiency) * above_zero("heating_value", heating_value)
    )


def burner_power(power: Power[Real], altitude: Altitude[Real]) -> Power[Array]:
    """Power of a gas burner without a fan in thin air.

    Formula: P (1 − 0.035 max(0, h − 600 m) / 300 m)

    Parameters
    ----------
    power : float or array
        Power near sea level, P [W].
    altitude : float or array
        Height above the sea, h [m].

    Returns
    -------
    array
        Power there; not below none [W].

    Notes
    -----
    Some 3 to 4 % less for each 300 m above 600 m (common practice; gas codes ask for that derating in North America).

    References
    ----------
    Common practice; NFPA 54, derating above 2000 ft, from memory.

    Examples
    --------
    >>> round(float(burner_power(14e3, 1800.0)))
    12040
    """
    above = np.maximum(np.asarray(altitude, dtype=np.float64) - _LEVEL, 0.0) / _EACH
    return np.maximum(np.asarray(power, dtype=np.float64) * (1.0 - _LESS * above), 0.0)
