from __future__ import annotations

from typing import Any

import numpy as np
import pytest
from hypothesis import given

from tests.answers.weight.test_findings import PLAN, asked
from tests.drawn import WHOLE_PLANS
from tests.examples import NAMES, example
from tests.strategies import plans
from tests.walk import walk
from vanwater.answers.core.number import Number
from vanwater.answers.core.statement import Amount
from vanwater.answers.questions import QUESTIONS
from vanwater.answers.weight.answer import weight
from vanwater.answers.weight.masses import Masses
from vanwater.physics.water import density
from vanwater.plan.model import Plan
from vanwater.system.batch import Batch, Row
from vanwater.system.weight import laden


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
    for heading, of in (("front axle", "front_load"), ("rear axle", "rear_load"), ("in all", "total")):
        assert column(answer, "carried", heading) == [number.likely for number in getattr(answer.masses, of)]
    dry, leaving, _, full = column(answer, "carried", "in all")
    assert (dry, leaving, full) == pytest.approx((2350, 2450, 2530), rel=1e-4)
    bare = asked({"vehicle.empty_front": None, "vehicle.track": None})
    assert [one.heading for one in table(bare, "states").columns] == ["state", "water", "front", "rear"]
    assert [one.heading for one in table(bare, "carried").columns] == ["state", "rear axle"]
    assert [one.key for one in asked({"vehicle.empty_front": None, "vehicle.empty_rear": None}).tables] == [
        "states",
        "centre",
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
    answer = QUESTIONS["weight"].ask(example(name))
    assert answer.decided and not answer.failing
    assert {caution.key for caution in answer.cautions} >= {"weight", "straps", "estimate"}
    first = str(answer.cautions[0].text)
    assert answer.cautions[0].key == "weight" and "public scale" in first and "law" in first
    assert len(answer.verdict.text()) < 125


def test_the_cans_leave_half_full_as_planned():
    plan = Plan.of(PLAN).changed({"tanks.fresh.filled": 0.5})
    answer = weight(plan)
    assert column(answer, "states", "water")[1] == pytest.approx(50, rel=1e-4)
    assert any(one.key == "filled" for one in answer.assumptions)


@pytest.mark.parametrize("name", NAMES)
def test_every_number_has_a_key_a_reason_and_a_sum(name):
    assert walk(weight(example(name))) > 20


@WHOLE_PLANS
@given(plans())
def test_the_same_for_any_plan(raw):
    walk(weight(Plan.of(raw, file=True)))


def words(number: Number) -> str:
    return "\n".join(number.lines()).replace("\N{NO-BREAK SPACE}", " ").replace("\N{NARROW NO-BREAK SPACE}", " ")


def test_a_sum_unfolds_to_moments_and_density():
    told = words(asked().numbers["axle.rear.water.leaving"])
    assert "fresh on the rear axle = 50 kg" in told
    assert "m x / w" in told and "w = 3 m" in told and "content = 100 L" in told
    assert asked().numbers["tank.fresh.mass"].likely == pytest.approx(0.1 * float(density(277.15)))


def test_an_axle_is_the_weighed_van_with_loads_and_water():
    told = words(asked().numbers["axle.rear.load.home"])
    assert told.startswith("rear axle, coming home = 1 138 kg")
    assert "vehicle.empty_rear = 1 000 kg" in told and "people and loads = 50 kg" in told
    assert asked().numbers["van.payload"].likely == pytest.approx(2600 - 2450, abs=0.01)
    home = asked({"tanks.grey.capacity": "120 L"}).numbers["van.payload"]
    assert "less the van, coming home" in words(home)
    assert home.likely == pytest.approx(130, abs=0.01)


def test_what_has_no_place_is_named_beside_the_sum():
    told = words(asked({"tanks.grey.x": None}).numbers["axle.rear.water.home"])
    assert told.startswith("rear axle against dry, coming home = 0 kg")
    assert "without a place, not counted = 80 kg" in told


def test_right_over_left_adds_up():
    told = asked().numbers["van.right_over_left.leaving"]
    assert told.likely == pytest.approx(2 * 100 * 0.4 / 1.6, rel=1e-4)
    assert "m (1/2 + y / b)" in words(told)


def test_only_what_is_known_is_told():
    shown = asked({"vehicle": None}).numbers
    assert not any(key.startswith("axle") for key in shown) and "van.payload" not in shown
    assert not any("right" in key for key in asked({"vehicle.track": None}).numbers)
    assert not any(key.startswith("axle.front.load") for key in asked({"vehicle.empty_front": None}).numbers)


def test_along_the_rows_it_is_the_changed_plans_own():
    plan = Plan.of(PLAN)
    changes = {"tanks.fresh.x": 2.0, "vehicle.wheelbase": 3.3, "loads.crew.mass": 200.0, "vehicle.empty_rear": 1010.0}
    batch = Batch(plan, [Row(address, {address: value}) for address, value in changes.items()])
    masses = Masses(batch, laden(batch))
    for row, (address, value) in enumerate(changes.items(), start=1):
        own = weight(plan.changed({address: value}, si=True)).masses
        for name in ("front_load", "rear_load", "total", "water", "right"):
            for along, alone in zip(getattr(masses, name), getattr(own, name), strict=True):
                assert along.values[row] == pytest.approx(alone.likely, rel=1e-12)
        assert masses.payload.values[row] == pytest.approx(own.payload.likely, rel=1e-12)


@pytest.mark.parametrize("name", NAMES)
def test_the_centre_of_the_water_is_the_mean_of_its_tanks_by_what_they_hold(name):
    answer = weight(example(name))
    held = answer.masses.laden
    for state, (behind, beside) in enumerate(zip(answer.masses.behind, answer.masses.beside, strict=True)):
        each = held.mass[0] * held.filled[0, state]
        if not each.sum():
            assert np.isnan(behind.likely)
            continue
        assert behind.likely == pytest.approx(np.average(held.x[0], weights=each))
        assert beside.likely == pytest.approx(np.average(held.y[0], weights=each))
    assert column(answer, "centre", "behind front axle")[1] == answer.masses.behind[1].likely


def test_water_without_a_place_has_no_centre():
    answer = asked({"tanks.fresh.x": None})
    told = [np.isnan(number.likely) for number in answer.masses.behind]
    assert told == [True, True, False, True]  # home, the fresh tank is empty
