"""What the drawing of a van's plumbing holds: numbered pieces, lines between them, what water runs in each.

Pieces are numbered along the water, from the tanks to the outlets, runs likewise: the same numbers stand in the list
below the drawing. Of a run's fittings those are drawn that somebody looks for later: strainers, filters, check valves,
valves, traps; bends, tees' bodies and couplings are not.
"""

from __future__ import annotations

from dataclasses import replace

from vanwater.answers.core.statement import Say, say
from vanwater.answers.core.working import planned
from vanwater.answers.outlets.answer import Outlets
from vanwater.figures.schematic.parts import Asked, Line, Piping, Shows, Water
from vanwater.figures.schematic.pieces import of_answers, of_plan, place_of, riding
from vanwater.plan.drawn import listed, reached
from vanwater.plan.model import Plan
from vanwater.plan.problems import joined, shown
from vanwater.plan.supply import Run
from vanwater.plan.tables import pipes
from vanwater.quantities import BORE, LENGTH
from vanwater.quantities.retold import retold
from vanwater.system.exposed import waste_runs
from vanwater.system.numbering import PLACES, numbering

__all__ = ["piping", "see_outlet"]

_LETTERS = {"polyethylene": "PE", "polypropylene": "PP", "silicone": "SI", "pvc": "PVC", "pex": "PEX"}
"""Letters of the materials of hoses and pipes (ISO 1043-1), as they stand on a drawing."""


def piping(asked: Asked, shows: Shows = "size", outlet: str = "") -> Piping:
    """What is drawn of a plan.

    Parameters
    ----------
    asked : Answers
        A plan and its answers.
    shows : {"size", "loss"}
        What stands beside each line.
    outlet : str
        The open outlet, for losses; that of the verdict without it.

    Returns
    -------
    Piping
        Pieces and lines, numbered along the water.

    Raises
    ------
    KeyError
        When the plan has no such outlet.
    """
    plan = asked.plan
    tables = {name: table for table in PLACES for name in getattr(plan, table)}
    see_outlet(plan, outlet)

    def at(place: str) -> str:
        return joined((tables[place], place))

    open_outlet = outlet or _main_outlet(asked)
    numbers, waters = numbering(plan), _waters(plan)
    pieces = [place_of(asked, name, table, numbers.pieces[at(name)]) for name, table in tables.items()]
    lines = []
    for name, number in numbers.runs.items():
        run = plan.runs[name]
        if run.end in tables:
            riders = [replace(piece, number=numbers.pieces[piece.key]) for piece in riding(plan, name)]
            pieces += riders
            ends = (at(run.start), *(piece.key for piece in riders), at(run.end))
            key, water, size = joined(("runs", name)), waters[name], _size(plan, name, run)
            length = tuple(of_plan(plan, key, "{it}", "length", LENGTH))
            lost = tuple(of_answers(asked, "{it}", ("run", name, "loss", open_outlet)))
            about = (*size, *length) if shows == "size" else (*size, *lost) if lost else ()
            takes = tuple(say("takes {it} with {outlet} open", it=it, outlet=open_outlet) for it in lost)
            told = (*size, *length, *takes)
            line = Line(key=key, number=number, name=name, places=ends, water=water, about=about, told=told)
            lines.append(line)
    pieces.sort(key=lambda piece: piece.number)
    stubs = [
        Line(key=at(name), number=0, name=name, places=(at(part.at), at(name)), water="cold")
        for name, part in plan.accumulators.items()
        if part.at in tables
    ]
    stubs += [
        Line(key=at(name), number=0, name=name, places=(at(part.tank), at(name)), water="cold")
        for name, part in plan.pumps.items()
        if part.tank in plan.tanks
    ]
    reached_by = {place for line in (*lines, *stubs) for place in line.places}
    return Piping(
        tuple(piece for piece in pieces if piece.key in reached_by),
        (*lines, *stubs),
        tuple(piece for piece in pieces if piece.key not in reached_by and piece.kind != "tee"),
        tuple(dict.fromkeys(waits.place[1] for waits in plan.awaited if waits.run)),
    )


def see_outlet(plan: Plan, outlet: str) -> None:
    """See that a plan has an outlet, where one is named.

    Parameters
    ----------
    plan : Plan
        The plan.
    outlet : str
        Its name, or nothing.

    Raises
    ------
    KeyError
        When it has no such outlet: which it has.
    """
    if outlet and outlet not in plan.outlets:
        there = f"Name one of {listed(plan.outlets)}" if plan.outlets else "The plan has none yet"
        raise KeyError(f"There is no outlet {shown(outlet)}. {there}.")


def _waters(plan: Plan) -> dict[str, Water]:
    """What runs in each run: hot behind a heater, mixed behind a mixing tap, waste behind an outlet."""
    waste = set(waste_runs(plan)) | {
        name for name, run in plan.runs.items() if run.start in plan.tanks and plan.tanks[run.start].holds != "fresh"
    }
    inner = {name: (run.start, run.end) for name, run in plan.runs.items() if name not in waste}
    mixed = reached(plan.mixers, inner.values())
    unmixed = [ends for ends in inner.values() if ends[0] not in plan.mixers and ends[1] not in plan.mixers]
    unmixed = [ends for ends in unmixed if ends[1] not in plan.tanks]
    hot = reached(plan.heaters, unmixed)
    return {
        name: "waste" if name in waste else "hot" if run.start in hot else "mixed" if run.start in mixed else "cold"
        for name, run in plan.runs.items()
    }


def _size(plan: Plan, name: str, run: Run) -> tuple[Say, ...]:
    row = pipes().get(run.size or "")
    if row is not None:
        return (say("{size}", size=_short(retold(row.key, plan.us))),)
    if run.bore is not None:
        return (say("bore {bore}", bore=planned(plan, joined(("runs", name, "bore")), BORE).amount),)
    return ()


def _short(size: str) -> str:
    """A stock size as a workshop writes it on a drawing."""
    for word, letters in _LETTERS.items():
        size = size.replace(word, letters)
    return size


def _main_outlet(asked: Asked) -> str:
    """The outlet that the outlets' verdict speaks of; the first without one."""
    answer = asked.each.get("outlets")
    main = answer.main if isinstance(answer, Outlets) else ""
    return main or next(iter(asked.plan.outlets), "")
