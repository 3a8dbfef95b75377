"""A row of a batch and a plan of its own give the same numbers, whichever number of a plan is changed."""

from __future__ import annotations

import dataclasses
import importlib
import inspect
import pkgutil
import warnings
from collections.abc import Callable, Iterator, Mapping
from contextlib import suppress
from functools import lru_cache
from typing import Any

import numpy as np
import pytest

import vanwater.system
from tests.asked_addresses import asked_addresses
from tests.examples import NAMES, example
from vanwater.plan.address import numbers_of
from vanwater.plan.change import CappedWarning
from vanwater.plan.frost_tables import bursts
from vanwater.plan.model import Plan
from vanwater.plan.problems import PlanError
from vanwater.system import exposed, heat, network, ring
from vanwater.system.batch import Batch, Row, carries
from vanwater.system.compliance import switched
from vanwater.system.day import day_of
from vanwater.system.heat_a_day import heats
from vanwater.system.hot_line import rings
from vanwater.system.hours import hours_of
from vanwater.system.pads import pads_of
from vanwater.system.stores import moved
from vanwater.system.surroundings import Case
from vanwater.system.ways import way_from_mains
from vanwater.system.wiring import cable_insulation, conductors_of

THROUGH = {
    *(
        "beside_codes",
        "elastic_storage",
        "held",
        "drawn",
        "line_compliance",
        "network_numbers",
        "pump_curve",
        "pump_points",
        "run_bore",
    ),
    *("runs_numbers", "series_case", "solve_cases", "solve_ways", "switch", "wind_at", "neighbours", "pipe_content"),
}
"""Functions that others asked for here stand on."""

OWN_ROW = {"left_tap", "run_row", "tap_cases"}
"""Functions that look at the plan's own row alone."""


@lru_cache
def functions() -> dict[str, Callable[..., Any]]:
    """The public functions of the floor that take a batch."""
    modules = [
        importlib.import_module(f"vanwater.system.{m.name}") for m in pkgutil.iter_modules(vanwater.system.__path__)
    ]
    offered = [getattr(module, name) for module in modules for name in module.__all__]
    return {f.__name__: f for f in offered if inspect.isfunction(f) and "batch" in inspect.signature(f).parameters}


def numbers(batch: Batch) -> dict[str, Any]:
    """What the floor says of a batch: every function that takes it, of every thing it can be asked for."""
    plan = batch.plan
    whole = network.complete_ways(plan)
    mains = [way_from_mains(plan, outlet) for outlet in plan.outlets] if plan.mains else []
    cold = batch.number("frost.design_cold", 260.0)
    cases = [Case(batch.number("frost.hold"), cold, driving) for driving in (False, True)]
    cases.append(Case(batch.number("frost.hold"), cold, heated=False))
    tanks = [tank for name in plan.tanks if (tank := heat.tank_heat(batch, name)) is not None]
    runs = [run for name in plan.runs if (run := exposed.run_heat(batch, name)) is not None]
    known = [one for one in rings(plan) if not ring.ring_gaps(plan, one)]
    sets = [together.outlets for together in plan.together.values() if set(together.outlets) <= set(whole)]
    behind = {pump: [(way.outlet,) for way in whole.values() if way.pump == pump] for pump in switched(plan)}
    things: dict[str, Mapping[str, tuple[Any, ...]]] = {
        "air_speed": {"parked": (False,), "driving": (True,)},
        "burst_share": {kind: (row,) for kind, row in bursts().items()},
        "circuits": {pump: (pump, opened[:1], None, 8) for pump, opened in behind.items() if opened},
        **{key: {name: (name,) for name in plan.cables} for key in ("cable_copper", "cable_ohms", "cable_ampacity")},
        "cable_insulation": {name: (name, conductors_of(plan, name)) for name in plan.cables},
        "engine_space_of": {name: (name, *_insulated(batch, name)) for name in plan.cables},
        "cable_share": {to: (to, np.full(len(batch), 700.0)) for to in ("inverter", *plan.pumps)},
        "charges": {"": (np.zeros((5, len(batch))), np.zeros(len(batch)))},
        "also_heats": {name: (hours_of(batch), name, heats(batch, moved(batch), name)) for name in plan.heaters},
        **{key: {to: (to,) for to in (*plan.pumps, *plan.heaters)} for key in ("converter_share", "volts_before")},
        "direct": {"": (hours_of(batch), day_of(batch).consumers)},
        "inverter_idle": {"": ()} if plan.inverter is not None else {},
        "lost_heat": {name: (name,) for name in plan.heaters},
        "electric_path": {to: (to, np.full(len(batch), 700.0)) for to in ("inverter", *plan.heaters)},
        "heats": {name: (moved(batch), name) for name in plan.heaters},
        "cold_water": {way.outlet: (way,) for way in (*whole.values(), *mains)},
        "conductances": {"runs": (runs, cases)} if runs else {},
        "mixed_temperature": {way.outlet: (way,) for way in whole.values()},
        "open_together": {"sets": (sets,)} if sets else {},
        "pad_heat": {tank: (tank,) for tank in pads_of(plan)},
        "pump_line": {pump: (pump,) for pump in switched(plan)},
        "ring_flow": {one.pump: (one,) for one in known},
        "series_cases": {"tanks": (list(whole.values()),), "mains": ([way for way in mains if not way.broken],)},
        "suction_line": {way.outlet: (way,) for way in whole.values() if way.pump and way.suction},
        "tank_surface": {name: (name,) for name, tank in plan.tanks.items() if tank.z is not None},
        "transmittances": {"tanks": (tanks, cases)},
    }
    tables = {"name": plan.tanks, "run": plan.runs, "outlet": plan.outlets, "heater": plan.heaters}
    tables |= {
        "tank": plan.tanks,
        "mixer": plan.mixers,
        "use": plan.uses,
        "inlet": plan.mains,
        "accumulator": plan.accumulators,
    }
    told = {}
    for name, function in functions().items():
        if name in THROUGH | OWN_ROW:
            continue
        if name not in things:
            _, *rest = inspect.signature(function).parameters
            things[name] = {part: (part,) for part in tables[rest[0]]} if rest else {"": ()}
        for thing, given in things[name].items():
            told[f"{name} {thing}"] = function(batch, *given)
    return told


