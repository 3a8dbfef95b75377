"""A drained van in frost: what is empty cannot freeze, what draining leaves behind can."""

from __future__ import annotations

from collections.abc import Iterator

from vanwater.answers.core.answer import Assumption
from vanwater.answers.core.finding import Finding, Verdict
from vanwater.answers.core.number import Number
from vanwater.answers.core.statement import Say, say
from vanwater.answers.core.working import planned, stated
from vanwater.plan.model import Plan
from vanwater.quantities import TEMPERATURE, VOLUME
from vanwater.system.batch import Batch
from vanwater.system.draining import Draining, draining
from vanwater.system.hot_pipe import pipe_content

__all__ = ["drained_assumptions", "drained_findings", "drained_verdict", "left_in_lines"]

MANY = 4
"""Runs beyond which not each of them is named."""

_CUPS = {"filter": "cartridges", "strainer": "strainer cups"}
"""What is taken out of each kind of fitting that keeps water."""

SOURCE = "heights, drain valves and check valves in the plan"


def left_in_lines(plan: Plan) -> Number | None:
    """Water that draining leaves in the lines.

    Parameters
    ----------
    plan : Plan
        A plan whose water is drained.

    Returns
    -------
    Number or None
        In the runs out of which nothing leads down; None where there is none of a known bore.
    """
    kept = draining(plan).kept
    content = pipe_content(Batch(plan), kept)
    if not content[0] > 0.0:
        return None
    return stated(
        "water that draining leaves in the lines",
        content,
        VOLUME,
        "What the runs hold out of which nothing leads down.",
        facts=[("runs", ", ".join(kept))],
        source="content of a pipe",
    ).keyed("lines", "left_by_draining", exact="as the plan draws them", digits=2)


def drained_verdict(plan: Plan) -> Say:
    """The answer in a sentence.

    Parameters
    ----------
    plan : Plan
        A plan whose water is drained and that must stand frost.

    Returns
    -------
    Say
        With what stays in the lines.
    """
    left, cold = left_in_lines(plan), planned(plan, "frost.design_cold", TEMPERATURE)
    state = draining(plan)
    stays = [
        *([say("{left} in the lines", left=left)] if left is not None else []),
        *([say("what is in the {heaters}", heaters=state.heaters)] if state.heaters else []),
        *([say("the low points of {runs}", runs=state.sags)] if state.sags else []),
    ]
    if stays:
        told = "The water is drained; open taps leave {stays}, and that freezes in {cold}."
        return say(told, stays=tuple(stays), cold=cold)
    if state.unsaid:
        return say("The water is drained; whether all lines empty is not decided.")
    return say("The water is drained: in {cold} only the little freezes that stays in pump and fittings.", cold=cold)


def drained_findings(plan: Plan) -> Iterator[Finding]:
    """What draining leaves behind, piece by piece.

    Parameters
    ----------
    plan : Plan
        A plan whose water is drained and that must stand frost.

    Yields
    ------
    Finding
        Lines and heaters without a way down, sags, pump and fittings, heights that are not said.
    """
    state = draining(plan)
    yield from _lines(plan, state)
    if state.heaters:
        held = [planned(plan, f"heaters.{name}.volume", VOLUME) for name in state.heaters]
        yield Finding(
            "frost.drained.heater",
            Verdict.WATCH,
            say(
                "No line empties the {heaters}: {held} stay in it until its own drain is opened.",
                heaters=state.heaters,
                held=tuple(held),
            ),
            change=say(
                "With heater and pump off and the water cold, open its drain and a hot tap, until no more comes."
            ),
            address=f"heaters.{state.heaters[0]}",
            source=SOURCE,
        )
    if state.sags:
        yield Finding(
            "frost.drained.sags",
            Verdict.WATCH,
            say("Water stays in the low points of {runs}.", runs=state.sags),
            change=say("Hang the line up so that it falls all the way, fit a drain cock there, or blow it out."),
            address=f"runs.{state.sags[0]}.lowest",
            source=SOURCE,
        )
    if state.unsaid:
        yield Finding(
            "frost.drained.heights",
            Verdict.NOT_DECIDED,
            say("Whether {runs} drain is not decided: a height is not said.", runs=state.unsaid),
            change=say("Measure how high above the floor the pieces at their ends lie."),
            address=f"runs.{state.unsaid[0]}",
        )
    yield from _pieces(plan, state)


def _lines(plan: Plan, state: Draining) -> Iterator[Finding]:
    if not state.pools:
        return
    left = left_in_lines(plan)
    lows = tuple(pool.lowest for pool in state.pools if pool.lowest not in plan.heaters)
    change = say("Open the heater's own drain, and blow the lines out.")
    if lows:
        each = "of the {runs}" if len(lows) == 1 else "of each of {runs}"
        change = say(
            f"Fit a drain cock at the lowest point {each}, loosen the joint there, or blow the lines out.", runs=lows
        )
    many = len(state.kept) > MANY
    told = "{count} runs, the {lowest} the lowest of them" if many else "the {runs}"
    told = f"Open taps do not empty {told}: nothing leads down out of {'it' if len(state.kept) == 1 else 'them'}"
    said = say(
        f"{told}, and {{left}} stay there." if left is not None else f"{told}.",
        **({"count": len(state.kept), "lowest": state.pools[0].lowest} if many else {"runs": state.kept}),
        **({"left": left} if left is not None else {}),
    )
    yield Finding(
        "frost.drained.lines",
        Verdict.WATCH,
        said,
        change=change,
        address=f"runs.{(lows or state.kept)[0]}.lowest",
        source=SOURCE,
    )


def _pieces(plan: Plan, state: Draining) -> Iterator[Finding]:
    """What keeps some water however the van is drained."""
    kept = [
        *(["the pump's head"] if state.pumps else []),
        *(f"{kind}s" for kind in state.pieces),
        *(["traps"] if state.traps else []),
    ]
    if not kept:
        return
    cups = [word for kind, word in _CUPS.items() if kind in state.pieces]
    todo = [
        *(["run the pump until it sucks air, then switch it off"] if state.pumps else []),
        *([f"take {' and '.join(cups)} out"] if cups else []),
        *(["pour antifreeze of propylene glycol into the traps"] if state.traps else []),
        f"leave every tap open{', mixing taps half way' if plan.mixers else ''}",
    ]
    yield Finding(
        "frost.drained.pieces",
        Verdict.WATCH,
        say("However well it drains, some water stays in {pieces} and can burst them.", pieces=tuple(kept)),
        change=say(f"{'; '.join(todo)}.".capitalize()),
        address="water.drained",
        source="common practice",
    )


def drained_assumptions(plan: Plan) -> Iterator[Assumption]:
    """What was taken to be so.

    Parameters
    ----------
    plan : Plan
        A plan whose water is drained.

    Yields
    ------
    Assumption
        How it was drained.
    """
    yield Assumption(
        "drained",
        say(
            "Tanks are emptied by their drains, every tap and drain stands open, and the pump has run until it sucks "
            "air: water falls toward open ends, never back through pump or check valve."
        ),
        "Blow into a tap and look whether water comes at the lowest drain.",
        "common practice",
        "water.drained",
    )
    if plan.accumulators:
        yield Assumption(
            "accumulators",
            say("The accumulator's bladder has pushed its water out."),
            "Let its pressure out with the lines empty.",
            "common practice",
        )
