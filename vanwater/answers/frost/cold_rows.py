"""What is not sure on a cold night, and what could be done about it: rows of the same solve."""

from __future__ import annotations

from collections.abc import Iterable

from vanwater.answers.core.number import Number
from vanwater.answers.core.unsure import pads_on
from vanwater.answers.core.working import stated
from vanwater.plan.model import Plan
from vanwater.plan.sold import sold
from vanwater.quantities import THICKNESS
from vanwater.system.batch import Row, Unsure
from vanwater.system.heat import FACES, beside
from vanwater.system.icing import BLOCK, BURST
from vanwater.system.van_body import AIR, BODY, body_row

__all__ = ["INSIDE", "IN_WORDS", "MORE_FOAM", "SLEEVED", "added", "cold_remedies", "sleeve", "unsure_cold"]

MORE_FOAM, SLEEVED, INSIDE = "more foam", "sleeved", "inside"
"""Rows of the remedies: foam on the cold faces, sleeves on the runs, exposed runs in the heated room."""


def _foam(key: str, metres: float, name: str) -> Number:
    foam = stated(name, metres, THICKNESS, "Foam that a remedy adds.", source="stock thickness, common practice")
    return foam.keyed("remedy", key, "foam", exact="a stock thickness", digits=2)


def added(plan: Plan) -> Number:
    """Foam that the remedies put on cold faces, as it is sold where the plan's units are used [m]."""
    return _foam("cold faces", sold(plan.us).foam, "foam on the cold faces of a tank")


def sleeve(plan: Plan) -> Number:
    """Sleeve that the remedies put on runs, likewise [m]."""
    return _foam("runs", sold(plan.us).sleeve, "sleeve on a run")


_THICKEST = 0.3

PAD_SHARE = Unsure(
    "pad share",
    "the share of a pad's heat that reaches the water",
    0.8,
    1.15,
    "Run the pad on the full tank for an hour in the cold and read how far the water warms.",
    "common practice: 15 to 40 % of a pad's heat goes outward",
)
FOAM = Unsure(
    "foam",
    "what the insulation lets through",
    0.85,
    1.25,
    "Read the foam's data sheet; look for gaps, straps and damp.",
    "common practice: gaps, straps and damp let more through than the data sheet says",
)
WIND = Unsure(
    "wind",
    "the wind around the parked van",
    0.5,
    2.0,
    "Count on the windy night, or park out of the wind.",
    "common practice",
)

FIRST_ICE = (0.05, 0.10)
"""Share of still water that turns to ice at once, cooled to −4 to −7 °C (common practice, from memory)."""

BURSTS = Unsure(
    BURST,
    "how much ice bursts a piece",
    0.0,
    2.0,
    "Drain it before that; it is measured only by losing the piece.",
    "common practice, from memory",
)
IN_WORDS = frozenset({BODY, AIR, BLOCK, BURST})
"""Inputs whose ranges are told in a sentence of their own, in degrees, hours and shares of ice."""

UNDER_FLOOR = (0.3, 0.7)
"""Share of the road speed at which the air runs under a van's floor (common practice)."""


def unsure_cold(plan: Plan) -> tuple[Unsure, ...]:
    """The inputs of a cold night that are never known well.

    Parameters
    ----------
    plan : Plan
        The plan.

    Returns
    -------
    tuple of Unsure
        The pad's share only where a pad is planned; the share of the road speed by common practice, or a fifth either
        way where the plan says it.
    """
    said = "under_floor" in plan.own.get("frost", {})
    share = plan.frost.under_floor
    low, high = (0.8, 1.2) if said or share <= 0 else (end / share for end in UNDER_FLOOR)
    under_floor = Unsure(
        "under floor",
        "the share of the road speed that the air has under the floor",
        low,
        high,
        "Hold an anemometer under the floor on the road.",
        "common practice: 0.3 to 0.7 of the road speed",
    )
    pads = ((PAD_SHARE,) if plan.pads else ()) + pads_on(plan)
    return (*pads, WIND, under_floor, FOAM, *_body(plan), _block(plan), BURSTS)


def _body(plan: Plan) -> tuple[Unsure, Unsure]:
    """How fast the room cools: by what vans of its size scatter by, a fifth either way where the plan says it."""
    row, said = body_row(plan), plan.body.time_constant is not None or plan.body.measured is not None
    low, likely, high = row.time_constant.low, row.time_constant.likely, row.time_constant.high
    ends = (0.8, 1.2) if said else (low / likely, high / likely)
    measure = "Read the room half an hour after the heating stopped and two hours later: body.measured."
    falls = row.falls
    return (
        Unsure(BODY, "how fast the living room cools", *ends, measure, "common practice, from memory"),
        Unsure(
            AIR,
            "how far its air falls at once",
            falls.low / falls.likely,
            falls.high / falls.likely,
            measure,
            "common practice, from memory",
        ),
    )


def _block(plan: Plan) -> Unsure:
    """Which share of ice blocks: what turns at once, a fifth either way where the plan says it."""
    share, said = plan.frost.ice_share, "ice_share" in plan.own.get("frost", {})
    low, high = (0.8, 1.2) if said else (end / share for end in FIRST_ICE)
    return Unsure(
        BLOCK,
        "how much ice blocks still water",
        low,
        high,
        "Hold a hose full of still water in the frost until it blocks.",
        "common practice, from memory",
    )


def cold_remedies(plan: Plan, lying: Iterable[str], standing: Iterable[str]) -> list[Row]:
    """What could be done; pieces do not touch each other, so one row serves all of a kind.

    Parameters
    ----------
    plan : Plan
        The plan.
    lying : iterable of str
        Its exposed runs.
    standing : iterable of str
        All runs in which water stands.

    Returns
    -------
    list of Row
        More foam on cold faces, sleeves on the runs, exposed runs in the room.
    """
    foam, more, thick_sleeve = {}, added(plan).likely, sleeve(plan).likely
    for name, tank in plan.tanks.items():
        for face in FACES:
            if beside(tank, face) in ("outside", "box"):
                own = tank.faces[face].foam if face in tank.faces else None
                thick = own if own is not None else tank.foam or 0.0
                foam[f"tanks.{name}.faces.{face}.foam"] = min(thick + more, _THICKEST)
    thin = {f"runs.{name}.foam": thick_sleeve for name in standing if (plan.runs[name].foam or 0.0) < thick_sleeve}
    return [
        Row(MORE_FOAM, foam),
        Row(SLEEVED, thin),
        Row(INSIDE, {f"runs.{name}.beside": "room" for name in lying}),
    ]
