"""What is to be said of the heating off: what blocks first indoors, and whether a pad still holds its tank."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping

from vanwater.answers.core.finding import Finding, Verdict, judge
from vanwater.answers.core.number import Number
from vanwater.answers.core.statement import Count, Say, say
from vanwater.answers.core.working import by
from vanwater.answers.frost.cold import FREEZING, NIGHT, Cold, lasting
from vanwater.answers.frost.cold_rows import SLEEVED, sleeve
from vanwater.answers.frost.heating_off import HeatingOff, OffPiece
from vanwater.answers.frost.pads import COLDEST, PadFrost
from vanwater.physics import frost
from vanwater.plan.tanks import label_of
from vanwater.quantities import POWER, TEMPERATURE

__all__ = ["heat_needed", "off_findings", "pad_to_fit", "still_held"]

SOURCE = "heat balance; time constants of vans and shares of ice: common practice, from memory"


def off_findings(cold: Cold, off: HeatingOff | None, pads: Mapping[str, PadFrost]) -> Iterator[Finding]:
    """What is to be said of the heating off.

    Parameters
    ----------
    cold : Cold
        The solved plan.
    off : HeatingOff or None
        The van with the heating off.
    pads : mapping of str to PadFrost
        The pads of each tank.

    Yields
    ------
    Finding
        Each is fine or to be watched: a sound van fails by no fault that it does not have.
    """
    if off is None:
        return
    if off.first is not None:
        yield _indoors(cold, off, off.first)
    for name, pad in pads.items():
        if "parked" in pad.states and off.follows_room(name):
            yield _pad(cold, off, pad)


def _indoors(cold: Cold, off: HeatingOff, first: OffPiece) -> Finding:
    """The piece indoors that blocks first, held against a winter night."""
    watched = judge(first.blocked.shown, NIGHT.amount, "at least") is not Verdict.FINE
    others = sum(piece.blocked.likely < NIGHT.likely for piece in off.pieces if piece.indoors and piece.is_run) - 1
    more = say(
        f" {{count}} {'follows' if others == 1 else 'follow'} within {{night}}.",
        count=Count(others, "other run"),
        night=NIGHT,
    )
    return Finding(
        "frost.heating_off",
        Verdict.WATCH if watched else Verdict.FINE,
        say(
            "Heating off, the {piece} blocks first indoors: in {cold} its still water is at {freezing} after {cools}, "
            "blocked after {blocked}{bursts}.{more}",
            piece=first.label,
            cold=cold.outside,
            freezing=FREEZING,
            cools=first.freezing.amount,
            blocked=first.blocked,
            bursts=_bursts(first),
            more=more if first.is_run and others > 0 else say(""),
        ),
        value=first.blocked.shown,
        limit=NIGHT.amount,
        change=_kept(off, first) if watched else None,
        gain=_sleeved(cold, first) if watched else None,
        address=f"{first.lump.key[0]}s.{first.name}.{'foam' if first.is_run else 'beside'}",
        source=SOURCE,
        bound="at least",
    )


def _bursts(first: OffPiece) -> Say:
    if first.burst is None or not math.isfinite(first.burst.likely):
        return say("")
    return say(", where it is shut in it may burst after {burst}", burst=lasting(first.burst))


def _kept(off: HeatingOff, first: OffPiece) -> Say:
    """What keeps what blocks first from freezing."""
    if first.is_run:
        return say("Drain the water indoors before that, or bring the heat back.")
    return say(
        "Drain it before that, or put {heat} of heat into its water.", heat=heat_needed(off, first.name).rounded(2)
    )


def _sleeved(cold: Cold, first: OffPiece) -> Say | None:
    """What a sleeve brings a run."""
    sleeved = first.blocked.then(cold.batch.place(SLEEVED), SLEEVED)
    if not first.is_run or not sleeved.likely > first.blocked.likely:
        return None
    return say("a sleeve of {foam} alone makes it {hours}", foam=sleeve(cold.batch.plan), hours=lasting(sleeved))


def still_held(off: HeatingOff, pad: PadFrost) -> Number:
    """Lowest outside temperature at which the pads hold their tank parked, the room as cold as outside."""
    tank, through = pad.tank, off.through(pad.tank.tank)
    lowest = frost.lowest_cold(off.cold.hold.values, pad.heat.power[0], pad.heat.net_share[0], through.values)
    return by(
        f"lowest cold at which the {tank.label} is held with the room as cold",
        lowest,
        TEMPERATURE,
        frost.lowest_cold,
        hold=off.cold.hold,
        pad=lambda: pad.power["parked"],
        net_share=pad.heat.net_share[0],
        conductance=through,
    ).keyed("tank", tank.tank, "lowest_cold", "heating_off", pairs=off.cold.pairs)


def heat_needed(off: HeatingOff, tank: str) -> Number:
    """Heat that holds a tank in the design cold with the room as cold as outside."""
    cold, through = off.cold, off.through(tank)
    return by(
        f"heat to hold the {label_of(tank)} with the room as cold as outside",
        frost.holding_power(through.values, cold.hold.values, cold.outside.values),
        POWER,
        frost.holding_power,
        conductance=through,
        hold=cold.hold,
        outside=cold.outside,
    ).keyed("tank", tank, "heat_needed", "heating_off", pairs=cold.pairs, least=0.0)


def pad_to_fit(off: HeatingOff, pad: PadFrost) -> Number:
    """Power of a pad that holds the tank in the design cold with the room as cold as outside."""
    tank, cold = pad.tank, off.cold
    needed = heat_needed(off, tank.tank)
    return by(
        f"smallest pad that holds the {tank.label} with the room as cold as outside",
        frost.smallest_pad(needed.values, pad.heat.net_share[0]),
        POWER,
        frost.smallest_pad,
        needed=needed,
        net_share=pad.heat.net_share[0],
    ).keyed("tank", tank.tank, "smallest_pad", "heating_off", pairs=cold.pairs, digits=2)


def _pad(cold: Cold, off: HeatingOff, pad: PadFrost) -> Finding:
    """Whether the pads of a tank hold it also where the room warms it no longer."""
    holds, label = still_held(off, pad), pad.tank.label
    fine = judge(holds.shown, cold.outside.amount) is Verdict.FINE
    short = holds.likely > cold.outside.likely
    at = " at a socket" if pad.at_a_socket else " as long as its battery lasts"
    does = f"its {'pads hold' if pad.many else 'pad holds'}"
    lowest = say("{lowest}", lowest=holds) if holds.likely > COLDEST else say("any cold")
    return Finding(
        f"frost.{pad.tank.tank}.heating_off",
        Verdict.FINE if fine else Verdict.WATCH,
        say(
            f"Heating off, the room as cold as outside, {does} the {{tank}} {'only ' if short else ''}down to "
            f"{{lowest}}{at}; {{cold}} is the cold it is planned for.",
            tank=label,
            lowest=lowest,
            cold=cold.outside,
        ),
        value=holds.shown,
        limit=cold.outside.amount,
        change=None
        if fine
        else say(
            "Drain it when the heating stops; a pad of {watts} holds it without the room's heat.",
            watts=pad_to_fit(off, pad).amount,
        )
        if short
        else say("Measure first: {what}.", what=holds.influences[0].name),
        address=f"pads.{pad.heat.pads[0]}.power",
        source=SOURCE,
    )
