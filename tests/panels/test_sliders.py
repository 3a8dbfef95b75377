from __future__ import annotations

import pytest

from vanwater.panels.control import Number, Whole, control_for
from vanwater.plan.file import PlanFile
from vanwater.plan.model import Plan


def test_slider_and_box_move_together_in_the_shown_unit(family: PlanFile) -> None:
    one = control_for(family.plan, "tanks.fresh.length", us=True)
    assert isinstance(one, Number)
    assert one.box.value == pytest.approx(0.95 / 0.3048)
    moved = []
    one.moved = lambda: moved.append(one.value)
    one.slider.value = 4.0
    assert one.box.value == 4.0
    assert moved == [pytest.approx(4.0 * 0.3048)]
    one.box.value = 5.0
    assert one.slider.value == 5.0
    assert one.written() == "5 ft"
    assert one.touched
    assert one.differs


def test_a_saved_value_outside_the_usual_ends_widens_the_slider_and_is_not_clamped(family: PlanFile) -> None:
    plan = family.plan.changed({"tanks.fresh.length": 3.9}, si=True)
    one = control_for(plan, "tanks.fresh.length")
    assert isinstance(one, Number)
    assert one.slider.max >= 3.9
    assert one.box.value == 3.9
    other = control_for(family.plan, "tanks.fresh.length")
    assert isinstance(other, Number)
    assert other.slider.max < 3.9
    other.box.value = 3.9
    assert other.slider.max == 3.9
    assert other.slider.value == 3.9
    assert other.value == pytest.approx(3.9)


def test_a_typed_number_between_two_steps_is_kept_when_the_page_draws_it_at_a_step(family: PlanFile) -> None:
    one = control_for(family.plan, "tanks.fresh.length")
    assert isinstance(one, Number)
    one.box.value = 0.963
    one.slider.value = 0.95  # what the page sends back by itself
    assert one.value == pytest.approx(0.963)
    assert one.box.value == 0.963
    one.slider.value = 1.0  # a hand
    assert one.value == pytest.approx(1.0)


def test_what_is_not_decided_is_said_until_it_is_moved(family: PlanFile) -> None:
    plan = family.plan.changed({"household.days_wanted": None})
    one = control_for(plan, "household.days_wanted")
    assert isinstance(one, Number)
    assert "not decided" in one.head.value
    assert not one.touched
    one.slider.value = one.slider.max
    assert one.touched
    assert one.value is not None


def test_what_nobody_believes_is_refused_in_the_shown_unit(family: PlanFile) -> None:
    one = control_for(family.plan, "tanks.fresh.length", us=True)
    assert isinstance(one, Number)
    assert one.refusal() is None
    widest = one.slider.max
    one.box.value = 999.0
    refused = one.refusal()
    assert refused is not None
    assert "999" in refused.message
    assert "ft" in refused.message
    assert "ft" in refused.expected
    assert one.slider.max == widest  # the slider is not stretched to nonsense
    people = control_for(family.plan, "household.people")
    assert isinstance(people, Whole)
    people.box.value = 99
    said = people.refusal()
    assert said is not None
    assert said.expected == "1 to 12"


def test_the_saved_value_is_marked_where_it_stands(family: PlanFile) -> None:
    one = control_for(family.plan, "household.people")
    assert isinstance(one, Whole)
    assert "plan: 4" in one.head.value
    assert f"left:{100 * 3 / 11:.1f}%" in one.mark.value
    one.turn(12)
    assert f"left:{100 * 3 / 11:.1f}%" in one.mark.value


def test_what_is_not_decided_begins_at_a_round_number_in_any_unit() -> None:
    plan = Plan.of({"van": {"name": "v"}, "household": {"people": 2}})
    for us in (False, True):
        one = Number(plan, "site.highest", us)
        assert one.saved is None
        assert float(f"{one.box.value:.2g}") == one.box.value
        assert one.slider.value == one.box.value
