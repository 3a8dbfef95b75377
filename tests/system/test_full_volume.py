from __future__ import annotations

import pytest

from tests.examples import NAMES, example
from vanwater.plan.model import Plan
from vanwater.system.batch import Batch
from vanwater.system.full_volume import full_volume
from vanwater.system.stores import tank_reach

PLAN = {"van": {"name": "tank"}, "household": {"people": 2}}


@pytest.mark.parametrize("name", NAMES)
def test_on_the_road_a_tank_holds_what_it_holds_parked_level(name):
    plan = example(name).changed({"site.pitch": None, "site.roll": None})
    batch = Batch(plan)
    for tank in plan.tanks:
        assert full_volume(batch, tank) == pytest.approx(tank_reach(batch, tank).full, rel=1e-9)


def test_slope_and_capacity():
    box = {"holds": "fresh", "length": "1 m", "width": "0.5 m", "height": "0.2 m"}
    plan = Plan.of({**PLAN, "site": {"pitch": "4°"}, "tanks": {"fresh": box}})
    assert full_volume(Batch(plan), "fresh") == pytest.approx(0.1)
    assert full_volume(Batch(plan.changed({"tanks.fresh.overflow": "0.15 m"})), "fresh") == pytest.approx(0.075)
    assert full_volume(Batch(plan.changed({"tanks.fresh.capacity": "90 L", "tanks.fresh.count": 2})), "fresh") == (
        pytest.approx(0.18)
    )
