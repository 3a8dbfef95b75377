"""What each outlet should give on the day of the handover, and what to do when no water comes."""

from __future__ import annotations

from collections.abc import Iterator

from vanwater.answers.core.handover import Fault, Gives, Handed, Living, Measure, Remember, Setting
from vanwater.answers.core.key import key_text
from vanwater.answers.core.statement import say
from vanwater.answers.core.working import planned
from vanwater.answers.outlets.answer import Outlets
from vanwater.plan.model import Plan
from vanwater.plan.problems import joined
from vanwater.plan.pump import BY_HAND
from vanwater.plan.tanks import label_of
from vanwater.quantities import CURRENT, PRESSURE, TEMPERATURE, VOLTAGE
from vanwater.system.numbering import numbering

__all__ = ["handover"]


def handover(plan: Plan, answer: Outlets) -> Iterator[Handed]:
    """Bucket and watch at each outlet, volts at the pump, and the first steps when no water comes."""
    yield from _settings(plan)
    yield from _remember(plan)
    for name in answer.outlets:
        yield Measure(
            place=7,
            what=say("Flow of the {outlet}, open alone", outlet=name),
            how="Bucket and watch, the tank half full, the battery rested.",
            expected=answer.numbers[key_text(("outlet", name, "flow"))].shown,
            band="± 25 % the first time, ± 10 % after it was measured",
            means="Less: aerator, strainer, kink, volts. The value measured goes into the plan.",
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
                band="± 0.3 V",
                means="Less: cable, joint or fuse.",
            )
        if pump.current is not None:
            yield Measure(
                place=6,
                what=say("Amps of the {pump} while it runs", pump=name),
                how="Clamp around one wire, one tap open.",
                expected=planned(plan, joined(("pumps", name, "current")), CURRENT).amount,
                band="± 15 %",
                means="More: a worn pump, or one that works against a kink.",
            )
    strainers = [number for key, number in numbering(plan).pieces.items() if key.endswith("strainer")]
    if plan.pumps:
        yield Fault(
            "No water comes",
            say(
                "Look how much is left in the {tank}; then at the pump's switch and fuse; then listen: a pump that "
                "runs without water sucks air, by an empty tank or a loose clamp{strainer}.",
                tank=next((label_of(name) for name, tank in plan.tanks.items() if tank.holds == "fresh"), "fresh tank"),
                strainer=f", or past a clogged strainer ({strainers[0]} on the drawing)" if strainers else "",
            ),
        )
    if strainers:
        yield Living(
            "first use", say("Look into the strainer before the pump after the first fill, then once a month.")
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
    pieces = numbering(plan).pieces
    strainers = [key for key in pieces if key.endswith("strainer")]
    filters = [key for key in pieces if key.endswith("filter")]
    if not plan.runs:
        return
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
