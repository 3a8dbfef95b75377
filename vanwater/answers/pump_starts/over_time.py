"""Pressure and flow over a minute while outlets open and shut behind a switched pump: for a chart, and in numbers.

Nothing here is worked out before it is asked for; one minute takes some milliseconds, nearly all of them for the
curves of the network.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np
import numpy.typing as npt

from vanwater.answers.core.chatter import CHATTER
from vanwater.answers.core.number import Number
from vanwater.answers.core.spread import UnsureRows
from vanwater.answers.core.unsure import OUTLETS, PUMPS, rows_of
from vanwater.answers.core.working import Part, stated
from vanwater.physics.transient import Transient, follow
from vanwater.plan.model import Plan
from vanwater.quantities import FLOW, PRESSURE, RATIO, SECONDS, VOLUME, Array, Quantity
from vanwater.system.batch import Batch, low_and_high
from vanwater.system.over_time import Behind, Script, circuits, scripts

__all__ = ["Minute", "OverTime", "minutes"]

UNSURE = (PUMPS, OUTLETS)
"""What moves the pressure over time most, besides the accumulator itself."""

FEWER = 17
"""Pressures at which the network is solved: rows for the ends of the unsure inputs want no more."""

METHOD = (
    "Conservation of volume between pump, outlets and what holds the water, with the curves of the whole network and "
    "Boyle's law; switch times in closed form, without steps in time."
)

SOURCE = "conservation of volume; Boyle's law"


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class OverTime:
    """What one script of opening and shutting outlets does to pressure and flow.

    At a switching, and where an outlet opens or shuts, two points share one time, so that lines through the points
    show the jump. Points lie denser where more happens.

    Parameters
    ----------
    script : Script
        Who opens what when: its name, outlets, times, end.
    vessel : str
        The accumulator; empty where the hoses alone hold the water.
    time : array, shape (points,)
        Times, not falling, from 0 to the script's end [s].
    pressure : array, shape (points,)
        Gauge pressure at the accumulator, without one behind the pump [Pa].
    pump_flow : array, shape (points,)
        Flow of the pump [m³/s].
    outlet_flow : array, shape (outlets, points)
        Flow of each of the script's outlets, in their order [m³/s].
    open : array of bool, shape (outlets, points)
        Whether each of them is open.
    running : array of bool, shape (points,)
        Whether the pump runs.
    starts, stops : array
        Times at which the pump starts and stops [s].
    cut_in, cut_out : float
        The pressures of its switch, at the pump [Pa].
    pumped : float
        Water that the pump moved [m³].
    drawn : array, shape (outlets,)
        Water that each outlet gave [m³].
    residual : float
        What the pressures of the network fail to add up to at most [Pa].
    """

    script: Script
    vessel: str
    time: Array
    pressure: Array
    pump_flow: Array
    outlet_flow: Array
    open: npt.NDArray[np.bool_]
    running: npt.NDArray[np.bool_]
    starts: Array
    stops: Array
    cut_in: float
    cut_out: float
    pumped: float
    drawn: Array
    residual: float

    @property
    def chatters(self) -> bool:
        """Whether the pump starts so often that motor and switch do not follow."""
        return bool(self.starts.size > CHATTER * self.script.until)

    @property
    def outlets(self) -> tuple[str, ...]:
        """The outlets, in the order in which they open."""
        return self.script.outlets

    @property
    def cycles(self) -> bool:
        """Whether the pump stops while an outlet is open."""
        stopped = np.flatnonzero(self.running[:-1] & ~self.running[1:] & (np.diff(self.time) == 0.0))
        return bool(self.open[:, stopped].any())

    def flow_of(self, outlet: str) -> tuple[float, float]:
        """Least and most flow of an outlet while it is open [m³/s]."""
        place = self.outlets.index(outlet)
        flow = self.outlet_flow[place, self.open[place]]
        return float(flow.min()), float(flow.max())

    def thinned(self, most: int = 600) -> npt.NDArray[np.intp]:
        """Places of points that are enough to draw: all where they are few, else jumps and extremes of even spans."""
        if self.time.size <= most:
            return np.arange(self.time.size)
        span = np.minimum((self.time / self.script.until * (most // 4)).astype(np.intp), most // 4 - 1)
        edges = np.flatnonzero(np.diff(span)) + 1
        jumps = np.flatnonzero(np.diff(self.time) == 0.0)
        kept: list[int] = [*jumps, *(jumps + 1)]
        for part in np.split(np.arange(self.time.size), edges):
            pressure = self.pressure[part]
            kept += [part[0], part[np.argmin(pressure)], part[np.argmax(pressure)], part[-1]]
        return np.unique(np.array(kept, dtype=np.intp))


@dataclass(frozen=True, eq=False)
class Minute:
    """One script followed, the plan first, then with each unsure input at its ends.

    Parameters
    ----------
    rows : tuple of OverTime
        The plan itself, then a row for each end.
    pairs : sequence of UnsureRows
        Which rows those are.
    """

    rows: tuple[OverTime, ...]
    pairs: Sequence[UnsureRows]

    @property
    def planned(self) -> OverTime:
        """The minute as it is planned."""
        return self.rows[0]

    @property
    def name(self) -> str:
        """Name of the script."""
        return self.planned.script.name

    @cached_property
    def lowest(self) -> Number:
        """Lowest pressure [Pa]."""
        name, values = f"lowest pressure with {self.name}", np.array([row.pressure.min() for row in self.rows])
        residual = (self.planned.residual, PRESSURE)
        number = stated(name, values, PRESSURE, METHOD, facts=self._facts, residual=residual, source=SOURCE)
        return number.keyed("minute", self.name, "pressure", "lowest", pairs=self.pairs)

    @cached_property
    def highest(self) -> Number:
        """Highest pressure [Pa]."""
        return self._told("highest pressure", PRESSURE, lambda row: row.pressure.max(), "pressure", "highest")

    @cached_property
    def last(self) -> Number:
        """Pressure at the end [Pa]."""
        return self._told("pressure at the end", PRESSURE, lambda row: row.pressure[-1], "pressure", "last")

    @cached_property
    def starts(self) -> Number:
        """How many times the pump starts."""
        return self._told("starts of the pump in a minute", RATIO, lambda row: float(row.starts.size), "pump_starts")

    @cached_property
    def flows(self) -> Mapping[str, tuple[Number, Number]]:
        """Least and most flow of each outlet while it is open [m³/s]."""
        return {outlet: (self._flow(outlet, 0), self._flow(outlet, 1)) for outlet in self.planned.outlets}

    def _flow(self, outlet: str, end: int) -> Number:
        word = ("least", "most")[end]
        words = f"{word} flow of the {outlet} while it is open"
        return self._told(words, FLOW, lambda row: row.flow_of(outlet)[end], f"{word}_flow", outlet)

    def _told(self, words: str, quantity: Quantity, read: Callable[[OverTime], float], *key: str) -> Number:
        values = np.array([read(row) for row in self.rows])
        method = "Of the same minute as the lowest pressure."
        number = stated(f"{words} with {self.name}", values, quantity, method, source=SOURCE)
        return number.keyed("minute", self.name, *key, pairs=self.pairs)

    def _facts(self) -> Sequence[Part]:
        """What else belongs beside the lowest pressure."""
        planned = self.planned
        facts: list[Part] = []
        for outlet, litres in zip(planned.outlets, planned.drawn.tolist(), strict=True):
            facts += [(flow.name, flow) for flow in self.flows[outlet]]
            facts.append((f"water from the {outlet}", (litres, VOLUME)))
        facts.append((f"water from the {planned.script.pump}", (planned.pumped, VOLUME)))
        for words, times in (("first start", planned.starts), ("first stop", planned.stops)):
            if times.size:
                facts.append((words, (float(times[0]), SECONDS)))
        return facts

    def __iter__(self) -> Iterator[Number]:
        yield from (self.lowest, self.highest, self.last)
        if not self.planned.chatters:
            yield self.starts
        for flows in self.flows.values():
            yield from flows


def minutes(plan: Plan) -> Mapping[str, Minute]:
    """Follow all scripts of a plan, each with the unsure inputs at their ends too.

    Parameters
    ----------
    plan : Plan
        The plan.

    Returns
    -------
    mapping of str to Minute
        By the name of a set of outlets that are open together, "hands" or "shower": see
        :func:`vanwater.system.over_time.scripts`. From a full accumulator, the pump at rest. None for a pump whose
        accumulator sits where its switch does not feel it.
    """
    return plan.once("minutes", lambda: _minutes(plan), alone=True)


def _minutes(plan: Plan) -> Mapping[str, Minute]:
    known = scripts(plan)
    batch = Batch(plan, low_and_high(UNSURE), alone=True)
    pairs = rows_of(batch, UNSURE)
    told: dict[str, Minute] = {}
    for pump in dict.fromkeys(script.pump for script in known.values()):
        own = {name: script for name, script in known.items() if script.pump == pump}
        try:
            rows = circuits(batch, pump, [opened for script in own.values() for opened in script.opened], None, FEWER)
        except ValueError:
            continue
        for name, script in own.items():
            told[name] = Minute(tuple(_over_time(plan, script, row) for row in rows), pairs)
    return told


def _over_time(plan: Plan, script: Script, behind: Behind) -> OverTime:
    pump = plan.pumps[script.pump]
    assert pump.cut_in is not None and pump.cut_out is not None
    sets = [behind.sets.index(outlets) for outlets in script.opened]
    told = follow(behind.circuit, script.begin, sets, script.until)
    places = [behind.outlets.index(outlet) for outlet in script.outlets]
    return OverTime(
        script=script,
        vessel=behind.vessel,
        time=told.time,
        pressure=told.pressure,
        pump_flow=told.pump_flow,
        outlet_flow=told.outlet_flow[places],
        open=_opened(script, behind, told),
        running=told.running,
        starts=told.starts,
        stops=told.stops,
        cut_in=pump.cut_in,
        cut_out=pump.cut_out,
        pumped=told.pumped,
        drawn=told.drawn[places],
        residual=behind.residual,
    )


def _opened(script: Script, behind: Behind, told: Transient) -> npt.NDArray[np.bool_]:
    table = np.array([[outlet in opened for opened in behind.sets] for outlet in script.outlets])
    return np.asarray(table[:, told.opened], dtype=np.bool_)
