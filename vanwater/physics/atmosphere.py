"""The air: its pressure by altitude."""

from __future__ import annotations

import numpy as np

from vanwater.quantities import AbsolutePressure, Altitude, Array, Real

__all__ = ["SEA_LEVEL_PRESSURE", "air_pressure"]

SEA_LEVEL_PRESSURE: AbsolutePressure[float] = 101325.0
"""Standard pressure of the air at sea level [Pa], ISO 2533."""

_SEA_LEVEL_TEMPERATURE = 288.15  # K
_LAPSE = 0.0065  # K/m
_EXPONENT = 5.25588
_LOWEST, _HIGHEST = -2000.0, 11000.0


def air_pressure(altitude: Altitude[Real]) -> AbsolutePressure[Array]:
    """Pressure of the standard atmosphere at an altitude.

    Formula: 101325 (1 − 0.0065 h / 288.15)⁵·²⁵⁵⁸⁸

    Parameters
    ----------
    altitude : float or array
        Altitude above sea level, h [m].

    Returns
    -------
    array
        Absolute pressure of the air [Pa].

    Raises
    ------
    ValueError
        When the altitude lies outside −2000 to 11000 m.

    Notes
    -----
    Geopotential altitude, standard day. Weather moves the pressure by some ± 3 %.

    References
    ----------
    ISO 2533:1975, Standard Atmosphere, pressure below 11 km.

    Examples
    --------
    >>> round(float(air_pressure(1000.0)), 1)
    89874.6
    """
    metres = np.asarray(altitude, dtype=np.float64)
    if not np.all((metres >= _LOWEST) & (metres <= _HIGHEST)):
        raise ValueError(f"altitude: {altitude} m is outside −2000 to 11000 m.")
    return SEA_LEVEL_PRESSURE * (1.0 - _LAPSE / _SEA_LEVEL_TEMPERATURE * metres) ** _EXPONENT
