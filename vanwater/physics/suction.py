"""The suction side: whether the pump draws water, and whether the water boils before it gets there."""

from __future__ import annotations

import numpy as np

from vanwater.physics.atmosphere import suction_lift_lost
from vanwater.physics.statics import column_height
from vanwater.quantities import AbsolutePressure, Altitude, Array, Density, Length, PressureDifference, Real

__all__ = ["npsh_available", "permissible_lift", "priming_margin"]


def npsh_available(
    surface_pressure: AbsolutePressure[Real],
    vapour_pressure: AbsolutePressure[Real],
    density: Density[Real],
    surface_height: Length[Real],
    suction_loss: PressureDifference[Real],
) -> Length[Array]:
    """Net positive suction head available at the pump.

    Formula: (p_s − p_v − Δp) / (ρ g) + h

    Parameters
    ----------
    surface_pressure : float or array
        Absolute pressure on the water's surface, p_s: the air's in a vented tank [Pa].
    vapour_pressure : float or array
        Absolute vapour pressure of the water, p_v [Pa].
    density : float or array
        Density of the water, ρ [kg/m³].
    surface_height : float or array
        Height of the surface above the pump, h; negative where the pump lifts [m].
    suction_loss : float or array
        Pressure lost between tank and pump, Δp [Pa].

    Returns
    -------
    array
        Head above boiling at the pump's inlet [m].

    Notes
    -----
    Above the pump's required NPSH by a margin, or the pump rattles. A small diaphragm pump seldom states one;
    its rated priming lift says more.

    References
    ----------
    Crane, Flow of Fluids, TP-410, net positive suction head.

    Examples
    --------
    >>> round(float(npsh_available(98945.0, 1403.0, 999.5, -0.2, 4847.5)), 2)
    9.26
    """
    pressure = np.asarray(surface_pressure, dtype=np.float64) - vapour_pressure - suction_loss
    return column_height(pressure, density) + surface_height


def permissible_lift(
    surface_pressure: AbsolutePressure[Real],
    vapour_pressure: AbsolutePressure[Real],
    density: Density[Real],
    suction_loss: PressureDifference[Real],
    npsh_required: Length[Real],
) -> Length[Array]:
    """Highest lift from the water's surface to a pump or crest before the head there falls short.

    Formula: (p_s − p_v − Δp) / (ρ g) − NPSH

    Parameters
    ----------
    surface_pressure : float or array
        Absolute pressure on the water's surface, p_s [Pa].
    vapour_pressure : float or array
        Absolute vapour pressure of the water, p_v [Pa].
    density : float or array
        Density of the water, ρ [kg/m³].
    suction_loss : float or array
        Pressure lost and turned to speed on the way, Δp [Pa].
    npsh_required : float or array
        Head wanted at the top, NPSH: zero for the crest of a siphon [m].

    Returns
    -------
    array
        Lift above the surface; negative means the surface must lie above [m].

    Notes
    -----
    Water at rest at the top; gases that come out of the water lower the lift further.

    References
    ----------
    Bernoulli's equation, the balance of ``npsh_available`` turned round.

    Examples
    --------
    >>> round(float(permissible_lift(98000.0, 1707.0, 1000.3, 9810.0, 4.8)), 2)
    4.02
    """
    pressure = np.asarray(surface_pressure, dtype=np.float64) - vapour_pressure - suction_loss
    return column_height(pressure, density) - npsh_required


def priming_margin(
    rated_lift: Length[Real],
    lift: Length[Real],
    suction_loss: PressureDifference[Real],
    density: Density[Real],
    altitude: Altitude[Real],
) -> Length[Array]:
    """Lift a self-priming pump has to spare over the lift and the suction loss it meets, at altitude.

    Formula: h_rated − h − Δp / (ρ g) − 1.2 H / 1000

    Parameters
    ----------
    rated_lift : float or array
        Priming lift the pump is rated for at sea level, h_rated [m].
    lift : float or array
        Height of the pump above the water's surface, h; negative where the water stands above it [m].
    suction_loss : float or array
        Pressure lost between tank and pump, Δp [Pa].
    density : float or array
        Density of the water, ρ [kg/m³].
    altitude : float or array
        Altitude, H [m].

    Returns
    -------
    array
        Lift to spare; negative means the pump does not prime [m].

    Notes
    -----
    A worn pump, a leaking strainer or a dry valve primes less: keep a margin of half a metre (common practice).

    References
    ----------
    Common practice: 1.2 m of lift a kilometre of altitude; the rest is the head balance of the suction run.

    Examples
    --------
    >>> round(float(priming_margin(1.8, 0.2, 4847.5, 999.5, 200.0)), 2)
    0.87
    """
    spare = np.asarray(rated_lift, dtype=np.float64) - lift - suction_lift_lost(altitude)
    return spare - column_height(suction_loss, density)
