"""One way of saying where something sits, for every part."""

from __future__ import annotations

import pytest

from vanwater.plan.address import note
from vanwater.plan.energy import Heater
from vanwater.plan.model import Plan
from vanwater.plan.part import Part
from vanwater.plan.places import ACROSS, ALONG, Opening
from vanwater.plan.problems import PlanError
from vanwater.plan.pump import Mains, Pump
from vanwater.plan.supply import Accumulator, Mixer, Outlet, Tee
from vanwater.plan.tanks import Tank
from vanwater.plan.vehicle import Load

VAN = {"van": {"name": "Van"}, "household": {"people": 2}}


@pytest.mark.parametrize("part", [Tank, Opening, Pump, Mains, Heater, Accumulator, Tee, Mixer, Outlet, Load])
def test_every_part_that_has_a_place_says_it_alike(part: type[Part]) -> None:
    along, across = (note(part, field) for field in "xy")
    assert (along.description, across.description) == (ALONG, ACROSS)
    told = [(each.quantity.low, each.quantity.high) for each in (along, across) if each.quantity is not None]
    assert told == [(-2.0, 10.0), (-2.0, 2.0)]


def test_filler_and_drain_of_a_tank_have_a_place_each() -> None:
    tank = {"holds": "fresh", "capacity": "80 L", "filler": {"x": "2 m", "z": "27 in"}, "drain": {"z": "-31 cm"}}
    plan = Plan.of({**VAN, "tanks": {"fresh": tank}}, file=True)
    assert plan.at("tanks.fresh.filler.z") == pytest.approx(0.6858)
    assert plan.at("tanks.fresh.filler.y") is None and plan.at("tanks.fresh.drain.x") is None
    moved = plan.changed({"tanks.fresh.drain.x": "1.2 m", "tanks.fresh.filler": None})
    assert moved.at("tanks.fresh.drain.x") == 1.2 and moved.tanks["fresh"].filler is None


def test_a_place_beyond_the_van_is_refused_with_its_address() -> None:
    tank = {"holds": "fresh", "capacity": "80 L", "filler": {"y": "3 m"}}
    with pytest.raises(PlanError, match="not believable") as caught:
        Plan.of({**VAN, "tanks": {"fresh": tank}}, file=True)
    assert [problem.address for problem in caught.value.problems] == ["tanks.fresh.filler.y"]
