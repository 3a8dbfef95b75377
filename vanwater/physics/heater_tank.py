"""The heater as layers that move: draws with stirring, element, turnover, loss, thermostat; energy balanced."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import cached_property
from typing import NamedTuple

import numpy as np
import numpy.typing as npt

from vanwater.physics import _moving_layers as moving
from vanwater.physics._checks import above_zero, not_negative, share
from vanwater.physics.heater import HEAT_OF_WATER
from vanwater.quantities import (
    Array,
    Conductance,
    Duration,
    Energy,
    Power,
    Real,
    Share,
    Temperature,
    TemperatureDifference,
    Volume,
)

__all__ = ["STIRRING", "HeaterRun", "HeaterTank", "heater_run"]

Bools = npt.NDArray[np.bool_]

STIRRING: Share[float] = 0.25
"""Share of a heater's content that the entering cold water stirs [-]: 0.1 to 0.45 (common practice, from memory)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class HeaterTank:
    """A storage heater; each entry may differ from row to row.

    Parameters
    ----------
    volume : float or array
        Content [m³].
    power : float or array
        Heat of the element, or of another source, that reaches the water [W].
    set_point : float or array
        Temperature at which the thermostat stops [K].
    band : float or array
        How far below it the thermostat starts again [K].
    conductance : float or array
        Heat lost to the room for each degree [W/K].
    room : float or array
        Temperature around it [K].
    mixing : float or array
        Share of the content that incoming cold water stirs: 0 plug flow, 1 fully mixed [-].
    element : float
        Height of the element as a share of the tank's; water below it stays cold [-].
    sensor : float
        Height of the thermostat as a share of the tank's, not below the element [-].
    """

    volume: Volume[Real]
    power: Power[Real]
    set_point: Temperature[Real]
    band: TemperatureDifference[Real] = 5.0
    conductance: Conductance[Real] = 0.0
    room: Temperature[Real] = 293.15
    mixing: Share[Real] = STIRRING
    element: Share[float] = 0.0
    sensor: Share[float] = 0.3


@dataclass(frozen=True, kw_only=True, eq=False)
class HeaterRun:
    """What a run of draws does to a heater; steps on the last axis.

    Parameters
    ----------
    temperature : array
        Temperatures at the end of the run, in layers of equal volume, bottom layer first on the last axis [K].
    tap : array
        Mean temperature at the tap in each step, NaN where nothing is drawn [K].
    top : array
        Temperature of the uppermost water after each step [K].
    make_ready : callable
        Gives what :attr:`ready` holds, asked when it is first read.
    hot : array
        Hot water drawn from the heater in each step [m³].
    heated : array
        Heat the element put into the water in each step [J].
    lost : array
        Heat lost to the room in each step [J].
    drawn : array
        Heat above the cold water that left with the hot water in each step [J].
    """

    temperature: Temperature[Array]
    tap: Temperature[Array]
    top: Temperature[Array]
    make_ready: Callable[[], Volume[Array]]
    hot: Volume[Array]
    heated: Energy[Array]
    lost: Energy[Array]
    drawn: Energy[Array]

    @cached_property
    def ready(self) -> Volume[Array]:
        """Water of the temperature wanted that could be drawn at once after each step, the element off [m³].

        NaN where hot water alone is wanted.
        """
        return self.make_ready()


class _Fixed(NamedTuple):
    """A tank as arrays with a last axis of one; element and sensor as the volume below them."""

    volume: Array
    power: Array
    target: Array
    starts: Array
    loses: Array
    room: Array
    stirred: Array
    element: Array
    sensor: Array


