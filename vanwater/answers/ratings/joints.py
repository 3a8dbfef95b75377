"""Whether the joints mate: fittings on their hose or pipe, and the ends of runs in the pieces that they lead to."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal

from vanwater.answers.core.answer import Assumption
from vanwater.answers.core.finding import Finding, Verdict
from vanwater.answers.core.statement import Count, Say, in_either, say
from vanwater.plan.joint import Joint, read_joint
from vanwater.plan.model import Plan
from vanwater.plan.supply import Run
from vanwater.plan.tables import FittingRow, PipeRow, fittings, joints, pipes
from vanwater.system.joints import End, adapters, ends, fits, holds, joined_as, mates, usual_joint

__all__ = ["joints_findings", "joints_taken"]

SOURCE = "table of joints; common practice"
THREADS = "ISO 228-1, ASME B1.20.1; common practice"


def joints_findings(plan: Plan) -> Iterator[Finding]:
    """What is to be said of joints.

    Parameters
    ----------
    plan : Plan
        The plan.

    Yields
    ------
    Finding
        One for each kind of fitting that does not hold on its stock size, one for each end of a run that does not
        mate; one on those that mate, said so or taken to be the usual joint of their hose or pipe; where any
        connection is said, one that counts those not decided.
    """
    yield from _fittings(plan)
    yield from _ends(plan)


def joints_taken(plan: Plan) -> Iterator[Assumption]:
    """What is taken where no connection is said.

    Parameters
    ----------
    plan : Plan
        The plan.

    Yields
    ------
    Assumption
        One, where any end is taken to be the usual joint of its hose or pipe.
    """
    taken = [end for name in plan.runs for end in ends(plan, name) if _end(plan, end) is TAKEN]
    if taken:
        yield Assumption(
            "joints",
            say(
                "Where neither run nor piece says its connection, it is the usual one of the hose or pipe: {kinds}.",
                kinds=_kinds(plan, taken),
            ),
            "Where it is another one, give joint of the piece, or start_joint or end_joint of the run.",
            "table of pipes and hoses; common practice",
            f"runs.{taken[0].run}.{taken[0].which}_joint",
        )


def _kinds(plan: Plan, taken: list[End]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(kind for end in taken if (kind := usual_joint(plan.runs[end.run])) is not None))


def _fittings(plan: Plan) -> Iterator[Finding]:
    loose: dict[tuple[str, str], list[str]] = {}
    bare: dict[tuple[str, str], list[str]] = {}
    table = fittings()
    for name, run in plan.runs.items():
        if run.size is None:
            continue
        pipe = pipes()[run.size]
        for kind, count in run.fittings.items():
            if not count or kind in plan.fittings or pipe.kind == "drain":
                continue
            row = table[kind]
            if row.joint == "threaded":
                if row.kind != "coupling" and not adapters(plan, run, pipe):
                    bare.setdefault((kind, run.size), []).append(name)
            elif not holds(row, pipe):
                loose.setdefault((kind, run.size), []).append(name)
    for (kind, size), runs in loose.items():
        yield _loose(table[kind], pipes()[size], runs)
    for (kind, size), runs in bare.items():
        yield _bare(table[kind], pipes()[size], runs)


def _loose(row: FittingRow, pipe: PipeRow, runs: list[str]) -> Finding:
    joint = joints()[row.joint]
    instead = next((other for other in fittings().values() if other.kind == row.kind and holds(other, pipe)), None)
    why = say("{joint} {grip}", joint=joint.name, grip=joint.grip)
    return Finding(
        f"ratings.joint.{row.key}.{pipe.key}",
        Verdict.FAILS,
        say(
            "The {fitting} in the {runs} does not hold on {size}: {why}.",
            fitting=row.key,
            runs=tuple(runs),
            size=in_either(pipe.key),
            why=why,
        ),
        change=say("Take {other}.", other=instead.key)
        if instead is not None
        else say("Join it by {joints}.", joints=pipe.joint),
        address=f"runs.{runs[0]}.fittings.{row.key}",
        source=joint.source,
    )


def _bare(row: FittingRow, pipe: PipeRow, runs: list[str]) -> Finding:
    return Finding(
        f"ratings.joint.{row.key}.{pipe.key}",
        Verdict.WATCH,
        say(
            "The {fitting} in the {runs} has threads, and {size} has none; no adapter is counted.",
            fitting=row.key,
            runs=tuple(runs),
            size=in_either(pipe.key),
        ),
        change=_count(pipe, 2),
        address=f"runs.{runs[0]}.fittings.{row.key}",
        source="common practice",
    )


def _count(pipe: PipeRow, ends_of_it: int) -> Say:
    """What to write into a run's fittings for its adapters."""
    known = fittings().values()
    row = next((row for row in known if row.kind == "coupling" and row.joint != "threaded" and holds(row, pipe)), None)
    return say(
        "Count {number} among its fittings: {coupling}, or your own with its bore.",
        number=Count(ends_of_it, "adapter"),
        coupling=row.key if row is not None else "threaded coupling",
    )


