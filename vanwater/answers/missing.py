"""What keeps a plan from being whole: runs that are not drawn, and places that are pointed at before they are written.

It stands above the findings of every answer and is none of them: it pushes no danger down.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from vanwater.answers.core.statement import Count, Given, Say, say
from vanwater.plan.awaited import Awaited
from vanwater.plan.model import Plan
from vanwater.plan.problems import joined, shown
from vanwater.plan.tanks import label_of
from vanwater.system.missing_runs import LooseEnd, MissingRun, missing_runs, waiting_for

__all__ = ["Missing", "missing", "not_whole"]

RUN = "[runs.NAME]"
_KINDS = "a tank, pump, tee, heater, mixing tap or outlet"


@dataclass(frozen=True, slots=True, kw_only=True)
class Missing:
    """Something that a plan lacks to be whole.

    Parameters
    ----------
    statement : Say
        What is missing, in plain words.
    change : Say
        What to write.
    address : str
        Where in the plan, or what points there.
    outlets : tuple of str
        Outlets that wait for it.
    """

    statement: Say
    change: Say
    address: str
    outlets: tuple[str, ...] = ()


def missing(plan: Plan) -> tuple[Missing, ...]:
    """What a plan lacks to be whole.

    Parameters
    ----------
    plan : Plan
        The plan.

    Returns
    -------
    tuple of Missing
        That for which most outlets wait first; empty for a plan that is whole.
    """
    return plan.once("missing", lambda: tuple(sorted(_missing(plan), key=lambda lack: -len(lack.outlets))))


def not_whole(number: int) -> Say:
    """The sentence above what is missing.

    Parameters
    ----------
    number : int
        How many things are missing.

    Returns
    -------
    Say
        With their number.
    """
    return say("The plan is not whole: {count} missing.", count=Count(number, "thing is", "things are"))


def _missing(plan: Plan) -> Iterator[Missing]:
    for name in dict.fromkeys(what.name for what in plan.awaited):
        yield _place(plan, name, [what for what in plan.awaited if what.name == name])
    if plan.outlets and not plan.runs and not any(what.run for what in plan.awaited):
        yield _no_run(plan)
    for lack in missing_runs(plan):
        yield _run(plan, lack) if isinstance(lack, MissingRun) else _loose(lack)
    for name, pump in plan.pumps.items():
        if pump.kind == "submersible" and pump.tank is None and not _awaits_tank(plan, name):
            yield Missing(
                statement=say("The {pump} hangs in no tank yet.", pump=name),
                change=say("Write {tank} in {table}.", tank=f"tank = {_fresh(plan)}", table=f"[pumps.{name}]"),
                address=f"pumps.{name}.tank",
                outlets=waiting_for(plan, name),
            )


def _awaits_tank(plan: Plan, pump: str) -> bool:
    return any(what.place == ("pumps", pump, "tank") for what in plan.awaited)


def _fresh(plan: Plan) -> str:
    return shown(next((name for name, tank in plan.tanks.items() if tank.holds == "fresh"), "NAME"))


def _place(plan: Plan, name: str, pointing: list[Awaited]) -> Missing:
    table = next((what.table for what in pointing if what.table), "")
    close = next((what.close for what in pointing if what.close), "")
    write = (
        say("Write {table}", table=f"[{table}.{name}]") if table else say("Write {kinds} of that name", kinds=_KINDS)
    )
    outlets = waiting_for(plan, name) if any(what.run for what in pointing) else ()
    return Missing(
        statement=say(
            "There is no {name} yet, and {addresses} {point} to it; until then that does not count.",
            name=shown(name),
            addresses=tuple(joined(what.place) for what in pointing),
            point="points" if len(pointing) == 1 else "point",
        ),
        change=say("{write}, unless {close} is meant.", write=write, close=shown(close))
        if close
        else say("{write}.", write=write),
        address=joined(pointing[0].place),
        outlets=outlets,
    )


def _no_run(plan: Plan) -> Missing:
    outlets = tuple(plan.outlets)
    pump = next((name for name, pump in plan.pumps.items() if pump.kind != "submersible"), "")
    start = _fresh(plan) if pump or not plan.pumps else shown(next(iter(plan.pumps)))
    return Missing(
        statement=say("No run is written yet, so no water reaches {outlets}.", outlets=outlets),
        change=_write(start, shown(pump) if pump else "the next piece"),
        address="runs",
        outlets=outlets,
    )


def _run(plan: Plan, lack: MissingRun) -> Missing:
    side = say(", its {side} side", side=lack.side) if lack.side else ""
    others = tuple(outlet for outlet in lack.outlets if outlet != lack.end)
    wait = say("; {outlets} {wait} for it", outlets=others, wait="waits" if len(others) == 1 else "wait")
    told = "Nothing leads to the {end}{side}{wait}."
    given: dict[str, Given] = {"end": lack.end, "side": side, "wait": wait if others else ""}
    if len(lack.starts) == 1:
        start = lack.starts[0]
        told = "Nothing leads from the {start} to the {end}{side}{wait}."
        given["start"] = label_of(start) if start in plan.tanks else start
    return Missing(
        statement=say(told, **given),
        change=_write(" or ".join(map(shown, lack.starts)) or "a place that water reaches", shown(lack.end)),
        address="runs",
        outlets=lack.outlets,
    )


def _write(start: str, end: str) -> Say:
    return say("Write {run} with from = {start} and to = {end}.", run=RUN, start=start, end=end)


def _loose(lack: LooseEnd) -> Missing:
    told = "No run leaves the {piece}." if lack.reached else "No run touches the {piece}."
    way = f"from = {shown(lack.name)}" + ("" if lack.reached else f", and one with to = {shown(lack.name)}")
    return Missing(
        statement=say(told, piece=lack.name),
        change=say("Write {run} with {way}, or take it out.", run=RUN, way=way),
        address=f"{lack.table}.{lack.name}",
    )
