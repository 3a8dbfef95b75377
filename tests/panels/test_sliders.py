from __future__ import annotations

from typing import Any

import pytest

from vanwater.panels.control import control_for
from vanwater.panels.field import Field
from vanwater.panels.sliders import Slid
from vanwater.plan.file import PlanFile
from vanwater.plan.model import Plan


def slid(plan: Plan, address: str, us: bool = False) -> Slid:
    control = control_for(Field(plan, address, us))
    assert isinstance(control, Slid)
    return control


def test_slider_and_box_move_together_in_the_shown_unit(family: PlanFile) -> None:
    control = slid(family.plan, "tanks.fresh.length", us=True)
    assert float(control.box.value) == pytest.approx(0.95 / 0.3048)
    moved: list[Any] = []
    control.turned = moved.append
    control.slider.value = 4.0
    assert control.box.value == "4"
    assert moved == [pytest.approx(4.0 * 0.3048)]
    control.box.value = "5"
    assert control.slider.value == 5.0
    assert control.field.written(control.value) == "5 ft"
    assert control.handed


@pytest.mark.parametrize(
    ("us", "typed", "metres"),
    [
        (False, "0.9", 0.9),
        (False, "90 cm", 0.9),
        (False, "5 ft 2 in", 1.5748),
        (True, "3", 0.9144),
        (True, "90 cm", 0.9),
    ],
)
def test_a_typed_text_is_read_with_its_unit_or_in_the_one_that_is_shown(
    family: PlanFile, us: bool, typed: str, metres: float
) -> None:
    control = slid(family.plan, "tanks.fresh.length", us)
    control.box.value = typed
    assert control.value == pytest.approx(metres)
    assert control.slider.value == pytest.approx(metres / (0.3048 if us else 1.0))
    assert control.problem.value == ""


@pytest.mark.parametrize("typed", ["99", "wide", "3 bar", "", "0,9 m", "<b>"])
def test_a_typed_text_that_is_refused_tells_why_and_the_value_stays(family: PlanFile, typed: str) -> None:
    control = slid(family.plan, "tanks.fresh.length")
    moved: list[Any] = []
    control.turned = moved.append
    control.box.value = typed
    assert moved == []
    assert control.box.value == "0.95"
    assert 'role="alert"' in control.problem.value
    assert "It stays at 0.95" in control.problem.value
    assert "<b><b>" not in control.problem.value
    control.box.value = "0.9"
    assert control.problem.value == ""


def test_people_are_whole(family: PlanFile) -> None:
    control = slid(family.plan, "household.people")
    control.box.value = "2.5"
    assert control.value == 4
    assert "1 to 12" in control.problem.value
    control.box.value = "3"
    assert control.value == 3
    control.slider.value = 5
    assert (control.value, control.box.value) == (5, "5")


def test_a_saved_value_outside_the_usual_ends_widens_the_slider_and_is_not_clamped(family: PlanFile) -> None:
    plan = family.plan.changed({"tanks.fresh.length": 3.9}, si=True)
    control = slid(plan, "tanks.fresh.length")
    assert control.slider.max >= 3.9
    assert control.box.value == "3.9"
    other = slid(family.plan, "tanks.fresh.length")
    assert other.slider.max < 3.9
    other.box.value = "3.9"
    assert other.slider.max == other.slider.value == 3.9
    assert other.value == pytest.approx(3.9)


def test_a_typed_number_between_two_steps_is_kept_when_the_page_draws_it_at_a_step(family: PlanFile) -> None:
    control = slid(family.plan, "tanks.fresh.length")
    control.box.value = "0.963"
    control.slider.value = 0.95  # what the page sends back by itself
    assert control.value == pytest.approx(0.963)
    assert control.box.value == "0.963"
    control.slider.value = 1.0  # a hand
    assert control.value == pytest.approx(1.0)


def test_what_is_not_decided_is_said_until_it_is_moved(family: PlanFile) -> None:
    control = slid(family.plan.changed({"household.days_wanted": None}), "household.days_wanted")
    assert "not decided" in control.head.value
    assert not control.handed
    control.slider.value = control.slider.max
    assert control.handed
    assert control.value is not None


def test_the_saved_value_is_marked_where_it_stands(family: PlanFile) -> None:
    control = slid(family.plan, "household.people")
    assert "plan: 4" in control.head.value
    assert f"left:{100 * 3 / 11:.1f}%" in control.mark.value
    control.turn(12)
    assert f"left:{100 * 3 / 11:.1f}%" in control.mark.value


def test_slider_and_box_have_the_name_of_part_field_and_unit(family: PlanFile) -> None:
    control = slid(family.plan, "tanks.fresh.length")
    name = "fresh tank, inside length along the van, of a lying cylinder along its axis (m)"
    assert control.slider.description == control.box.description == control.box.tooltip == name
    assert f'data-name="{name}"' in control.head.value


def test_what_is_not_decided_begins_at_a_round_number_in_any_unit() -> None:
    plan = Plan.of({"van": {"name": "v"}, "household": {"people": 2}})
    for us in (False, True):
        control = slid(plan, "site.highest", us)
        assert control.field.saved is None
        shown = float(control.box.value)
        assert float(f"{shown:.2g}") == shown == control.slider.value
