"""Standing water: the pressure of a column, the height that a pressure holds up."""

from __future__ import annotations

import numpy as np

from vanwater.quantities import Array, Density, Length, Pressure, Real

__all__ = [
    "STANDARD_GRAVITY",
    "column_height",
    "column_pressure",
]

STANDARD_GRAVITY = 9.80665
"""Standard acceleration of free fall [m/s²], exact by definition (ISO 80000-3)."""


def column_pressure(height: Length[Real], density: Density[Real]) -> Pressure[Array]:
    """Pressure of a column of water of a given height.

    Formula: ρ g h

    Parameters
    ----------
    height : float or array
        Height of the column, h [m]; negative below the reference.
    density : float or array
        Density of the water, ρ [kg/m³].

    Returns
    -------
    array
        Pressure difference between foot and head of the column [Pa].

    Notes
    -----
    g is the standard gravity, 9.80665 m/s².

    References
    ----------
    Hydrostatics; ISO 80000-3 for g.

    Examples
    --------
    >>> round(float(column_pressure(1.75, 999.7)))
    17156
    """
    return np.asarray(height, dtype=np.float64) * density * STANDARD_GRAVITY


def column_height(pressure: Pressure[Real], density: Density[Real]) -> Length[Array]:
    """Height of the column of water that a pressure holds up.

    Formula: p / (ρ g)

    Parameters
    ----------
    pressure : float or array
        Pressure, p [Pa].
    density : float or array
        Density of the water, ρ [kg/m³].

    Returns
    -------
    array
        Height of the column [m].

    Notes
    -----
    g is the standard gravity, 9.80665 m/s².

    References
    ----------
    Hydrostatics; ISO 80000-3 for g.

    Examples
    --------
    >>> round(float(column_height(1e5, 999.7)), 3)
    10.2
    """
    return np.asarray(pressure, dtype=np.float64) / (np.asarray(density, dtype=np.float64) * STANDARD_GRAVITY)
