"""What is to be said of tanks, their pads and exposed runs: whether they hold, how long they last without heat."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence

from vanwater.answers.core.finding import Finding, Verdict, judge
from vanwater.answers.core.number import Number
from vanwater.answers.core.statement import Given, Say, say
from vanwater.answers.core.working import limit, planned
from vanwater.answers.frost.battery import PadsADay, nights
from vanwater.answers.frost.cold import FREEZING, NIGHT, Cold, lasting, pads_off, unwarmed
from vanwater.answers.frost.cold_rows import INSIDE, MORE_FOAM, SLEEVED, added, sleeve
from vanwater.answers.frost.pads import PadFrost
from vanwater.answers.frost.protection import protection
from vanwater.answers.frost.runs import RunFrost
from vanwater.answers.frost.tank import TankFrost
from vanwater.physics.water import FREEZING_POINT
from vanwater.quantities import ROAD_SPEED, SHARE
from vanwater.system.exposed import least_slope, waste_runs

__all__ = ["frost_findings"]

SLOPES = "common practice; smooth pipes by EN 12056-2, from memory"

BALANCE = "heat balance; films by VDI Heat Atlas (2010), section G4, and Churchill and Chu (1975)"


def frost_findings(
    cold: Cold,
    tanks: Sequence[TankFrost],
    pads: Mapping[str, PadFrost],
    runs: Sequence[RunFrost],
    day: PadsADay | None,
) -> Iterator[Finding]:
    """What is to be said of a plan in the cold.

    Parameters
    ----------
    cold : Cold
        The solved plan.
    tanks : sequence of TankFrost
        Its tanks in the cold.
    pads : mapping of str to PadFrost
        The pads of each of them.
    runs : sequence of RunFrost
        Its exposed runs, the one that freezes first first.
    day : PadsADay or None
        What the pads that it feeds take from the battery.

    Yields
    ------
    Finding
        In no order.
    """
    for tank in tanks:
        if tank.tank in pads:
            yield from _pad(cold, tank, pads[tank.tank])
        else:
            yield _unheated(cold, tank, say("nothing heats the {tank}", tank=tank.label))
    for name in cold.plan.pads:
        yield protection(cold.plan, name)
    if runs:
        yield _run(cold, runs[0])
    if cold.plan.pads:
        yield nights(cold, day)


def _unheated(cold: Cold, tank: TankFrost, begun: Say) -> Finding:
    """A tank that nothing heats while parked: fine where it never freezes, or outlasts a night before a thaw."""
    key, address = f"frost.{tank.tank}.hours", f"tanks.{tank.tank}"
    rest = tank.rest["parked"]
    if rest.likely >= FREEZING_POINT:
        return Finding(
            key,
            Verdict.FINE,
            say(
                f"{pads_off(cold.plan, True)}: the {{tank}} comes to rest at {{rest}}; the room beside it "
                "keeps it from freezing.",
                tank=tank.label,
                rest=rest.rounded(2),
            ),
            address=address,
            source=BALANCE,
        )
    full, tenth = (tank.hours["parked"][fill] for fill in ("full", "tenth"))
    lasts = cold.mean.likely >= FREEZING_POINT and _least(tenth) >= NIGHT.likely
    longer = tenth.gain(cold.batch.place(MORE_FOAM), MORE_FOAM)
    heat = max(tank.loss.values(), key=lambda loss: loss.likely)
    return Finding(
        key,
        Verdict.FINE if lasts else Verdict.WATCH,
        say(
            f"{pads_off(cold.plan, True)}: {{begun}}; in {{cold}} it is at {{freezing}} after {{full}} when full, its "
            "last tenth after {tenth}, blocked after {blocked}.",
            freezing=FREEZING,
            begun=begun,
            blocked=lasting(tank.blocked["tenth"]),
            cold=cold.outside,
            full=full.amount,
            tenth=tenth,
        ),
        value=tenth.shown,
        limit=NIGHT.amount,
        change=None
        if lasts
        else say(
            "Drain it before frost, or put {heat} of heat into its water; {foam} more foam on its cold faces",
            foam=added(cold.batch.plan),
            heat=heat.rounded(2),
        ),
        gain=None if lasts else say("its last tenth lasts {hours} longer", hours=lasting(longer)),
        address=address,
        source=BALANCE,
        bound="at least",
    )


def _run(cold: Cold, run: RunFrost) -> Finding:
    """The run that freezes first: it fails where it is blocked within a night, for then no water comes at all."""
    key, hours = f"frost.{run.run}.freezes", run.blocked
    if not math.isfinite(hours.likely):
        return Finding(
            key,
            Verdict.FINE,
            say("No exposed run freezes: the boxes stay above {freezing}.", freezing=FREEZING),
            address="frost.box",
            source=BALANCE,
        )
    verdict = judge(hours.shown, NIGHT.amount, "at least")
    sleeved, inside = (hours.then(cold.batch.place(change), change) for change in (SLEEVED, INSIDE))
    gain = say("it never freezes there")
    if math.isfinite(inside.likely):
        gain = say("{hours} there", hours=lasting(inside))
    if sleeved.likely > hours.likely:
        gain = say(
            "{there}; a sleeve of {foam} alone makes it {hours}",
            there=gain,
            foam=sleeve(cold.batch.plan),
            hours=lasting(sleeved),
        )
    return Finding(
        key,
        verdict,
        say(
            f"Van heated, the {{run}}{unwarmed(cold.plan)} freezes first: its still water is at {{freezing}} after "
            "{cools}, blocked after {hours}.",
            run=run.label,
            freezing=FREEZING,
            cools=run.hours["parked"].amount,
            hours=hours,
        ),
        value=hours.shown,
        limit=NIGHT.amount,
        change=None if verdict is Verdict.FINE else _kept(cold, run),
        gain=None if verdict is Verdict.FINE else gain,
        address=f"runs.{run.run}.beside",
        source="Churchill and Bernstein (1977), Churchill and Chu (1975); heat of water and wall",
        bound="at least",
    )


def _kept(cold: Cold, run: RunFrost) -> Say:
    """What keeps a run from freezing."""
    if run.trap:
        return say("Leave antifreeze of propylene glycol in it, or take the trap into the heated room")
    if run.run in waste_runs(cold.plan):
        least = limit("slope that empties a waste run", least_slope(cold.plan.runs[run.run].size), SHARE, SLOPES)
        return say("Let it fall {slope} all the way, or lay it in the heated room", slope=least)
    return say("Drain it before frost, or lay it in the heated room")


def _least(hours: Number) -> float:
    """The lower end of a range, the number itself where it has none."""
    return hours.range[0] if hours.range is not None else hours.likely


def _pad(cold: Cold, tank: TankFrost, pad: PadFrost) -> Iterator[Finding]:
    """The pads of one tank: whether they hold it parked and on the road."""
    if not any(math.isfinite(holds.likely) for holds in pad.holds.values()):
        yield Finding(
            f"frost.{tank.tank}.pad",
            Verdict.FINE,
            say("The {tank} has no face toward the outside: its pad holds it at any cold.", tank=tank.label),
            address=f"pads.{pad.heat.pads[0]}.power",
            source=BALANCE,
        )
        return
    if "parked" in pad.states:
        yield _parked(cold, tank, pad)
    if "parked" not in pad.states or pad.at_a_socket:
        when = "away from a socket" if pad.at_a_socket else "with the engine off"
        yield _unheated(cold, tank, say(f"{when}, nothing heats the {{tank}}", tank=tank.label))
    if "driving" in pad.states:
        yield _on_the_road(cold, tank, pad)


def _parked(cold: Cold, tank: TankFrost, pad: PadFrost) -> Finding:
    holds = pad.holds["parked"]
    verdict = judge(holds.shown, cold.outside.amount)
    fails = verdict is Verdict.FAILS
    where = "at a socket" if pad.at_a_socket else "parked"
    begun = (
        f"The {'pads do' if pad.many else 'pad does'} not hold the {{tank}} at {{hold}} in {{cold}}: {where} "
        f"{'they hold' if pad.many else 'it holds'} down to {{lowest}}."
        if fails
        else f"The {_hold(pad)} the {{tank}} at {{hold}} down to {{lowest}} {where}; {{cold}} is the cold it is "
        "planned for."
    )
    return Finding(
        f"frost.{tank.tank}.pad",
        verdict,
        say(begun, tank=tank.label, hold=cold.hold, lowest=holds, cold=cold.outside),
        value=holds.shown,
        limit=cold.outside.amount,
        change=_stronger(pad, "parked") if fails else _measure(pad) if verdict is Verdict.WATCH else None,
        gain=_foamed(cold, pad) if fails else None,
        address=f"pads.{pad.heat.pads[0]}.power",
        source=BALANCE,
    )


def _hold(pad: PadFrost) -> str:
    return "pads hold" if pad.many else "pad holds"


def _stronger(pad: PadFrost, state: str) -> Say:
    what = "pads of {least} or more in all" if pad.many else "a pad of {least} or more"
    return say(f"Fit {what} instead of {{now}}", least=pad.to_fit(state), now=pad.power[pad.states[0]])


def _foamed(cold: Cold, pad: PadFrost) -> Say:
    colder = pad.holds[pad.states[0]].gain(cold.batch.place(MORE_FOAM), MORE_FOAM)
    return say(
        "it holds then; {foam} more foam on the cold faces alone brings {colder}",
        foam=added(cold.batch.plan),
        colder=colder.negated,
    )


def _measure(pad: PadFrost) -> Say:
    return say("Measure first: {what}.", what=pad.holds[pad.states[0]].influences[0].name)


def _on_the_road(cold: Cold, tank: TankFrost, pad: PadFrost) -> Finding:
    holds = pad.holds["driving"]
    verdict = judge(holds.shown, cold.outside.amount)
    given: dict[str, Given] = {
        "speed": planned(cold.plan, "frost.road_speed", ROAD_SPEED, 2),
        "tank": tank.label,
        "lowest": holds,
    }
    told = say(f"On the road at {{speed}} the {_hold(pad)} the {{tank}} down to {{lowest}}.", **given)
    if verdict is Verdict.FAILS:
        lasts = pad.lasts
        stays = (
            say("its last tenth is at {freezing} after {time}", freezing=FREEZING, time=lasting(lasts))
            if math.isfinite(lasts.likely)
            else say("it cools, but stays above {freezing}", freezing=FREEZING)
        )
        told = say(
            f"On the road at {{speed}} the {_hold(pad)} the {{tank}} only down to {{lowest}}; in {{cold}} {{stays}}.",
            cold=cold.outside,
            stays=stays,
            **given,
        )
        verdict = Verdict.FAILS if lasts.likely < cold.plan.day.driving else Verdict.WATCH
    small = verdict is not Verdict.FINE and pad.duty["driving"].likely > 1.0
    return Finding(
        f"frost.{tank.tank}.driving",
        verdict,
        told,
        value=holds.shown,
        limit=cold.outside.amount,
        change=None
        if verdict is Verdict.FINE
        else _stronger(pad, "both" if "parked" in pad.states else "driving")
        if small
        else _measure(pad),
        gain=_foamed(cold, pad) if small else None,
        address=f"pads.{pad.heat.pads[0]}.power",
        source=BALANCE,
    )
