"""Heated water grows: by how much, and the pressure it makes behind a check valve."""

from __future__ import annotations

import numpy as np

from vanwater.physics._gas import gas_state
from vanwater.physics.atmosphere import SEA_LEVEL_PRESSURE
from vanwater.physics.water import density
from vanwater.quantities import AbsolutePressure, Array, Compliance, Pressure, Real, Temperature, Volume

__all__ = ["expansion_volume", "pressure_after_expansion"]


def expansion_volume(volume: Volume[Real], cold: Temperature[Real], hot: Temperature[Real]) -> Volume[Array]:
    """Water that a full heater pushes out, or back, while its content warms.

    Formula: V (ρ(T_c) / ρ(T_h) − 1)

    Parameters
    ----------
    volume : float or array
        Content of the heater when cold, V [m³].
    cold : float or array
        Temperature before, T_c [K].
    hot : float or array
        Temperature after, T_h [K].

    Returns
    -------
    array
        Growth of the water's volume [m³]; negative between 0 and 4 °C, where warming water shrinks.

    Raises
    ------
    ValueError
        When a temperature lies outside the range of the density.

    Notes
    -----
    From cold to hot it grows by some 2 %. The heater's own growth is left out.

    References
    ----------
    IAPWS SR6-08 (2011), Properties of Liquid Water at 0.1 MPa, for the densities.

    Examples
    --------
    >>> round(float(expansion_volume(10e-3, 285.15, 340.15)) * 1e3, 3)
    0.205
    """
    return np.asarray(volume, dtype=np.float64) * (density(cold) / density(hot) - 1.0)


def pressure_after_expansion(
    expansion: Volume[Real],
    start: Pressure[Real],
    compliance: Compliance[Real],
    volume: Volume[Real] = 0.0,
    precharge: Pressure[Real] = 0.0,
    atmosphere: AbsolutePressure[Real] = SEA_LEVEL_PRESSURE,
) -> Pressure[Array]:
    """Pressure that heated water makes when a check valve keeps it from going back.

    Formula: p from C (p − p₁) + V p₀ (1 / max(p₁, p₀) − 1 / max(p, p₀)) = ΔV, with p_atm added to each

    Parameters
    ----------
    expansion : float or array
        Volume by which the water grows, ΔV [m³].
    start : float or array
        Gauge pressure before, p₁ [Pa].
    compliance : float or array
        Water the hoses and the heater take up for each pascal, C [m³/Pa].
    volume : float or array
        Gas volume of the accumulator on the heater's side of the check valve, or 0, V [m³].
    precharge : float or array
        Its pre-charge as a gauge reads it, p₀ [Pa].
    atmosphere : float or array
        Absolute pressure of the atmosphere, p_atm [Pa].

    Returns
    -------
    array
        Gauge pressure after, if no relief valve opens; infinite when nothing yields [Pa].

    Raises
    ------
    ValueError
        When the expansion or the compliance is negative, or an absolute pressure is not above zero.

    Notes
    -----
    Heating is slow, so the gas is isothermal. Where the result passes the setting of the relief valve, the
    valve drips instead.

    References
    ----------
    Boyle's law and the elastic line; a quadratic in the absolute pressure.

    Examples
    --------
    >>> round(float(pressure_after_expansion(0.2e-3, 2.4e5, 6e-11)) / 1e5, 1)
    35.7
    >>> round(float(pressure_after_expansion(0.2e-3, 2.4e5, 6e-11, 1e-3, 1.3e5)) / 1e5, 2)
    3.75
    """
    size, p0, p1, _ = gas_state(volume, precharge, start, atmosphere, 1.0)
    grown = np.asarray(expansion, dtype=np.float64)
    soft = np.asarray(compliance, dtype=np.float64)
    if np.any(grown < 0) or np.any(soft < 0):
        raise ValueError("expansion, compliance: neither may be negative.")
    low = np.maximum(p1, p0)
    before = soft * (low - p1)  # what the line takes before the gas is touched
    gas = size * p0
    # for p above p₀: C p² + (gas/low − rest − C low) p − gas = 0
    middle = gas / low - (grown - before) - soft * low
    root = np.sqrt(middle * middle + 4.0 * soft * gas)
    with np.errstate(divide="ignore", invalid="ignore"):
        # the stable root of two, whichever sign the middle term has
        squeezed = np.where(middle > 0, 2.0 * gas / (middle + root), (root - middle) / (2.0 * soft))
        line_only = p1 + np.where(grown > 0, grown / soft, 0.0)
    after = np.where((grown <= before) | (size == 0), line_only, squeezed)
    after = np.where(np.isnan(after), np.inf, after)
    return after - atmosphere
