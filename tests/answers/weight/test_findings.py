from __future__ import annotations

from typing import Any

import pytest

from vanwater.answers.core.finding import Finding, Verdict
from vanwater.answers.weight.answer import Weight, weight
from vanwater.plan.model import Plan

PLAN = {
    "van": {"name": "Van"},
    "household": {"people": 2},
    "site": {"cold_water": "4 °C"},
    "tanks": {
        "fresh": {"holds": "fresh", "capacity": "100 L", "x": "1.5 m", "y": "0.4 m"},
        "grey": {"holds": "grey", "capacity": "80 L", "x": "3.3 m", "y": "0 m"},
    },
    "vehicle": {
        "wheelbase": "3 m",
        "track": "1.6 m",
        "empty_front": "1200 kg",
        "empty_rear": "1000 kg",
        "permitted_front": "1500 kg",
        "permitted_rear": "1400 kg",
        "permitted_total": "2600 kg",
    },
    "loads": {"crew": {"mass": "150 kg", "x": "1 m", "y": "0 m"}},
}


def asked(changes: dict[str, Any] | None = None) -> Weight:
    return weight(Plan.of(PLAN).changed(changes or {}, si=True))


def told(changes: dict[str, Any] | None = None) -> dict[str, Finding]:
    return {finding.key.removeprefix("weight."): finding for finding in asked(changes).findings}


def test_a_sound_van_is_fine_on_both_axles_in_all_and_on_both_sides():
    found = told()
    assert set(found) == {"front", "rear", "total", "sides"}
    assert {one.verdict for one in found.values()} == {Verdict.FINE}
    assert found["front"].value.value == pytest.approx(1200 + 100 + 50, rel=1e-4)
    assert found["rear"].value.value == pytest.approx(1000 + 50 + 80 * 3.3 / 3, rel=1e-4)  # coming home
    assert found["total"].value.value == pytest.approx(2200 + 150 + 100, rel=1e-4)
    assert "Coming home, the rear axle" in found["rear"].statement.text()


@pytest.mark.parametrize("which", ["front", "rear", "total"])
def test_the_limit_itself_decides(which):
    load = told()[which].value.value
    states = {"front": 0.0, "rear": 50.0, "total": 80.0}[which]  # what everything full adds to it
    key = f"vehicle.permitted_{which}"
    free = {f"vehicle.permitted_{one}": None for one in ("front", "rear", "total") if one != which}
    verdicts = [
        told({**free, key: limit})[which].verdict
        for limit in (load - 0.5, load + 0.5, (load + states) / 0.96 + 0.5, load / 0.97 + 0.5 + states)
    ]
    assert verdicts == [Verdict.FAILS, Verdict.WATCH, Verdict.FINE, Verdict.FINE]


def test_too_much_on_leaving_says_how_many_litres_less():
    found = told({"vehicle.permitted_total": "2430 kg"})["total"]
    assert found.verdict is Verdict.FAILS
    assert found.change.text().startswith("Leave with 20\N{NO-BREAK SPACE}L less in the fresh,")
    assert asked({"vehicle.permitted_total": "2430 kg"}).failing
    less = told({"vehicle.permitted_total": "2430 kg", "tanks.fresh.filled": 0.8})["total"]
    assert less.verdict is not Verdict.FAILS
    much = told({"vehicle.permitted_total": "2300 kg"})["total"].change.text()
    assert much == "Take 150\N{NO-BREAK SPACE}kg less along."


def test_an_axle_and_the_van_that_are_both_too_heavy_say_litres_of_their_own():
    changes = {
        "vehicle.permitted_front": "1340 kg",
        "vehicle.permitted_rear": None,
        "vehicle.permitted_total": "2425 kg",
    }
    found = told(changes)
    texts = [found[which].change.text() for which in ("front", "total")]
    assert all(text.startswith("Leave with ") for text in texts)
    assert texts[0] != texts[1]
    less = {key for key in asked(changes).numbers if key.startswith("tank.fresh.less")}
    assert less == {"tank.fresh.less.front", "tank.fresh.less.total"}


def test_litres_less_for_an_axle_count_only_their_share():
    change = told({"vehicle.permitted_front": "1340 kg", "vehicle.permitted_rear": None})["front"].change.text()
    assert "20\N{NO-BREAK SPACE}L less" in change  # half of a litre rests on the front axle
    home = told({"vehicle.permitted_rear": "1130 kg"})["rear"].change.text()
    assert home.startswith("Take 8\N{NO-BREAK SPACE}kg off it")


def test_only_everything_full_is_too_much():
    found = told({"vehicle.permitted_total": "2480 kg"})["total"]
    assert found.verdict is Verdict.WATCH
    assert found.statement.text().startswith("Everything full")
    assert "Empty grey tank" in found.change.text()


def test_what_has_no_place_may_rest_on_any_axle():
    found = told({"tanks.grey.x": None, "vehicle.permitted_front": "1400 kg", "vehicle.permitted_rear": "1500 kg"})
    assert found["places"].verdict is Verdict.NOT_DECIDED
    assert found["places"].address == "tanks.grey.x"
    assert found["front"].verdict is Verdict.WATCH  # 1300 kg dry, and 80 kg that may rest there
    both = told({"tanks.grey.x": None, "tanks.fresh.x": None})["places"].statement.text()
    assert "fresh and grey sit" in both


def test_a_tank_behind_the_rear_axle_takes_weight_off_the_front():
    assert "lifted" not in told({"tanks.grey.x": "3.7 m"})
    found = told({"tanks.grey.x": "3.8 m"})["lifted"]
    assert found.verdict is Verdict.WATCH
    assert "Coming home, the water takes 21\N{NO-BREAK SPACE}kg off" in found.statement.text()


def test_a_lopsided_van_is_watched():
    found = told({"tanks.fresh.y": "-1 m"})["sides"]
    assert found.verdict is Verdict.WATCH
    assert "more on the left side" in found.statement.text() and "right side" in found.change.text()
    assert "sides" not in told({"vehicle.track": None})
    assert "sides" not in told({"vehicle.empty_rear": None})


@pytest.mark.parametrize(
    ("changes", "key", "address"),
    [
        ({"vehicle": None}, "wheelbase", "vehicle.wheelbase"),
        ({"vehicle.wheelbase": None}, "wheelbase", "vehicle.wheelbase"),
        ({"vehicle.empty_rear": None}, "limits", "vehicle.empty_rear"),
        ({"vehicle.permitted_front": None}, "limits", "vehicle.permitted_front"),
    ],
)
def test_what_is_missing_is_not_decided(changes, key, address):
    found = told(changes)[key]
    assert found.verdict is Verdict.NOT_DECIDED
    assert found.address == address
    assert found.change is not None


def test_the_total_needs_no_wheelbase():
    found = told({"vehicle.wheelbase": None, "vehicle.permitted_total": "2440 kg"})
    assert found["total"].verdict is Verdict.FAILS
    assert "front" not in found and "rear" not in found


def test_without_tanks_nothing_is_said():
    assert told({"tanks": None}) == {}
