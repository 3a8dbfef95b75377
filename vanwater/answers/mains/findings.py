"""What is to be said of an inlet for a campsite's water: regulator, back-flow, what keeps it from pump and tank."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from vanwater.answers.core.finding import Finding, Verdict
from vanwater.answers.core.statement import Given, say
from vanwater.answers.core.working import limit, planned
from vanwater.plan.model import Plan
from vanwater.plan.pump import DROOP_AT
from vanwater.plan.sold import sold
from vanwater.quantities import FLOW, PRESSURE, PRESSURE_DIFFERENCE
from vanwater.system.accumulators import CHECK_VALVES
from vanwater.system.ways import Way, sources

__all__ = ["mains_findings"]

RULE = "common practice; local codes decide on back-flow protection"


def mains_findings(plan: Plan, off_grid: Iterable[Way], piped: tuple[Way, ...]) -> Iterator[Finding]:
    """The findings on the inlets: regulator, back-flow, what keeps the mains from pump and tank.

    Parameters
    ----------
    plan : Plan
        The plan.
    off_grid : iterable of Way
        Ways from the tanks that are not broken.
    piped : tuple of Way
        From :func:`vanwater.system.path_conditions.mains_ways`.

    Yields
    ------
    Finding
        For each inlet that feeds an outlet.
    """
    tanks = {way.outlet: way for way in off_grid}
    for inlet in dict.fromkeys(way.mains for way in piped):
        ways = [way for way in piped if way.mains == inlet]
        yield _regulator(plan, inlet)
        yield from _back_flow(plan, inlet, [leg for way in ways for leg in _legs(way)])
        both = [(tanks[way.outlet], way) for way in ways if way.outlet in tanks]
        yield from _pump(plan, inlet, both)


def _regulator(plan: Plan, inlet: str) -> Finding:
    known = plan.mains[inlet]
    reliefs = {name: heater.relief for name, heater in plan.heaters.items() if heater.relief is not None}
    heater = min(reliefs, key=lambda name: reliefs[name], default="")
    held = known.regulator is not None and known.regulator <= known.highest
    comes = planned(plan, f"mains.{inlet}.{'regulator' if held else 'highest'}", PRESSURE)
    given: dict[str, Given] = {"inlet": inlet, "pressure": comes}
    drips = bool(heater) and comes.likely >= reliefs[heater]
    if drips:
        told = say("{pressure} from the {inlet} opens the relief valve of the {heater}.", heater=heater, **given)
    elif known.regulator is None:
        told = say("The {inlet} has no regulator: a campsite's tap can bring {pressure}.", **given)
    elif held:
        told = say(
            "The regulator at the {inlet} holds {pressure} on the mains, {droop} less at {flow}.",
            droop=planned(plan, f"mains.{inlet}.droop", PRESSURE_DIFFERENCE),
            flow=limit("flow at which a droop is told", DROOP_AT, FLOW, "common practice"),
            **given,
        )
    else:
        told = say("The regulator at the {inlet} holds {pressure} on the mains.", **given)
    fine = known.regulator is not None and not drips
    set_to = limit("setting of a regulator at an inlet", sold(plan.us).regulator, PRESSURE, "common practice")
    return Finding(
        f"mains.{inlet}.regulator",
        Verdict.FINE if fine else Verdict.FAILS if drips else Verdict.WATCH,
        told,
        value=comes.amount,
        limit=planned(plan, f"heaters.{heater}.relief", PRESSURE).amount if heater else None,
        change=None if fine else say("Fit a regulator set to {set}.", set=set_to),
        address=f"mains.{inlet}.regulator",
        source="common practice",
    )


def _legs(way: Way) -> tuple[tuple[str, ...], ...]:
    """The hot and the cold runs to an outlet, each from the inlet on; the one way where nothing is mixed."""
    legs = [leg for leg in (way.hot, way.cold) if leg] or [()]
    return tuple((*way.suction, *way.trunk, *leg, *way.mixed) for leg in legs)


def _back_flow(plan: Plan, inlet: str, ways: list[tuple[str, ...]]) -> Iterator[Finding]:
    shared = [run for run in ways[0] if all(run in other for other in ways)]
    if any(_checked(plan, run) for run in shared):
        return
    yield Finding(
        f"mains.{inlet}.back-flow",
        Verdict.FAILS,
        say(
            "No check valve keeps the van's water from flowing back through the {inlet} into the campsite's pipe.",
            inlet=inlet,
        ),
        change=say("Fit a check valve made for drinking water right behind the inlet."),
        address=f"runs.{ways[0][0]}.fittings",
        source=RULE,
    )


def _pump(plan: Plan, inlet: str, both: list[tuple[Way, Way]]) -> Iterator[Finding]:
    told: set[str] = set()
    set_to = plan.mains[inlet].regulator
    for way, mains in both:
        tank = way.tank
        pump = way.pump if way.pump in sources(plan, way)[1] else ""
        piece = pump or tank
        if piece in told:
            continue
        told.add(piece)
        key = f"mains.{inlet}.{piece}"
        alone = [run for run in way.runs if run not in mains.runs]
        if not any(_checked(plan, run) for run in alone):
            holds = bool(pump) and plan.pumps[pump].kind != "submersible"
            yield Finding(
                key,
                Verdict.WATCH if holds else Verdict.FAILS,
                say("Only the {pump}'s own valves keep the mains from the {tank}.", pump=pump, tank=tank)
                if holds
                else say(
                    "Nothing keeps the mains of the {inlet} from running back into the {tank}.", inlet=inlet, tank=tank
                ),
                change=say("Fit a check valve between it and where the mains joins; switch the pump off on the mains."),
                address=f"runs.{alone[-1]}.fittings" if alone else f"tanks.{tank}",
                source=RULE,
            )
        start = plan.pumps[pump].cut_in if pump else None
        if start is not None and set_to is not None and set_to < start:
            low = planned(plan, f"mains.{inlet}.regulator", PRESSURE)
            yield Finding(
                f"{key}.starts",
                Verdict.WATCH,
                say(
                    "On the mains the {pump} runs along: {set} lies below its cut-in.",
                    set=low,
                    pump=pump,
                ),
                value=low.amount,
                limit=planned(plan, f"pumps.{pump}.cut_in", PRESSURE).amount,
                change=say("Switch it off on the mains."),
                address=f"mains.{inlet}.regulator",
                source="common practice",
                bound="at least",
            )


def _checked(plan: Plan, run: str) -> bool:
    return any(count and kind in CHECK_VALVES for kind, count in plan.runs[run].fittings.items())
