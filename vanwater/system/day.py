"""A day of the stay: the hours of its states, what each consumer takes in them and from what, what charges meanwhile.

The one place of a watt: every printed energy is a sum over it, so none is told without what feeds it, and none twice.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np

from vanwater.physics import electric
from vanwater.physics.water import FREEZING_POINT
from vanwater.plan.day import FULL_DAY, STATES
from vanwater.plan.energy import BURNERS
from vanwater.quantities import Array
from vanwater.system.batch import Batch
from vanwater.system.charging import Charge, bank_temperature, charges, sun_yield
from vanwater.system.heat import tank_heat
from vanwater.system.heat_a_day import HEATED_IN, also_heats, heats, lost_heat
from vanwater.system.hot_water_day import SUNNY
from vanwater.system.hot_water_demand import hot_water_uses
from vanwater.system.hours import OCCUPIED, hours_of
from vanwater.system.pads import pad_draws
from vanwater.system.power import electric_path, inverter_idle, pump_energy
from vanwater.system.stores import Moved, moved

__all__ = ["FEEDERS", "Consumer", "Day", "day_of", "direct", "pads_of_day"]

FEEDERS = ("battery", "engine", "shore", "fuel")
"""What can feed a consumer: the battery, the running engine, a socket, gas or diesel."""


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class Consumer:
    """What takes power or heat, along the rows.

    Parameters
    ----------
    kind : str
        "loads", "appliance", "pump", "hot water", "also", "standing", "burner", "pad", "idle" or "bank".
    name : str
        Its name in the plan; empty where there is one of the kind.
    label : str
        What it is called in a table.
    power : array, shape (states, feeders, rows)
        Mean power from each feeder while the van is in a state, the losses on the way counted [W].
    """

    kind: str
    name: str
    label: str
    power: Array


@dataclass(frozen=True, eq=False)
class Day:
    """A day of the stay, along the rows.

    Parameters
    ----------
    hours : array, shape (states, rows)
        Time in each of ``STATES``; adds up to a day [s].
    consumers : tuple of Consumer
        What takes power or heat.
    charges : tuple of Charge
        What puts energy back into the battery.
    """

    hours: Array
    consumers: tuple[Consumer, ...]
    charges: tuple[Charge, ...]

    @cached_property
    def share(self) -> Array:
        """Share of the day in each state, shape (states, rows)."""
        return self.hours / FULL_DAY

    def energy(self, consumer: Consumer, feeder: str = "battery") -> Array:
        """What a consumer takes from a feeder a day, as its mean over the day [W]."""
        spent: Array = np.sum(self.share * consumer.power[:, FEEDERS.index(feeder)], axis=0)
        return spent

    def all_energy(self, consumer: Consumer) -> Array:
        """What a consumer takes a day, whatever feeds it [W]."""
        return np.asarray(np.sum([self.energy(consumer, feeder) for feeder in FEEDERS], axis=0))

    def charged(self, charge: Charge) -> Array:
        """What a source puts back a day, as its mean over the day [W]."""
        stored: Array = np.sum(self.share * charge.power, axis=0)
        return stored

    def of(self, *kinds: str, feeder: str = "battery") -> Iterator[tuple[Consumer, Array]]:
        """Consumers of some kinds, or of all, with what they take from a feeder a day; none that takes nothing."""
        for consumer in self.consumers:
            if kinds and consumer.kind not in kinds:
                continue
            energy = self.energy(consumer, feeder)
            if np.any(energy > 0.0) or np.any(np.isnan(energy)):
                yield consumer, energy


def pads_of_day(batch: Batch) -> Day:
    """The day of the pads alone: where nothing else of it is asked for.

    Parameters
    ----------
    batch : Batch
        The plan with its rows.

    Returns
    -------
    Day
        The same at every call; its consumers are those of :func:`day_of`.
    """
    return batch.once("day of the pads", lambda: Day(hours_of(batch), tuple(_pads(batch)), ()))


def _pads(batch: Batch) -> Iterator[Consumer]:
    for name, (tank, feeder, power) in pad_draws(batch).items():
        always = "" if tank_heat(batch, tank) is not None else ", up to always on"
        yield Consumer(kind="pad", name=name, label=f"pad on {tank}{always}", power=_fed(feeder, power))


def day_of(batch: Batch) -> Day:
    """The day of a plan, along the rows of a batch.

    Parameters
    ----------
    batch : Batch
        The plan with its rows.

    Returns
    -------
    Day
        The same at every call. Water is drawn in the hours that somebody is there; other loads run all day.
    """
    return batch.once("day", lambda: _day(batch))


def _day(batch: Batch) -> Day:
    hours = hours_of(batch)
    consumers = tuple(_consumers(batch, hours))
    drawn = np.sum([consumer.power[:, FEEDERS.index("shore")] for consumer in consumers], axis=0)
    at_socket = drawn if consumers else np.zeros_like(hours)
    return Day(hours, consumers, charges(batch, at_socket, direct(batch, hours, consumers)))


def direct(batch: Batch, hours: Array, consumers: Sequence[Consumer]) -> Array:
    """What the sun gives to heaters at once, without going through the battery, as its mean over the day.

    Parameters
    ----------
    batch : Batch
        The plan with its rows.
    hours : array, shape (states, rows)
        Time in each state [s].
    consumers : sequence of Consumer
        What takes power.

    Returns
    -------
    array, shape (rows,)
        While an element is on the sun carries as much of it as it gives in the mean of its hours; nothing without
        panels or without such a heater [W].
    """
    nothing = np.zeros(len(batch))
    heated = {name for name, heater in batch.plan.heaters.items() if heater.by_the_sun and heater.power is not None}
    if batch.plan.sun is None or not heated:
        return nothing
    yields, total = sun_yield(batch), nothing
    for name in heated:
        source = batch.plan.heaters[name].source
        element = batch.number(f"heaters.{name}.power")
        drawn = element / electric_path(batch, "inverter" if source == "inverter" else name, element)
        carried = np.minimum(yields * FULL_DAY / SUNNY / drawn, 1.0)
        own = [
            consumer.power[:, FEEDERS.index("battery")]
            for consumer in consumers
            if consumer.name == name and consumer.kind in ("hot water", "standing")
        ]
        taken = np.sum(hours / FULL_DAY * np.sum(own, axis=0), axis=0) if own else nothing
        total = total + np.nan_to_num(taken * carried)
    return np.minimum(total, yields)


def _fed(feeder: str, power: Array) -> Array:
    """Power shaped (states, rows) as one feeder's."""
    fed = np.zeros((len(STATES), len(FEEDERS), power.shape[-1]))
    fed[:, FEEDERS.index(feeder)] = power
    return fed


