"""What is to be said of fresh tanks that runs join before the pump: they find one level."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from vanwater.answers.core.finding import Finding, Verdict
from vanwater.answers.core.number import Number
from vanwater.answers.core.statement import say
from vanwater.answers.core.working import stated
from vanwater.plan.model import Plan
from vanwater.quantities import LENGTH
from vanwater.system.accumulators import CHECK_VALVES
from vanwater.system.ways import Way

__all__ = ["joined_findings"]


def joined_findings(plan: Plan, ways: Iterable[Way]) -> Iterator[Finding]:
    """The findings on tanks that are joined without a pump between them.

    Parameters
    ----------
    plan : Plan
        The plan.
    ways : iterable of Way
        Ways that are not broken.

    Yields
    ------
    Finding
        One for each lower tank into which a higher one empties itself; else one for all of them.
    """
    told: set[frozenset[str]] = set()
    for way in ways:
        branches = _branches(plan, way)
        tanks = frozenset(branches)
        if len(branches) < 2 or tanks in told:
            continue
        told.add(tanks)
        spilling = [finding for low in branches for finding in _spills(plan, low, branches)]
        yield from spilling
        if not spilling:
            yield Finding(
                f"outlets.joined.{way.tank}",
                Verdict.FINE,
                say("The {tanks} are joined: they find one level and count as one store.", tanks=tuple(branches)),
                address=f"runs.{branches[way.tank][-1]}.to",
                source="communicating vessels",
            )


def _branches(plan: Plan, way: Way) -> dict[str, tuple[str, ...]]:
    """Runs from each joined tank to where it meets the others; those with a pump of their own are left out."""
    if not way.joined:
        return {}
    meets = {plan.runs[branch[-1]].end for branch in way.joined}
    lead: list[str] = []
    for run in (*way.suction, *way.trunk):
        lead.append(run)
        if plan.runs[run].end in meets:
            break
    every = (tuple(lead), *way.joined)
    return {
        plan.runs[runs[0]].start: runs for runs in every if plan.runs[runs[0]].start in plan.tanks and _bare(plan, runs)
    }


def _bare(plan: Plan, runs: Iterable[str]) -> bool:
    return not any(plan.runs[run].end in plan.pumps for run in runs)


def _spills(plan: Plan, low: str, branches: dict[str, tuple[str, ...]]) -> Iterator[Finding]:
    """A higher tank that runs into a lower one until it stands over."""
    tank = plan.tanks[low]
    top = tank.overflow if tank.overflow is not None else tank.inside_height
    kept = any(
        count and kind in CHECK_VALVES for run in branches[low] for kind, count in plan.runs[run].fittings.items()
    )
    if top is None or tank.z is None or kept:
        return
    for high in branches:
        other = plan.tanks[high]
        if other.z is None or other.z + other.pickup < tank.z + top:
            continue
        yield Finding(
            f"outlets.joined.{low}",
            Verdict.FAILS,
            say(
                "The {high} empties itself into the {low} and out of its overflow, {height} higher than that as it "
                "stands.",
                high=high,
                low=low,
                height=_fall(plan, high, low, top).rounded(2),
            ),
            change=say("Fit a check valve in the run from the {low}, or put both at one height.", low=low),
            address=f"runs.{branches[low][0]}.fittings",
            source="communicating vessels",
        )


def _fall(plan: Plan, high: str, low: str, top: float) -> Number:
    """Height from a tank's pick-up down to another one's overflow."""
    above, below = plan.tanks[high], plan.tanks[low]
    assert above.z is not None and below.z is not None
    return stated(
        f"fall from the {high} to the overflow of the {low}",
        above.z + above.pickup - below.z - top,
        LENGTH,
        "Height of the pick-up of the one over the overflow of the other.",
        parts=(
            (f"floor of the {high}", (above.z, LENGTH)),
            ("its pick-up", (above.pickup, LENGTH)),
            (f"floor of the {low}", (-below.z, LENGTH)),
            ("its overflow", (-top, LENGTH)),
        ),
        source="geometry",
    ).keyed("tank", low, "fall", high)
