from __future__ import annotations

from typing import get_args

import pytest

from vanwater.plan.change import CappedWarning
from vanwater.plan.model import Plan
from vanwater.plan.problems import PlanError
from vanwater.plan.winter import BESIDE, Beside, Body, Frost

PLAN = {
    "van": {"name": "x"},
    "household": {"people": 2},
    "tanks": {"fresh": {"holds": "fresh", "capacity": "75 L", "foam": "20 mm", "faces": {"top": {"beside": "room"}}}},
}


def test_cold_is_read_in_kelvin_and_faces_by_their_names() -> None:
    plan = Plan.of({**PLAN, "frost": {"design_cold": "-12 °C", "mean_cold": "20 °F"}})
    assert plan.at("frost.design_cold") == pytest.approx(261.15)
    assert plan.at("frost.mean_cold") == pytest.approx(266.483, abs=1e-3)
    assert plan.at("tanks.fresh.faces.top.beside") == "room"
    assert plan.at("tanks.fresh.foam") == pytest.approx(0.02)
    assert Frost().hold > 273.15
    assert get_args(Beside) == BESIDE


@pytest.mark.parametrize(
    ("said", "address", "words"),
    [
        ({"frost": {"design_cold": "-12 C"}}, "frost.design_cold", "unit is not clear"),
        ({"frost": {"design_cold": "-120 °C"}}, "frost.design_cold", "not believable"),
        ({"frost": {"nights": 0}}, "frost.nights", "too few"),
        ({"pads": {"pad": {"tank": "frsh", "power": "60 W"}}}, "pads.pad.tank", '"frsh" does not exist'),
        ({"pads": {"pad": {"tank": "fresh"}}}, "pads.pad.power", 'says no "power"'),
        ({"pads": {"pad": {"tank": "fresh", "power": "60 W", "fed": "solar"}}}, "pads.pad.fed", "solar"),
    ],
)
def test_bad_value_is_told(said: dict[str, object], address: str, words: str) -> None:
    with pytest.raises(PlanError) as caught:
        Plan.of({**PLAN, **said})
    (problem,) = caught.value.problems
    assert problem.address == address
    assert words in problem.message


def test_the_body_is_said_by_its_size_a_time_constant_or_two_readings() -> None:
    said = {"first": "12 °C", "later": "5 °C", "after": "2 h", "outside": "-3 °C"}
    plan = Plan.of({**PLAN, "body": {"size": "large", "measured": said}})
    assert plan.body.measured is not None
    assert plan.at("body.measured.after") == pytest.approx(7200.0)
    assert Plan.of(PLAN).body == Body()
    with pytest.warns(CappedWarning, match="readings"):
        plan.changed({"body.time_constant": "3 h"})


@pytest.mark.parametrize(
    ("readings", "address", "told"),
    [
        ({"later": "13 °C"}, "body.measured.later", "did not cool"),
        ({"outside": "6 °C"}, "body.measured.outside", "no warmer than the outside"),
        ({"after": "5"}, "body.measured.after", "no unit"),
    ],
)
def test_readings_that_do_not_cool_are_refused(readings: dict[str, str], address: str, told: str) -> None:
    said = {"first": "12 °C", "later": "5 °C", "after": "2 h", "outside": "-3 °C", **readings}
    with pytest.raises(PlanError) as caught:
        Plan.of({**PLAN, "body": {"measured": said}})
    (problem,) = caught.value.problems
    assert problem.address == address
    assert told in problem.message


def test_water_is_drained_in_a_situation_of_its_own() -> None:
    plan = Plan.of({**PLAN, "situations": {"laid up": {"water": {"drained": True}}}})
    assert not plan.water.drained
    assert plan.in_situation("laid up").water.drained
