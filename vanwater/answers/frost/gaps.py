"""What the plan does not say of the cold, what is taken instead, and that there is no frost to fear."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from vanwater.answers.core.answer import Assumption
from vanwater.answers.core.finding import Finding, Verdict
from vanwater.answers.core.number import Number
from vanwater.answers.core.statement import say
from vanwater.answers.core.working import planned, stated
from vanwater.answers.frost.cold import FREEZING, Cold
from vanwater.answers.frost.heating_off import HeatingOff
from vanwater.answers.frost.icing import to_block
from vanwater.plan.frost_tables import BurstRow, bursts
from vanwater.plan.model import Plan
from vanwater.plan.tanks import label_of
from vanwater.plan.winter import BESIDE
from vanwater.quantities import CONDUCTIVITY, SHARE, TEMPERATURE, THICKNESS, Quantity
from vanwater.system.exposed import HOSE_WALL, LEAST_SLOPE, waste_runs
from vanwater.system.heat import FACES, FOAM_CONDUCTIVITY, WALL, beside

__all__ = ["assumptions", "gap_findings", "no_frost"]

SIDES = {
    "box": ("length", "its inside length, width and height"),
    "lying cylinder": ("length", "its inside length and diameter"),
    "standing cylinder": ("height", "its inside height and diameter"),
}


def no_frost(plan: Plan) -> Finding:
    """The finding where the plan says no cold, or where its coldest hours are no frost.

    Parameters
    ----------
    plan : Plan
        A plan without a design cold below 0 °C.

    Returns
    -------
    Finding
        Not decided, or fine.
    """
    if plan.frost.design_cold is None:
        return Finding(
            "frost.cold",
            Verdict.NOT_DECIDED,
            say("What the van does in frost is not decided yet."),
            change=say("Give the coldest hours that it must stand, and the mean of such a day."),
            address="frost.design_cold",
        )
    at = planned(plan, "frost.design_cold", TEMPERATURE)
    return Finding(
        "frost.cold",
        Verdict.FINE,
        say("No frost to fear at {cold}.", cold=at),
        value=at.amount,
        limit=FREEZING.amount,
        address="frost.design_cold",
        source="freezing of water",
        bound="at least",
    )


def gap_findings(cold: Cold) -> Iterator[Finding]:
    """The findings on what is not decided, and on tanks that stand warm.

    Parameters
    ----------
    cold : Cold
        The solved plan.

    Yields
    ------
    Finding
        Not decided, with what to measure; fine for tanks in the warm.
    """
    for name in cold.gaps:
        tank = cold.plan.tanks[name]
        unsaid = any(beside(tank, face) is None for face in FACES)
        if tank.inside_height is None and not unsaid:
            field, sides = SIDES[tank.shape]
            yield Finding(
                f"frost.{name}.sides",
                Verdict.NOT_DECIDED,
                say("How fast the {tank} cools is not decided: its sides are not known.", tank=label_of(name)),
                change=say("Measure {sides}.", sides=say(sides)),
                address=f"tanks.{name}.{field}",
            )
        if unsaid:
            yield Finding(
                f"frost.{name}.beside",
                Verdict.NOT_DECIDED,
                say(
                    "Whether the {tank} can freeze is not decided: where it lies is not said.",
                    tank=label_of(name),
                ),
                change=say("Write what lies beside it, outside, box or room; or its height above the floor."),
                address=f"tanks.{name}.beside",
            )
    for name in cold.bare:
        yield Finding(
            f"frost.{name}.bore",
            Verdict.NOT_DECIDED,
            say("How fast the run {run} freezes is not decided.", run=name),
            change=say("Give its size, or its bore and outside diameter."),
            address=f"runs.{name}.size",
        )
    if cold.warm:
        yield Finding(
            "frost.warm",
            Verdict.FINE,
            say(
                "In the warm, out of the frost as long as the van is heated: {tanks}.",
                tanks=tuple(label_of(name) for name in cold.warm),
            ),
            address=f"tanks.{cold.warm[0]}.beside",
            source="the plan's own word",
        )


def assumptions(cold: Cold, off: HeatingOff | None) -> Iterator[Assumption]:
    """What was taken to be so.

    Parameters
    ----------
    cold : Cold
        The solved plan.
    off : HeatingOff or None
        The van with the heating off.

    Yields
    ------
    Assumption
        Room and boxes, runs of which nothing is said, walls and foams of which nothing is said.
    """
    plan = cold.plan
    yield Assumption(
        "heated room",
        say(
            "The room is kept at {room}; pump, heater, taps and every run of which nothing is said lie in it.",
            room=planned(plan, "frost.room", TEMPERATURE),
        ),
        "Put a thermometer beside pump and heater on a cold night.",
        "common practice",
        "frost.room",
    )
    if off is not None:
        yield _cools(off)
    if cold.tanks or cold.runs or off is not None:
        yield _ices(cold)
    if plan.frost.box is None and _boxed(cold):
        yield Assumption(
            "boxes",
            say(
                "The boxes are taken to be half way between room and outside, {box}.",
                box=_half_way(cold),
            ),
            "Put a thermometer into the box on a cold night.",
            "common practice",
            "frost.box",
        )
    taken = [name for name in cold.tanks if plan.tanks[name].wall is None]
    if taken:
        yield Assumption(
            "tank walls",
            say(
                "The wall of {tanks} is taken as {wall}.",
                tanks=tuple(label_of(name) for name in taken),
                wall=_taken("wall of a tank", WALL, THICKNESS),
            ),
            "Measure it at the filler; with foam outside it hardly counts.",
            "common practice",
            f"tanks.{taken[0]}.wall",
        )
    if _plain_foam(cold):
        yield Assumption(
            "foam",
            say(
                "Insulation of which nothing else is said is closed-cell foam of {foam}.",
                foam=_taken("conductivity of foam", FOAM_CONDUCTIVITY, CONDUCTIVITY),
            ),
            "Read its data sheet.",
            "TIASA Thermal Insulation Handbook (2001), section 4.5",
        )
    unsaid = [run.run for run in cold.runs if plan.runs[run.run].size is None and plan.runs[run.run].material is None]
    if unsaid:
        yield Assumption(
            "run materials",
            say(
                "What the wall of {runs} is made of is not said: it is taken to let heat through like metal and to "
                "hold as little of it as soft plastic, which freezes soonest.",
                runs=tuple(unsaid),
            ),
            "Give its stock size, or its material.",
            "EN 12524 (materials); the side that freezes sooner",
            f"runs.{unsaid[0]}.material",
        )
    falling = [
        name
        for name in waste_runs(plan)
        if plan.runs[name].beside in ("outside", "box") and plan.runs[name].slope is None
    ]
    if falling:
        yield Assumption(
            "waste runs",
            say(
                "Waste runs fall all the way and stand empty between uses, as far as is known: {runs}. A corrugated "
                "hose needs {slope} of slope.",
                runs=tuple(falling),
                slope=_taken("slope that empties a waste hose", LEAST_SLOPE, SHARE),
            ),
            "Lay a level along it where it is flattest.",
            "common practice; smooth pipes by EN 12056-2, from memory",
            f"runs.{falling[0]}.slope",
        )
    own = [run.run for run in cold.runs if not run.wall_known]
    if own:
        yield Assumption(
            "hose walls",
            say(
                "The wall of {runs} is taken as {wall}.",
                runs=tuple(own),
                wall=_taken("wall of a hose", HOSE_WALL, THICKNESS),
            ),
            "Measure its outside diameter.",
            "common practice",
            f"runs.{own[0]}.outside",
        )


def _cools(off: HeatingOff) -> Assumption:
    """How fast the living room cools."""
    said = off.cold.plan.body.measured is not None
    return Assumption(
        "van's body",
        say(
            "Once the heating stops, the air in the living room falls by {fall} of its difference to the outside at "
            "once, and what is left of it falls to 37 % every {constant}.",
            fall=off.fall,
            constant=off.time_constant,
        ),
        ""
        if said
        else "Measure first: on a cold night read the room half an hour after the heating stopped and two hours later, "
        "beside the outside; give both as body.measured.",
        "readings in the plan" if said else "common practice, from memory",
        "body.measured" if said else "body.size",
    )


def _ices(cold: Cold) -> Assumption:
    """How much ice blocks, and how much bursts."""
    kinds = bursts()
    return Assumption(
        "ice",
        say(
            "Still water cools to some degrees below {freezing} and then turns at once to ice by {block}, which blocks "
            "it. Shut in, brass, copper and stiff plastic are in danger at {stiff} more, PEX and polyethylene at "
            "{yielding} more; soft hose, and what has air beside it, nearly solid.",
            freezing=FREEZING,
            block=to_block(cold),
            stiff=_more(kinds["stiff"]),
            yielding=_more(kinds["yielding"]),
        ),
        "",
        "common practice, from memory",
        "frost.ice_share",
    )


def _more(row: BurstRow) -> Number:
    ice = row.more_ice
    more = stated(f"more ice than blocks: {row.name}", ice.likely, SHARE, row.name, source=f"{row.source}, from memory")
    return more.keyed("ice", "more", row.key, bracket=(ice.low, ice.high), digits=2)


def _half_way(cold: Cold) -> Number:
    room = planned(cold.plan, "frost.room", TEMPERATURE)
    return stated(
        "temperature in the boxes",
        cold.around.temperature[BESIDE.index("box")],
        TEMPERATURE,
        "Half way between the room and the outside.",
        facts=[("room", room), ("outside", cold.outside)],
        source="common practice",
    ).keyed("box", "temperature", exact="taken as it is")


def _taken(name: str, value: float, quantity: Quantity) -> Number:
    number = stated(name, value, quantity, "Taken where the plan does not say it.", source="common practice")
    return number.keyed("assumption", name, exact="taken as it is")


def _boxed(cold: Cold) -> bool:
    tanks = any((cold.tanks[name].heat.codes[0] == 1).any() for name in cold.tanks)
    return tanks or any(run.codes[0] == 1 for run in cold.runs)


def _plain_foam(cold: Cold) -> bool:
    plan = cold.plan
    soft = any(
        np.any(np.asarray(one.heat.layers.foam)[0] > 0) and plan.tanks[name].foam_conductivity is None
        for name, one in cold.tanks.items()
    )
    return soft or any(
        (plan.runs[run.run].foam or 0.0) > 0 and plan.runs[run.run].foam_conductivity is None for run in cold.runs
    )