@dataclass(frozen=True, slots=True)
class _Told:
    statement: Say
    change: Say
    verdict: Verdict
    source: str = SOURCE


def _ends(plan: Plan) -> Iterator[Finding]:
    known = [end for name in plan.runs for end in ends(plan, name)]
    said = any(end.own or end.port for end in known)
    open_ends: list[End] = []
    mated: list[End] = []
    taken: list[End] = []
    for end in known:
        told = _end(plan, end)
        if told is None:
            open_ends.append(end)
        elif told is True:
            mated.append(end)
        elif not isinstance(told, _Told):
            taken.append(end)
        else:
            yield Finding(
                f"ratings.joint.{end.run}.{end.which}",
                told.verdict,
                told.statement,
                change=told.change,
                address=f"runs.{end.run}.{end.which}_joint",
                source=told.source,
            )
    if mated:
        yield Finding(
            "ratings.joints",
            Verdict.FINE,
            say(
                "{number} of runs fit the piece that they lead to.{insert}",
                number=Count(len(mated), "end"),
                insert=say(" Plastic pipe takes the insert that its maker names.")
                if any(_needs_insert(plan.runs[end.run], end) for end in mated)
                else "",
            ),
            source=SOURCE,
        )
    if taken:
        yield Finding(
            "ratings.joints.usual",
            Verdict.FINE,
            say(
                "{number} of runs are taken to be joined as usual for their hose or pipe: {kinds}.",
                number=Count(len(taken), "end"),
                kinds=_kinds(plan, taken),
            ),
            source="table of pipes and hoses; common practice",
        )
    if open_ends and said:
        first = open_ends[0]
        yield Finding(
            "ratings.joints.open",
            Verdict.NOT_DECIDED,
            say(
                "Whether {number} of runs fit is not decided, the first at the {place}.",
                number=Count(len(open_ends), "end"),
                place=first.place,
            ),
            change=say("Say {own} of the run, or {port} of the piece.", own="start_joint or end_joint", port="joint"),
            address=f"runs.{first.run}.{first.which}_joint",
        )


def _needs_insert(run: Run, end: End) -> bool:
    """Whether plastic pipe is held from outside at an end."""
    held = end.own or end.port
    joint = read_joint(held) if held else None
    row = joints().get(joint.kind) if joint is not None else None
    return row is not None and bool(row.insert) and run.size is not None and pipes()[run.size].material != "copper"


TAKEN: Literal["taken"] = "taken"
"""An end of which nothing is said is taken to be the usual joint of its hose or pipe, and the piece to take it."""


