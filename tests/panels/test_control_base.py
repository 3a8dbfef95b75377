from __future__ import annotations

from vanwater.panels.control import control_for
from vanwater.panels.control_base import decided
from vanwater.plan.file import PlanFile


def test_a_control_nobody_touched_follows_the_plan_and_a_touched_one_stays(family: PlanFile) -> None:
    one, other = (control_for(family.plan, f"uses.teeth.{key}") for key in ("a_day", "volume"))
    careful = family.plan.changed({"household.habits": "home-like"})
    assert careful.at("uses.teeth.a_day") != family.plan.at("uses.teeth.a_day") or careful.at(
        "uses.teeth.volume"
    ) != family.plan.at("uses.teeth.volume")
    other.turn(0.0005)
    for each in (one, other):
        each.follow(careful)
    assert one.value == careful.at("uses.teeth.a_day")
    assert not one.touched
    assert other.value == 0.0005
    assert other.touched


def test_back_stands_on_the_saved_value_untouched(family: PlanFile) -> None:
    one = control_for(family.plan, "household.people")
    one.turn(2)
    assert one.touched
    one.back()
    assert (one.value, one.touched, one.differs) == (4, False, False)


def test_a_value_of_a_part_that_is_not_planned_is_not_decided(family: PlanFile) -> None:
    assert decided(family.plan, "household.people") == 4
    assert decided(family.plan, "pumps.second.volts") is None
