"""What could be done otherwise along a way: each remedy is a row of the same solve."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache

from vanwater.plan.model import Plan
from vanwater.plan.sold import sold
from vanwater.plan.tables import PipeRow, outlets, pipes
from vanwater.system.accumulators import behind
from vanwater.system.batch import Row
from vanwater.system.ways import Way

__all__ = ["Remedy", "way_remedies"]

ELBOWS = ("push-fit elbow", "barb elbow", "threaded elbow", "press elbow")
FILTERS = ("cartridge filter", "small cartridge filter")
SPARING = 2.0 / 3.0
"""Share of its litres that a more sparing outlet gives at the same pressure (common practice)."""

INCH_BORES = "common practice, inch bores"
"""Standard of hose that is sold by the inch."""

LEAST_DROP = 0.01
"""Share of the volts below which no thicker cable is worth laying (common practice)."""


@dataclass(frozen=True, slots=True)
class Remedy:
    """A change worth trying.

    Parameters
    ----------
    row : Row
        What it changes, as a row of a batch.
    kind : str
        "wider", "bends", "filter", "clean", "volts", "sparing".
    address : str
        Where in the plan.
    piece : str
        Run, pump or other outlet that is changed.
    now, then : float or str
        What it is and what it would be: a bore in m, volts, m³/s at the outlet's bar, or words.
    """

    row: Row
    kind: str
    address: str
    piece: str
    now: float | str
    then: float | str


def way_remedies(plan: Plan, way: Way) -> tuple[Remedy, ...]:
    """Changes along a way, and at outlets that are open with it, that might bring more flow.

    Parameters
    ----------
    plan : Plan
        The plan.
    way : Way
        The way to an outlet.

    Returns
    -------
    tuple of Remedy
        In no order of merit; the solve tells what each gains.
    """
    return (
        *_wider(plan, way),
        *_bends(plan, way),
        *_filters(plan, way),
        *_clean(plan, way),
        *_volts(plan, way),
        *_sparing(plan, way),
    )


def _wider(plan: Plan, way: Way) -> Iterator[Remedy]:
    for name in way.runs:
        run = plan.runs[name]
        if run.size is not None:
            row = pipes()[run.size]
            larger = next_size(run.size, plan.us)
            if larger is not None:
                address = f"runs.{name}.size"
                yield Remedy(Row(f"wider {name}", {address: larger.key}), "wider", address, name, row.name, larger.name)
        elif run.bore is not None:
            wider = next((bore for bore in sold(plan.us).bores if bore > run.bore * 1.05), None)
            if wider is not None:
                address = f"runs.{name}.bore"
                yield Remedy(Row(f"wider {name}", {address: wider}), "wider", address, name, run.bore, wider)


@lru_cache(maxsize=256)
def next_size(size: str, us: bool = False) -> PipeRow | None:
    """The next larger stock size of the same pipe or hose, or None; with US units hose is sold by the inch."""
    row = pipes()[size]
    alike = [other for other in pipes().values() if (other.material, other.kind) == (row.material, row.kind)]
    by_inch = [other for other in alike if us and row.kind == "hose" and other.standard == INCH_BORES]
    family = by_inch or [other for other in alike if other.standard == row.standard]
    larger = sorted((other for other in family if other.bore > row.bore * 1.05), key=lambda other: other.bore)
    return larger[0] if larger else None


def _bends(plan: Plan, way: Way) -> Iterator[Remedy]:
    values = {}
    count = 0
    for name in way.runs:
        counts = plan.runs[name].fittings
        elbows = sum(number for kind, number in counts.items() if kind in ELBOWS)
        if elbows:
            rest = {kind: number for kind, number in counts.items() if kind not in ELBOWS}
            values[f"runs.{name}.fittings"] = rest | {"sweep bend": rest.get("sweep bend", 0) + elbows}
            count += elbows
    if values:
        yield Remedy(
            Row(f"sweep bends to {way.outlet}", values), "bends", next(iter(values)), "", str(count), "sweep bends"
        )


def _filters(plan: Plan, way: Way) -> Iterator[Remedy]:
    for name in way.runs:
        counts = plan.runs[name].fittings
        if any(kind in FILTERS for kind in counts) and (way.mixer or _shared(plan, name)):  # else its tap is it
            address = f"runs.{name}.fittings"
            rest = {kind: number for kind, number in counts.items() if kind not in FILTERS}
            yield Remedy(Row(f"no filter {name}", {address: rest}), "filter", address, name, "filter", "none")


def _shared(plan: Plan, run: str) -> bool:
    """Whether a run leads to more than one outlet."""
    ends = {plan.runs[run].end, *(plan.runs[name].end for name in behind(plan, plan.runs[run].end))}
    return len(ends & plan.outlets.keys()) > 1


def _clean(plan: Plan, way: Way) -> Iterator[Remedy]:
    for name in way.runs:
        if plan.runs[name].clogged > 0:
            address = f"runs.{name}.clogged"
            yield Remedy(Row(f"clean {name}", {address: 0.0}), "clean", address, name, plan.runs[name].clogged, 0.0)


def _volts(plan: Plan, way: Way) -> Iterator[Remedy]:
    if not way.pump:
        return
    pump = plan.pumps[way.pump]
    if pump.volts is None or pump.curve_volts is None:
        return
    most = min(pump.curve_volts, plan.battery.bank_volts if plan.battery is not None else pump.curve_volts)
    if most - pump.volts > LEAST_DROP * most:
        address = f"pumps.{way.pump}.volts"
        yield Remedy(
            Row(f"volts {way.pump}", {address: most}),
            "volts",
            address,
            way.pump,
            pump.volts,
            most,
        )


def _sparing(plan: Plan, way: Way) -> Iterator[Remedy]:
    """Other outlets of the same sets, a third thriftier."""
    others = dict.fromkeys(
        other for opened in plan.together.values() if way.outlet in opened.outlets for other in opened.outlets
    )
    for other in others:
        known = plan.outlets.get(other)
        if other == way.outlet or known is None:
            continue
        rated = outlets()[known.type] if known.type is not None else known
        if rated.flow is None or rated.at is None:
            continue
        at = f"outlets.{other}"
        then = SPARING * rated.flow
        values = {
            f"{at}.type": None,
            f"{at}.flow": then,
            f"{at}.at": rated.at,
            f"{at}.regulated": bool(rated.regulated),
        }
        yield Remedy(Row(f"sparing {other}", values), "sparing", f"{at}.flow", other, rated.flow, then)