def _end(plan: Plan, end: End) -> _Told | Literal[True, "taken"] | None:
    """What is wrong at an end; True where it mates, TAKEN where it is as usual, None where too little is said."""
    run = plan.runs[end.run]
    own = read_joint(end.own) if end.own else None
    port = read_joint(end.port) if end.port else None
    if own is not None and not own.thread and not fits(own, run):
        return _unfit(end, own, run)
    if port is None:
        return TAKEN if joined_as(run) is not None or own is not None else None
    if own is None:
        if joined_as(run) is None:
            return None
        if port.thread:
            return _threaded(plan, end, port)
        return True if fits(port, run) else _unfit(end, port, run)
    if not mates(own, port):
        return _apart(end, run, own, port)
    pipe = pipes()[run.size] if run.size is not None else None
    threaded = sum(read_joint(text).thread for text in (run.start_joint, run.end_joint) if text)
    if own.thread and pipe is not None and adapters(plan, run, pipe) < threaded:
        return _Told(
            say(
                "The {run} ends in {own} at the {place}; the adapter from {size} is not counted.",
                run=end.run,
                own=own.text,
                place=end.place,
                size=in_either(pipe.key),
            ),
            _count(pipe, threaded),
            Verdict.WATCH,
        )
    return True


def _threaded(plan: Plan, end: End, port: Joint) -> _Told | Literal[True]:
    """A plain end that leads to a thread: it needs an adapter, which is counted among the run's fittings."""
    run = plan.runs[end.run]
    pipe = joined_as(run)
    assert pipe is not None
    threads = sum(
        other.port is not None and read_joint(other.port).thread and not other.own for other in ends(plan, end.run)
    )
    if adapters(plan, run, pipe) >= threads:
        return True
    return _Told(
        say(
            "The {run}, {size}, is joined by {usual}; the {place} is {port}, and no adapter is counted.",
            run=end.run,
            size=run.size or say("of its own bore"),
            usual=usual_joint(run) or "",
            place=end.place,
            port=port.text,
        ),
        _count(pipe, threads),
        Verdict.WATCH,
    )


def _unfit(end: End, joint: Joint, run: Run) -> _Told:
    row = joints()[joint.kind]
    pipe = pipes()[run.size] if run.size is not None else None
    if pipe is not None and joint.kind in pipe.joint:
        return _Told(
            say(
                "The {run}, {size}, does not fit {joint} at the {place}: the sizes differ.",
                run=end.run,
                size=in_either(pipe.key),
                joint=joint.text,
                place=end.place,
            ),
            say(
                "Take an adapter from {size} to {joint} and count it among the fittings.",
                size=in_either(pipe.key),
                joint=joint.text,
            ),
            Verdict.FAILS,
            row.source,
        )
    return _Told(
        say(
            "The {run}, {size}, does not hold in {joint} at the {place}: {kind} {grip}.",
            run=end.run,
            size=pipe.key if pipe is not None else say("hose or pipe of its own bore"),
            joint=joint.text,
            place=end.place,
            kind=row.name,
            grip=row.grip,
        ),
        say(
            "Take an adapter from {plain} to {joint} and count it among the fittings.",
            plain=pipe.joint if pipe is not None else say("its end"),
            joint=joint.text,
        ),
        Verdict.FAILS,
        row.source,
    )


def _apart(end: End, run: Run, own: Joint, port: Joint) -> _Told:
    given: dict[str, str] = {"run": end.run, "own": own.text, "place": end.place, "port": port.text}
    if own.thread and port.thread and own.sex == port.sex and _same(own, port):
        told = say("The {run} ends in {own} and the {place} is {port} too: they do not go together.", **given)
    elif {own.kind, port.kind} == {"bsp", "npt"} and own.pitch == port.pitch and own.sex != port.sex:
        told = say(
            "The {run} ends in {own}, the {place} is {port}: the threads start, then bind and leak, 55° against 60°.",
            **given,
        )
    else:
        told = say("The {run} ends in {own}, the {place} is {port}: they do not fit.", **given)
    change = say(
        "Take an adapter, {one} to {other}, and count it among the fittings with its own bore.",
        one=own.turned,
        other=port.turned,
    )
    if own.thread and not port.thread and run.size is not None and fits(port, run):
        change = say(
            "Leave the {own} away: {size} goes straight to {port}.", size=run.size, own=own.text, port=port.text
        )
    return _Told(told, change, Verdict.FAILS, THREADS if own.thread or port.thread else SOURCE)


def _same(joint: Joint, other: Joint) -> bool:
    return (joint.kind, joint.size, joint.pitch) == (other.kind, other.size, other.pitch)