def _spread(mean: Array, hours: Array, states: Sequence[str] = STATES) -> Array:
    """A mean over the day as the power of the states in which it is spent, or of all where these have no hours."""
    chosen = np.isin(STATES, states)[:, None]
    spent = np.sum(hours * chosen, axis=0)
    none = spent <= 0.0
    return np.where(none, mean, np.where(chosen, mean * FULL_DAY / np.where(none, 1.0, spent), 0.0))


def _consumers(batch: Batch, hours: Array) -> Iterator[Consumer]:
    plan = batch.plan
    loads = batch.number("battery.other_loads", 0.0) if plan.battery is not None else np.zeros(len(batch))
    yield Consumer(
        kind="loads",
        name="",
        label="other loads",
        power=_fed("battery", _spread(loads * batch.factor("loads"), hours)),
    )
    for name in plan.appliances:
        yield _appliance(batch, hours, name)
    moves = moved(batch)
    for name in () if plan.water.drained else plan.heaters:
        yield from _heater(batch, hours, name, heats(batch, moves, name))
    yield from pads_of_day(batch).consumers
    unsaid = np.full(len(batch), 0.0 if plan.water.drained else np.nan)
    pumped = np.sum([_drawn(move) for move in moves.values()], axis=0) if moves else unsaid
    power = _spread(pumped * pump_energy(batch), hours, OCCUPIED)
    yield Consumer(kind="pump", name="", label="pump", power=_fed("battery", power))
    if plan.inverter is not None:
        states = OCCUPIED if plan.inverter.switched == "by hand" else STATES
        idle = _behind_inverter(_spread(inverter_idle(batch), hours, states), 1.0)
        yield Consumer(kind="idle", name="", label="inverter idling", power=idle)
    if plan.battery is not None and plan.battery.heated is not None:
        yield _bank(batch, hours)


