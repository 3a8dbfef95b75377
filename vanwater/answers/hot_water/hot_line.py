"""What is to be said of run-back lines and of rings: what no longer runs off, how long a ring takes, what it loses."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from vanwater.answers.core.finding import Finding, Verdict
from vanwater.answers.core.number import Number
from vanwater.answers.core.statement import say
from vanwater.answers.core.working import stated, step
from vanwater.physics import demand
from vanwater.plan.model import Plan
from vanwater.plan.problems import shown
from vanwater.plan.tables import fittings
from vanwater.quantities import DAILY_VOLUME, FLOW, POWER, PRESSURE_DIFFERENCE, VOLUME
from vanwater.system.batch import Batch
from vanwater.system.hot_line import Ring, rings, run_back_runs
from vanwater.system.hot_pipe import brought_pipe
from vanwater.system.ring import ring_flow, ring_gaps
from vanwater.system.stores import moved, outlet_of, without_use

__all__ = ["hot_lines", "nobody_waits"]

SLOW = 120.0
"""Time for hot water to come round that nobody waits for, s (common practice)."""

_CONTENT = "content of the runs between heater and branch"


def hot_lines(batch: Batch) -> Iterator[Finding]:
    """The findings on run-back lines and rings.

    Parameters
    ----------
    batch : Batch
        The plan with its rows.

    Yields
    ------
    Finding
        What each saves, needs and loses.
    """
    for run in run_back_runs(batch.plan):
        yield _run_back(batch, run)
        yield from _valve(batch.plan, run)
    for ring in rings(batch.plan):
        yield _ring(batch, ring)


def nobody_waits(plan: Plan) -> Iterator[Finding]:
    """The findings on outlets with hot water at which no use is counted, while a use waits at none.

    Parameters
    ----------
    plan : Plan
        The plan.

    Yields
    ------
    Finding
        Not decided: what runs off there is in no number.
    """
    outlets, uses = without_use(plan)
    for outlet in outlets if uses else ():
        yield Finding(
            f"hot_water.{outlet}.use",
            Verdict.NOT_DECIDED,
            say(
                "Which use the {outlet} serves is not decided, so what runs off there before the water comes hot is "
                "not counted.",
                outlet=outlet,
            ),
            change=say(
                "Write {line} in {tables}.",
                line=f"outlet = {shown(outlet)}",
                tables=" or ".join(f"[uses.{use}]" for use in uses),
            ),
            address=f"uses.{uses[0]}.outlet",
        )


def _run_back(batch: Batch, run: str) -> Finding:
    each, daily = _brought(batch, run)
    if not daily.likely > 0:
        return Finding(
            f"hot_water.{run}.run_back",
            Verdict.NOT_DECIDED,
            say("What runs back through the {run} is not decided: no use waits for hot water behind it.", run=run),
            change=say("Write hot = true in the uses that wait, and size and length of the hot line."),
            address=f"runs.{run}",
        )
    return Finding(
        f"hot_water.{run}.run_back",
        Verdict.FINE,
        say(
            "Through the {run} up to {each} of the hot line goes back to the tank each time instead of running "
            "off, {daily} in all; what lies behind it still runs off.",
            run=run,
            each=each,
            daily=daily,
        ),
        change=say("Shut its valve as soon as the water comes hot; its hose must be fit for drinking water."),
        address=f"runs.{run}",
        source=_CONTENT,
    )


def _brought(batch: Batch, run: str) -> tuple[Number, Number]:
    """What goes back through a run each time at most, and in all a day."""
    plan, moves = batch.plan, moved(batch)
    uses = [name for name, use in plan.uses.items() if use.hot and _passes(plan, outlet_of(plan, name), run)]
    each = {name: moves[name].brought * moves[name].waiting for name in uses}
    daily = {name: once * moves[name].events * moves[name].persons for name, once in each.items()}
    none = np.zeros(len(batch))
    return (
        stated(
            f"hot line back through the {run} each time",
            np.max([none, *each.values()], axis=0),
            VOLUME,
            "The most that one of the uses behind it moves while it waits for hot water.",
            facts=[(name, (once, VOLUME)) for name, once in each.items()],
            source=_CONTENT,
        ).keyed("run", run, "run_back", digits=2),
        stated(
            f"hot line back through the {run} a day",
            sum(daily.values(), none),
            DAILY_VOLUME,
            "The uses behind it add up.",
            parts=[(name, (own, DAILY_VOLUME)) for name, own in daily.items()],
            source=_CONTENT,
        ).keyed("run", run, "run_back_a_day", digits=2),
    )


def _valve(plan: Plan, run: str) -> Iterator[Finding]:
    if not any(count and _shuts(kind) for kind, count in plan.runs[run].fittings.items()):
        yield Finding(
            f"hot_water.{run}.valve",
            Verdict.WATCH,
            say("No valve is planned in the {run}; it is taken as shut while outlets run.", run=run),
            change=say('Fit a hand valve and count it among its fittings, such as "ball valve".'),
            address=f"runs.{run}.fittings",
            source="common practice",
        )


def _passes(plan: Plan, outlet: str, run: str) -> bool:
    return any(plan.runs[hot].end == plan.runs[run].start for hot in brought_pipe(plan, outlet))


def _shuts(kind: str) -> bool:
    return kind in fittings() and fittings()[kind].kind == "valve"


def _ring(batch: Batch, ring: Ring) -> Finding:
    key = f"hot_water.{ring.pump}.ring"
    gaps = ring_gaps(batch.plan, ring)
    if gaps:
        return Finding(
            key,
            Verdict.NOT_DECIDED,
            say("How fast the {pump} brings hot water round is not decided yet.", pump=ring.pump),
            change=say("Give {fields}.", fields=gaps),
            address=gaps[0],
        )
    flow, time, heat = _round(batch, ring)
    slow = time.likely > SLOW
    return Finding(
        key,
        Verdict.WATCH if slow else Verdict.FINE,
        say(
            "The {pump} moves {flow} round its ring: hot water is at the end of the hot line after {time}. While it is "
            "kept hot the ring loses {heat}, which the days do not count.",
            pump=ring.pump,
            flow=flow,
            time=time,
            heat=heat,
        ),
        change=say("Take a pump with more pressure, or a wider return.")
        if slow
        else say("Run it by a push-button for that time, not all day."),
        address=f"pumps.{ring.pump}",
        source="pump curve against the ring's losses; heat through the walls in still air of the room",
    )


def _round(batch: Batch, ring: Ring) -> tuple[Number, Number, Number]:
    """Flow round a ring, time until hot water has come round, heat lost meanwhile."""
    solved = ring_flow(batch, ring)
    flow = stated(
        f"flow that the {ring.pump} moves round its ring",
        solved.flow,
        FLOW,
        "The flow at which the pump's rise equals the losses of all runs of the ring, every outlet shut.",
        facts=[
            ("pressure rise of the pump", (solved.rise, PRESSURE_DIFFERENCE)),
            *((run, (loss, PRESSURE_DIFFERENCE)) for run, loss in solved.losses.items()),
        ],
        residual=(float(solved.residual[0]), PRESSURE_DIFFERENCE),
        source="Todini and Pilati (1988), gradient method; Darcy-Weisbach with Colebrook's friction factor",
    )
    time = step(
        f"time until the {ring.pump} has brought hot water to the end of the hot line",
        demand.hot_wait,
        content=solved.content,
        factor=1.0 + (batch.number("household.run_off") - 1.0) * batch.factor("run-off"),
        flow=flow,
    )
    heat = stated(
        f"heat that the ring of the {ring.pump} loses while it is hot",
        np.sum(list(solved.heat.values()), axis=0),
        POWER,
        "Conductance of each run's wall in still air of the room, times its warmth above it.",
        parts=[(run, (lost, POWER)) for run, lost in solved.heat.items()],
        source="Churchill and Chu (1975) for still air; cylindrical layers in series",
    )
    own = ("ring", ring.pump)
    return (
        flow.keyed(*own, "flow", digits=2),
        time.keyed(*own, "time", digits=2),
        heat.keyed(*own, "heat"),
    )
