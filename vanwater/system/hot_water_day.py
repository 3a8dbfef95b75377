"""A day of a heater: the draws of the household by a clock, its hours on, its cooling between them, along the rows.

The clock is common practice, from memory: half of the hot water is drawn in the evening and half in the morning, one
draw after the other; the heater is on before the first as long as it takes to be hot, and the rest of its hours after.
One that is heated by the sun is on in the six hours around noon instead.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from vanwater.physics.heater import HEAT_OF_WATER, recovery_time
from vanwater.physics.heater_tank import HeaterTank, heater_run
from vanwater.quantities import Array
from vanwater.system.alike import followed_once
from vanwater.system.batch import Batch
from vanwater.system.hot_water_demand import HeaterNumbers, HotWaterUse, heater_numbers, hot_water_uses

__all__ = ["BAND", "COOL", "EVENING", "LAYERS", "MORNING", "PAUSE", "SUNNY", "HotWaterDay", "hot_water_day"]

DAY = 86400.0
MORNING, NOON, EVENING = 7 * 3600.0, 12 * 3600.0, 19 * 3600.0
"""When the draws of morning and evening begin, s (common practice), and what lies between."""
SUNNY = 6 * 3600.0
"""How long a day the sun charges in earnest, around noon, s (common practice)."""
PAUSE = 600.0
"""From the beginning of one draw to that of the next, s (common practice)."""
BAND = 5.0
"""How far a heater cools before its thermostat starts again, K (common practice)."""
LAYERS = 10
"""Layers of a heater that is followed over a day."""
COOL = 3.0
"""Water that comes so much colder than wanted is short, K (common practice)."""

_ONE_BY_ONE = 6
"""Draws of one use in a day that are followed one by one; more are put together."""
_CUTS = 16
"""Even cuts of a day, so that its thermostat is looked at."""
_PARTS, _PART = 3, 60.0
"""A draw is cut into so many parts, each so long [s]."""

_LIKE, _DAYS = 0.1, 5
"""A day is like the day before where it ends within so much of its beginning, K; so many are followed at most."""
_SAME = 1e-9
"""Temperatures that are the same but for rounding, K."""

Bools = npt.NDArray[np.bool_]


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class HotWaterDay:
    """What a day does to a heater; the day before was like it.

    Parameters
    ----------
    heated, lost, drawn, stored : array, shape (rows,)
        Heat of the element, heat lost to the room, heat above the cold water that was drawn, and by how much more the
        store holds at the day's end than at its beginning: the first is the sum of the others [J].
    coldest : array, shape (rows,)
        Water at the tap where it falls furthest short of its wish [K].
    warm, short : array, shape (rows,)
        Warm water of the day's draws, and what of it comes colder than wanted [m³].
    water : array, shape (rows,)
        Hot water drawn from the heater [m³].
    time : array, shape (rows, steps)
        When each step ends, from midnight [s].
    top, tap : array, shape (rows, steps)
        Temperatures: uppermost in the heater, and at the tap, NaN where nothing is drawn [K].
    """

    heated: Array
    lost: Array
    drawn: Array
    stored: Array
    coldest: Array
    warm: Array
    short: Array
    water: Array
    time: Array
    top: Array
    tap: Array


def hot_water_day(batch: Batch, heater: str) -> HotWaterDay | None:
    """Follow a heater through a day.

    Parameters
    ----------
    batch : Batch
        The plan with its rows.
    heater : str
        A heater with a store.

    Returns
    -------
    HotWaterDay or None
        None while its power is not decided, where it heats as the water flows, and where no use draws from it. Made
        once.
    """
    return batch.once(f"hot-water day of {heater}", lambda: _day(batch, heater))


@dataclass(frozen=True, slots=True, eq=False)
class _Draw:
    """Water at the tap at some time of the day, its temperature, and what share of it is no run-off."""

    at: float
    volume: Array
    wanted: Array
    counted: Array


def _day(batch: Batch, heater: str) -> HotWaterDay | None:
    plan, numbers = batch.plan.heaters[heater], heater_numbers(batch, heater)
    uses = tuple(use for use in hot_water_uses(batch, heater) if use.volume[0] > 0)
    if plan.as_it_flows or plan.power is None or not uses:
        return None
    draws = _draws(numbers, uses)
    own = (numbers.volume, numbers.power, numbers.cold, numbers.hot, numbers.mixing, numbers.conductance, numbers.room)
    each = (column for draw in draws for column in (draw.volume, draw.wanted, draw.counted))
    hours = batch.number(f"heaters.{heater}.hours_on")
    columns = np.stack([*own, np.full_like(hours, SUNNY) if plan.by_the_sun else hours, *each])
    day, back = followed_once(_followed, columns, tuple(draw.at for draw in draws), plan.by_the_sun)
    return HotWaterDay(**{name: getattr(day, name)[back] for name in HotWaterDay.__slots__})


def _draws(numbers: HeaterNumbers, uses: tuple[HotWaterUse, ...]) -> list[_Draw]:
    """The draws of a day: each use by turns in the evening and in the morning, showers first.

    When they are hangs on no number, so that a row has the draws of its own plan.
    """
    draws: list[_Draw] = []
    for place, use in enumerate(sorted(uses, key=lambda use: ("shower" not in use.name, use.name))):
        hot_share = (use.mixed - numbers.cold) / (numbers.hot - numbers.cold)
        whole = use.volume + use.run_off / hot_share  # what runs off before the water comes is hot too
        events = use.a_day * DAY
        for number in range(_ONE_BY_ONE):
            share = np.where(events > _ONE_BY_ONE, events / _ONE_BY_ONE, np.clip(events - number, 0.0, 1.0))
            turn, begins = divmod(number, 2)
            at = (EVENING, MORNING)[begins] + PAUSE * (place * _ONE_BY_ONE // 2 + turn)
            for part in range(_PARTS):
                volume = share * whole / _PARTS
                draws.append(_Draw((at + _PART * part) % DAY, volume, use.mixed, use.volume / whole))
    return draws


def _followed(columns: Array, at: tuple[float, ...], by_the_sun: bool) -> HotWaterDay:
    """The day of rows that differ: eight columns of the heater, then three of each draw."""
    volume, power, cold, hot, mixing, conductance, room, hours = columns[:8]
    draws = columns[8:].reshape(len(at), 3, -1)
    recovery = np.maximum(recovery_time(volume, cold, hot, power), 0.0)
    first_on = np.stack([begins - np.minimum(recovery, 0.5 * hours) for begins in (MORNING, EVENING)])
    if by_the_sun:
        first_on = np.stack([NOON - 0.5 * hours, np.full_like(hours, NOON)])
    begins, step, on, places = _steps(np.array(at), hours, first_on)
    tapped, wanted, counted = np.zeros(step.shape), np.full(step.shape, np.inf), np.zeros(step.shape)
    for held, given in zip((tapped, wanted, counted), np.moveaxis(draws, 1, 0), strict=True):
        np.put_along_axis(held, places, given.T, axis=-1)
    tank = HeaterTank(
        volume=volume, power=power, set_point=hot, band=BAND, conductance=conductance, room=room, mixing=mixing
    )
    first = np.repeat(np.where(hours > 0.0, hot, cold)[:, None], LAYERS, axis=-1)
    after = np.maximum(begins + step - np.maximum(begins, NOON), 0.0)  # the day before, from noon on
    late = np.any(after > 0.0, axis=0)
    drawn = np.where(after > 0.0, tapped, 0.0)
    start = heater_run(first, drawn[:, late], wanted[:, late], cold, tank, after[:, late], on[:, late]).temperature
    run = heater_run(start, tapped, wanted, cold, tank, step, on)
    for _ in range(_DAYS):
        unlike = np.abs(run.temperature.mean(axis=-1) - start.mean(axis=-1)) > _LIKE
        if not np.any(unlike):
            break
        start = np.where(unlike[:, None], run.temperature, start)
        run = heater_run(start, tapped, wanted, cold, tank, step, on)
    grown = run.temperature.mean(axis=-1) - start.mean(axis=-1)
    lack = np.where(tapped > 0.0, wanted - run.tap, -np.inf)
    worst = np.argmax(lack, axis=-1)[:, None]
    coldest = np.take_along_axis(run.tap, worst, -1)[:, 0]
    stored = volume * HEAT_OF_WATER * np.where(np.abs(grown) > _SAME, grown, 0.0)
    return HotWaterDay(
        heated=run.heated.sum(axis=-1),
        lost=run.lost.sum(axis=-1),
        drawn=run.drawn.sum(axis=-1),
        stored=stored,
        coldest=coldest,
        warm=np.sum(tapped * counted, axis=-1),
        short=np.sum(np.where(lack > COOL, tapped * counted, 0.0), axis=-1),
        water=run.hot.sum(axis=-1),
        time=(begins + step),
        top=run.top,
        tap=run.tap,
    )


def _steps(at: Array, hours: Array, first: Array) -> tuple[Array, Array, Bools, npt.NDArray[np.intp]]:
    """The day cut evenly, at every draw and where the heater's hours begin and end: steps along the rows.

    Where each begins, how long it is, whether the heater is on, and in which step each draw lies. Half of the hours
    begin at each of two times.
    """
    half = 0.5 * hours
    windows = np.concatenate([first, first + half]).T % DAY
    fixed = np.concatenate([np.arange(_CUTS) * (DAY / _CUTS), at])
    edges = np.concatenate([np.broadcast_to(fixed, (len(hours), fixed.size)), windows], axis=-1)
    order = np.argsort(edges, axis=-1, kind="stable")
    begins = np.take_along_axis(edges, order, -1)
    step = np.diff(begins, append=DAY)
    since = (begins + 0.5 * step - first[..., None]) % DAY  # axes (window, rows, steps)
    on = np.any(since < half[:, None], axis=0) | (hours[:, None] >= DAY)
    return begins, step, on, np.argsort(order, axis=-1)[:, _CUTS : fixed.size]
