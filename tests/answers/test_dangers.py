from __future__ import annotations

import random

import pytest

from tests.answers.dangers import DANGERS, DIRECT, WISHES, plan_with
from tests.terminal.made import piped
from vanwater.answers.core.finding import Finding, Verdict
from vanwater.answers.questions import answers_to
from vanwater.document.first_page import to_know
from vanwater.plan.model import Plan
from vanwater.system.thermostat import unmixed_outlets
from vanwater.terminal.overview import overview

WISHED = ("stay.days", "outlets.shower.flow", "outlets.tap.flow")


def told(plan: Plan, key: str) -> Finding | None:
    return next((finding for finding in answers_to(plan).findings if finding.key == key), None)


def test_the_sound_van_has_no_danger_and_nothing_that_fails() -> None:
    assert [finding.key for finding in answers_to(plan_with()).findings if finding.urgent] == []
    wished = [finding.key for finding in answers_to(plan_with(WISHES)).findings if finding.urgent]
    assert sorted(wished) == sorted(WISHED)


@pytest.mark.parametrize(("key", "planted"), DANGERS.values(), ids=DANGERS)
def test_a_planted_danger_stands_above_every_wish_at_a_glance(key: str, planted: dict[str, object]) -> None:
    answers = answers_to(plan_with(WISHES, planted))
    found = answers.findings[0]
    assert found.key == key and found.verdict in (Verdict.FAILS, Verdict.WATCH)
    screen = " ".join(" ".join(overview(answers, piped())).split())
    wishes = [each for each in answers.findings if each.key in WISHED]
    statements = [" ".join(each.statement.text().replace("\u202f", " ").split()) for each in (found, *wishes)]
    places = [screen.find(statement) for statement in statements]
    assert -1 not in places and places == sorted(places) and len(wishes) >= 2
    first, *_ = (each for _, each in to_know(tuple(answers.values())))
    assert first is found


@pytest.mark.parametrize("seed", range(24))
def test_in_vans_of_many_sizes_a_planted_danger_stands_first(seed: int) -> None:
    draw = random.Random(seed)
    size = {
        "household.people": draw.randint(1, 4),
        "household.days_wanted": f"{draw.randint(9, 30)} days",
        "van.units": draw.choice(["metric", "us"]),
        "site.altitude": f"{draw.randint(0, 1400)} m",
        "site.highest": f"{draw.randint(1500, 3000)} m",
        "tanks.fresh.length": f"{draw.uniform(0.7, 1.2):.2f} m",
        "tanks.grey.length": f"{draw.uniform(0.7, 1.2):.2f} m",
        "heaters.heater.volume": f"{draw.randint(6, 15)} L",
        "battery.charge": f"{draw.randint(300, 600)} Ah",
        "outlets.shower.wanted": f"{draw.uniform(10, 15):.1f} L/min",
        "outlets.tap.wanted": f"{draw.uniform(10, 15):.1f} L/min",
        "runs.hot trunk.length": f"{draw.uniform(0.3, 3):.1f} m",
    }
    key, planted = draw.choice([danger for name, danger in DANGERS.items() if "boiling" not in name])
    assert not any(finding.danger for finding in answers_to(plan_with(size)).findings)
    findings = answers_to(plan_with(size, planted)).findings
    assert findings[0].key == key and findings[0].urgent
    assert {"stay.days"} <= {finding.key for finding in findings if finding.verdict is Verdict.FAILS}


def test_a_mixer_of_either_kind_and_cold_water_at_the_outlet_are_no_straight_way() -> None:
    assert unmixed_outlets(plan_with(), "heater") == ()
    assert unmixed_outlets(plan_with(DIRECT), "heater") == ("tap",)
    both = {**DIRECT, "runs.cold tap line": {"from": "cold tee", "to": "tap", "size": "pex 12 mm", "length": "1 m"}}
    assert unmixed_outlets(plan_with(both), "heater") == ()
    by_hand = {"mixers.tap mixer": {"kind": "hand", "z": "1 m"}}
    assert unmixed_outlets(plan_with(by_hand), "heater") == ()
    finding = told(plan_with(by_hand, {"heaters.heater.set_point": "72 °C"}), "hot_water.heater.scald")
    assert (
        finding is not None and finding.verdict is Verdict.WATCH and "no thermostatic valve" in finding.statement.text()
    )


@pytest.mark.parametrize(
    ("hot", "verdict", "words"),
    [("50 °C", Verdict.WATCH, "about "), ("60 °C", Verdict.FAILS, "6"), ("85 °C", Verdict.FAILS, "less than a second")],
)
def test_water_straight_to_a_tap_fails_where_nobody_pulls_back_in_time(hot: str, verdict: Verdict, words: str) -> None:
    finding = told(plan_with(DIRECT, {"heaters.heater.set_point": hot}), "hot_water.heater.scald")
    assert finding is not None and finding.verdict is verdict
    assert words in finding.statement.text() and "no mixer before it" in finding.statement.text()


