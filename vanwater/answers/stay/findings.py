"""What is to be said of a stay: its wish, its battery, litres a person, cold taps, water out of reach."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import numpy as np

from vanwater.answers.core.answer import Assumption
from vanwater.answers.core.finding import Finding, Verdict, judge
from vanwater.answers.core.spread import UnsureRows
from vanwater.answers.core.statement import say
from vanwater.answers.core.working import limit, planned, stated
from vanwater.answers.stay.days import Days
from vanwater.answers.stay.gaps import gaps
from vanwater.answers.stay.remedies import OnTheWay, longer
from vanwater.answers.stay.stores import StoreDays, ended
from vanwater.plan.model import Plan
from vanwater.plan.tanks import label_of
from vanwater.quantities import DAILY_VOLUME, SHARE, STAY, TEMPERATURE, VOLUME
from vanwater.system.batch import Batch
from vanwater.system.hot_pipe import comes_hot
from vanwater.system.stores import UNREACHED, outlet_of, tank_reach
from vanwater.system.water_temperature import at_outlet

__all__ = ["stay_findings", "unreached"]

LITRES_A_PERSON = {True: (6e-3 / 86400, 28e-3 / 86400), False: (4e-3 / 86400, 18e-3 / 86400)}
"""What people use a person and day, with a shower and without [m³/s]: a little beyond what the ready habits, careful to
home-like, come to with one to six people (common practice)."""

READY = ("urine", "cassette-flush")
"""The uses of the ready habits that fill a toilet tank."""

RINSE = 1e-3
"""Water each time up to which a use rinses the toilet itself, m³ (common practice)."""

OUT_OF_REACH = 0.1
"""Share of a tank below its pick-up that is told (common practice)."""


def stay_findings(
    plan: Plan, batch: Batch, days: Days, lengthened: Sequence[OnTheWay], slopes: Sequence[UnsureRows]
) -> Iterator[Finding]:
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
    slopes : sequence of UnsureRows
        The rows in which the van stands off its slope.

    Yields
    ------
    Finding
        In no order.
    """
    yield from gaps(plan, days)
    if days.stores and (np.isfinite(days.stay.likely) or days.stay.balanced):
        yield _stay_finding(plan, batch, days, lengthened)
    yield from _balance(plan, days.stores)
    if days.fresh.likely > 0:
        yield _person_finding(plan, days)
    yield from _cold_taps(batch)
    yield from _into_toilets(plan, days)
    yield from _reach_findings(batch, slopes)
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
    change, gain = longer(plan, batch, days, lengthened)
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


def _balance(plan: Plan, every: Sequence[StoreDays]) -> Iterator[Finding]:
    """That a battery is balanced on a mean day, beside the days that it lasts without any charge."""
    for store in every:
        lasts = store.uncharged
        if lasts is None or not store.days.balanced:
            continue
        wanted = planned(plan, "household.days_wanted", STAY)
        short = (store.days.range or (store.days.likely,))[0] < wanted.likely
        yield Finding(
            "stay.balance",
            Verdict.WATCH if short else Verdict.FINE,
            say(
                "On a mean day the battery is about balanced: what is put back may cover what is taken, or not. "
                "Without any charge it lasts {days}{wish}.",
                days=lasts,
                wish=say("; {wanted} are wanted", wanted=wanted) if short else say(""),
            ),
            change=say("In dull weather and without driving, take less from the battery.") if short else None,
            address="battery.charging",
            source="balance of daily means",
        )


def _cold_taps(batch: Batch) -> Iterator[Finding]:
    """Uses that want warm water at an outlet to which none comes: they are counted as cold."""
    plan = batch.plan
    for name, use in plan.uses.items():
        outlet = outlet_of(plan, name)
        if use.temperature is None or not use.a_day > 0 or use.temperature <= at_outlet(batch, outlet)[0]:
            continue
        if comes_hot(plan, outlet):
            continue
        yield Finding(
            f"stay.cold.{name}",
            Verdict.WATCH,
            say(
                "The use {use} wants {warm}, but no hot run leads to the {outlet}: it is counted as cold water.",
                use=name,
                warm=planned(plan, f"uses.{name}.temperature", TEMPERATURE),
                outlet=outlet,
            ),
            change=say("Lay a hot run there, or name the outlet where it is warm."),
            address=f"uses.{name}.outlet",
            source="the plan's own runs",
        )


def _into_toilets(plan: Plan, days: Days) -> Iterator[Finding]:
    """Uses that fill a toilet tank beside what people's own use puts there: counted twice, or washing water."""
    for store in days.stores:
        into = [use for use in days.uses if use.sink == store.name and use.back.likely > 0]
        own = [use for use in into if plan.uses[use.name].adds > 0]
        if store.holds in ("urine", "cassette") and len(own) > 1:
            yield Finding(
                f"stay.twice.{store.name}",
                Verdict.WATCH,
                say(
                    "The uses {uses} all fill the {store}, {litres} together: where they mean the same people, those "
                    "count twice.",
                    uses=tuple(sorted(use.name for use in own)),
                    store=store.name,
                    litres=store.a_day.amount,
                ),
                change=say("Keep one of them, and set the others to 0 times a day."),
                address=f"uses.{min(own, key=lambda use: use.name in READY).name}.adds",
                source="balance of the container",
            )
        for use in into:
            if store.holds == "urine" and use not in own:
                yield Finding(
                    f"stay.washing.{use.name}",
                    Verdict.WATCH,
                    say(
                        "The use {use} runs into the {store}, {litres} of the {all} that it takes.",
                        use=use.name,
                        store=store.name,
                        litres=use.back.amount,
                        all=store.a_day.amount,
                    ),
                    change=say("Lead its water to a grey tank."),
                    address=f"uses.{use.name}.to",
                    source="balance of the container",
                )


def _person_finding(plan: Plan, days: Days) -> Finding:
    showers = any(
        "shower" in f"{use.name} {plan.uses[use.name].outlet or ''}" and use.fresh.likely > 0 for use in days.uses
    )
    words = "with a shower" if showers else "without a shower"
    low, high = (
        limit(f"{end} use a person {words}", litres, DAILY_VOLUME, "common practice", digits=2)
        for end, litres in zip(("least", "most"), LITRES_A_PERSON[showers], strict=True)
    )
    outside = not low.likely <= days.a_person.likely <= high.likely
    return Finding(
        "stay.person",
        Verdict.WATCH if outside else Verdict.FINE,
        say(
            f"Each person uses {{litres}}; in vans {words} people use {{low}} to {{high}}.",
            litres=days.a_person.amount,
            low=low,
            high=high,
        ),
        change=say("Check the uses with the household before parts are ordered.") if outside else None,
        address="household.habits",
        source="common practice",
    )


def _reach_findings(batch: Batch, pairs: Sequence[UnsureRows]) -> Iterator[Finding]:
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
        ).keyed("tank", name, "out_of_reach", pairs=pairs, least=0.0)
        share = stated(
            f"share of {name} out of reach",
            reach.out_of_reach / reach.full,
            SHARE,
            "Content below the pick-up as parked, of the full tank's.",
            facts=[("out of reach", left), ("full", (reach.full, VOLUME))],
            source="volume of a tilted tank",
        ).keyed("tank", name, "out_of_reach_share", pairs=pairs, least=0.0, digits=2)
        yield Finding(
            f"stay.reach.{name}",
            Verdict.WATCH,
            say(
                "Parked as planned, {left} in the {tank} lie out of the pick-up's reach, {share} of it.",
                left=left,
                tank=label_of(name),
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
