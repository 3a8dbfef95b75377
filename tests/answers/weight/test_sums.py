from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings

from tests.answers.weight.test_findings import asked
from tests.examples import NAMES, example
from tests.strategies import plans
from vanwater.answers.weight.answer import weight
from vanwater.physics.water import density
from vanwater.plan.model import Plan
from vanwater.system.weight import STATES


def words(step: object) -> str:
    return "\n".join(step.lines()).replace("\N{NO-BREAK SPACE}", " ").replace("\N{NARROW NO-BREAK SPACE}", " ")  # type: ignore[attr-defined]


@pytest.mark.parametrize("name", NAMES)
def test_sums_and_table_are_the_same_numbers(name):
    answer = weight(example(name))
    found = answer.laden
    for place, state in enumerate(STATES[1:], start=1):
        for key, column in (
            ("water", found.water),
            ("front", found.front),
            ("rear", found.rear),
            ("right", found.right),
        ):
            assert float(answer.numbers[f"weight.{state}.{key}"].value) == pytest.approx(column[0, place], abs=1e-9)


def test_a_sum_unfolds_to_moments_and_density():
    told = words(asked().numbers["weight.leaving.rear"])
    assert "fresh on the rear axle = 50 kg" in told
    assert "m x / w" in told and "w = 3 m" in told and "content = 100 L" in told
    mass = next(one for _, one in asked().numbers["weight.leaving.water"].walk() if one.name == "fresh, full")
    assert float(mass.value) == pytest.approx(0.1 * float(density(277.15)))


def test_an_axle_is_the_weighed_van_with_loads_and_water():
    told = words(asked().numbers["weight.rear"])
    assert told.startswith("rear axle, coming home = 1 138 kg")
    assert "weighed empty = 1 000 kg" in told and "people and loads = 50 kg" in told
    assert float(asked().numbers["weight.payload"].value) == pytest.approx(2600 - 2450, abs=0.01)
    home = asked({"tanks.grey.capacity": "120 L"}).numbers["weight.payload"]
    assert "water, coming home" in words(home)
    assert float(home.value) == pytest.approx(130, abs=0.01)


def test_what_has_no_place_is_named_beside_the_sum():
    told = words(asked({"tanks.grey.x": None}).numbers["weight.home.rear"])
    assert told.startswith("rear axle against dry, coming home = 0 kg")
    assert "without a place, not counted = 80 kg" in told


def test_right_over_left_adds_up():
    told = asked().numbers["weight.leaving.right"]
    assert float(told.value) == pytest.approx(2 * 100 * 0.4 / 1.6, rel=1e-4)
    assert "m (1/2 + y / b)" in words(told)


def test_only_what_is_known_has_a_sum():
    assert set(asked({"vehicle": None}).numbers) == {f"weight.{state}.water" for state in STATES[1:]}
    assert not any(key.endswith("right") for key in asked({"vehicle.track": None}).numbers)
    assert "weight.front" not in asked({"vehicle.empty_front": None}).numbers


@settings(max_examples=25, deadline=None)
@given(plans())
def test_sums_of_any_plan_add_up(raw):
    answer = weight(Plan.of(raw, file=True))
    for key, step in answer.numbers.items():
        assert key.startswith("weight.")
        assert np.isfinite(step.value).all()
        assert all(one.source for _, one in step.walk())
