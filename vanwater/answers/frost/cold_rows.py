"""What is not sure on a cold night, and what could be done about it: rows of the same solve."""

from __future__ import annotations

from collections.abc import Iterable

from vanwater.answers.core.number import Number
from vanwater.answers.core.working import stated
from vanwater.plan.model import Plan
from vanwater.plan.sold import sold
from vanwater.quantities import THICKNESS
from vanwater.system.batch import Row, Unsure
from vanwater.system.heat import FACES, beside

__all__ = ["INSIDE", "MORE_FOAM", "SLEEVED", "added", "cold_remedies", "sleeve", "unsure_cold"]

MORE_FOAM, SLEEVED, INSIDE = "more foam", "sleeved", "inside"
"""Rows of the remedies: foam on the cold faces, sleeves on exposed runs, exposed runs in the heated room."""


def _foam(key: str, metres: float, name: str) -> Number:
    foam = stated(name, metres, THICKNESS, "Foam that a remedy adds.", source="stock thickness, common practice")
    return foam.keyed("remedy", key, "foam", exact="a stock thickness", digits=2)


def added(plan: Plan) -> Number:
    """Foam that the remedies put on cold faces, as it is sold where the plan's units are used [m]."""
    return _foam("cold faces", sold(plan.us).foam, "foam on the cold faces of a tank")


def sleeve(plan: Plan) -> Number:
    """Sleeve that the remedies put on exposed runs, likewise [m]."""
    return _foam("runs", sold(plan.us).sleeve, "sleeve on an exposed run")


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
    return ((PAD_SHARE,) if plan.pads else ()) + (WIND, under_floor, FOAM)


def cold_remedies(plan: Plan, lying: Iterable[str]) -> list[Row]:
    """What could be done; pieces do not touch each other, so one row serves all of a kind.

    Parameters
    ----------
    plan : Plan
        The plan.
    lying : iterable of str
        Its exposed runs.

    Returns
    -------
    list of Row
        More foam on cold faces, sleeves on exposed runs, exposed runs in the room.
    """
    foam, more, thick_sleeve = {}, added(plan).likely, sleeve(plan).likely
    for name, tank in plan.tanks.items():
        for face in FACES:
            if beside(tank, face) in ("outside", "box"):
                own = tank.faces[face].foam if face in tank.faces else None
                thick = own if own is not None else tank.foam or 0.0
                foam[f"tanks.{name}.faces.{face}.foam"] = min(thick + more, _THICKEST)
    thin = {f"runs.{name}.foam": thick_sleeve for name in lying if (plan.runs[name].foam or 0.0) < thick_sleeve}
    return [
        Row(MORE_FOAM, foam),
        Row(SLEEVED, thin),
        Row(INSIDE, {f"runs.{name}.beside": "room" for name in lying}),
    ]
