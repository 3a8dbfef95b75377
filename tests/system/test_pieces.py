from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given

from tests.drawn import WHOLE_PLANS
from tests.examples import NAMES, example
from tests.strategies import Raw, plans
from vanwater.plan.model import Plan
from vanwater.plan.ratings import ratings
from vanwater.system.design_pressure import design_pressures, shut_off
from vanwater.system.pieces import Piece, pieces

FAMILY = example("family-winter")


def found(plan: Plan) -> dict[tuple[str, str], Piece]:
    return {(one.row.key, one.at): one for one in pieces(plan, design_pressures(plan))}


def test_each_row_of_the_table_comes_once_a_run() -> None:
    family = found(FAMILY)
    assert len(family) == len(list(pieces(FAMILY, design_pressures(FAMILY))))
    in_runs = {"push-fit", "barb and clamp", "strainer", "check valve"}
    assert {key for key, _ in family} == in_runs | {"heater", "accumulator", "low-pressure tap"}
    assert family["low-pressure tap", "galley tap"].design.cause == "pump"  # at its mixing tap
    assert family["push-fit", "hot trunk"].design == design_pressures(FAMILY)["hot trunk"]
    assert family["push-fit", "trunk"].address == "runs.trunk.fittings.push-fit elbow"


def test_the_heater_sees_its_relief_valve_and_its_set_point() -> None:
    heater = found(FAMILY)["heater", "heater"]
    assert (heater.design.pressure, heater.design.cause) == (6e5, "relief")
    assert heater.design.temperature == FAMILY.heaters["heater"].set_point
    assert heater.load == pytest.approx(1.0)
    bare = found(FAMILY.changed({"heaters.heater.relief": None}))["heater", "heater"]
    assert bare.design.pressure == shut_off(FAMILY.pumps["pump"])


def test_the_accumulator_is_spared_what_stays_behind_the_check_valve() -> None:
    accumulator = found(FAMILY)["accumulator", "accumulator"]
    assert accumulator.design.pressure == shut_off(FAMILY.pumps["pump"])
    bare = found(FAMILY.changed({"runs.heater feed.fittings": {}}))["accumulator", "accumulator"]
    assert (bare.design.pressure, bare.design.cause) == (6e5, "relief")
    hot = found(FAMILY.changed({"accumulators.accumulator.at": "hot tee"}))["accumulator", "accumulator"]
    assert hot.design.temperature == FAMILY.heaters["heater"].set_point
    assert hot.stands is None and hot.load is None


def test_joints_at_the_ends_of_a_run_count_and_own_fittings_do_not() -> None:
    ends: dict[str, Any] = {"runs.suction.fittings": {}, "runs.suction.start_joint": "push-fit 12 mm"}
    assert found(FAMILY.changed(ends))["push-fit", "suction"].address == "runs.suction.start_joint"
    own: dict[str, Any] = {"fittings": {"filter": {"k": 3.0}}, "runs.basin line.fittings": {"filter": 1}}
    assert not [at for _, at in found(FAMILY.changed(own)) if at == "basin line"]
    none = FAMILY.changed({"runs.basin line.fittings": {"push-fit elbow": 0}})
    assert ("push-fit", "basin line") not in found(none)


@pytest.mark.parametrize("name", NAMES)
def test_examples_are_not_overloaded(name: str) -> None:
    for one in pieces(example(name), design_pressures(example(name))):
        assert one.load is None or one.load <= 1.0, one.at


@WHOLE_PLANS
@given(raw=plans())
def test_of_any_plan_every_piece_has_its_place(raw: Raw) -> None:
    plan = Plan.of(raw)
    seen = design_pressures(plan)
    most = max((design.pressure or 0.0 for design in seen.values()), default=0.0)
    for one in pieces(plan, seen):
        if one.address.endswith(".rated"):
            assert one.row.rated_pressure == plan.at(one.address)
        else:
            assert ratings()[one.row.key] is one.row
        parts = (plan.heaters, plan.accumulators, plan.pumps, plan.outlets)
        assert one.at in seen or any(one.at in part for part in parts)
        plan.at(one.address)
        assert (one.design.pressure or 0.0) <= most
        assert one.stands is None or one.stands <= one.row.rated_pressure