def heater_run(
    start: Temperature[Array],
    tapped: Volume[Array],
    wanted: Temperature[Real],
    cold: Temperature[Real],
    tank: HeaterTank,
    step: Duration[Real] = 30.0,
    on: Bools | bool = True,
) -> HeaterRun:
    """A storage heater through a series of draws.

    Parameters
    ----------
    start : array
        Temperatures at the start in layers of equal volume, bottom layer first, layers on the last axis [K].
    tapped : array
        Water at the tap in each step, steps on the last axis [m³].
    wanted : float or array
        Temperature wanted at the tap, one for all or steps on the last axis; infinite for hot water alone [K].
    cold : float or array
        Temperature of the cold water [K].
    tank : HeaterTank
        The heater.
    step : float or array
        Length of a step, one for all or steps on the last axis [s].
    on : bool or array
        Whether the thermostat may switch the element on, one for all or steps on the last axis.

    Returns
    -------
    HeaterRun
        Tap and top temperatures, hot water, and the energies of each step.

    Raises
    ------
    ValueError
        When a draw is negative, a share is outside 0 to 1, or the tank has no volume.

    Notes
    -----
    In each step first the draw, then the loss, then the element. As many layers as the start has move with the water,
    so that the stirring alone mixes: plug flow above the stirred part, exact in heat for any draw, a front sharp at any
    height; one layer alone is fully mixed. What the stirred part pushes up in a step becomes one layer: where it is
    stirred, draw no more than a tenth of the content in a step. Heat rises from the element and turns over what lies
    colder above it. The mixing valve takes as much hot water as the step needs. No conduction between layers. What was
    put in, lost and drawn balances with the layers' heat to rounding.

    References
    ----------
    Heat balance of a plug and of a stirred part; turnover and plug flow as in stratified tank models (Duffie and
    Beckman, Solar Engineering of Thermal Processes, section 8.4, from memory).

    Examples
    --------
    >>> tank = HeaterTank(volume=10e-3, power=1300.0, set_point=335.15, mixing=0.0)
    >>> run = heater_run(np.full(10, 335.15), np.full(40, 0.5e-3), 312.15, 285.15, tank, step=5.0, on=False)
    >>> round(float(np.sum(run.tap >= 312.15 - 1e-9)) * 0.5, 1)
    18.5
    """
    temperatures = np.asarray(start, dtype=np.float64)
    litres = not_negative("tapped", tapped)
    steps, count = litres.shape[-1], temperatures.shape[-1]
    fixed, inlet = _fixed(tank), np.asarray(cold, dtype=np.float64)[..., None]
    want, long = (_along(np.asarray(values, dtype=np.float64), steps) for values in (wanted, step))
    may = np.broadcast_to(np.asarray(on, dtype=np.bool_), (*np.shape(on)[:-1], steps))
    rows = np.broadcast_shapes(*(part.shape[:-1] for part in (temperatures, litres, inlet, want, long, may, *fixed)))
    volume = np.broadcast_to(fixed.volume / count, (*rows, count))
    layers = moving.settled(moving.Layers(volume, np.broadcast_to(temperatures, (*rows, count))))
    heating: Bools = np.zeros((*rows, 1), dtype=np.bool_)
    fading = np.exp(-fixed.loses * long / (fixed.volume * HEAT_OF_WATER))
    story = np.empty((6, steps, *rows))
    tap, top, hot, heated, lost, drawn = story
    after = []
    for now in range(steps):
        asked, rise = litres[..., now, None], want[..., now, None] - inlet
        taken, gone = np.zeros((2, *rows, 1))
        if (asked > 0).any():
            moved, taken, gone = moving.drawn(layers, asked, rise, inlet, fixed.stirred)
            layers = moving.settled(moved)
        warm = inlet + np.divide(gone, asked, out=np.full(gone.shape, np.nan), where=asked > 0)
        cooled = fixed.room + (layers.warmth - fixed.room) * fading[..., now, None]
        lost[now] = np.sum(layers.volume * (layers.warmth - cooled), axis=-1)
        layers = moving.Layers(layers.volume, cooled)
        seconds, may_now = long[..., now, None], may[..., now, None]
        layers, given, heating = _heated(layers, heating, fixed, fixed.power * seconds / HEAT_OF_WATER, may_now)
        tap[now], top[now], hot[now] = warm[..., 0], layers.warmth[..., -1], taken[..., 0]
        heated[now], drawn[now] = given[..., 0], gone[..., 0]
        after.append(layers)

    def ready() -> Array:
        layered = moving.Layers(*(np.stack(parts) for parts in zip(*after, strict=True)))
        rises = np.moveaxis(np.broadcast_to(want, (*rows, steps)), -1, 0)[..., None] - inlet
        return np.moveaxis(moving.ready(layered, rises, inlet, fixed.stirred)[..., 0], 0, -1)

    story[3:] *= HEAT_OF_WATER
    tap, top, hot, heated, lost, drawn = np.moveaxis(story, 1, -1)
    return HeaterRun(
        temperature=moving.equal_layers(layers),
        tap=tap,
        top=top,
        make_ready=ready,
        hot=hot,
        heated=heated,
        lost=lost,
        drawn=drawn,
    )


def _along(values: Array, steps: int) -> Array:
    return np.broadcast_to(values, (*values.shape[:-1], steps))


def _fixed(tank: HeaterTank) -> _Fixed:
    if not 0 <= tank.element <= tank.sensor <= 1:
        raise ValueError("element, sensor: expected 0 to 1, the sensor not below the element.")
    volume, stirred = above_zero("volume", tank.volume), share("mixing", tank.mixing)
    target, band, loses, power, room = (
        np.asarray(x, dtype=np.float64) for x in (tank.set_point, tank.band, tank.conductance, tank.power, tank.room)
    )
    heights = (volume * height for height in (stirred, tank.element, tank.sensor))
    return _Fixed(*(x[..., None] for x in (volume, power, target, target - band, loses, room, *heights)))


def _heated(
    layers: moving.Layers, heating: Bools, fixed: _Fixed, most: Array, on: Bools
) -> tuple[moving.Layers, Array, Bools]:
    """Layers after the element has been on, the heat it gave in K·m³, and whether it goes on."""
    if not on.any():
        return layers, np.zeros(heating.shape), np.zeros_like(heating)
    sensed = moving.temperature_at(layers, fixed.sensor)
    runs: Bools = (heating | (sensed < fixed.starts)) & (sensed < fixed.target) & on
    if not runs.any():
        return layers, np.zeros(runs.shape), runs
    lacks = moving.lacking(layers, fixed.target, fixed.element)
    given = np.where(runs, np.minimum(most, lacks), 0.0)
    warmed = moving.settled(moving.heated(layers, given, fixed.element))
    return warmed, given, runs & (given < lacks)
