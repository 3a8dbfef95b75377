from __future__ import annotations

from typing import Any

import numpy as np
import pytest
from hypothesis import given

from tests.drawn import WHOLE_PLANS
from tests.examples import example
from tests.strategies import plans
from vanwater.plan.model import Plan
from vanwater.system.batch import Batch, Row
from vanwater.system.weight import STATES, laden, line_content

PLAN = {
    "van": {"name": "Van"},
    "household": {"people": 2},
    "site": {"cold_water": "4 °C"},  # a litre weighs a kilogram
    "tanks": {
        "fresh": {"holds": "fresh", "capacity": "100 L", "x": "1.5 m", "y": "0.4 m"},
        "can": {"holds": "fresh", "capacity": "10 L", "count": 2, "filled": "50 %", "x": "3 m", "y": "-0.5 m"},
        "grey": {"holds": "grey", "capacity": "80 L", "x": "3.3 m", "y": "0 m"},
        "urine": {"holds": "urine", "capacity": "10 L", "x": "3.9 m", "y": "0.6 m"},
    },
    "heaters": {"heater": {"volume": "10 L", "x": "2.4 m", "y": "0.8 m"}},
    "vehicle": {"wheelbase": "3 m", "track": "1.6 m"},
    "loads": {"crew": {"mass": "150 kg", "x": "1 m", "y": "0 m"}},
}


def weights(changes: dict[str, Any] | None = None) -> Any:
    return laden(Batch(Plan.of(PLAN).changed(changes or {})))


def test_each_state_holds_what_it_says():
    found = weights()
    assert [thing.name for thing in found.things] == ["fresh", "can", "grey", "urine", "heater"]
    assert found.mass[0] == pytest.approx([100, 20, 80, 10, 10], rel=1e-4)
    held = found.mass[0] * found.filled[0]
    assert held[STATES.index("dry")] == pytest.approx([0, 0, 0, 0, 0])
    assert held[STATES.index("leaving")] == pytest.approx([100, 10, 0, 0, 10], rel=1e-4)
    assert held[STATES.index("home")] == pytest.approx([0, 0, 80, 10, 10], rel=1e-4)
    assert held[STATES.index("full")] == pytest.approx([100, 20, 80, 10, 10], rel=1e-4)
    assert found.water[0] == pytest.approx([0, 120, 100, 220], rel=1e-4)


def test_moments_about_the_front_axle_by_hand():
    found = weights()
    leaving = (100 * 1.5 + 10 * 3.0 + 10 * 2.4) / 3.0
    home = (80 * 3.3 + 10 * 3.9 + 10 * 2.4) / 3.0
    assert found.rear[0, 1] == pytest.approx(leaving, rel=1e-4)
    assert found.front[0, 1] == pytest.approx(120 - leaving, rel=1e-4)
    assert found.rear[0, 2] == pytest.approx(home, rel=1e-4)
    assert found.front[0, 2] == pytest.approx(100 - home, rel=1e-3)
    assert found.right[0, 1] == pytest.approx(2 * (100 * 0.4 - 10 * 0.5 + 10 * 0.8) / 1.6, rel=1e-4)
    assert (found.loads_mass[0], found.loads_rear[0], found.loads_right[0]) == pytest.approx((150, 50, 0))


def test_what_has_no_place_counts_for_the_water_but_for_no_axle():
    found, placed = weights({"tanks.grey.x": None}), weights()
    assert found.water[0] == pytest.approx(placed.water[0])
    assert found.unplaced[0] == pytest.approx([0, 0, 80, 80], rel=1e-4)
    assert found.rear[0, 1] == placed.rear[0, 1]
    assert found.front[0] + found.rear[0] == pytest.approx(found.water[0] - found.unplaced[0], abs=1e-9)


def test_without_wheelbase_or_track_axles_and_sides_are_not_known():
    assert np.isnan(weights({"vehicle": None}).rear).all()
    assert np.isnan(weights({"vehicle.track": None}).right).all()
    beside = weights({"tanks.grey.y": None}).right[0]
    assert np.isfinite(beside[:2]).all() and np.isnan(beside[2:]).all()  # grey counts once it holds water


def test_rows_change_each_for_itself():
    rows = [Row("grey moved", {"tanks.grey.x": 1.0}), Row("longer", {"vehicle.wheelbase": 4.0})]
    found = laden(Batch(Plan.of(PLAN), rows))
    assert found.rear[1, 2] - found.rear[0, 2] == pytest.approx(80 * (1.0 - 3.3) / 3.0, rel=1e-4)
    assert found.rear[2] == pytest.approx(found.rear[0] * 3.0 / 4.0)


def test_the_runs_hold_little():
    plan = example("family-winter")
    held = line_content(Batch(plan))[0] * 1e3
    only = line_content(Batch(plan.changed({f"runs.{run}.length": None for run in plan.runs if run != "suction"})))[0]
    assert only * 1e3 == pytest.approx(np.pi / 4 * 0.125**2 * 14, rel=1e-6)
    assert only * 1e3 < held < 1.5


@WHOLE_PLANS
@given(plans())
def test_axles_of_any_plan_carry_what_has_a_place(raw):
    batch = Batch(Plan.of(raw, file=True))
    found = laden(batch)
    assert np.isfinite(found.water).all() and (found.water >= 0).all() and found.water[0, 0] == 0
    assert (found.water[:, 3] >= found.water[:, :3].max(axis=1) - 1e-9).all()
    no_axles = np.isnan(batch.number("vehicle.wheelbase")).all()
    for things, carried, placed in (
        (found.things, found.front + found.rear, found.water - found.unplaced),
        (found.loads, found.loads_front + found.loads_rear, found.loads_mass),
    ):
        assert np.isnan(carried).all() if no_axles and things else carried == pytest.approx(placed, abs=1e-6)
