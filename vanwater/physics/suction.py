"""The suction side: whether a dry pump pulls the water up, and whether the water boils before it gets there."""

from __future__ import annotations

import numpy as np

from vanwater.physics.atmosphere import SEA_LEVEL_PRESSURE
from vanwater.physics.statics import STANDARD_GRAVITY, column_height
from vanwater.quantities import AbsolutePressure, Array, Density, Length, PressureDifference, Real

__all__ = ["VALVE_OPENING", "dry_lift", "npsh_available", "permissible_lift", "rated_lift_needed"]

VALVE_OPENING: PressureDifference[float] = 3e3
"""Pressure that opens the valves of a small diaphragm pump [Pa]: 0.03 bar (common practice, from memory)."""


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
    Of a pump that is full of water; while it is dry its dry lift decides. Above the pump's required NPSH by a margin,
    or the pump rattles. A small diaphragm pump seldom states one.

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


def dry_lift(
    rated_lift: Length[Real],
    surface_pressure: AbsolutePressure[Real],
    density: Density[Real],
    valve_opening: PressureDifference[Real] = VALVE_OPENING,
    line_opening: PressureDifference[Real] = 0.0,
) -> Length[Array]:
    """Height to which a displacement pump pulls water up through a line full of air.

    Formula: (h₀ + Δp_v / (ρ g)) p / 101325 − (Δp_v + Δp_l) / (ρ g)

    Parameters
    ----------
    rated_lift : float or array
        Dry lift that the pump is rated for at sea level, h₀ [m].
    surface_pressure : float or array
        Absolute pressure on the water's surface, p: the air's in a vented tank [Pa].
    density : float or array
        Density of the water, ρ [kg/m³].
    valve_opening : float or array
        Pressure that opens the pump's own valves, Δp_v [Pa].
    line_opening : float or array
        Pressure that opens spring check valves in the suction line, Δp_l [Pa].

    Returns
    -------
    array
        Lift from the water's surface to the highest point of the suction line; below zero where water has to stand so
        far above it [m].

    Raises
    ------
    ValueError
        When the rated lift or an opening pressure is negative, or the density or the pressure not above zero.

    Notes
    -----
    A stroke thins the air before the pump to a fixed share of the outside pressure, so that the lift follows it:
    k p / (ρ g) less what opens the valve. With a tap open and no pressure behind the pump; against a full line it
    pulls hardly any air. Friction of water does not count before there is water in the pump. A worn pump or a line
    that lets air in lifts less.

    References
    ----------
    Boyle's law for the air in the pump's chamber; balance of pressures over the column of water. Opening pressure of
    small diaphragm pumps' valves: common practice, from memory.

    Examples
    --------
    >>> round(float(dry_lift(1.8, 79495.2, 999.7)), 2)
    1.35
    """
    column = 1.0 / (_positive("density", density) * STANDARD_GRAVITY)
    own, line = _not_negative("valve_opening", valve_opening), _not_negative("line_opening", line_opening)
    share = _positive("surface_pressure", surface_pressure) / SEA_LEVEL_PRESSURE
    lift = (_not_negative("rated_lift", rated_lift) + own * column) * share - (own + line) * column
    return np.asarray(lift)


def rated_lift_needed(
    lift: Length[Real],
    surface_pressure: AbsolutePressure[Real],
    density: Density[Real],
    valve_opening: PressureDifference[Real] = VALVE_OPENING,
    line_opening: PressureDifference[Real] = 0.0,
) -> Length[Array]:
    """Dry lift at sea level that a pump must be rated for to pull water up to a height.

    Formula: (h + (Δp_v + Δp_l) / (ρ g)) 101325 / p − Δp_v / (ρ g), none below zero

    Parameters
    ----------
    lift : float or array
        Lift from the water's surface to the highest point of the suction line, h [m].
    surface_pressure : float or array
        Absolute pressure on the water's surface, p: the air's in a vented tank [Pa].
    density : float or array
        Density of the water, ρ [kg/m³].
    valve_opening : float or array
        Pressure that opens the pump's own valves, Δp_v [Pa].
    line_opening : float or array
        Pressure that opens spring check valves in the suction line, Δp_l [Pa].

    Returns
    -------
    array
        Rated dry lift [m].

    Raises
    ------
    ValueError
        When an opening pressure is negative, or the density or the pressure not above zero.

    References
    ----------
    The balance of ``dry_lift`` turned round.

    Examples
    --------
    >>> round(float(rated_lift_needed(1.35, 79495.2, 999.7)), 2)
    1.8
    """
    column = 1.0 / (_positive("density", density) * STANDARD_GRAVITY)
    own, line = _not_negative("valve_opening", valve_opening), _not_negative("line_opening", line_opening)
    share = _positive("surface_pressure", surface_pressure) / SEA_LEVEL_PRESSURE
    rated = (np.asarray(lift, dtype=np.float64) + (own + line) * column) / share - own * column
    return np.asarray(np.maximum(rated, 0.0))


def _positive(name: str, value: Real) -> Array:
    values = np.asarray(value, dtype=np.float64)
    if np.any(values <= 0.0):
        raise ValueError(f"{name} is {float(np.min(values)):g}; expected above zero everywhere.")
    return values


def _not_negative(name: str, value: Real) -> Array:
    values = np.asarray(value, dtype=np.float64)
    if np.any(values < 0.0):
        raise ValueError(f"{name} is {float(np.min(values)):g}; expected zero or above everywhere.")
    return values
