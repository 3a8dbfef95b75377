"""Frost in the customer's words, and the pads on the day of the handover."""

from __future__ import annotations

from collections.abc import Iterator

from vanwater.answers.core.band import Tolerance
from vanwater.answers.core.handover import Gives, Handed, Living, Means, Measure, Setting, Step
from vanwater.answers.core.key import key_text
from vanwater.answers.core.statement import Say, say
from vanwater.answers.core.working import planned
from vanwater.answers.frost.answer import Frost
from vanwater.answers.frost.cold import unwarmed
from vanwater.answers.frost.draining_steps import draining_steps
from vanwater.plan.model import Plan
from vanwater.plan.problems import joined
from vanwater.plan.tanks import label_of
from vanwater.quantities import POWER
from vanwater.system.draining import held_in_hand
from vanwater.system.numbering import numbering

__all__ = ["handover"]

_CUT_OUT = {
    "level": (say("by level"), "Tried with the tank run down: off before the pad lies dry."),
    "temperature": (say("by temperature"), "By its own paper; never tried on an empty tank."),
    "none": (say("none"), "Fit one before it is handed over."),
    None: (say("not said"), "Look what it has; without one, fit one."),
}
"""What keeps a pad from heating an empty tank, and what the workshop does about it."""


def handover(plan: Plan, answer: Frost) -> Iterator[Handed]:
    """What is held and for how long, what freezes first, what is drained; drained already, how it is filled again."""
    if plan.water.drained:
        yield from _drained()
        return
    yield from draining_steps(plan)
    if plan.pads:
        yield Step("Before the first use", 80, say("Heating pads on only under a tank that is full."))
    numbers = answer.numbers
    for name in answer.pads:
        held, driving = (numbers.get(key_text(("tank", name, "lowest_cold", state))) for state in ("parked", "driving"))
        cold = driving if held is None else held
        if cold is not None:
            when = "While driving it" if held is None else "It"
            words = say("{when} holds the {tank} down to {cold}.", when=when, tank=label_of(name), cold=cold.shown)
            yield from (Gives(joined(("pads", on)), words) for on, pad in plan.pads.items() if pad.tank == name)
        if held is not None:
            yield Living(
                "winter",
                say(
                    "A frosty night: heating and heating pad on, the {tank} full, its water does not freeze down to "
                    "{cold} outside. Drain it when it gets colder, or when either is off.",
                    tank=label_of(name),
                    cold=held.shown,
                ),
            )
    if answer.first and answer.first_blocked is not None and answer.design_cold is not None:
        tank = next((each for each in answer.tanks if each.label == answer.first), None)
        aside = unwarmed(plan)
        piece = "the {first}{tag}"
        if tank is not None:
            aside = ", its pad off," if tank.tank in answer.pads else ""
            piece = f"the last tenth of {piece}"
        yield Living(
            "winter",
            say(
                f"In {{cold}} {piece}{aside} is blocked by ice first, after {{time}} without water running: "
                "drain it before.",
                cold=answer.design_cold,
                first=answer.first,
                tag=_tag(plan, answer.first),
                time=answer.first_blocked.shown,
            ),
        )
    if answer.design_cold is not None:
        yield Living(
            "winter",
            say(
                "Before the van stands cold and empty of people: {off} off, every drain and every tap open{how}; the "
                "card says the order, and what is opened by hand.",
                off=("pump", *(["heater"] if plan.heaters else [])),
                how=say(
                    "".join(
                        (
                            ", mixing taps in the middle" if plan.mixers else "",
                            ", the shower hose laid down" if held_in_hand(plan) else "",
                        )
                    )
                ),
            ),
        )
    if plan.pads:
        yield Living("winter", say("Never switch a heating pad on under an empty tank."))
    for name, pad in plan.pads.items():
        yield Setting(say("Cut-out of the {pad}", pad=name), *_CUT_OUT[pad.protected_by])
        if pad.power is not None:
            yield Measure(
                place=12,
                what=say("Watts of the {pad}, and at which warmth it switches", pad=name),
                how="Clamp, the tank full; cold spray at its sensor"
                + ("; the level cut-out with the tank run down." if pad.protected_by == "level" else "."),
                expected=planned(plan, joined(("pads", name, "power")), POWER).amount,
                means=(Means("The sensor's place, the cable."),),
                tolerance=Tolerance(share=0.1),
                corrects=joined(("pads", name, "power")),
            )


def _drained() -> Iterator[Living]:
    """How a van that is laid up stands, and how water comes back into it."""
    yield Living(
        "winter",
        say("As long as it is drained: taps and drains open, heater, pump and pads off, a note at their switch."),
    )
    yield Living(
        "first use",
        say(
            "When water comes back: drains and taps shut, strainer and cartridges in, tank filled, pump on, each tap "
            "opened, cold and hot, until no air comes; then look under the floor for drips, and sanitise."
        ),
    )
    yield Living("first use", say("Only when water runs from every hot tap: the heater on."))


def _tag(plan: Plan, run: str) -> Say | str:
    """Where a run stands on the drawing, in brackets; nothing for what is no run."""
    number = numbering(plan).runs.get(run)
    return say(" (R{number} on the drawing)", number=str(number)) if number else ""
