from __future__ import annotations

import pytest

from vanwater.panels.knob import Choice, Number, Switch, Whole, knob
from vanwater.plan.file import PlanFile


def test_each_kind_of_field_gets_the_knob_that_suits(family: PlanFile) -> None:
    kinds = {
        "household.people": Whole,
        "household.habits": Choice,
        "tanks.fresh.length": Number,
        "runs.trunk.size": Choice,
        "uses.shower.hot": Switch,
    }
    assert {address: type(knob(family.plan, address)) for address in kinds} == kinds


def test_a_free_text_has_no_knob(family: PlanFile) -> None:
    with pytest.raises(ValueError, match=r"van\.name is a free text"):
        knob(family.plan, "van.name")


def test_a_field_that_is_not_there_is_refused(family: PlanFile) -> None:
    with pytest.raises(KeyError, match="fresch"):
        knob(family.plan, "tanks.fresch.length")


def test_slider_and_box_move_together_in_the_shown_unit(family: PlanFile) -> None:
    one = knob(family.plan, "tanks.fresh.length", us=True)
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
    plan = family.plan.changed({"tanks.fresh.length": 3.9})
    one = knob(plan, "tanks.fresh.length")
    assert isinstance(one, Number)
    assert one.slider.max >= 3.9
    assert one.box.value == 3.9
    other = knob(family.plan, "tanks.fresh.length")
    assert isinstance(other, Number)
    assert other.slider.max < 3.9
    other.box.value = 3.9
    assert other.slider.max == 3.9
    assert other.slider.value == 3.9
    assert other.value == pytest.approx(3.9)


def test_a_typed_number_between_two_steps_is_kept_when_the_page_draws_it_at_a_step(family: PlanFile) -> None:
    one = knob(family.plan, "tanks.fresh.length")
    assert isinstance(one, Number)
    one.box.value = 0.963
    one.slider.value = 0.95  # what the page sends back by itself
    assert one.value == pytest.approx(0.963)
    assert one.box.value == 0.963
    one.slider.value = 1.0  # a hand
    assert one.value == pytest.approx(1.0)


def test_a_knob_nobody_touched_follows_the_plan_and_a_touched_one_stays(family: PlanFile) -> None:
    one, other = (knob(family.plan, f"uses.teeth.{key}") for key in ("a_day", "volume"))
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
    one = knob(family.plan, "household.people")
    one.turn(2)
    assert one.touched
    one.back()
    assert (one.value, one.touched, one.differs) == (4, False, False)


def test_what_is_not_decided_is_said_until_it_is_moved(family: PlanFile) -> None:
    plan = family.plan.changed({"household.days_wanted": None})
    one = knob(plan, "household.days_wanted")
    assert isinstance(one, Number)
    assert "not decided" in one.head.value
    assert not one.touched
    one.slider.value = one.slider.max
    assert one.touched
    assert one.value is not None


def test_a_choice_that_is_not_decided_can_be_left_so(family: PlanFile) -> None:
    plan = family.plan.changed({"outlets.shower.flow": None, "outlets.shower.at": None})
    one = knob(plan, "outlets.shower.type")
    assert isinstance(one, Choice)
    assert one.box.value is None
    first = next(value for _, value in one.box.options if value is not None)
    one.box.value = first
    assert (one.value, one.touched) == (first, True)
    one.box.value = None
    assert (one.value, one.touched) == (None, False)


def test_what_nobody_believes_is_refused_in_the_shown_unit(family: PlanFile) -> None:
    one = knob(family.plan, "tanks.fresh.length", us=True)
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
    people = knob(family.plan, "household.people")
    assert isinstance(people, Whole)
    people.box.value = 99
    said = people.refusal()
    assert said is not None
    assert said.expected == "1 to 12"


def test_the_saved_value_is_marked_where_it_stands(family: PlanFile) -> None:
    one = knob(family.plan, "household.people")
    assert isinstance(one, Whole)
    assert "plan: 4" in one.head.value
    assert f"left:{100 * 3 / 11:.1f}%" in one.mark.value
    one.turn(12)
    assert f"left:{100 * 3 / 11:.1f}%" in one.mark.value


def test_a_switch_turns(family: PlanFile) -> None:
    one = knob(family.plan, "uses.shower.hot")
    assert isinstance(one, Switch)
    before = one.value
    one.box.value = not before
    assert one.value is (not before)
    assert one.written() is (not before)
