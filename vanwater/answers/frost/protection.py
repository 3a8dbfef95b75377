"""What keeps a pad off an empty tank."""

from __future__ import annotations

from vanwater.answers.core.finding import Finding, Verdict
from vanwater.answers.core.statement import say
from vanwater.plan.model import Plan
from vanwater.plan.tanks import Tank, label_of

__all__ = ["protection"]


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
