"""What is to be said of run-back lines and of rings: what no longer runs off, how long a ring takes, what it loses."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

import numpy as np

from vanwater.answers.core.finding import Finding, Verdict
from vanwater.answers.core.statement import Amount, say
from vanwater.answers.core.working import Step, shown, step
from vanwater.physics import demand
from vanwater.plan.model import Plan
from vanwater.plan.tables import fittings
from vanwater.quantities import DAILY_VOLUME, FLOW, POWER, PRESSURE_DIFFERENCE, SECONDS, VOLUME
from vanwater.system.batch import Batch
from vanwater.system.hot_line import Ring, rings, run_back_runs
from vanwater.system.hot_pipe import brought_pipe
from vanwater.system.ring import RingFlow, ring_flow, ring_gaps
from vanwater.system.stores import moved, outlet_of

__all__ = ["hot_lines"]

SLOW = 120.0
"""Time for hot water to come round that nobody waits for, s (common practice)."""


def hot_lines(plan: Plan) -> tuple[list[Finding], dict[str, Step]]:
    """The findings on run-back lines and rings, and the numbers of the rings.

    Parameters
    ----------
    plan : Plan
        The plan.

    Returns
    -------
    tuple of list of Finding and dict of str to Step
        What each saves and needs; "hot_water.PUMP.flow", "hot_water.PUMP.time" and "hot_water.PUMP.heat".
    """
    findings = [finding for run in run_back_runs(plan) for finding in _run_back(plan, run)]
    numbers: dict[str, Step] = {}
    for ring in rings(plan):
        gaps = ring_gaps(plan, ring)
        batch = Batch(plan)
        steps = {} if gaps else _steps(batch, ring, ring_flow(batch, ring))
        findings.append(_ring(ring, gaps, steps))
        numbers |= {f"hot_water.{ring.pump}.{key}": made for key, made in steps.items()}
    return findings, numbers


def _run_back(plan: Plan, run: str) -> Iterator[Finding]:
    key, planned = f"hot_water.{run}", plan.runs[run]
    uses = [name for name, use in plan.uses.items() if use.hot and _passes(plan, outlet_of(plan, name), planned.start)]
    moves = moved(Batch(plan))
    each = max((float((moves[name].brought * moves[name].waiting)[0]) for name in uses), default=0.0)
    daily = sum(
        float((moves[name].brought * moves[name].waiting * moves[name].events * moves[name].persons)[0])
        for name in uses
    )
    if daily > 0:
        yield Finding(
            f"{key}.run_back",
            Verdict.FINE,
            say(
                "Through the {run} up to {each} of the hot line goes back to the tank each time instead of running "
                "off, {daily} in all; what lies behind it still runs off.",
                run=run,
                each=Amount(each, VOLUME, 2),
                daily=Amount(daily, DAILY_VOLUME, 2),
            ),
            change=say("Shut its valve as soon as the water comes hot; its hose must be fit for drinking water."),
            address=f"runs.{run}",
            source="content of the runs between heater and branch",
        )
    else:
        yield Finding(
            f"{key}.run_back",
            Verdict.NOT_DECIDED,
            say("What runs back through the {run} is not decided: no use waits for hot water behind it.", run=run),
            change=say("Say hot = true for the uses that wait, and size and length of the hot line."),
            address=f"runs.{run}",
        )
    if not any(count and _shuts(kind) for kind, count in planned.fittings.items()):
        yield Finding(
            f"{key}.valve",
            Verdict.WATCH,
            say("No valve is planned in the {run}; it is taken as shut while outlets run.", run=run),
            change=say('Fit a hand valve and count it among its fittings, such as "ball valve".'),
            address=f"runs.{run}.fittings",
            source="common practice",
        )


def _passes(plan: Plan, outlet: str, place: str) -> bool:
    return any(plan.runs[run].end == place for run in brought_pipe(plan, outlet))


def _shuts(kind: str) -> bool:
    return kind in fittings() and fittings()[kind].kind == "valve"


def _ring(ring: Ring, gaps: tuple[str, ...], steps: Mapping[str, Step]) -> Finding:
    key = f"hot_water.{ring.pump}.ring"
    if gaps:
        return Finding(
            key,
            Verdict.NOT_DECIDED,
            say("How fast the {pump} brings hot water round is not decided yet.", pump=ring.pump),
            change=say("Say {fields}.", fields=gaps),
            address=gaps[0],
        )
    slow = float(steps["time"].value[0]) > SLOW
    return Finding(
        key,
        Verdict.WATCH if slow else Verdict.FINE,
        say(
            "The {pump} moves {flow} round its ring: hot water is at the end of the hot line after {time}. While it is "
            "kept hot the ring loses {heat}, which the days do not count.",
            pump=ring.pump,
            **{name: _amount(steps[name]) for name in ("flow", "time", "heat")},
        ),
        change=say("Take a pump with more pressure, or a wider return.")
        if slow
        else say("Run it by a push-button for that time, not all day."),
        address=f"pumps.{ring.pump}",
        source="pump curve against the ring's losses; heat through the walls in still air of the room",
    )


def _steps(batch: Batch, ring: Ring, solved: RingFlow) -> dict[str, Step]:
    waiting = 1.0 + (batch.number("household.run_off") - 1.0) * batch.factor("run-off")
    flow = Amount(float(solved.flow[0]), FLOW, 2)
    heat = np.sum(list(solved.heat.values()), axis=0)
    return {
        "flow": shown(
            f"flow that the {ring.pump} moves round its ring",
            flow,
            "The flow at which the pump's rise equals the losses of all runs of the ring, every outlet shut.",
            facts=[
                ("pressure rise of the pump", Amount(float(solved.rise[0]), PRESSURE_DIFFERENCE)),
                *((run, Amount(float(loss[0]), PRESSURE_DIFFERENCE)) for run, loss in solved.losses.items()),
            ],
            residual=Amount(float(solved.residual[0]), PRESSURE_DIFFERENCE),
            value=solved.flow,
            source="Todini and Pilati (1988), gradient method; Darcy-Weisbach with Colebrook's friction factor",
        ),
        "time": step(
            f"time until the {ring.pump} has brought hot water to the end of the hot line",
            demand.hot_wait,
            content=solved.content,
            factor=waiting,
            flow=solved.flow,
        ),
        "heat": shown(
            f"heat that the ring of the {ring.pump} loses while it is hot",
            Amount(float(heat[0]), POWER),
            "Conductance of each run's wall in still air of the room, times its warmth above it.",
            parts=[(run, Amount(float(lost[0]), POWER)) for run, lost in solved.heat.items()],
            value=heat,
            source="Churchill and Chu (1975) for still air; cylindrical layers in series",
        ),
    }


def _amount(made: Step) -> Amount:
    assert isinstance(made.result, Amount)
    return Amount(made.result.value, SECONDS, 2) if made.result.quantity is SECONDS else made.result
