"""What days need and the plan does not say: uses, tanks, the battery, which of several tanks a use means."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from vanwater.answers.core.finding import Finding, Verdict
from vanwater.answers.core.statement import say
from vanwater.answers.core.working import planned
from vanwater.answers.stay.days import Days
from vanwater.answers.stay.stores import StoreDays
from vanwater.plan.model import Plan
from vanwater.quantities import STAY
from vanwater.system.power import lives_on_battery
from vanwater.system.tank_groups import tank_groups

__all__ = ["gaps"]


def gaps(plan: Plan, days: Days) -> Iterator[Finding]:
    """What is not decided although days need it.

    Parameters
    ----------
    plan : Plan
        The plan.
    days : Days
        How long it can stay out.

    Yields
    ------
    Finding
        One each.
    """
    held = {tank.holds for tank in plan.tanks.values()}
    open_ = {
        "fresh": ("fresh" not in held, "No fresh tank is planned yet.", "Add a tank that holds fresh water."),
        "grey": (
            "grey" not in held and any(use.to in (None, "grey") and use.returns > 0 for use in plan.uses.values()),
            "Where the grey water goes is not decided.",
            "Add a tank that holds grey water.",
        ),
    }
    if not plan.uses:
        yield _no_uses(plan, days)
    for key, (gap, told, change) in open_.items():
        if gap:
            yield Finding(f"stay.{key}", Verdict.NOT_DECIDED, say(told), change=say(change), address="tanks")
    yield from _battery_gap(plan, days.stores)
    for holds, uses in days.unsaid.items():
        yield _unsaid(plan, holds, uses)


def _no_uses(plan: Plan, days: Days) -> Finding:
    """That it is not said what water is used for, and which ready habits reach the stay wanted."""
    change = say("Choose ready habits, or list the uses.")
    if days.with_habits and plan.household.days_wanted is not None:
        wanted = planned(plan, "household.days_wanted", STAY)
        reach = [habit for habit, other in days.with_habits.items() if other.stay.likely >= wanted.likely]
        change = say(
            "Choose ready habits, or list the uses: {wanted} are wanted, and {reach} habits reach them.",
            wanted=wanted,
            reach=tuple(reach) or "none of the ready",
        )
    return Finding(
        "stay.uses",
        Verdict.NOT_DECIDED,
        say("What water is used for is not decided."),
        change=change,
        address="household.habits",
    )


def _battery_gap(plan: Plan, every: Sequence[StoreDays]) -> Iterator[Finding]:
    """That the battery is not decided; nothing in a van in which nothing lives on one."""
    if any(store.holds == "battery" for store in every) or not lives_on_battery(plan):
        return
    known = plan.battery is not None
    missing = say("{loads} and {charging}", loads="other_loads", charging="charging")
    yield Finding(
        "stay.battery",
        Verdict.NOT_DECIDED,
        say("How long the battery lasts is not decided."),
        change=say("Give {fields} of the battery, each as energy a day.", fields=missing)
        if known
        else say("Add the battery; where there is none, say {line}.", line='without = ["battery"] in [van]'),
        address="battery.other_loads" if known else "battery",
    )


def _unsaid(plan: Plan, holds: str, uses: Sequence[str]) -> Finding:
    """That uses may mean one of several stores; the order of the file is no answer."""
    fresh = holds == "fresh"
    field = "tank" if fresh else "to"
    names = [f'{field} = "{group.tanks[0]}"' for group in tank_groups(plan) if group.holds == holds]
    return Finding(
        f"stay.unsaid.{holds}",
        Verdict.NOT_DECIDED,
        say(
            "The van has several {holds} tanks, and it is not said which one {uses} "
            + ("draw from." if fresh else "run into."),
            holds=holds,
            uses=tuple(uses),
        ),
        change=say("Write it in each of these uses: {line}.", line=" or ".join(names)),
        address=f"uses.{uses[0]}.{field}",
    )
