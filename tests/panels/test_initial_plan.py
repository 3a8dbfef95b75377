from __future__ import annotations

from pathlib import Path

import pytest

from vanwater.panels.initial_plan import EXAMPLE, PLAN_VARIABLE, RefusedPlanError, plan_in_hand
from vanwater.plan.file import PlanFile
from vanwater.terminal.lab import PLAN_VARIABLE as HANDED_OVER


def test_the_terminal_hands_the_plan_over_under_the_same_name() -> None:
    assert PLAN_VARIABLE == HANDED_OVER


def test_the_plan_that_was_handed_over_is_read(own_file: PlanFile) -> None:
    assert plan_in_hand({PLAN_VARIABLE: str(own_file.path)}).path == own_file.path


@pytest.mark.parametrize("environment", [{}, {PLAN_VARIABLE: ""}])
def test_without_one_it_begins_with_an_example(environment: dict[str, str]) -> None:
    assert plan_in_hand(environment).path.name == EXAMPLE


def test_a_plan_that_cannot_be_used_is_told_without_the_way_through_the_program(tmp_path: Path) -> None:
    path = tmp_path / "van.toml"
    path.write_text('[van]\nname = "v"\n[household]\npeople = 99\n', encoding="utf-8")
    with pytest.raises(RefusedPlanError) as caught:
        plan_in_hand({PLAN_VARIABLE: str(path)})
    lines = caught.value._render_traceback_()
    assert lines[0] == "This plan cannot be used:"
    assert lines[1].startswith("van.toml:4 household.people: 99")
    assert not any("Traceback" in line for line in lines)