def _insulated(batch: Batch, name: str) -> tuple[Any, ...]:
    table = conductors_of(batch.plan, name)
    return table, cable_insulation(batch, name, table)


def near(value: Any, own: Any) -> bool:
    """Whether two arrays of one shape are the same, but for the last digits; most are alike to the last bit."""
    return bool((value == own).all()) or np.allclose(value, own, rtol=1e-12, atol=1e-15, equal_nan=True)


def apart(key: str, value: Any, own: Any, row: int, rows: int) -> Iterator[str]:
    """Where a row of a result differs from the result of a plan of its own."""
    if dataclasses.is_dataclass(value):
        value, own = ({f.name: getattr(one, f.name) for f in dataclasses.fields(one)} for one in (value, own))
    if isinstance(value, Mapping):
        if value.keys() != own.keys():
            yield f"{key}: other parts"
            return
        for name in value:
            yield from apart(f"{key}.{name}", value[name], own[name], row, rows)
    elif isinstance(value, list | tuple):
        if (len(value), len(own)) == (rows, 1):
            value = [value[row]]
        if len(value) != len(own):
            yield f"{key}: other parts"
            return
        for place, (left, right) in enumerate(zip(value, own, strict=True)):
            yield from apart(f"{key}.{place}", left, right, row, rows)
    elif isinstance(value, np.ndarray | float):
        value, own = np.asarray(value), np.asarray(own)
        axes = [axis for axis, long in enumerate(value.shape) if (long, own.shape[axis]) == (rows, 1)]
        value = value.take([row], axes[0]) if axes else value
        if value.shape != own.shape or not near(value, own):
            yield f"{key}: {value.ravel()[:4]} {own.ravel()[:4]}"
    elif not hasattr(value, "__dict__") and value != own:
        yield f"{key}: {value} {own}"


def others(plan: Plan) -> Iterator[tuple[str, float, Plan]]:
    """The plan with each asked number that a row can carry changed a lot, as far as that is possible."""
    for address in asked_addresses(plan, numbers_of(plan)):
        now = plan.at(address)
        steps = ((now + 1, now - 1),) if isinstance(now, int) else ((2.0 * now, 0.5 * now, 0.97 * now), (-now,))
        for values in (*steps, (0.0,)):
            for new in values:
                if new == now or not carries(plan, {address: new}):
                    continue
                with suppress(PlanError):
                    yield address, new, plan.changed({address: new}, si=True)
                    break


@pytest.mark.parametrize("name", NAMES)
def test_a_row_and_a_plan_of_its_own_agree(name: str) -> None:
    plan = example(name)
    with warnings.catch_warnings():
        warnings.simplefilter("ignore", CappedWarning)
        changed = list(others(plan))
    rows = [Row(f"{address} {value}", {address: other.at(address)}) for address, value, other in changed]
    along = numbers(Batch(plan, rows))
    wrong = []
    for place, (address, value, other) in enumerate(changed, 1):
        own = numbers(Batch(other))
        wrong += [f"{address} = {value}: {told}" for told in apart("", along, own, place, len(rows) + 1)]
    assert wrong == []
