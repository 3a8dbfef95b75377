"""What each cable may carry, and the fuse that holds its load and guards it."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from vanwater.answers.core.finding import Finding, Verdict
from vanwater.answers.core.number import Number
from vanwater.answers.core.statement import Say, say
from vanwater.answers.core.working import planned, stated, step
from vanwater.answers.power.thicker import thicker
from vanwater.physics.ampacity import least_fuse, standard_fuse
from vanwater.plan.model import Plan
from vanwater.plan.wiring import fuse_kind, fuse_sizes
from vanwater.quantities import CURRENT, SHARE, TEMPERATURE
from vanwater.system.batch import Batch
from vanwater.system.power import cable_copper
from vanwater.system.wiring import ampacity_of, cable_ampacity, cable_insulation, conductors_of, engine_space_of

__all__ = ["Guard", "guard_findings", "guard_of"]

BETTER = TEMPERATURE.read("105 °C")
"""What the better insulation of the trade stands; what may be too much for an unsaid one may be fine for it."""

SERIES = "ISO 8820-3, 8820-5"


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class Guard:
    """What a cable may carry, and its fuse.

    Parameters
    ----------
    name : str
        The cable.
    current, insulation, ampacity : Number
        Current of its load, what its insulation is taken to stand, and what it may carry for long.
    fuse : Number or None
        The planned fuse where it stands between the two, else the smallest that is sold; None where none is.
    source : str
        Where its current comes from.
    better : float
        What it may carry if its insulation, of which nothing is said, is a better one; nan where it is said [A].
    """

    name: str
    current: Number
    insulation: Number
    ampacity: Number
    fuse: Number | None
    source: str
    better: float

    @property
    def least(self) -> Number:
        """Least rating that holds the load."""
        name = f"least fuse for the {self.name}"
        return step(name, least_fuse, current=self.current).keyed("cable", self.name, "least_fuse")

    @property
    def kind(self) -> str:
        """What kind of fuse it is: blade, midi or mega; an empty text where none is sold."""
        return fuse_kind(self.fuse.likely) if self.fuse is not None else ""


def guard_of(batch: Batch, name: str, current: Number) -> Guard:
    """What guards a cable.

    Parameters
    ----------
    batch : Batch
        The plan with its rows.
    name : str
        The cable.
    current : Number
        What its load draws while it is on.

    Returns
    -------
    Guard
        With a fuse where one that is sold fits.
    """
    laid, own, table = batch.plan.cables[name], ("cable", name), conductors_of(batch.plan, name)
    stands = cable_insulation(batch, name, table)
    left = engine_space_of(batch, name, table, stands)
    said = laid.insulation is not None
    insulation = stated(
        f"insulation of the {name}",
        stands,
        TEMPERATURE,
        "As planned." if said else "The least that is commonly sold, as the plan does not say it.",
        source="the plan" if said else "common practice, from memory",
    ).keyed(*own, "insulation", exact="as planned" if said else "common practice")
    ampacity = stated(
        f"what the {name} may carry",
        cable_ampacity(batch, name),
        CURRENT,
        "By a printed table of sizes and insulations.",
        facts=[
            ("insulation", insulation),
            *([("left in the engine space", (left, SHARE))] if laid.engine_space else []),
        ],
        source=table.source,
    ).keyed(*own, "ampacity", exact="a printed table")
    least = least_fuse(current.values)
    fuses = standard_fuse(least, ampacity.values, fuse_sizes())
    if laid.fuse is not None:
        planned_one = batch.number(f"cables.{name}.fuse")
        fuses = np.where((planned_one >= least) & (planned_one <= ampacity.values), planned_one, fuses)
    fuse = stated(
        f"fuse of the {name}",
        fuses,
        CURRENT,
        "The smallest sold from 1.25 of its current to what the cable may carry, or the planned one between."
        if laid.fuse is not None
        else "The smallest sold from 1.25 of its current to what the cable may carry.",
        facts=[("load", current), ("at most", ampacity)],
        source=SERIES,
    ).keyed(*own, "fuse", exact="a size that is sold")
    better = ampacity_of(table, cable_copper(batch, name)[:1], np.array([BETTER]), left[:1])
    return Guard(
        name=name,
        current=current,
        insulation=insulation,
        ampacity=ampacity,
        fuse=None if math.isnan(fuse.likely) else fuse,
        source=table.source,
        better=math.nan if said else float(better[0]),
    )


def guard_findings(plan: Plan, to: str, guard: Guard) -> Iterator[Finding]:
    """Whether a cable stands its load, and whether its planned fuse is right.

    Parameters
    ----------
    plan : Plan
        The plan.
    to : str
        What the cable feeds.
    guard : Guard
        What it may carry, and its fuse.

    Yields
    ------
    Finding
        Fails where the cable can set fire; only watched where a better insulation than the unsaid one would do.
    """
    yield _carries(plan, to, guard)
    if plan.cables[guard.name].fuse is not None:
        yield _too_large(plan, guard)
        yield _too_small(plan, to, guard)


def _carries(plan: Plan, to: str, guard: Guard) -> Finding:
    over = guard.current.likely > guard.ampacity.likely
    if guard.fuse is not None:
        words = "The {cable} may carry {ampacity}; the {to} draws {current}, so a {kind} of {fuse} guards it."
    elif over:
        words = "The {to} draws {current} through the {cable}, which may carry {ampacity}: it can set fire."
    else:
        words = (
            "No fuse that is sold both holds the {to}, which draws {current}, and guards the {cable}, which may carry "
            "{ampacity}."
        )
    fine_if_better = math.isfinite(float(standard_fuse(guard.least.likely, guard.better, fuse_sizes())))
    verdict = Verdict.FINE if guard.fuse is not None else Verdict.WATCH if fine_if_better else Verdict.FAILS
    return Finding(
        f"power.{guard.name}.carries",
        verdict,
        say(words, cable=guard.name, to=to, **_holes(guard)),
        change=None if verdict is Verdict.FINE else _mend(plan, guard, verdict),
        address=f"cables.{guard.name}",
        source=guard.source,
    )


def _too_large(plan: Plan, guard: Guard) -> Finding:
    said = planned(plan, f"cables.{guard.name}.fuse", CURRENT)
    over = said.likely > guard.ampacity.likely
    verdict = Verdict.FINE if not over else Verdict.WATCH if said.likely <= guard.better else Verdict.FAILS
    return Finding(
        f"power.{guard.name}.fuse",
        verdict,
        say(
            "The {cable} may carry {ampacity}; its fuse of {said} lets more through: the cable can set fire before it "
            "opens."
            if over
            else "The {cable} may carry {ampacity}; its fuse of {said} guards it.",
            cable=guard.name,
            ampacity=guard.ampacity,
            said=said,
        ),
        value=said.amount,
        limit=guard.ampacity.amount,
        change=_mend(plan, guard, verdict) if over else None,
        address=f"cables.{guard.name}.fuse",
        source=guard.source,
    )


def _too_small(plan: Plan, to: str, guard: Guard) -> Finding:
    said = planned(plan, f"cables.{guard.name}.fuse", CURRENT)
    opens, warm = said.likely < guard.current.likely, said.likely < guard.least.likely
    verdict = Verdict.FAILS if opens else Verdict.WATCH if warm else Verdict.FINE
    words = {
        Verdict.FAILS: "The {to} draws {current}, more than the fuse of {said} on the {cable} holds: it opens.",
        Verdict.WATCH: "The {to} draws {current}, nearly all that the fuse of {said} on the {cable} holds: it ages, "
        "and opens on a warm day.",
        Verdict.FINE: "The fuse of {said} on the {cable} holds the {current} of the {to}.",
    }[verdict]
    return Finding(
        f"power.{guard.name}.blows",
        verdict,
        say(words, to=to, cable=guard.name, current=guard.current, said=said),
        value=said.amount,
        limit=guard.least.amount,
        change=None if verdict is Verdict.FINE else _mend(plan, guard, Verdict.FAILS),
        address=f"cables.{guard.name}.fuse",
        source=guard.source,
        bound="at least",
    )


def _holes(guard: Guard) -> dict[str, Number | str]:
    every: dict[str, Number | str] = {"ampacity": guard.ampacity, "current": guard.current}
    if guard.fuse is not None:
        every |= {"fuse": guard.fuse, "kind": f"{guard.kind} fuse".strip()}
    return every


def _mend(plan: Plan, guard: Guard, verdict: Verdict) -> Say:
    """A fuse that fits, else a cable that a fuse can guard; to say the insulation, where a better one would do."""
    if guard.fuse is not None:
        mended = say("Fit a fuse of {fuse}.", fuse=guard.fuse)
    else:
        mended = thicker(plan, guard.name, nearer=False)
    if verdict is not Verdict.WATCH:
        return mended
    return say(
        "{mended} If its insulation stands more than {weakest}, write {field} first.",
        mended=mended,
        weakest=guard.insulation,
        field=f"cables.{guard.name}.insulation",
    )
