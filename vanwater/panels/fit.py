"""Parts that a plan lacks and that its controls may yet fit: an accumulator behind a pump, a heating pad on a tank."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TypeAlias

from vanwater.answers.core.answer import Answer
from vanwater.answers.core.statement import Amount
from vanwater.answers.frost.question import Frost
from vanwater.answers.pump_starts.question import Accumulator
from vanwater.plan.address import note
from vanwater.plan.checks import PLACES
from vanwater.plan.model import Plan
from vanwater.quantities import NO_BREAK, PRESSURE, Quantity
from vanwater.system.compliance import accumulator_of

__all__ = ["Fits", "accumulator_for", "fits_of", "has_part", "pad_for", "part_at"]

Fits: TypeAlias = Mapping[str, Mapping[str, str]]
"""By the address of a part that is not there: its fields as the plan's file would hold them."""

_DEEP = 2  # names in the address of a part that has a name of its own


def fits_of(plan: Plan, answer: Answer) -> Fits:
    """What a part that is not there yet would be at first, so that one control is enough to fit it.

    Parameters
    ----------
    plan : Plan
        The plan.
    answer : Answer
        What it says.

    Returns
    -------
    mapping
        Fields by the address of the part; a control that is turned says otherwise.
    """
    if isinstance(answer, Accumulator):
        return _accumulators(plan, answer)
    return _pads(plan) if isinstance(answer, Frost) else {}


def part_at(address: str) -> str:
    """The address of the part with a name of its own that a field belongs to, or an empty text.

    Examples
    --------
    >>> part_at("tanks.fresh.capacity"), part_at("site.wind")
    ('tanks.fresh', '')
    """
    names = address.split(".")
    return ".".join(names[:_DEEP]) if len(names) > _DEEP else ""


def has_part(plan: Plan, address: str) -> bool:
    """Whether the part that a field belongs to is planned."""
    part = part_at(address)
    try:
        return not part or plan.at(part) is not None
    except KeyError:
        return False


def accumulator_for(plan: Plan, pump: str) -> str:
    """The accumulator behind a pump, else what one would be called there."""
    return accumulator_of(plan, pump) or _free(plan, "accumulator", PLACES)


def pad_for(plan: Plan, tank: str) -> str:
    """The first heating pad on a tank, else what one would be called there."""
    on_it = (name for name, pad in plan.pads.items() if pad.tank == tank)
    return next(on_it, "") or _free(plan, f"{tank} pad"[:36], ("pads",))


def _accumulators(plan: Plan, answer: Accumulator) -> Fits:
    found: dict[str, Mapping[str, str]] = {}
    for one in answer.pumps:
        name = accumulator_for(plan, one.pump)
        if name in plan.accumulators:
            continue
        start = one.setting.result
        ends = [run.end for run in plan.runs.values() if run.start == one.pump and run.end in plan.tees]
        fields = {"at": next(iter(ends), one.pump), "volume": _example(plan, "accumulators.accumulator.volume")}
        if isinstance(start, Amount) and start.value > 0:
            fields["precharge"] = _round(plan, PRESSURE, start.value)
        found[f"accumulators.{name}"] = fields
    return found


def _pads(plan: Plan) -> Fits:
    bare = (name for name in plan.tanks if not any(pad.tank == name for pad in plan.pads.values()))
    return {f"pads.{pad_for(plan, name)}": {"tank": name, "power": _example(plan, "pads.pad.power")} for name in bare}


def _example(plan: Plan, address: str) -> str:
    """The example of a field in the plan's own units."""
    quantity = note(type(plan), address).quantity
    assert quantity is not None
    return _round(plan, quantity, quantity.read(quantity.example))


def _round(plan: Plan, quantity: Quantity, value: float) -> str:
    """A value to begin with, as one would write it."""
    return quantity.text(value, plan.us, 2).replace(NO_BREAK, " ")


def _free(plan: Plan, name: str, tables: tuple[str, ...]) -> str:
    """A name, numbered where something is called so already."""
    taken = {other for table in tables for other in getattr(plan, table)}
    return next(one for one in (name, *(f"{name} {count}" for count in range(2, 99))) if one not in taken)
