"""A plan's file with its answers; what was agreed or measured of nothing is told at its line."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.examples import PLANS
from vanwater.answering import answered
from vanwater.plan.problems import PlanError
from vanwater.terminal.refusal import RefusedError

TEXT = (PLANS / "weekend-cans.toml").read_text(encoding="utf-8")
LINES = TEXT.count("\n")


def written(folder: Path, number: str, value: str = "5 L/min", more: str = "") -> str:
    path = folder / "van.toml"
    table = f'[measured.a]\nnumber = "{number}"\nvalue = "{value}"\non = "2025-03-14"\ninstrument = "bucket"\n{more}'
    path.write_text(TEXT + table, encoding="utf-8")
    return str(path)


def test_a_plan_is_read_and_answered() -> None:
    file, answers = answered(str(PLANS / "weekend-cans.toml"))
    assert answers.plan is file.plan and "stay" in answers


@pytest.mark.parametrize(("number", "value", "line"), (("outlet.nobody.flow", "5 L/min", 2), ("stay.days", "5 bar", 3)))
def test_what_was_measured_of_nothing_or_in_another_unit_is_told_at_its_line(
    tmp_path: Path, number: str, value: str, line: int
) -> None:
    with pytest.raises(PlanError, match=rf"van\.toml:{LINES + line} measured\.a\."):
        answered(written(tmp_path, number, value))


def test_so_is_what_belongs_to_a_situation(tmp_path: Path) -> None:
    name = next(iter(answered(str(PLANS / "weekend-cans.toml"))[0].plan.situations))
    with pytest.raises(PlanError, match=r"measured\.a\.number: The plan has no number"):
        answered(written(tmp_path, "nothing.at.all", more=f'situation = "{name}"\n'))


def test_an_unknown_situation_is_refused() -> None:
    with pytest.raises(RefusedError, match="no situation"):
        answered(str(PLANS / "weekend-cans.toml"), "never")
