"""The heater as a column of layers: draws with stirring, element, turnover, loss, thermostat; energy balanced."""

from __future__ import annotations

from dataclasses import dataclass
from typing import NamedTuple

import numpy as np
import numpy.typing as npt

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

__all__ = ["HeaterRun", "HeaterTank", "heater_run"]

Bools = npt.NDArray[np.bool_]
_SLACK = 1e-9  # K, an inversion smaller than this is rounding


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
    mixing: Share[Real] = 0.3
    element: Share[float] = 0.0
    sensor: Share[float] = 0.3


@dataclass(frozen=True, slots=True, kw_only=True)
class HeaterRun:
    """What a run of draws does to a heater; steps on the last axis.

    Parameters
    ----------
    temperature : array
        Temperatures at the end of the run, bottom layer first, layers on the last axis [K].
    tap : array
        Mean temperature at the tap in each step, NaN where nothing is drawn [K].
    top : array
        Temperature of the top layer after each step [K].
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
    hot: Volume[Array]
    heated: Energy[Array]
    lost: Energy[Array]
    drawn: Energy[Array]


class _Fixed(NamedTuple):
    """A tank as arrays with a last axis of one."""

    volume: Array
    power: Array
    target: Array
    starts: Array
    fading: Array
    room: Array
    plug: Array
    stirred: Array


def heater_run(
    start: Temperature[Array],
    tapped: Volume[Array],
    wanted: Temperature[Real],
    cold: Temperature[Real],
    tank: HeaterTank,
    step: Duration[float] = 30.0,
    on: bool = True,
) -> HeaterRun:
    """A storage heater through a series of draws.

    Parameters
    ----------
    start : array
        Temperatures at the start, bottom layer first, layers on the last axis [K].
    tapped : array
        Water at the tap in each step, steps on the last axis [m³].
    wanted : float or array
        Temperature wanted at the tap; infinite for hot water alone [K].
    cold : float or array
        Temperature of the cold water [K].
    tank : HeaterTank
        The heater.
    step : float
        Length of a step [s].
    on : bool
        Whether the thermostat may switch the element on at all.

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
    In each step first the draw, then the loss, then the element. Plug flow above the stirred share, exact in heat for
    any draw; a front between warm and cold stays sharp within its layer. Heat rises from the element and turns over
    what lies colder above it. The mixing valve takes as much hot water as the step needs. No conduction between layers.
    What was put in, lost and drawn balances with the layers' heat to rounding. With 20 layers the litres of a charge
    come within 5 % of heater.charge_volume.

    References
    ----------
    Heat balance of a plug and of a stirred part; turnover as in multi-node tank models (Duffie and Beckman, Solar
    Engineering of Thermal Processes, section 8.4, from memory).

    Examples
    --------
    >>> tank = HeaterTank(volume=10e-3, power=1300.0, set_point=335.15, mixing=0.0)
    >>> run = heater_run(np.full(20, 335.15), np.full(40, 0.5e-3), 312.15, 285.15, tank, step=5.0, on=False)
    >>> round(float(np.sum(run.tap >= 312.0)) * 0.5, 1)
    18.5
    """
    layers = np.asarray(start, dtype=np.float64)
    litres = not_negative("tapped", tapped)
    fixed, places = _fixed(tank, step), _places(tank, layers.shape[-1])
    want, inlet = (np.asarray(x, dtype=np.float64)[..., None] for x in (wanted, cold))
    rows = np.broadcast_shapes(layers.shape[:-1], litres.shape[:-1], *(x.shape[:-1] for x in (want, inlet, *fixed)))
    layers = _settled(np.broadcast_to(layers, (*rows, layers.shape[-1])))
    heating: Bools = np.zeros((*rows, 1), dtype=np.bool_)
    steps = litres.shape[-1]
    story = np.empty((6, steps, *rows))
    tap, top, hot, heated, lost, drawn = story
    each = fixed.volume / layers.shape[-1] * HEAT_OF_WATER
    for now in range(steps):
        asked = litres[..., now, None]
        taken, gone = np.zeros((2, *rows, 1))
        if np.any(asked > 0):
            layers, taken, gone = _drawn(layers, asked, want - inlet, inlet, fixed)
        warm = inlet + np.divide(gone, asked * HEAT_OF_WATER, out=np.full(gone.shape, np.nan), where=asked > 0)
        cooled = fixed.room + (layers - fixed.room) * fixed.fading
        lost[now] = _sum(each * (layers - cooled))
        layers, given, heating = _heated(cooled, heating, fixed, places, each, step, on)
        tap[now], top[now], hot[now] = warm[..., 0], layers[..., -1], taken[..., 0]
        heated[now], drawn[now] = given[..., 0], gone[..., 0]
    tap, top, hot, heated, lost, drawn = np.moveaxis(story, 1, -1)
    return HeaterRun(temperature=layers, tap=tap, top=top, hot=hot, heated=heated, lost=lost, drawn=drawn)


def _fixed(tank: HeaterTank, step: float) -> _Fixed:
    volume, stirred = above_zero("volume", tank.volume), share("mixing", tank.mixing)
    target, band, loses, power, room = (
        np.asarray(x, dtype=np.float64) for x in (tank.set_point, tank.band, tank.conductance, tank.power, tank.room)
    )
    fading = np.exp(-loses * step / (volume * HEAT_OF_WATER))
    shaped = (volume, power, target, target - band, fading, room, volume * (1.0 - stirred), volume * stirred)
    return _Fixed(*(x[..., None] for x in shaped))


def _places(tank: HeaterTank, count: int) -> tuple[int, int]:
    """Layers of element and sensor."""
    if not 0 <= tank.element <= tank.sensor <= 1:
        raise ValueError("element, sensor: expected 0 to 1, the sensor not below the element.")
    element, sensor = (min(int(height * count), count - 1) for height in (tank.element, tank.sensor))
    return element, sensor


class _Column(NamedTuple):
    """Heat above the cold water from the top down, in K·m³: plug, then the stirred part that flows up behind it."""

    depths: Array
    heats: Array
    width: Array
    plug: Array
    at_plug: Array
    stirred: Array
    excess: Array

    @classmethod
    def of(cls, layers: Array, inlet: Array, fixed: _Fixed) -> _Column:
        """A layer between a warmer and a colder one holds a front: warm above, cold below, its heat kept."""
        width = fixed.volume / layers.shape[-1]
        mean = layers[..., ::-1] - inlet
        warm = np.concatenate([mean[..., :1], mean[..., :-1]], axis=-1)
        cold = np.concatenate([mean[..., 1:], np.zeros((*mean.shape[:-1], 1))], axis=-1)
        apart = warm - cold
        front = (apart > _SLACK) & (mean >= cold)
        part = np.where(front, (mean - cold) / np.where(front, apart, 1.0), 1.0)
        parts = np.stack([part, 1.0 - part], axis=-1).reshape(*mean.shape[:-1], -1)
        values = np.stack([np.where(front, warm, mean), np.where(front, cold, mean)], axis=-1).reshape(parts.shape)
        depths, heats = _summed(parts) * width, _summed(parts * values) * width
        at_plug = _between(fixed.plug, depths, heats)
        stirred = np.where(fixed.stirred > 0, fixed.stirred, 1.0)
        excess = np.where(fixed.stirred > 0, (heats[..., -1:] - at_plug) / stirred, 0.0)
        return cls(depths, heats, width, fixed.plug, at_plug, stirred, excess)

    def heat(self, depth: Array) -> Array:
        """Heat from the top down to a depth."""
        flowed = np.expm1(-np.maximum(depth - self.plug, 0.0) / self.stirred)
        return _between(np.minimum(depth, self.plug), self.depths, self.heats) - self.excess * self.stirred * flowed

    def depth(self, heat: Array) -> Array:
        """Depth down to which there is so much heat, infinite where there is less."""
        held = self.excess * self.stirred
        flowed = np.where(held > 0, (heat - self.at_plug) / np.where(held > 0, held, 1.0), np.inf)
        behind = self.plug - self.stirred * np.log1p(-np.minimum(flowed, 1.0 - 1e-15))
        deep = np.where(flowed < 1.0, behind, np.inf)
        rising = np.maximum.accumulate(self.heats, axis=-1)  # layers colder than the inlet take heat back
        return np.where(heat <= _between(self.plug, self.depths, rising), _between(heat, rising, self.depths), deep)

    def without(self, taken: Array) -> tuple[Array, Array]:
        """Layers above the cold water, bottom first, after a draw, and the heat that left."""
        count = self.depths.shape[-1] // 2
        depths = self.width * np.arange(count + 1.0)
        gone = self.heat(taken)
        left = self.excess * np.exp(-taken / self.stirred)
        plugged = self.heat(np.minimum(depths, self.plug) + taken) - gone
        after = plugged + left * np.maximum(depths - self.plug, 0.0)
        return np.diff(after, axis=-1)[..., ::-1] / self.width, gone


def _drawn(layers: Array, asked: Array, rise: Array, inlet: Array, fixed: _Fixed) -> tuple[Array, Array, Array]:
    """Layers after a draw at the tap, the hot water it took, and the heat above the cold water that left."""
    column = _Column.of(layers, inlet, fixed)
    with np.errstate(invalid="ignore"):  # nothing asked at an infinite temperature
        wanted = np.where(asked > 0, asked * np.maximum(rise, 0.0), 0.0)
    taken = np.where(wanted > 0, np.minimum(column.depth(wanted), asked), 0.0)
    above, gone = column.without(taken)
    flows = taken > 0
    return _settled(np.where(flows, above + inlet, layers)), taken, np.where(flows, gone * HEAT_OF_WATER, 0.0)


def _heated(
    layers: Array, heating: Bools, fixed: _Fixed, places: tuple[int, int], each: Array, step: float, on: bool
) -> tuple[Array, Array, Bools]:
    """Layers after the element has been on, the heat it gave, and whether it goes on."""
    element, sensor = places
    sensed = layers[..., sensor, None]
    runs = (heating | (sensed < fixed.starts)) & (sensed < fixed.target) & on
    reach = layers[..., element:]
    most = each * np.sum(np.maximum(fixed.target - reach, 0.0), axis=-1, keepdims=True)
    given = np.where(runs, np.minimum(fixed.power * step, most), 0.0)
    # heat rises from the element: it fills up the coldest water above it first
    counts = np.arange(1.0, reach.shape[-1] + 1.0)
    level = np.min((given / each + np.cumsum(reach, axis=-1)) / counts, axis=-1, keepdims=True)
    raised = np.where(given > 0, np.maximum(reach, level), reach)
    new = np.concatenate([layers[..., :element], raised], axis=-1)
    return _settled(new), given, runs & (given < most)


def _settled(layers: Array) -> Array:
    """Layers after warm water has risen through colder water above it; their heat is kept."""
    if not np.any(np.diff(layers, axis=-1) < -_SLACK):
        return layers
    count = layers.shape[-1]
    sums = _summed(layers)
    first, last = np.arange(count)[:, None], np.arange(count)[None, :]
    spans = np.where(last >= first, last - first + 1, 1)
    means = (sums[..., None, 1:] - sums[..., :-1, None]) / spans  # from first to last, axes (first, last)
    means = np.where(last >= first, means, np.inf)
    least = np.minimum.accumulate(means[..., ::-1], axis=-1)[..., ::-1]  # over all last from here on
    least = np.where(last >= first, least, -np.inf)
    settled: Array = np.max(least, axis=-2)
    return settled


def _between(x: Array, xs: Array, ys: Array) -> Array:
    """Straight between points whose x does not fall, row by row on the last axis."""
    piece = np.sum(xs[..., None, 1:-1] <= x[..., None], axis=-1)
    rows = piece.shape[:-1]
    xs, ys = np.broadcast_to(xs, (*rows, xs.shape[-1])), np.broadcast_to(ys, (*rows, ys.shape[-1]))
    x0, x1, y0, y1 = (np.take_along_axis(e, piece + k, -1) for e in (xs, ys) for k in (0, 1))
    return y0 + (y1 - y0) * np.clip((x - x0) / np.where(x1 > x0, x1 - x0, 1.0), 0.0, 1.0)


def _summed(values: Array) -> Array:
    return np.concatenate([np.zeros((*values.shape[:-1], 1)), np.cumsum(values, axis=-1)], axis=-1)


def _sum(values: Array) -> Array:
    total: Array = np.sum(values, axis=-1)
    return total
