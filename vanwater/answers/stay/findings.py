"""What is to be said of a stay: its wish, what is not decided, litres a person, water out of reach."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from vanwater.answers.core.answer import Assumption
from vanwater.answers.core.finding import Finding, Verdict, judge
from vanwater.answers.core.number import Number
from vanwater.answers.core.spread import UnsureRows
from vanwater.answers.core.statement import Count, Say, say
from vanwater.answers.core.working import limit, planned, stated
from vanwater.answers.stay.days import Days
from vanwater.answers.stay.stores import StoreDays, ended, key_of
from vanwater.plan.model import Plan
from vanwater.quantities import DAILY_VOLUME, ENERGY, SHARE, STAY, VOLUME
from vanwater.system.batch import Batch
from vanwater.system.power import lives_on_battery
from vanwater.system.stores import UNREACHED, tank_reach

__all__ = ["NEEDED", "OnTheWay", "on_the_way", "stay_findings", "unreached"]

NEEDED = ("drinking", "cooking")
"""Uses that nobody is told to halve."""

LITRES_A_PERSON = (("least", 8e-3 / 86400), ("most", 20e-3 / 86400))
"""What people in vans use a person and day, m³/s: 8 to 20 L (common practice)."""

RINSE = 1e-3
"""Water each time up to which a use rinses the toilet itself, m³ (common practice)."""

OUT_OF_REACH = 0.1
"""Share of a tank below its pick-up that is told (common practice)."""


@dataclass(frozen=True, slots=True, eq=False)
class OnTheWay:
    """What emptying or filling one store once on the way makes of the stay.

    Parameters
    ----------
    store : str
        The store.
    holds : str
        What it holds.
    stay : Number
        The stay then [s].
    ends : str
        The store that ends it then.
    """

    store: str
    holds: str
    stay: Number
    ends: str


def on_the_way(every: Sequence[StoreDays], pairs: Sequence[UnsureRows]) -> Iterator[OnTheWay]:
    """What emptying or filling each store once on the way makes of the stay.

    Parameters
    ----------
    every : sequence of StoreDays
        All stores.
    pairs : sequence of UnsureRows
        Where the unsure inputs stand.

    Yields
    ------
    OnTheWay
        Only those that lengthen it.
    """
    days = np.stack([store.days.values for store in every])
    before = float(days.min(axis=0)[0])
    for place, store in enumerate(every):
        if store.holds == "battery":
            continue
        twice = days.copy()
        twice[place] *= 2.0
        least = twice.min(axis=0)
        if least[0] > before * (1 + 1e-9):
            ends = every[int(np.argmin(twice[:, 0]))].name
            words = "refilled" if store.holds == "fresh" else "emptied"
            stay = stated(
                f"days off-grid with {store.name} {words} once",
                least,
                STAY,
                f"The smallest of the stores' days, twice those of {store.name}.",
                facts=[(other.name, other.days) for other in every],
                source="quotients of steady daily means",
            ).keyed("stay", f"{words}_once", store.name, pairs=pairs, least=0.0)
            yield OnTheWay(store.name, store.holds, stay, ends)


def stay_findings(plan: Plan, batch: Batch, days: Days, lengthened: Sequence[OnTheWay]) -> Iterator[Finding]:
    """The findings on a stay.

    Parameters
    ----------
    plan : Plan
        The plan.
    batch : Batch
        The plan with its rows.
    days : Days
        How long it can stay out.
    lengthened : sequence of OnTheWay
        What a dump or a refill once on the way makes of it.

    Yields
    ------
    Finding
        In no order.
    """
    yield from _gaps(plan, days.stores)
    if days.stores and np.isfinite(days.stay.likely):
        yield _stay_finding(plan, batch, days, lengthened)
    if days.uses:
        yield _person_finding(days.a_person)
    yield from _reach_findings(batch)
    yield from _washing_findings(plan)


def _washing_findings(plan: Plan) -> Iterator[Finding]:
    """Washing water that runs into the container of a dry toilet."""
    held = {name for name, tank in plan.tanks.items() if tank.holds == "urine"}
    for name, use in plan.uses.items():
        each = use.volume if use.volume is not None else (use.flow or 0.0) * (use.duration or 0.0)
        washes = use.temperature is not None or use.hot or each * use.returns > RINSE
        if not washes or use.returns <= 0 or (use.to != "urine" and use.to not in held):
            continue
        yield Finding(
            f"stay.{name}.urine",
            Verdict.FAILS,
            say("The water of the {use} runs into the urine container: it overflows onto the floor.", use=name),
            change=say("Lead it into a tank that holds grey water."),
            address=f"uses.{name}.to",
            source="common practice",
        )


def _gaps(plan: Plan, every: Sequence[StoreDays]) -> Iterator[Finding]:
    held = {store.holds for store in every}
    gaps = {
        "uses": (not plan.uses, "What water is used for is not decided.", "Choose ready habits, or list the uses."),
        "fresh": ("fresh" not in held, "No fresh tank is planned yet.", "Add a tank that holds fresh water."),
        "grey": (
            "grey" not in held and any(use.to in (None, "grey") and use.returns > 0 for use in plan.uses.values()),
            "Where the grey water goes is not decided.",
            "Add a tank that holds grey water.",
        ),
        "battery": (
            "battery" not in held and lives_on_battery(plan),
            "How long the battery lasts is not decided.",
            "Say the battery, what else lives on it and what charges it.",
        ),
    }
    addresses = {"uses": "household.habits", "fresh": "tanks", "grey": "tanks", "battery": "battery"}
    for key, (gap, told, change) in gaps.items():
        if gap:
            yield Finding(f"stay.{key}", Verdict.NOT_DECIDED, say(told), change=say(change), address=addresses[key])


def _stay_finding(plan: Plan, batch: Batch, days: Days, lengthened: Sequence[OnTheWay]) -> Finding:
    stay, every = days.stay, days.stores
    first = every[0]
    following = (
        say(
            " Next, {event} after {days}.",
            event=ended(every[1], every, first=False),
            days=every[1].days.rounded(2),
        )
        if len(every) > 1 and np.isfinite(every[1].days.likely)
        else say("")
    )
    change, gain = _longer(plan, batch, days, lengthened)
    if plan.household.days_wanted is None:
        return Finding(
            "stay.days",
            Verdict.FINE,
            say("The van can stay out {stay}; no stay is wanted by the plan.{next}", stay=stay, next=following),
            change=change,
            gain=gain,
            address="household.days_wanted",
            source="quotients of daily means",
        )
    wanted = planned(plan, "household.days_wanted", STAY)
    return Finding(
        "stay.days",
        judge(stay.shown, wanted.amount, "at least"),
        say("The van can stay out {stay}; {wanted} are wanted.{next}", stay=stay, wanted=wanted, next=following),
        value=stay.shown,
        limit=wanted.amount,
        change=change,
        gain=gain,
        address=f"tanks.{first.tanks[0]}.capacity" if first.tanks else "battery.charge",
        source="the plan's own wish",
        bound="at least",
    )


def _longer(plan: Plan, batch: Batch, days: Days, lengthened: Sequence[OnTheWay]) -> tuple[Say | None, Say | None]:
    """What makes the stay as long as is wanted, else longer, and by how much."""
    stay, every = days.stay, days.stores
    first = every[0]
    spared = [use.name for use in days.uses if use.name not in NEEDED and use.fresh.likely > 0]
    gains = {name: stay.gain(batch.place(f"half {name}"), f"half the {name}") for name in spared}
    use = max(gains, key=lambda name: gains[name].likely, default="")
    worth = bool(use) and gains[use].likely > 0.02 * stay.likely
    half = say("halve the water for the {use}", use=use) if worth else None
    gain = say("{days} more", days=gains[use]) if worth else None
    wanted = planned(plan, "household.days_wanted", STAY)
    if stay.likely < wanted.likely:
        lacks = tuple(_lack(store, every, wanted.likely) for store in every if store.days.likely < wanted.likely)
        if half is None:
            return say("For {wanted}, {lacks}.", wanted=wanted, lacks=lacks), None
        return say("For {wanted}, {lacks}; or {half}.", wanted=wanted, lacks=lacks, half=half), gain
    if first.holds == "battery":
        return say("To stay longer, charge more, or heat less water from the battery."), None
    then = next((way for way in lengthened if way.store == first.name), None)
    if first.holds in ("urine", "cassette") and then is not None:
        gain = say("{days}", days=then.stay.rounded(2))
        return say("To stay longer, empty the {store} once on the way.", store=first.name), gain
    return (None, None) if half is None else (say("To stay longer, {half}.", half=half), gain)


def _lack(store: StoreDays, every: Sequence[StoreDays], wanted: float) -> Say:
    """What a store needs to last as long as is wanted."""
    usable, a_day = store.usable.likely, store.a_day.likely
    alone = sum(other.holds == store.holds for other in every) == 1
    if store.holds in ("urine", "cassette") and usable > 0:
        dumps = int(np.ceil(wanted * a_day / usable - 1e-9)) - 1
        often = say("once") if dumps == 1 else say("{count}", count=Count(dumps, "time"))
        return say("empty the {store} {often} on the way", store=store.name, often=often)
    lack = stated(
        f"what {store.name} lacks",
        wanted * a_day - usable,
        ENERGY if store.holds == "battery" else VOLUME,
        "What goes in or out over the days wanted, less what it gives or takes.",
        facts=[("a day", store.a_day), ("holds", store.usable)],
        source="balance of the store",
    ).keyed(*key_of(store), "lack", digits=2)
    if store.holds == "battery":
        return say("charge {energy} more", energy=lack)
    more = {"fresh": "carry {litres} more fresh water", "grey": "hold {litres} more grey water"}.get(
        store.holds, "hold {litres} more"
    )
    if alone and store.holds in ("fresh", "grey"):
        return say(more, litres=lack)
    return say(f"{more} in {{store}}", litres=lack, store=store.name)


def _person_finding(a_person: Number) -> Finding:
    low, high = (
        limit(f"{end} use a person", litres, DAILY_VOLUME, "common practice") for end, litres in LITRES_A_PERSON
    )
    outside = not low.likely <= a_person.likely <= high.likely
    return Finding(
        "stay.person",
        Verdict.WATCH if outside else Verdict.FINE,
        say(
            "Each person uses {litres}; people in vans use {low} to {high}.",
            litres=a_person.amount,
            low=low,
            high=high,
        ),
        change=say("Check the uses with the household before parts are ordered.") if outside else None,
        address="household.habits",
        source="common practice",
    )


def _reach_findings(batch: Batch) -> Iterator[Finding]:
    for name, tank in batch.plan.tanks.items():
        if tank.holds != "fresh":
            continue
        reach = tank_reach(batch, name)
        full = float(reach.full[0])
        if reach.how == "assumed" or not full > 0 or not float(reach.out_of_reach[0]) > OUT_OF_REACH * full:
            continue
        left = stated(
            f"out of reach in {name}",
            reach.out_of_reach,
            VOLUME,
            "Content below the pick-up as parked.",
            source="volume of a tilted tank",
        ).keyed("tank", name, "out_of_reach")
        share = stated(
            f"share of {name} out of reach",
            reach.out_of_reach / reach.full,
            SHARE,
            "Content below the pick-up as parked, of the full tank's.",
            facts=[("out of reach", left), ("full", (reach.full, VOLUME))],
            source="volume of a tilted tank",
        ).keyed("tank", name, "out_of_reach_share", digits=2)
        yield Finding(
            f"stay.reach.{name}",
            Verdict.WATCH,
            say(
                "Parked as planned, {left} in the tank {tank} lie out of the pick-up's reach, {share} of it.",
                left=left,
                tank=name,
                share=share,
            ),
            value=share.amount,
            limit=limit("share out of reach", OUT_OF_REACH, SHARE, "common practice", digits=2).amount,
            change=say("Put the pick-up lower or at the end that lies low, or level the van."),
            address=f"tanks.{name}.pickup",
            source="volume of a tilted tank; the limit is common practice",
        )


def unreached(batch: Batch) -> Iterator[Assumption]:
    """What is assumed of pick-ups whose reach is not known.

    Parameters
    ----------
    batch : Batch
        The plan with its rows.

    Yields
    ------
    Assumption
        One for each such fresh tank.
    """
    for name, tank in batch.plan.tanks.items():
        if tank.holds == "fresh" and tank_reach(batch, name).how == "assumed":
            yield Assumption(
                f"reach.{name}",
                say(
                    "The pick-up of the {tank} is taken to leave {share} of it.",
                    tank=name,
                    share=limit("share that a pick-up leaves", UNREACHED, SHARE, "common practice", digits=2),
                ),
                "Draw the tank down until the pump sucks air and measure what is left.",
                "common practice",
                f"tanks.{name}.out_of_reach",
            )
