from __future__ import annotations

import pytest

from vanwater.plan.model import Plan
from vanwater.plan.problems import PlanError

PLAN = {"van": {"name": "Van"}, "household": {"people": 2}}


def test_a_vehicle_reads_its_plate_and_what_rides_along():
    plan = Plan.of(
        {
            **PLAN,
            "vehicle": {"wheelbase": "3.64 m", "track": "71 in", "empty_rear": "1390 kg", "permitted_rear": "2.4 t"},
            "loads": {"two in front": {"mass": "330 lb", "x": "1.3 m"}, "bicycles": {"mass": "40 kg", "x": "4.9 m"}},
        }
    )
    assert plan.vehicle is not None
    assert plan.vehicle.track == pytest.approx(1.8034)
    assert plan.at("vehicle.permitted_rear") == 2400.0
    assert plan.at("loads.two in front.mass") == pytest.approx(149.685, abs=1e-3)
    assert plan.at("loads.bicycles.y") is None
    assert plan.changed({"loads.bicycles": None}).loads.keys() == {"two in front"}


def test_a_plan_without_a_vehicle_still_has_its_addresses():
    plan = Plan.of(PLAN)
    assert plan.vehicle is None and plan.loads == {}
    assert plan.at("vehicle.wheelbase") is None
    assert plan.changed({"vehicle": {"wheelbase": "3.2 m"}}).at("vehicle.wheelbase") == 3.2


@pytest.mark.parametrize(
    ("tables", "address", "word"),
    [
        ({"vehicle": {"wheelbase": "36 m"}}, "vehicle.wheelbase", "not believable"),
        ({"vehicle": {"wheelbase": 3.6}}, "vehicle.wheelbase", "no unit"),
        ({"vehicle": {"empty_rear": "13 kg"}}, "vehicle.empty_rear", "not believable"),
        ({"vehicle": {"wheel_base": "3.6 m"}}, "vehicle.wheel_base", "wheelbase"),
        ({"loads": {"people": {"mass": "150 kg"}}}, "loads.people.x", "says no"),
        ({"loads": {"people": {"x": "1.3 m"}}}, "loads.people.mass", "says no"),
        (
            {"vehicle": {"permitted_front": "1.7 t", "permitted_rear": "1.8 t", "permitted_total": "3.6 t"}},
            "vehicle.permitted_total",
            "both axles",
        ),
        (
            {"vehicle": {"wheelbase": "4 m", "front_overhang": "1 m", "length": "4.8 m"}},
            "vehicle.length",
            "before its rear axle",
        ),
        ({"vehicle": {"track": "1.8 m", "width": "1.6 m"}}, "vehicle.width", "less than its track"),
        ({"vehicle": {"floor": "1.4 m", "height": "1.2 m"}}, "vehicle.height", "less than its floor"),
        ({"vehicle": {"wheel": "70 mm"}}, "vehicle.wheel", "not believable"),
    ],
)
def test_what_cannot_be_is_refused(tables, address, word):
    with pytest.raises(PlanError) as caught:
        Plan.of({**PLAN, **tables}, file=True)
    (problem,) = caught.value.problems
    assert problem.address == address
    assert word in str(problem)
