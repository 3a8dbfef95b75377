from __future__ import annotations

from typing import Any

import pytest

from tests.answers.weight.test_findings import PLAN, asked
from tests.examples import NAMES, example
from vanwater.answers.core.statement import Amount
from vanwater.answers.weight.answer import weight
from vanwater.plan.model import Plan


def table(answer: Any, key: str) -> Any:
    return next(one for one in answer.tables if one.key == key)


def column(answer: Any, key: str, heading: str) -> list[Any]:
    one = table(answer, key)
    place = [column.heading for column in one.columns].index(heading)
    return [row[place].value if isinstance(row[place], Amount) else row[place] for row in one.rows]


def test_the_verdict_tells_axles_and_payload():
    said = asked().verdict.text().replace("\N{NO-BREAK SPACE}", " ")
    assert said == (
        "Leaving full, 100 kg of water put 50 kg on the front axle and 50 kg on the rear; 150 kg of payload are left."
    )
    no_plate = asked({"vehicle.permitted_total": None}).verdict.text().replace("\N{NO-BREAK SPACE}", " ")
    assert no_plate == "Leaving full, 100 kg of water put 50 kg on the front axle and 50 kg on the rear."


def test_what_fails_is_the_verdict():
    over = asked({"vehicle.permitted_rear": "1130 kg"})
    assert over.failing
    assert over.verdict == over.findings[0].statement


@pytest.mark.parametrize("changes", [{"vehicle": None}, {"tanks.fresh.x": None}, {"vehicle.wheelbase": None}])
def test_without_wheelbase_or_places_the_rest_is_still_told(changes):
    answer = asked(changes)
    assert answer.verdict.text().startswith("The van leaves with 100")
    assert column(answer, "states", "water") == pytest.approx([0, 100, 80, 180], rel=1e-4)
    assert answer.decided is ("tanks.fresh.x" in changes)


def test_a_plan_without_tanks_is_not_decided():
    answer = weight(Plan.of({"van": {"name": "Van"}, "household": {"people": 1}}))
    assert not answer.decided
    assert answer.verdict.text() == "No tank is planned, so no water is weighed."
    assert (answer.tables, answer.findings, dict(answer.numbers)) == ((), (), {})


def test_the_states_side_by_side():
    answer = asked()
    for heading, of in (("front axle", "front"), ("rear axle", "rear"), ("in all", "total")):
        assert column(answer, "carried", heading) == pytest.approx(list(getattr(answer.carried, of)))
    dry, leaving, _, full = column(answer, "carried", "in all")
    assert (dry, leaving, full) == pytest.approx((2350, 2450, 2530), rel=1e-4)
    bare = asked({"vehicle.empty_front": None, "vehicle.track": None})
    assert [one.heading for one in table(bare, "states").columns] == ["state", "water", "front", "rear"]
    assert [one.heading for one in table(bare, "carried").columns] == ["state", "rear axle"]
    assert [one.key for one in asked({"vehicle.empty_front": None, "vehicle.empty_rear": None}).tables] == [
        "states",
        "places",
    ]


def test_every_place_with_what_it_puts_on_the_axles():
    answer = asked()
    assert column(answer, "places", "what") == ["fresh", "grey", "crew"]
    assert column(answer, "places", "on front") == pytest.approx([50, -8, 100], rel=1e-3)
    total = [
        a + b for a, b in zip(*(column(answer, "places", f"on {axle}") for axle in ("front", "rear")), strict=True)
    ]
    assert total == pytest.approx(column(answer, "places", "full"))


@pytest.mark.parametrize("name", NAMES)
def test_the_examples_are_placed_and_cautioned(name):
    answer = weight(example(name))
    assert answer.decided and not answer.failing
    assert [caution.key for caution in answer.cautions] == ["weight", "estimate"]
    assert "public scale" in answer.cautions[0].text and "law" in answer.cautions[0].text
    assert len(answer.verdict.text()) < 125


def test_the_cans_leave_half_full_as_planned():
    plan = Plan.of(PLAN).changed({"tanks.fresh.filled": 0.5})
    answer = weight(plan)
    assert column(answer, "states", "water")[1] == pytest.approx(50, rel=1e-4)
    assert any(one.key == "filled" for one in answer.assumptions)