def test_a_scald_is_told_in_the_plans_own_units() -> None:
    finding = told(plan_with(DIRECT), "hot_water.heater.scald")
    assert finding is not None and finding.advice is not None
    text = finding.statement.text(us=True) + finding.advice.text(us=True)
    assert "°C" not in text and "109" in text.replace("\N{NO-BREAK SPACE}", " ")


def test_only_a_tank_that_starts_empty_makes_a_cut_out_too_little() -> None:
    key, planted = DANGERS["pad on an empty tank"]
    full = told(plan_with(planted, {"tanks.grey.filled": "50 %"}), key)
    fresh = told(plan_with({"pads.fresh pad.protected_by": "temperature"}), "frost.fresh pad.protected")
    empty = told(
        plan_with({"pads.fresh pad.protected_by": "temperature", "tanks.fresh.filled": "0 %"}),
        "frost.fresh pad.protected",
    )
    assert full is not None and fresh is not None and full.verdict is fresh.verdict is Verdict.FINE
    assert empty is not None and empty.verdict is Verdict.WATCH


@pytest.mark.parametrize(
    ("changes", "verdict"),
    [
        ({}, Verdict.FAILS),
        ({"battery.volts": "25.6 V"}, Verdict.FAILS),
        ({"battery.volts": "12 V"}, Verdict.WATCH),
        ({"battery.volts": "12 V", "battery.usable": "50 %"}, None),
        ({"battery.charging": None}, None),
        ({"frost.room": "1 °C"}, None),
        ({"frost.design_cold": None, "frost.mean_cold": None}, Verdict.FAILS),
    ],
)
def test_a_lithium_battery_is_known_by_its_volts(changes: dict[str, object], verdict: Verdict | None) -> None:
    finding = told(plan_with({"frost.room": "-4 °C"}, changes), "power.battery.charging")
    assert (finding.verdict if finding is not None else None) is verdict


def test_a_charging_battery_is_no_wrong_voltage() -> None:
    rated = {"pumps.pump.curve_volts": "12 V"}
    assert told(plan_with(rated, {"pumps.pump.volts": "14.6 V"}), "outlets.pump.volts") is None
    assert told(plan_with(rated, {"pumps.pump.volts": "15.1 V"}), "outlets.pump.volts") is not None
    assert told(plan_with(rated, {"pumps.pump.volts": "10.5 V"}), "outlets.pump.volts") is None
    assert told(plan_with({"pumps.pump.curve_volts": "27 V"}, {}), "outlets.pump.volts") is not None  # on 12 V


def test_boiling_is_judged_at_the_highest_place_only_where_one_is_said() -> None:
    hot = {"heaters.heater.set_point": "94 °C"}
    assert told(plan_with(hot, {"site.highest": None}), "hot_water.heater.boils") is None
    assert told(plan_with(hot, {"site.highest": "300 m"}), "hot_water.heater.boils") is not None  # 99 °C there
    near = told(plan_with(hot, {"site.highest": "300 m"}), "hot_water.heater.boils")
    assert near is not None and near.verdict is Verdict.WATCH
    assert told(plan_with({"site.highest": "3000 m"}), "hot_water.heater.boils") is None


def test_rinsing_the_toilet_is_no_washing() -> None:
    rinse = {"uses.rinse": {"a_day": "4 a day", "volume": "0.2 L", "to": "urine container"}}
    assert told(plan_with(rinse), "stay.rinse.urine") is None
    bare = {"uses.rinse": {"a_day": "4 a day", "volume": "2 L", "to": "urine container"}}
    assert told(plan_with(bare), "stay.rinse.urine") is not None


def test_a_van_without_electricity_is_asked_for_no_battery() -> None:
    by_hand = Plan.of(
        {
            "van": {"name": "plain"},
            "household": {"people": 2, "habits": "careful"},
            "tanks": {"fresh": {"holds": "fresh", "capacity": "20 L"}, "grey": {"holds": "grey", "capacity": "20 L"}},
            "pumps": {"foot": {"kind": "foot", "stroke": "0.1 L", "strokes": "40 a minute", "stall": "0.8 bar"}},
        }
    )
    assert told(by_hand, "stay.battery") is None
    electric = by_hand.changed({"pumps.foot": {"kind": "submersible", "tank": "fresh"}})
    assert told(electric, "stay.battery") is not None


@pytest.mark.parametrize(
    ("hot", "a_day", "verdict"),
    [
        ("45 °C", "0.9 a day", Verdict.FINE),
        ("45 °C", "0.05 a day", Verdict.WATCH),
        ("60 °C", "0.05 a day", Verdict.FINE),
    ],
)
def test_legionella_are_told_by_warmth_and_by_the_daily_draw(hot: str, a_day: str, verdict: Verdict) -> None:
    uses = {f"uses.{use}.a_day": a_day for use in ("shower", "dishes")}
    finding = told(plan_with({"heaters.heater.set_point": hot}, uses), "hot_water.heater.hygiene")
    assert finding is not None and finding.verdict is verdict
    assert "uilding" not in finding.statement.text()
