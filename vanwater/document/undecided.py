"""What a plan does not say yet, although an answer needs it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from vanwater.document.plan_listing import parts_of
from vanwater.plan import address as addresses
from vanwater.plan.model import Plan
from vanwater.plan.part import Part
from vanwater.plan.pump import Pump
from vanwater.plan.supply import Mixer
from vanwater.system.power import lives_on_battery

__all__ = ["OPEN", "TWINS", "Open", "still_open"]

THERMOSTAT = ("least_flow", "hot_excess")
"""What a thermostatic mixing valve needs to hold its temperature; a tap set by hand has none of it."""

OPEN: Mapping[str, tuple[str, ...]] = {
    "household": ("habits", "days_wanted"),
    "tanks": ("x", "y", "z"),
    "pumps": (
        *("curve", "volts", "current", "cut_in", "cut_out", "by_pass", "holds", "tank"),
        *("stroke", "strokes", "stall", "priming_lift", "z"),
    ),
    "mains": ("regulator", "z"),
    "runs": ("length",),
    "accumulators": ("precharge",),
    "heaters": ("power", "relief", "empty_cut_out", "x", "z"),
    "tees": ("z",),
    "mixers": (*THERMOSTAT, "z"),
    "outlets": ("temperature", "wanted", "z"),
    "frost": ("design_cold",),
    "pads": ("protected_by",),
    "battery": ("other_loads", "max_current"),
    "inverter": ("rating",),
    "vehicle": ("wheelbase", "empty_front", "empty_rear", "permitted_front", "permitted_rear", "permitted_total"),
}
"""Fields that are not decided yet while nothing is said in them; the others have a value or a twin that serves."""

UNASKED = ("fittings", "mains", "uses", "together", "pads", "loads", "situations", "agreed", "measured", "revisions")
"""Kinds of parts that a plan may well have none of."""

TWINS: Mapping[str, tuple[str, ...]] = {"runs": ("size", "bore"), "outlets": ("type", "flow")}
"""Fields of which one is enough."""


@dataclass(frozen=True, slots=True)
class Open:
    """Something that is not decided yet.

    Parameters
    ----------
    address : str
        Where it would stand.
    meaning : str
        What it is.
    """

    address: str
    meaning: str


def still_open(plan: Plan) -> tuple[Open, ...]:
    """What the plan says nothing about although an answer needs it.

    Parameters
    ----------
    plan : Plan
        The plan.

    Returns
    -------
    tuple of Open
        Fields of its parts, then kinds of parts of which it has none.
    """
    keys = addresses.known_keys(Plan)
    fields = [
        field for key in keys for name, part in parts_of(plan, key) for field in _silent(key, name, part, plan.us)
    ]
    unasked = UNASKED if lives_on_battery(plan) else (*UNASKED, "battery", "inverter")
    absent = [key for key in keys if key not in unasked and not parts_of(plan, key)]
    return (*fields, *(Open(key, "none in the plan") for key in absent))


def _belongs(part: Part, field: str) -> bool:
    """Whether a field means anything for this kind of part."""
    if isinstance(part, Mixer):
        return part.kind == "thermostatic" or field not in THERMOSTAT
    return part.belongs(field) if isinstance(part, Pump) else True


def _silent(key: str, name: str, part: Part, us: bool) -> Iterator[Open]:
    above = f"{key}.{name}" if name else key
    for field in OPEN.get(key, ()):
        if addresses.value_at(part, field) is None and _belongs(part, field):
            yield Open(f"{above}.{field}", addresses.note(Plan, f"{above}.{field}").said(us))
    twins = TWINS.get(key, ())
    if twins and all(addresses.value_at(part, field) is None for field in twins):
        yield Open(f"{above}.{twins[0]}", f"its {' or its '.join(twins)}")
