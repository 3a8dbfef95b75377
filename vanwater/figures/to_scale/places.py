"""A plan as parts to be drawn to scale: where each sits as the plan says it, and the addresses of what it leaves open.

Nothing is placed by guessing. Of a submersible pump the tank says the place, for it hangs at the pick-up.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence

from vanwater.answers.core.number import Number
from vanwater.answers.core.working import planned, stated
from vanwater.answers.weight.answer import Weight
from vanwater.answers.weight.masses import FULL, HOME, LEAVING, STATE
from vanwater.figures.schematic.parts import KINDS, Asked
from vanwater.figures.schematic.pieces import kind_of
from vanwater.figures.to_scale.parts import AXES, Axis, Centre, Placed, Van
from vanwater.plan.model import Plan
from vanwater.plan.problems import joined
from vanwater.plan.tanks import Tank
from vanwater.quantities import PLACE, Array
from vanwater.system.numbering import PLACES, numbering

__all__ = ["LENGTHS", "placed_van"]

LENGTHS = ("wheelbase", "track", "front_overhang", "length", "width", "height", "floor", "wheel")
"""The vehicle's lengths that are drawn."""

_STATES = ((LEAVING, "W1"), (HOME, "W2"), (FULL, "W3"))
_OPENINGS = {"filler": "F", "drain": "D"}


def placed_van(asked: Asked) -> Van:
    """What of a plan is drawn to scale.

    Parameters
    ----------
    asked : Answers
        A plan and its answers.

    Returns
    -------
    Van
        Every numbered piece but those that ride on a run, with what the plan says of its place.
    """
    plan = asked.plan
    numbers = numbering(plan).pieces
    names = [(table, name) for table in PLACES for name in getattr(plan, table)]
    names.sort(key=lambda place: numbers[joined(place)])
    parts = [part for place in names for part in _of_part(plan, *place, str(numbers[joined(place)]))]
    lengths = {name: planned(plan, f"vehicle.{name}", PLACE) for name in LENGTHS}
    said = {name: number for name, number in lengths.items() if math.isfinite(number.likely)}
    lacks = tuple(f"vehicle.{name}" for name in LENGTHS if name not in said)
    return Van(tuple(parts), said, lacks, tuple(_centres(asked)))


def _of_part(plan: Plan, table: str, name: str, tag: str) -> Iterator[Placed]:
    part = getattr(plan, table)[name]
    if table == "pumps" and part.tank in plan.tanks:
        yield _hanging(plan, name, tag, part.tank)
        return
    kind = kind_of(table, part)
    what = f"{part.holds} {kind}" if table == "tanks" else KINDS.get(kind, kind)
    sides: Mapping[Axis, Number] = {}
    unsized: tuple[str, ...] = ()
    lies = ""
    if table == "tanks":
        sides, unsized = _sides(plan, (table, name), _axes_of(part))
        lies = _axis_of(part)
        if part.count > 1:  # how they stand beside each other is not said
            sides, unsized, what = {}, (), f"{part.count} {what}s"
    elif table == "heaters":
        sides, unsized = _sides(plan, (table, name), {"x": "length", "y": "width", "z": "height"})
    at, lacks = _at(plan, (table, name))
    yield Placed(
        key=joined((table, name)),
        tag=tag,
        kind=kind,
        name=name,
        what=what,
        at=at,
        sides=sides,
        round=lies if sides else "",  # type: ignore[arg-type]
        holds=part.holds if table == "tanks" else "",
        lacks=lacks,
        unsized=unsized,
        count=part.count if table == "tanks" else 1,
    )
    if table == "tanks":
        for opening, letter in _OPENINGS.items():
            if getattr(part, opening) is not None:
                at, lacks = _at(plan, (table, name, opening))
                yield Placed(
                    key=joined((table, name, opening)),
                    tag=f"{tag}{letter}",
                    kind=opening,
                    name=name,
                    what=opening,
                    at=at,
                    lacks=lacks,
                )


def _at(plan: Plan, place: tuple[str, ...]) -> tuple[dict[Axis, Number], tuple[str, ...]]:
    """What the plan says of a place, and the addresses of what it does not."""
    every = {axis: planned(plan, joined((*place, axis)), PLACE) for axis in AXES}
    said = {axis: number for axis, number in every.items() if math.isfinite(number.likely)}
    return said, tuple(joined((*place, axis)) for axis in AXES if axis not in said)


def _axes_of(tank: Tank) -> dict[Axis, str]:
    """The sides of a tank along the axes."""
    along, across = tank.footprint
    return {"x": along, "y": across, "z": "diameter" if tank.shape == "lying cylinder" else "height"}


def _axis_of(tank: Tank) -> str:
    if tank.shape == "box":
        return ""
    return "z" if tank.shape == "standing cylinder" else "y" if tank.lies == "across" else "x"


def _sides(
    plan: Plan, place: tuple[str, str], fields: Mapping[Axis, str]
) -> tuple[dict[Axis, Number], tuple[str, ...]]:
    """All sides as the plan gives them, or the addresses of those that it does not."""
    every = {axis: planned(plan, joined((*place, field)), PLACE) for axis, field in fields.items()}
    lacking = [joined((*place, fields[axis])) for axis, side in every.items() if not math.isfinite(side.likely)]
    return ({}, tuple(dict.fromkeys(lacking))) if lacking else (every, ())


def _hanging(plan: Plan, name: str, tag: str, tank: str) -> Placed:
    """A submersible pump at the pick-up of its tank."""
    holder = plan.tanks[tank]
    at, lacks = _at(plan, ("tanks", tank))
    for axis, field, side in zip(AXES, ("pickup_from_front", "pickup_from_left"), holder.footprint, strict=False):
        off = getattr(holder, field)
        if axis in at and off is not None:
            address = joined(("tanks", tank, side))
            if getattr(holder, side) is None:
                del at[axis]
                lacks = (*lacks, address)
                continue
            half = planned(plan, address, PLACE)
            parts = [("the tank's centre", at[axis].likely), ("half its side", -half.likely / 2), ("pick-up", off)]
            at[axis] = _added(name, axis, parts)
    if "z" in at and holder.pickup:
        at["z"] = _added(name, "z", [("the tank's floor", at["z"].likely), ("pick-up above it", holder.pickup)])
    key = joined(("pumps", name))
    return Placed(key=key, tag=tag, kind="pump", name=name, what="pump in its tank", at=at, lacks=lacks)


def _added(pump: str, axis: str, parts: Sequence[tuple[str, float]]) -> Number:
    pieces = [(label, (value, PLACE)) for label, value in parts]
    total: float | Array = sum(value for _, value in parts)
    number = stated(f"{axis} of {pump}", total, PLACE, "It hangs at the pick-up of its tank.", parts=pieces)
    return number.keyed("pump", pump, f"hangs_{axis}", exact="as planned")


def _centres(asked: Asked) -> Iterator[Centre]:
    """The water's centre of mass where the answer on weight has it."""
    answer = asked.each.get("weight")
    if not isinstance(answer, Weight) or not answer.masses.laden.things:
        return
    words = tuple(STATE.values())
    for state, tag in _STATES:
        behind, right = answer.masses.behind[state], answer.masses.beside[state]
        if math.isfinite(behind.likely):
            yield Centre(tag, words[state], behind, right if math.isfinite(right.likely) else None)
