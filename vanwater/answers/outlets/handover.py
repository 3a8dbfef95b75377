"""What each outlet should give on the day of the handover, and what to do when no water comes."""

from __future__ import annotations

from collections.abc import Iterator

from vanwater.answers.core.band import Tolerance
from vanwater.answers.core.handover import Fault, Gives, Handed, Living, Means, Measure, Remember, Setting, Step, When
from vanwater.answers.core.key import key_text
from vanwater.answers.core.statement import say
from vanwater.answers.core.working import limit, planned
from vanwater.answers.outlets.answer import Outlets
from vanwater.plan.model import Plan
from vanwater.plan.problems import joined
from vanwater.plan.pump import BY_HAND, SWITCHED
from vanwater.plan.tanks import label_of
from vanwater.quantities import CURRENT, PRESSURE, SECONDS, TEMPERATURE, VOLTAGE
from vanwater.system.numbering import numbering

__all__ = ["handover"]

_PRIMES = limit("time until a dry pump brings water", 60.0, SECONDS, "common practice, from memory")


def handover(plan: Plan, answer: Outlets) -> Iterator[Handed]:
    """Bucket and watch at each outlet, volts at the pump, and the first steps when no water comes."""
    yield from _settings(plan)
    yield from _remember(plan)
    yield from _steps(plan, answer)
    for name in answer.outlets:
        yield Measure(
            place=7,
            what=say("Flow of the {outlet}, open alone", outlet=name),
            how="Bucket and watch, the tank half full, the battery rested.",
            expected=answer.numbers[key_text(("outlet", name, "flow"))].shown,
            means=(
                Means("Less: aerator, strainer, kink, volts.", "below"),
                Means("More: a wider outlet than planned.", "above"),
            ),
            tolerance=Tolerance(share=0.25),
            corrects=joined(("outlets", name, "flow")),
        )
    for name, pump in plan.pumps.items():
        asked = (answer.main, *answer.outlets) if answer.main else ()
        fed = next((outlet for outlet in asked if answer.outlets[outlet].way.pump == name), None)
        if fed is not None:
            flow = answer.numbers[key_text(("outlet", fed, "flow"))].shown
            yield Gives(joined(("pumps", name)), say("With it the {outlet} gives {flow}.", outlet=fed, flow=flow))
        if pump.volts is not None and pump.kind not in BY_HAND:
            yield Measure(
                place=6,
                what=say("Volts at the {pump} while it runs", pump=name),
                how="Two meters: at the pump and at the battery, one tap open.",
                expected=planned(plan, joined(("pumps", name, "volts")), VOLTAGE).amount,
                means=(Means("Less: cable, joint or fuse.", "below"),),
                tolerance=Tolerance(by=0.3),
                corrects=joined(("pumps", name, "volts")),
            )
        if pump.current is not None:
            yield Measure(
                place=6,
                what=say("Amps of the {pump} while it runs", pump=name),
                how="Clamp around one wire, one tap open.",
                expected=planned(plan, joined(("pumps", name, "current")), CURRENT).amount,
                means=(Means("More: a worn pump, or one that works against a kink.", "above"),),
                tolerance=Tolerance(share=0.15),
                corrects=joined(("pumps", name, "current")),
            )
        if pump.kind in SWITCHED:
            yield Measure(
                place=3,
                what=say("Time until the dry {pump} brings water", pump=name),
                how="Suction line empty, the lowest tap open; watch.",
                expected=_PRIMES.keyed("handover", name, "priming", exact="common practice").amount,
                means=(Means("Air drawn in at a strainer or a clamp, a hump, a check valve, too much lift."),),
                tolerance=Tolerance(side="at most"),
            )
    for name, mixer in plan.mixers.items():
        if mixer.set is not None:
            yield Measure(
                place=10,
                what=say("Hottest water behind the {mixer}, at its stop", mixer=name),
                how="Thermometer at the outlet, the heater hot through; then cold water shut: it must shut, too.",
                expected=planned(plan, joined(("mixers", name, "set")), TEMPERATURE).amount,
                means=(Means("Hotter: it scalds; its stop, scale, a valve that is worn.", "above"),),
                tolerance=Tolerance(by=2.0),
                corrects=joined(("mixers", name, "set")),
            )
    if plan.runs:
        yield Measure(
            place=13,
            what=say("Drained, and tilted"),
            how="Open and shut in the order of the card; then 3° to each side on ramps, level and watch.",
            expected=say("no water left at a named low point, trays empty, traps hold"),
            means=(Means("A drain is missing, or a hose sags."),),
        )
    strainers = _numbers(plan, "strainer")
    if plan.pumps:
        yield Fault(
            "No water comes",
            say(
                "Look how much is left in the {tank}; then at the pump's switch and fuse; then listen: a pump that "
                "runs without water sucks air, by an empty tank or a loose clamp{strainer}.{ice}",
                tank=next((label_of(name) for name, tank in plan.tanks.items() if tank.holds == "fresh"), "fresh tank"),
                ice=say(" In frost think of ice: pump off, warmth, and wait.")
                if plan.frost.design_cold is not None
                else "",
                strainer=f", or past a clogged strainer ({strainers[0]} on the drawing)" if strainers else "",
            ),
        )
    if strainers:
        yield Living(
            "first use", say("Look into the strainer before the pump after the first fill, then once a month.")
        )


