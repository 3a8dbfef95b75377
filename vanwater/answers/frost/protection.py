"""What keeps a pad off an empty tank, and a battery from being charged where it freezes."""

from __future__ import annotations

from collections.abc import Iterator

from vanwater.answers.core.finding import Finding, Verdict
from vanwater.answers.core.statement import say
from vanwater.answers.core.working import planned
from vanwater.answers.frost.cold import FREEZING
from vanwater.physics.water import FREEZING_POINT
from vanwater.plan.model import Plan
from vanwater.plan.tanks import Tank, label_of
from vanwater.quantities import TEMPERATURE

__all__ = ["battery_in_frost", "protection"]

LITHIUM_CELL = 3.2
"""Nominal volts of a lithium iron phosphate cell: batteries of such cells are named by a multiple of it, V."""
LITHIUM_USABLE = 0.7
"""Share from which on lead batteries are not used (common practice)."""


def protection(plan: Plan, name: str) -> Finding:
    """The finding on what keeps a pad off an empty tank.

    Parameters
    ----------
    plan : Plan
        The plan.
    name : str
        The pad.

    Returns
    -------
    Finding
        Fails where nothing does; watched where only a temperature cut-out does and the tank starts empty.
    """
    pad = plan.pads[name]
    bare = pad.protected_by == "temperature" and _starts_empty(plan.tanks[pad.tank])
    verdict = {None: Verdict.NOT_DECIDED, "none": Verdict.FAILS}.get(pad.protected_by, Verdict.FINE)
    told = {
        None: "What keeps the {pad} off while the {tank} is empty is not decided.",
        "none": "Nothing keeps the {pad} off while the {tank} is empty: it can scorch the tank and set fire.",
        "level": "A level switch keeps the {pad} off while the {tank} is empty.",
        "temperature": "A temperature cut-out keeps the {pad} from overheating while the {tank} is empty.",
    }[pad.protected_by]
    if bare:
        verdict = Verdict.WATCH
        told = (
            "The {tank} starts empty: the {pad} heats a bare wall until its cut-out opens, and scorches it if that "
            "sticks."
        )
    change = "Fit a level switch beside the cut-out." if bare else "Fit a level switch and a temperature cut-out."
    return Finding(
        f"frost.{name}.protected",
        verdict,
        say(told, pad=name if "pad" in name.lower() else f"pad {name}", tank=label_of(pad.tank)),
        change=None if verdict is Verdict.FINE else say(change),
        address=f"pads.{name}.protected_by",
        source="common practice",
    )


def _starts_empty(tank: Tank) -> bool:
    return not (tank.filled if tank.filled is not None else tank.holds == "fresh")


def battery_in_frost(plan: Plan) -> Iterator[Finding]:
    """The finding on a lithium battery that is charged where it freezes.

    Parameters
    ----------
    plan : Plan
        The plan.

    Yields
    ------
    Finding
        Fails where its volts say that it is one, watched where its usable share makes it likely; none else.
    """
    battery, room = plan.battery, planned(plan, "frost.room", TEMPERATURE)
    if battery is None or not battery.charging > 0.0 or room.likely >= FREEZING_POINT:
        return
    cells = battery.volts / LITHIUM_CELL
    lithium = abs(cells - round(cells)) < 1e-6
    if not lithium and battery.usable < LITHIUM_USABLE:
        return
    yield Finding(
        "frost.battery.charging",
        Verdict.FAILS if lithium else Verdict.WATCH,
        say(
            "The room of the battery is at {room}: charged below {freezing}, lithium cells are plated with metal, fail "
            "and can short inside."
            if lithium
            else "The room of the battery is at {room}: if its cells are lithium, charging them below {freezing} makes "
            "them fail, and they can short inside.",
            room=room,
            freezing=FREEZING,
        ),
        value=room.amount,
        limit=FREEZING.amount,
        change=say("Take a battery that heats itself and bars charging in the cold, or put it where it stays warm."),
        address="frost.room",
        source="data sheets of lithium cells, from memory; common practice",
        bound="at least",
    )
