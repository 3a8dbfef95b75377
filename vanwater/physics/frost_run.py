"""A tank, hose or fitting through hours of weather, with a pad on a thermostat: exact steps, any number at once."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from vanwater.physics._lump import Lump, advanced, passage
from vanwater.physics.water import FREEZING_POINT
from vanwater.quantities import (
    Array,
    Conductance,
    Duration,
    Energy,
    Mass,
    Power,
    Real,
    Share,
    Temperature,
)

__all__ = ["FrostRun", "Pad", "frost_run", "held_step"]


@dataclass(frozen=True, slots=True)
class Pad:
    """A pad or trace heating on a thermostat.

    Parameters
    ----------
    power : float or array
        Power when on, 0 for none [W].
    net_share : float or array
        Share of it that reaches the water [-].
    hold : float or array
        Temperature it holds, the middle of the thermostat's band [K].
    """

    power: Power[Real] = 0.0
    net_share: Share[Real] = 1.0
    hold: Temperature[Real] = 277.15


@dataclass(frozen=True, slots=True)
class FrostRun:
    """What a run of weather does to a lump of water; time on the last axis.

    Parameters
    ----------
    temperature : array
        Temperature at the start and after each step [K].
    ice_share : array
        Share of the water that is ice, at the same times [-].
    pad_energy : array
        Energy the pad drew in each step [J].
    duty : array
        Share of each step the pad was on [-].
    """

    temperature: Temperature[Array]
    ice_share: Share[Array]
    pad_energy: Energy[Array]
    duty: Share[Array]


def held_step(
    heat: Energy[Real],
    duration: Duration[Real],
    outside: Temperature[Real],
    conductance: Conductance[Real],
    mass: Mass[Real],
    wall: Mass[Real],
    pad: Pad,
) -> tuple[Energy[Array], Duration[Array]]:
    """One step in constant surroundings with a pad on its thermostat.

    Parameters
    ----------
    heat : float or array
        Heat above water of 0 °C at the start [J].
    duration : float or array
        Length of the step [s].
    outside : float or array
        Temperature of the surroundings, for several neighbours the temperature of rest [K].
    conductance : float or array
        Heat lost for each degree [W/K].
    mass : float or array
        Mass of water and ice [kg].
    wall : float or array
        Water equivalent of the wall [kg].
    pad : Pad
        Pad and thermostat.

    Returns
    -------
    tuple of array
        Heat at the end [J], and time the pad was on [s].

    Raises
    ------
    ValueError
        When the wall is negative, the lump has no mass, or the temperature held is not above 0 °C.

    Notes
    -----
    The thermostat holds the middle of its band: off above, on below, and on for the needed share at it. What a
    switching thermostat swings around it averages out over some cycles.

    References
    ----------
    Lumped capacity with the enthalpy as state (enthalpy method).

    Examples
    --------
    >>> after, on = held_step(4186.0 * 70 * 4, 3600.0, 265.15, 1.787, 70.0, 0.0, Pad(60.0, 0.85, 277.15))
    >>> round(float(after) / 4186 / 70, 3), round(float(on) / 3600, 3)
    (4.0, 0.42)
    """
    hold = np.asarray(pad.hold, dtype=np.float64) - FREEZING_POINT
    if not np.all(hold > 0):
        raise ValueError("pad.hold: expected above 0 °C.")
    held, seconds, loses = (np.asarray(x, dtype=np.float64) for x in (heat, duration, conductance))
    inflow = loses * (np.asarray(outside, dtype=np.float64) - FREEZING_POINT)
    lump, drawn = Lump.of(mass, wall), np.asarray(pad.power, dtype=np.float64)
    return _held(held, seconds, inflow, loses, lump, drawn * pad.net_share, hold)


def frost_run(
    start: Temperature[Real],
    outside: Temperature[Array],
    conductance: Conductance[Real],
    mass: Mass[Real],
    wall: Mass[Real],
    pad: Pad,
    step: Duration[float] = 3600.0,
) -> FrostRun:
    """A lump of water through a series of outside temperatures.

    Parameters
    ----------
    start : float or array
        Temperature at the start, above 0 °C; one for each design [K].
    outside : array
        Temperature of the surroundings in each step, on the last axis [K].
    conductance : float or array
        Heat lost for each degree; a last axis as long as the weather's tells parked from driving [W/K].
    mass : float or array
        Mass of water; one for each design [kg].
    wall : float or array
        Water equivalent of the wall; one for each design [kg].
    pad : Pad
        Pad and thermostat; its entries one for each design.
    step : float
        Length of a step [s].

    Returns
    -------
    FrostRun
        Temperature, ice and the pad's energy, time on the last axis.

    Raises
    ------
    ValueError
        When the start is below 0 °C, the wall is negative, the lump has no mass, or the temperature held is not above
        0 °C.

    Notes
    -----
    Give conductances that differ by design but not by time a last axis of one. A year of hours for some thousand
    designs takes seconds.

    References
    ----------
    Lumped capacity with the enthalpy as state (enthalpy method).

    Examples
    --------
    >>> night = np.full(10, 265.15)
    >>> run = frost_run(281.15, night, 1.787, 70.0, 0.0, Pad())
    >>> round(float(run.temperature[-1]) - 273.15, 2)
    4.85
    """
    first, hold = np.asarray(start, dtype=np.float64) - FREEZING_POINT, np.asarray(pad.hold, dtype=np.float64)
    if np.any(first < 0):
        raise ValueError("start: expected 0 °C or more.")
    if not np.all(hold > FREEZING_POINT):
        raise ValueError("pad.hold: expected above 0 °C.")
    lump, drawn = Lump.of(mass, wall), np.asarray(pad.power, dtype=np.float64)
    net = drawn * pad.net_share
    loses, cold = np.broadcast_arrays(np.asarray(conductance, dtype=np.float64), np.asarray(outside, dtype=np.float64))
    inflow = loses * (cold - FREEZING_POINT)
    shape = np.broadcast_shapes(first.shape, lump.liquid.shape, net.shape, hold.shape, inflow.shape[:-1])
    steps = inflow.shape[-1]
    heat, on = np.empty((steps + 1, *shape)), np.empty((steps, *shape))
    heat[0] = first * lump.liquid
    seconds = np.full((), step)
    for hour in range(steps):
        heat[hour + 1], on[hour] = _held(
            heat[hour], seconds, inflow[..., hour], loses[..., hour], lump, net, hold - FREEZING_POINT
        )
    cooled = np.minimum(heat + lump.fusion, 0.0) / lump.frozen
    temperature = FREEZING_POINT + np.maximum(heat, 0.0) / lump.liquid + cooled
    ice = np.clip(-heat / np.where(lump.fusion > 0, lump.fusion, np.inf), 0.0, 1.0)
    return FrostRun(
        np.moveaxis(temperature, 0, -1),
        np.moveaxis(ice, 0, -1),
        np.moveaxis(on * drawn, 0, -1),
        np.moveaxis(on / step, 0, -1),
    )


def _held(
    heat: Array, seconds: Array, inflow: Array, conductance: Array, lump: Lump, net: Array, hold: Array
) -> tuple[Array, Array]:
    """Heat and time on: first toward the temperature held, then at it or away from it."""
    target = lump.liquid * hold
    needed = conductance * hold - inflow  # what holds the target
    below, away = heat < target, np.zeros(())
    first_power = np.where(below, net, away)
    reached = passage(heat, target, inflow + first_power, conductance, lump)
    first = np.minimum(reached, seconds)
    moved = advanced(heat, first, inflow + first_power, conductance, lump)
    moved = np.where(reached <= seconds, target, moved)
    left = seconds - first
    on = np.where(below & (net > 0), first, 0.0)
    if not np.any(left > 0):
        return moved, on
    power = np.clip(needed, 0.0, net)  # full on when it does not hold, off when the surroundings are warmer
    share = np.divide(power, net, out=np.zeros(np.broadcast_shapes(power.shape, net.shape)), where=net > 0)
    holds = (needed >= 0) & (needed <= net)
    drifted = advanced(moved, left, inflow + power, conductance, lump)
    after = np.where(left > 0, np.where(holds, target, drifted), moved)
    return after, on + left * share
