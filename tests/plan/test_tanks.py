from __future__ import annotations

import pytest

from vanwater.plan.model import Plan
from vanwater.plan.problems import PlanError
from vanwater.plan.tanks import HOLDS, SIDES, Tank

PLAN = {"van": {"name": "x"}, "household": {"people": 2}}
BOX = {"length": "1 m", "width": "50 cm", "height": "30 cm"}
LYING = {"shape": "lying cylinder", "length": "1 m", "diameter": "30 cm"}
STANDING = {"shape": "standing cylinder", "height": "30 cm", "diameter": "25 cm"}


def tank(**said: object) -> Tank:
    return Plan.of({**PLAN, "tanks": {"main": {"holds": "fresh", **said}}}).tanks["main"]


def complaints(**said: object) -> dict[str, str]:
    with pytest.raises(PlanError) as caught:
        tank(**said)
    return {problem.address.removeprefix("tanks.main."): problem.message for problem in caught.value.problems}


def test_a_tank_is_its_capacity_or_its_sides() -> None:
    assert tank(capacity="75 L").inside_height is None
    assert tank(**BOX).inside_height == pytest.approx(0.3)
    assert tank(**LYING).inside_height == pytest.approx(0.3)
    assert tank(**STANDING).inside_height == pytest.approx(0.3)
    assert tank(**BOX, pickup_from_front="1 m", pickup_from_left="50 cm").pickup_from_left == pytest.approx(0.5)
    assert tank(**BOX, capacity="140 L").capacity == pytest.approx(0.14)
    assert set(SIDES) == {"box", "lying cylinder", "standing cylinder"}
    assert HOLDS[0] == "fresh"


@pytest.mark.parametrize(
    ("said", "field", "words"),
    [
        ({}, "capacity", "neither its capacity nor its sides"),
        ({"length": "1 m"}, "width", "no width and no height"),
        ({"length": "1 m", "height": "1 m"}, "width", "no width."),
        ({"shape": "lying cylinder", "capacity": "75 L"}, "length", "no length and no diameter"),
        ({**LYING, "width": "1 m"}, "width", "A lying cylinder has no width"),
        ({**BOX, "diameter": "1 m"}, "diameter", "A box has no diameter"),
        ({**BOX, "pickup": "31 cm"}, "pickup", "The pick-up lies above the tank's top"),
        ({**BOX, "overflow": "31 cm"}, "overflow", "The overflow lies above the tank's top"),
        ({**LYING, "overflow": "31 cm"}, "overflow", "The overflow lies above the tank's top"),
        ({"capacity": "75 L", "pickup": "20 cm", "overflow": "10 cm"}, "overflow", "at or below the pick-up"),
        ({"capacity": "75 L", "pickup": "20 cm", "overflow": "20 cm"}, "overflow", "at or below the pick-up"),
        ({**BOX, "pickup_from_front": "1.1 m"}, "pickup_from_front", "beyond the tank's rear wall"),
        ({**BOX, "pickup_from_left": "51 cm"}, "pickup_from_left", "beyond the tank's right wall"),
        ({**LYING, "pickup_from_front": "1.1 m"}, "pickup_from_front", "beyond the tank's rear wall"),
        ({"capacity": "20 L", "out_of_reach": "20 L"}, "out_of_reach", "than the tank holds"),
        ({**BOX, "capacity": "160 L"}, "capacity", "The capacity is 160"),
        ({**BOX, "capacity": "500 L"}, "capacity", "hold 150"),
        ({**BOX, "capacity": "120 L"}, "capacity", "hold 150"),
        ({**LYING, "capacity": "100 L"}, "capacity", "hold 70.7"),
        ({**STANDING, "capacity": "1000 L"}, "capacity", "The capacity is 1"),
        ({"capacity": "75 L", "pickup": "101 mm", "overflow": "10.1 cm"}, "overflow", "at or below the pick-up"),
        ({"capacity": "20", "out_of_reach": "20 L"}, "capacity", "no unit"),
        ({"capacity": "75"}, "capacity", "no unit"),
        ({"length": "1"}, "length", "no unit"),
        ({**BOX, "shape": "ball"}, "shape", "not one of the choices"),
        ({**BOX, "height": "30"}, "height", "no unit"),
        ({**BOX, "height": "30", "pickup": "31 cm"}, "height", "no unit"),
        ({"capacity": "75 L", "pickup": "20", "overflow": "10 cm"}, "pickup", "no unit"),
        ({"capacity": "75 L", "faces": {"topp": {}}}, "faces.topp", '"topp" is not known'),
        ({"capacity": "75 L", "faces": {"top": {"beside": "sea"}}}, "faces.top.beside", '"sea" is not one'),
    ],
)
def test_one_thing_is_said_of_a_tank_that_cannot_be(said: dict[str, object], field: str, words: str) -> None:
    found = complaints(**said)
    assert list(found) == [field]
    assert words in found[field]


@pytest.mark.parametrize("litres", ["128 L", "150 L", "157 L"])
def test_litres_rounded_or_rated_to_the_filler_are_the_same_tank(litres: str) -> None:
    assert tank(**BOX, capacity=litres).capacity is not None


def test_sides_measured_outside_are_the_likely_slip() -> None:
    box = {"length": "21 cm", "width": "21 cm", "height": "31 cm"}  # walls of 5 mm: 20 x 20 x 30 cm inside
    assert tank(**box, capacity="12 L").capacity is not None
    with pytest.raises(PlanError, match="Were the sides measured outside"):
        tank(**box, capacity="10 L")
    with pytest.raises(PlanError) as caught:
        tank(**box, capacity="30 L")
    assert "outside?" not in str(caught.value)


@pytest.mark.parametrize(
    "said",
    [
        {"height": "101 mm", "overflow": "10.1 cm"},
        {"height": "10.1 cm", "overflow": "101 mm"},
        {"height": "10.1 cm", "pickup": "101 mm", "overflow": None},
        {"length": "1.1 m", "pickup_from_front": "110 cm"},
        {"width": "55.1 cm", "pickup_from_left": "551 mm"},
    ],
)
def test_equal_lengths_in_other_units_are_equal(said: dict[str, object]) -> None:
    sides = {key: value for key, value in {**BOX, **said}.items() if value is not None}
    assert tank(**sides).inside_height is not None


def test_several_things_are_said_at_once() -> None:
    found = complaints(
        **BOX | {"diameter": "1 m", "pickup": "40 cm", "overflow": "35 cm", "count": 0, "filled": "200 %"}
    )
    assert set(found) == {"diameter", "pickup", "overflow", "count", "filled"}
