from __future__ import annotations

from typing import Any

from vanwater.panels.control import control_for
from vanwater.panels.control_base import Control
from vanwater.panels.field import Field
from vanwater.plan.file import PlanFile


def control_of(file: PlanFile, address: str) -> Control:
    return control_for(Field(file.plan, address))


def test_a_control_that_is_shown_another_value_tells_nobody(family: PlanFile) -> None:
    control = control_of(family, "household.people")
    told: list[Any] = []
    control.turned = told.append
    control.show(control.field, 2)
    assert (control.value, told) == (2, [])
    control.turn(3)
    assert (control.value, told) == (3, [3])


def test_the_way_back_to_the_plan_is_a_button_with_a_name_where_the_value_differs(family: PlanFile) -> None:
    control = control_of(family, "household.people")
    told: list[str] = []
    control.reset = lambda: told.append("back")
    assert control.home.layout.display == "none"
    control.turn(2)
    assert control.home.layout.display == ""
    assert control.home.tooltip == "household, people who live in the van: back to the plan's 4"
    control.home.click()
    assert told == ["back"]
    control.show(control.field, 2)  # it follows the plan there: nothing to reset
    assert control.home.layout.display == "none"


def test_a_control_says_what_it_moves(family: PlanFile) -> None:
    head = control_of(family, "runs.suction.clogged").head.value
    assert f'title="{Field(family.plan, "runs.suction.clogged").note.description}"' in head
