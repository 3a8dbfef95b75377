from __future__ import annotations

import pytest

from vanwater.panels.control import Choice, Number, Switch, Whole, control_for
from vanwater.plan.file import PlanFile


def test_each_kind_of_field_gets_the_control_that_suits(family: PlanFile) -> None:
    kinds = {
        "household.people": Whole,
        "household.habits": Choice,
        "tanks.fresh.length": Number,
        "runs.trunk.size": Choice,
        "uses.shower.hot": Switch,
    }
    assert {address: type(control_for(family.plan, address)) for address in kinds} == kinds


def test_a_free_text_has_no_control(family: PlanFile) -> None:
    with pytest.raises(ValueError, match=r"van\.name is a free text"):
        control_for(family.plan, "van.name")


def test_a_field_that_is_not_there_is_refused(family: PlanFile) -> None:
    with pytest.raises(KeyError, match="fresch"):
        control_for(family.plan, "tanks.fresch.length")


def test_a_choice_that_is_not_decided_can_be_left_so(family: PlanFile) -> None:
    plan = family.plan.changed({"outlets.shower.flow": None, "outlets.shower.at": None})
    one = control_for(plan, "outlets.shower.type")
    assert isinstance(one, Choice)
    assert one.box.value is None
    first = next(value for _, value in one.box.options if value is not None)
    one.box.value = first
    assert (one.value, one.touched) == (first, True)
    one.box.value = None
    assert (one.value, one.touched) == (None, False)


def test_a_switch_turns(family: PlanFile) -> None:
    one = control_for(family.plan, "uses.shower.hot")
    assert isinstance(one, Switch)
    before = one.value
    one.box.value = not before
    assert one.value is (not before)
    assert one.written() is (not before)