def _numbers(plan: Plan, kind: str) -> list[int]:
    """The numbers on the drawing of all fittings of a kind, along the water."""
    pieces = numbering(plan).pieces
    return sorted(
        pieces[joined(("runs", name, "fittings", key))] for name, run in plan.runs.items() for key in run.fitted(kind)
    )


def _steps(plan: Plan, answer: Outlets) -> Iterator[Step]:
    """How water comes into the lines for the first time: cold before hot, and no heat."""
    if not plan.runs:
        return
    first: When = "Before the first use"
    kept = [kind for kind in ("strainer", "filter") if _numbers(plan, kind)]
    inside = say(", {kept} inside", kept=tuple(kept)) if kept else say("")
    yield Step(first, 10, say("Every drain and tap shut{inside}.", inside=inside))
    if not answer.outlets:
        return
    electric = any(pump.kind not in BY_HAND for pump in plan.pumps.values())
    yield Step(
        first,
        30,
        say(
            "{pump} each tap in turn, cold, until no air comes: {outlets}.",
            pump="Pump on. Open" if electric else "Pump by hand. Open" if plan.pumps else "Open",
            outlets=tuple(answer.outlets),
        ),
    )
    hot = tuple(name for name, supply in answer.outlets.items() if supply.way.hot)
    if hot:
        told = say("Then each at hot, until no air comes: {outlets}. The heater stays off.", outlets=hot)
        yield Step(first, 40, told)
    stops = any(pump.cut_out is not None for pump in plan.pumps.values())
    yield Step(
        first,
        50,
        say(
            "All taps shut{stops}: look at each joint and under the floor for drips.",
            stops=", the pump must stop" if stops else "",
        ),
    )


def _settings(plan: Plan) -> Iterator[Setting]:
    """Regulators of mains water and mixing valves."""
    for name, inlet in plan.mains.items():
        if inlet.regulator is not None:
            yield Setting(
                say("Regulator of the {inlet}", inlet=name),
                planned(plan, joined(("mains", name, "regulator")), PRESSURE).amount,
                "Gauge behind it, every tap shut, the pump off.",
            )
    for name, mixer in plan.mixers.items():
        if mixer.set is not None:
            yield Setting(
                say("Stop of the {mixer}", mixer=name),
                planned(plan, joined(("mixers", name, "set")), TEMPERATURE).amount,
                "Thermometer at the outlet, the heater hot through; then the stop is locked.",
            )


def _remember(plan: Plan) -> Iterator[Remember]:
    """Holes, photographs, strainers, filters, hoses; common practice, from memory."""
    strainers, filters = (_numbers(plan, kind) for kind in ("strainer", "filter"))
    if not plan.runs:
        return
    for name, run in plan.runs.items():
        if run.beside == "outside":
            tag = f"R{numbering(plan).runs[name]}"
            yield Remember("Holes to cut", say("{run} ({tag}), out and in again.", run=name, tag=tag))
    for name in plan.mains:
        yield Remember("Holes to cut", say("{inlet}, through the side.", inlet=name))
    if plan.pumps:
        yield Remember("Before the walls close", say("An isolator before and behind the pump, each where a hand is."))
    yield Remember(
        "Before the walls close",
        say("Look behind each hole before drilling; deburr it, paint bare metal, a grommet around hose and cable."),
    )
    yield Remember(
        "Before the walls close",
        say("A photograph with a rule in it: each run, each joint, each drain, each cable, the back of each tap."),
    )
    yield Remember("Before the walls close", say("Every joint seen dry with the pump at its cut-out for half an hour."))
    yield Remember(
        "Before the walls close", say("A hand reaches each joint, valve, drain, strainer and filter afterwards.")
    )
    if strainers:
        yield Remember("Looked after", say("Strainer: after the first fill, then once a month."))
    if filters:
        yield Remember("Looked after", say("Filter: a new cartridge when its maker says, and after the winter."))
    yield Remember("Looked after", say("Clamps: tightened after the first 14 days, then every spring."))
    yield Remember("Looked after", say("Hoses: looked over every spring; new when hard, cracked, cloudy or smelling."))
    if strainers:
        yield Remember("Spares for the road", say("A strainer's sieve and its seal."))
    if filters:
        yield Remember("Spares for the road", say("A filter cartridge."))
    yield Remember("Spares for the road", say("A length of each hose, a coupling and two clamps for each size."))
    yield Remember("Spares for the road", say("Seals for taps and unions."))
