"""Pressure and flow over a minute while outlets open and shut behind a switched pump: for a chart, and in numbers.

Nothing here is worked out before it is asked for; one minute takes some milliseconds, nearly all of them for the
curves of the network.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from vanwater.answers.core.spread import spread
from vanwater.answers.core.statement import Amount, Range, Say, say
from vanwater.answers.core.unsure import OUTLETS, PUMPS, rows_of
from vanwater.answers.core.working import Step, shown
from vanwater.physics.transient import Transient, follow
from vanwater.plan.model import Plan
from vanwater.quantities import FLOW, PRESSURE, RATIO, SECONDS, VOLUME, Array
from vanwater.system.batch import Batch, low_and_high
from vanwater.system.over_time import Behind, Script, circuits, scripts

__all__ = ["OverTime", "followed", "over_time", "over_time_numbers"]

UNSURE = (PUMPS, OUTLETS)
"""What moves the pressure over time most, besides the accumulator itself."""

FEWER = 17
"""Pressures at which the network is solved for the numbers: a row for each end of the unsure inputs wants no more."""

METHOD = (
    "Conservation of volume between pump, outlets and what holds the water, with the curves of the whole network and "
    "Boyle's law; switch times in closed form, without steps in time."
)


@dataclass(frozen=True, slots=True, eq=False)
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
    def outlets(self) -> tuple[str, ...]:
        """The outlets, in the order in which they open."""
        return self.script.outlets

    @property
    def lowest(self) -> float:
        """Lowest pressure [Pa]."""
        return float(self.pressure.min())

    @property
    def highest(self) -> float:
        """Highest pressure [Pa]."""
        return float(self.pressure.max())

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


def over_time(plan: Plan, name: str, gas: float | None = None) -> OverTime:
    """Follow one of a plan's scripts for a minute.

    Parameters
    ----------
    plan : Plan
        The plan.
    name : str
        A set of outlets that are open together, "hands" or "shower": see :func:`vanwater.system.over_time.scripts`.
    gas : float, optional
        Temperature of the gas in the accumulator; the one at which its pre-charge was set without it [K].

    Returns
    -------
    OverTime
        From a full accumulator, the pump at rest.

    Raises
    ------
    ValueError
        With a sentence for the builder, when nothing of that name can be followed, or the accumulator sits where the
        pump's switch does not feel it.
    """
    known = scripts(plan)
    if name not in known:
        raise ValueError(f'"{name}" cannot be followed over time; what can: {", ".join(known) or "nothing yet"}.')
    script = known[name]
    return _over_time(plan, script, circuits(Batch(plan), script.pump, script.opened, gas)[0])


def followed(plan: Plan) -> Mapping[str, tuple[OverTime, ...]]:
    """Follow all scripts of a plan, each with the unsure inputs at their ends too.

    Parameters
    ----------
    plan : Plan
        The plan.

    Returns
    -------
    mapping of str to tuple of OverTime
        By name; the plan itself first, then a row for each end. Empty for a pump whose accumulator sits where its
        switch does not feel it.
    """
    known = scripts(plan)
    batch = Batch(plan, low_and_high(UNSURE))
    found: dict[str, tuple[OverTime, ...]] = {}
    for pump in dict.fromkeys(script.pump for script in known.values()):
        own = {name: script for name, script in known.items() if script.pump == pump}
        try:
            rows = circuits(batch, pump, [opened for script in own.values() for opened in script.opened], None, FEWER)
        except ValueError:
            continue
        found |= {name: tuple(_over_time(plan, script, row) for row in rows) for name, script in own.items()}
    return found


def _over_time(plan: Plan, script: Script, behind: Behind) -> OverTime:
    pump = plan.pumps[script.pump]
    assert pump.cut_in is not None and pump.cut_out is not None
    told = follow(behind.circuit, script.begin, [behind.sets.index(one) for one in script.opened], script.until)
    places = [behind.outlets.index(outlet) for outlet in script.outlets]
    return OverTime(
        script,
        behind.vessel,
        told.time,
        told.pressure,
        told.pump_flow,
        told.outlet_flow[places],
        _opened(script, behind, told),
        told.running,
        told.starts,
        told.stops,
        pump.cut_in,
        pump.cut_out,
        told.pumped,
        told.drawn[places],
        behind.residual,
    )


def _opened(script: Script, behind: Behind, told: Transient) -> npt.NDArray[np.bool_]:
    table = np.array([[outlet in opened for opened in behind.sets] for outlet in script.outlets])
    return np.asarray(table[:, told.opened], dtype=np.bool_)


def over_time_numbers(plan: Plan) -> Mapping[str, Step]:
    """The numbers of all scripts: lowest and highest pressure and the pump's starts, with their ranges.

    Parameters
    ----------
    plan : Plan
        The plan.

    Returns
    -------
    mapping of str to Step
        "accumulator.over_time.SET.lowest", ".highest" and ".starts".
    """
    return plan.once("over time", lambda: _numbers(plan))


def _numbers(plan: Plan) -> Mapping[str, Step]:
    pairs = rows_of(Batch(plan, low_and_high(UNSURE)), UNSURE)
    found: dict[str, Step] = {}
    for name, rows in followed(plan).items():
        at, facts = f"accumulator.over_time.{name}", _facts(rows[0])
        for key, words, quantity, values in (
            ("lowest", "lowest pressure", PRESSURE, [one.lowest for one in rows]),
            ("highest", "highest pressure", PRESSURE, [one.highest for one in rows]),
            ("starts", "starts of the pump in a minute", RATIO, [float(one.starts.size) for one in rows]),
        ):
            ends: Range = spread(np.array(values), pairs).range(quantity)
            found[f"{at}.{key}"] = shown(
                f"{words} with {name}",
                ends,
                METHOD if key == "lowest" else "Of the same minute as the lowest pressure.",
                facts=facts if key == "lowest" else (),
                residual=Amount(rows[0].residual, PRESSURE) if key == "lowest" else None,
                value=np.array(values),
                source="conservation of volume; Boyle's law",
            )
    return found


def _facts(one: OverTime) -> list[tuple[str, Amount | Say]]:
    """What else belongs beside the pressures of a script."""
    found: list[tuple[str, Amount | Say]] = []
    for outlet, litres in zip(one.outlets, one.drawn, strict=True):
        low, high = (Amount(end, FLOW) for end in one.flow_of(outlet))
        found.append((f"flow of the {outlet} while it is open", say("{low} to {high}", low=low, high=high)))
        found.append((f"water from the {outlet}", Amount(float(litres), VOLUME)))
    found.append((f"water from the {one.script.pump}", Amount(one.pumped, VOLUME)))
    for words, times in (("first start", one.starts), ("first stop", one.stops)):
        if times.size:
            found.append((words, Amount(float(times[0]), SECONDS)))
    return found