def _drawn(move: Moved) -> Array:
    """Water of a use a day, what circulates counted [m³/s]."""
    each = move.each + move.starting + (move.hot_content + move.brought) * move.waiting
    return np.asarray(each * move.events * move.persons)


def _heater(batch: Batch, hours: Array, name: str, heat: Array) -> Iterator[Consumer]:
    plan, at = batch.plan.heaters[name], f"heaters.{name}"
    lost, given = lost_heat(batch, name), also_heats(batch, hours, name, heat)
    alone = len(batch.plan.heaters) == 1
    for kind, label, mean in (("hot water", "hot water", heat - given), ("standing", "heater's standing loss", lost)):
        states = STATES if plan.by_the_sun else HEATED_IN.get(plan.source, OCCUPIED)
        power = _spread(mean, hours, states)
        own = batch.number(f"{at}.power")
        yield Consumer(
            kind=kind,
            name=name,
            label=label if alone else f"{label}, {name}",
            power=_heated(batch, name, plan.source, own, power),
        )
    if plan.also is not None:
        power = _spread(given, hours, HEATED_IN.get(plan.also, OCCUPIED))
        own = batch.number(f"{at}.also_power")
        yield Consumer(
            kind="also",
            name=name,
            label=f"hot water by {plan.also}" if alone else f"hot water by {plan.also}, {name}",
            power=_heated(batch, name, plan.also, own, power),
        )
    if plan.source in BURNERS and (plan.draws > 0.0 or plan.start_draws > 0.0):
        element = batch.number(f"{at}.power")
        share = np.divide(heat - given + lost, element, out=np.zeros_like(heat), where=element > 0.0)
        burning = batch.number(f"{at}.draws") * np.minimum(share, 1.0) + _starts(batch, name)
        yield Consumer(
            kind="burner",
            name=name,
            label=f"burner of the {name}",
            power=_fed("battery", _spread(burning, hours, OCCUPIED)),
        )


STARTS = 2.0
"""How often a day the burner of a store starts, before morning and evening (common practice)."""


def _starts(batch: Batch, name: str) -> Array:
    """What a burner takes from the battery as it starts, as its mean over the day [W]."""
    at, heater = f"heaters.{name}", batch.plan.heaters[name]
    each = batch.number(f"{at}.start_draws") * batch.number(f"{at}.start_up")
    if not heater.as_it_flows:
        return np.asarray(each * STARTS / FULL_DAY)
    return np.asarray(each * sum((use.a_day for use in hot_water_uses(batch, name)), np.zeros(len(batch))))


def _heated(batch: Batch, name: str, source: str, element: Array, power: Array) -> Array:
    """Power of a heater shaped (states, rows) as its feeder's; the path's losses are those of the element at work."""
    if source == "inverter":
        return _behind_inverter(power, electric_path(batch, source, element))
    if source == "battery":
        return _fed("battery", power / electric_path(batch, name, element))
    return _fed({"gas": "fuel", "diesel": "fuel"}.get(source, source), power)


def _behind_inverter(power: Array, path: Array | float) -> Array:
    """What hangs on the inverter's circuit: at a socket that feeds it, else the battery through the inverter."""
    at_socket = (np.array(STATES) == "shore")[:, None]
    return _fed("battery", np.where(at_socket, 0.0, power / path)) + _fed("shore", np.where(at_socket, power, 0.0))


def _appliance(batch: Batch, hours: Array, name: str) -> Consumer:
    plan, at = batch.plan.appliances[name], f"appliances.{name}"
    mean = electric.daily_energy(batch.number(f"{at}.power"), batch.number(f"{at}.hours"))
    states = STATES if plan.always else HEATED_IN.get(plan.on, OCCUPIED)
    power = _spread(mean, hours, states)
    if plan.on == "inverter":
        fed = _behind_inverter(power, electric_path(batch, "inverter", batch.number(f"{at}.power")))
    else:
        fed = _fed(plan.on, power)
    return Consumer(kind="appliance", name=name, label=name, power=fed)


def _bank(batch: Batch, hours: Array) -> Consumer:
    """A bank that heats itself: on while it stands below freezing."""
    cold = bank_temperature(batch) < FREEZING_POINT
    power = np.where(cold, batch.number("battery.heated"), 0.0) * np.ones_like(hours)
    return Consumer(kind="bank", name="", label="battery heating itself", power=_fed("battery", power))
