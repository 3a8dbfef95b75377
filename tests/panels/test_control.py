from __future__ import annotations

from typing import Any

import pytest

from vanwater.panels.control import Choice, Control, Slid, Switch, control_for
from vanwater.panels.field import Field
from vanwater.plan.file import PlanFile
from vanwater.plan.model import Plan


def control_of(plan: Plan, address: str) -> Control:
    return control_for(Field(plan, address))


def test_each_kind_of_field_gets_the_control_that_suits(family: PlanFile) -> None:
    kinds = {
        "household.people": Slid,
        "household.habits": Choice,
        "tanks.fresh.length": Slid,
        "runs.trunk.size": Choice,
        "pumps.pump.stock": Choice,
        "uses.shower.hot": Switch,
    }
    assert {address: type(control_of(family.plan, address)) for address in kinds} == kinds


def test_a_free_text_has_no_control(family: PlanFile) -> None:
    with pytest.raises(ValueError, match=r"van\.name is a free text"):
        control_of(family.plan, "van.name")


def test_a_choice_that_is_not_decided_can_be_left_so(family: PlanFile) -> None:
    plan = family.plan.changed({"outlets.shower.flow": None, "outlets.shower.at": None})
    control = control_of(plan, "outlets.shower.type")
    assert isinstance(control, Choice)
    assert control.box.value is None
    first = next(value for _, value in control.box.options if value is not None)
    turned: list[Any] = []
    control.turned = turned.append
    control.box.value = first
    control.box.value = None
    assert turned == [first, None]


def test_a_choice_follows_to_a_value_that_it_did_not_know(family: PlanFile) -> None:
    control = control_of(family.plan, "household.habits")
    assert isinstance(control, Choice)
    turned: list[Any] = []
    control.turned = turned.append
    control.show(control.field, None)
    assert control.box.value is None
    assert turned == []


def test_a_switch_turns(family: PlanFile) -> None:
    control = control_of(family.plan, "uses.shower.hot")
    assert isinstance(control, Switch)
    before = control.value
    control.box.value = not before
    assert control.value is (not before)
    assert control.field.written(control.value) is (not before)
