from __future__ import annotations

import pytest

from tests.answered import ratings
from tests.examples import NAMES, example
from tests.walk import walk
from vanwater.answers.core.finding import Verdict
from vanwater.answers.questions import answers_to
from vanwater.plan.model import Plan

FAMILY = example("family-winter")


def test_the_verdict_is_the_worst_finding_and_counts_those_alike() -> None:
    fine = ratings(FAMILY)
    assert fine.decided
    assert fine.verdict.text() == fine.findings[0].statement.text()
    hot = ratings(FAMILY.changed({"heaters.heater.set_point": "75 °C"}))
    failing = [one for one in hot.findings if one.verdict is Verdict.FAILS]
    assert len(failing) > 1
    assert hot.verdict.text().replace("\xa0", " ") == (
        f"{failing[0].statement.text()} {len(failing) - 1} more like it.".replace("\xa0", " ")
    )


def test_controls_turn_what_presses_and_what_warms() -> None:
    answer = ratings(FAMILY)
    controls = list(answer.question.controls(FAMILY, answer))
    assert controls[:3] == ["heaters.heater.relief", "heaters.heater.set_point", "pumps.pump.cut_out"]
    assert "runs.handset hose.size" in controls
    for address in controls:
        FAMILY.at(address)


def test_it_is_left_out_where_nothing_is_known_of_any_piece() -> None:
    empty = Plan.of({"van": {"name": "t"}, "household": {"people": 1}})
    assert ratings(empty).silent
    assert "ratings" not in answers_to(empty)
    assert "ratings" in answers_to(FAMILY)


@pytest.mark.parametrize("name", NAMES)
@pytest.mark.parametrize("changes", [{}, {"heaters.heater.set_point": "75 °C"}, {"heaters.heater.relief": "9 bar"}])
def test_every_number_is_a_number_with_its_sum(name: str, changes: dict[str, str]) -> None:
    plan = example(name)
    if not changes or plan.heaters:
        heater = next(iter(plan.heaters), "")
        renamed = {key.replace(".heater.", f".{heater}."): value for key, value in changes.items()}
        assert walk(ratings(plan.changed(renamed))) > 3
