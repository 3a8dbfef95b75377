"""Heating up, hot water at the tap, a relief valve that drips."""

from __future__ import annotations

from collections.abc import Iterator

from vanwater.answers.core.band import Tolerance
from vanwater.answers.core.handover import Fault, Gives, Handed, Living, Means, Measure, Remember, Setting, Step
from vanwater.answers.core.key import key_text
from vanwater.answers.core.statement import Say, say
from vanwater.answers.core.working import planned
from vanwater.answers.hot_water.answer import HotWater
from vanwater.plan.model import Plan
from vanwater.plan.problems import joined
from vanwater.quantities import PRESSURE, TEMPERATURE

__all__ = ["handover"]


def handover(plan: Plan, answer: HotWater) -> Iterator[Handed]:
    """What one charge gives, how long it takes, and what is measured of both."""
    numbers = answer.numbers
    if answer.heaters:
        yield Living(
            "first use",
            say(
                "Never switch a water heater on before water runs from every hot tap without air: dry, its element "
                "burns out."
            ),
        )
        yield Step(
            "Before the first use",
            70,
            say("Only now heat: {heaters} on, water running from every hot tap.", heaters=tuple(answer.heaters)),
        )
    for name in answer.heaters:
        yield Living("hot water", _scalds(answer, name))
        if plan.heaters[name].relief is not None:
            yield Remember("Holes to cut", say("Drip of the {heater}, down and outside.", heater=name))
        if plan.heaters[name].source in ("gas", "diesel"):
            yield Remember("Holes to cut", say("Flue and air of the {heater}, clear of windows.", heater=name))
            yield Remember("Looked after", say("CO alarm: tried every month; new by the date on it."))
        if plan.heaters[name].source == "gas":
            yield Remember("Looked after", say("Gas hose and regulator: new by their date, by a licensed hand."))
        yield Setting(
            say("Thermostat of the {heater}", heater=name),
            planned(plan, joined(("heaters", name, "set_point")), TEMPERATURE).amount,
            "Thermometer at a hot tap once it has switched off.",
        )
        if plan.heaters[name].set_point is not None:
            yield Measure(
                place=10,
                what=say("Hottest water of the {heater}", heater=name),
                how="Thermometer at the nearest hot tap, once the thermostat has opened.",
                expected=planned(plan, joined(("heaters", name, "set_point")), TEMPERATURE).amount,
                means=(
                    Means("Hotter: it scalds, thermostat or probe.", "above"),
                    Means("Colder: thermostat, a cold way beside it.", "below"),
                ),
                tolerance=Tolerance(by=5.0),
                corrects=joined(("heaters", name, "set_point")),
            )
        if plan.heaters[name].relief is not None:
            yield Setting(
                say("Relief valve of the {heater}", heater=name),
                planned(plan, joined(("heaters", name, "relief")), PRESSURE).amount,
                "Read off its stamp, never set; its lever worked, its pipe led outside, open and falling.",
            )
            yield Remember("Looked after", say("Relief valve: its lever worked twice a year, the heater cold."))
        likely, recovery = (
            numbers.get(key_text(("heater", name, *key))) for key in (("charge", "likely"), ("recovery",))
        )
        wait, current = (numbers.get(key_text(("heater", name, key))) for key in ("wait", "current"))
        if likely is not None:
            charge = say("One charge makes {litres} of water for a shower.", litres=likely.shown)
            yield Gives(joined(("heaters", name)), charge)
            yield Measure(
                place=10,
                what=say("Mixed water of one charge of the {heater}", heater=name),
                how="Hot through, element off; thermometer and bucket at shower warmth until it falls below.",
                expected=likely.shown,
                means=(Means("Mixing tap, thermostat, cold water that stirs the tank."),),
                tolerance=Tolerance(share=0.15),
                corrects=joined(("heaters", name, "volume")),
            )
        if wait is not None:
            yield Living("hot water", say("The next shower waits {wait}.", wait=wait.shown))
        if recovery is not None:
            yield Measure(
                place=9,
                what=say("Time of the {heater} from cold until its thermostat opens", heater=name),
                how="First every hot tap until no air comes, only then power; watch.",
                expected=recovery.shown,
                tolerance=Tolerance(share=0.1),
                corrects=joined(("heaters", name, "power")),
                means=(Means("Volts, the inverter's limit, scale, thermostat."),),
            )
        if current is not None:
            yield Measure(
                place=9,
                what=say("Amps from the battery meanwhile"),
                how="Clamp at the battery.",
                expected=current.shown,
                tolerance=Tolerance(share=0.08),
                corrects=joined(("heaters", name, "power")),
                means=(Means("Volts, inverter, element."),),
            )
        if plan.heaters[name].relief is not None:
            yield Fault(
                "The relief valve drips",
                say(
                    "A few drops while the water heats up are meant. All the time: heater off; grit in its seat, or "
                    "too much pressure in the line. Never plug it."
                ),
            )
        if plan.heaters[name].source in ("gas", "diesel"):
            yield Fault(
                "It smells of gas or exhaust",
                say("Everybody out, doors open, bottle or burner shut, no switch, no flame. Have it looked at."),
            )


def _scalds(answer: HotWater, name: str) -> Say:
    """How hot the water is and how soon it scalds, as the answer finds it, with what to do about it."""
    for finding in answer.findings:
        if finding.key == f"hot_water.{name}.scald":
            if finding.change is None:
                return finding.statement
            return say("{told} {change}", told=finding.statement, change=finding.change)
    return say("Water straight from the heater scalds within seconds, children sooner: mix at the tap.")
