from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given

from tests.drawn import WHOLE_PLANS
from tests.examples import NAMES, example
from tests.pumped import on_the_mains
from tests.strategies import Raw, plans
from vanwater.answers.core.finding import Finding, Verdict
from vanwater.answers.ratings.answer import ratings as answered
from vanwater.answers.ratings.answer import ratings_findings
from vanwater.answers.ratings.judged import CAUSES, least_relief
from vanwater.plan.model import Plan
from vanwater.plan.ratings import MARGIN, rating_at, ratings
from vanwater.plan.tables import pipes

FAMILY = example("family-winter")
NB = "\N{NO-BREAK SPACE}"


def told(changes: dict[str, Any]) -> dict[str, Finding]:
    return {one.key: one for one in ratings_findings(FAMILY.changed(changes, si=True))}


@pytest.mark.parametrize("name", NAMES)
def test_examples_stand_and_the_supply_says_so(name: str) -> None:
    for one in ratings_findings(example(name)):
        assert one.verdict is Verdict.FINE
        assert one.key in {told.key for told in answered(example(name)).findings}


def test_the_weakest_joint_is_in_the_hot_line() -> None:
    one = told({})["ratings.pieces"]
    assert one.address == "runs.hot trunk.fittings.push-fit elbow"
    assert one.value is not None and one.value.value == pytest.approx(6e5)  # type: ignore[union-attr]
    assert one.limit is not None
    assert one.limit.value == pytest.approx(7e5 + 3e5 * 5 / 45)  # 60 °C of 20 to 65 °C
    assert f"18{NB}% to spare" in one.statement.text()


def test_hot_push_fit_joints_are_told_once_for_all_their_runs() -> None:
    one = told({"heaters.heater.set_point": "66 °C"})["ratings.push-fit.hot"]
    assert one.verdict is Verdict.FAILS
    text = one.statement.text()
    assert text.startswith("The push-fit joints in the hot trunk, hot shower line and hot galley line are made for")
    assert f"65{NB}°C at most; 66{NB}°C can come" in text


def test_a_filter_in_the_hot_line_fails_and_in_the_cold_line_does_not() -> None:
    hot = told({"runs.hot trunk.fittings": {"cartridge filter": 1}})["ratings.cartridge filter.hot"]
    assert hot.verdict is Verdict.FAILS
    assert hot.change is not None and "cold line" in hot.change.text()
    assert hot.address == "runs.hot trunk.fittings.cartridge filter"
    cold = told({"runs.cold trunk.fittings": {"cartridge filter": 1}})
    assert all(one.verdict is Verdict.FINE for one in cold.values())


def test_a_relief_valve_above_what_joints_stand_fails_and_the_setting_told_helps() -> None:
    stands = rating_at(ratings()["push-fit"], FAMILY.heaters["heater"].set_point)
    assert stands is not None
    weak = told({"heaters.heater.relief": stands + 1.0})["ratings.push-fit.weak"]
    assert weak.verdict is Verdict.FAILS
    assert weak.change is not None and f"opens at 6.6{NB}bar or less" in weak.change.text()
    close = told({"heaters.heater.relief": stands - 1.0})["ratings.push-fit.close"]
    assert close.verdict is Verdict.WATCH
    assert least_relief(stands) == pytest.approx(6.6e5)
    assert least_relief(stands) <= (1.0 - MARGIN) * stands
    assert not [key for key in told({"heaters.heater.relief": least_relief(stands)}) if "push-fit" in key]


def test_a_relief_valve_above_the_least_of_a_heater_asks_for_its_plate() -> None:
    one = told({"heaters.heater.relief": "6.5 bar"})["ratings.heater.weak"]
    assert one.verdict is Verdict.WATCH
    assert one.address == "heaters.heater.relief"
    assert f"The heater may be made for 6{NB}bar only; 6.5{NB}bar can come" in one.statement.text()
    assert one.change is not None and one.change.text().startswith("Look at its plate and write what it says as rated.")
    assert f"opens at 6{NB}bar or less" in one.change.text()
    assert not [key for key in told({"heaters.heater.relief": "6 bar"}) if "heater" in key]


def test_an_accumulator_in_the_hot_line_or_open_to_the_relief_valve_asks_for_its_plate() -> None:
    hot = told({"accumulators.accumulator.at": "hot tee"})["ratings.accumulator.hot"]
    assert hot.verdict is Verdict.WATCH
    open_to_it = told({"runs.heater feed.fittings": {}})["ratings.accumulator.weak"]
    assert open_to_it.verdict is Verdict.WATCH
    assert open_to_it.change is not None and f"opens at 5.1{NB}bar or less" in open_to_it.change.text()


def test_a_strong_pump_is_no_matter_for_a_relief_valve() -> None:
    strong = told({"pumps.pump.curve": [["0 L/min", "9.5 bar"], ["12 L/min", "0 bar"]]})
    weak = strong["ratings.push-fit.weak"]
    assert CAUSES["pump"].text() in weak.statement.text()
    assert weak.change is not None and "relief" not in weak.change.text()


def on_taps(tap: str, highest: str, **fields: Any) -> dict[str, Finding]:
    raw = on_the_mains("diaphragm", highest=highest)
    raw["outlets"]["tap"] = {"type": tap, "z": "1 m", **fields}
    return {one.key: one for one in ratings_findings(Plan.of(raw))}


def test_a_low_pressure_tap_on_the_mains_is_held_against_what_such_are_made_for() -> None:
    one = on_taps("galley tap", "6 bar")["ratings.low-pressure tap.weak"]
    assert one.verdict is Verdict.WATCH
    assert one.address == "outlets.tap.type"
    assert f"The tap may be made for 4{NB}bar only; 6{NB}bar can come from a campsite's tap" in one.statement.text()
    assert one.change is not None and f"fit a regulator at the inlet, set to 4{NB}bar or less" in one.change.text()
    assert not [key for key in on_taps("galley tap", "4 bar") if "tap" in key]
    assert not [key for key in on_taps("house tap", "6 bar") if "house tap" in key]
    assert on_taps("house tap", "10.5 bar")["ratings.house tap.weak"].verdict is Verdict.FAILS


def test_a_plate_that_the_plan_tells_comes_before_the_table() -> None:
    one = on_taps("galley tap", "6 bar", rated="5 bar")["ratings.low-pressure tap.tap.weak"]
    assert one.verdict is Verdict.FAILS
    assert one.address == "outlets.tap.rated"
    assert f"The tap is made for 5{NB}bar" in one.statement.text()
    assert one.change is not None and f"set to 4.5{NB}bar or less" in one.change.text()
    assert not [key for key in on_taps("galley tap", "6 bar", rated="7 bar") if "tap" in key]
    heater = told({"heaters.heater.relief": "6.5 bar", "heaters.heater.rated": "8 bar"})
    assert not [key for key in heater if "heater" in key]
    weak = told({"heaters.heater.rated": "5 bar"})["ratings.heater.heater.weak"]
    assert weak.verdict is Verdict.FAILS and weak.address == "heaters.heater.rated"
    vessel = told({"accumulators.accumulator.rated": "2.8 bar"})["ratings.accumulator.accumulator.weak"]
    assert vessel.verdict is Verdict.FAILS


def test_a_tap_without_a_known_kind_is_judged_by_its_plate_only() -> None:
    raw = on_the_mains("diaphragm", highest="6 bar")
    assert not [one for one in ratings_findings(Plan.of(raw)) if "tap" in one.key]
    raw["outlets"]["tap"]["rated"] = "3 bar"
    (one,) = (one for one in ratings_findings(Plan.of(raw)) if "tap" in one.key)
    assert one.verdict is Verdict.FAILS


def test_a_tap_behind_its_mixing_tap_is_judged_where_that_shuts_the_water_off() -> None:
    """What a heater's growing water does is the relief valve's matter; pump and mains press the tap for hours."""
    high = told({"heaters.heater.relief": "9 bar"})
    assert not [key for key in high if "tap" in key]
    strong = told({"pumps.pump.curve": [["0 L/min", "5.5 bar"], ["12 L/min", "0 bar"]], "pumps.pump.volts": "13.6 V"})
    one = strong["ratings.low-pressure tap.weak"]
    assert f"The galley tap and basin tap may be made for 4{NB}bar only; 5.5{NB}bar can come" in one.statement.text()
    assert one.change is not None and "regulator" not in one.change.text()


def test_a_pump_is_judged_by_what_it_does_not_make_itself() -> None:
    held = on_the_mains("diaphragm", highest="8 bar")
    assert not [one for one in ratings_findings(Plan.of(held)) if one.key.startswith("ratings.pump")]
    bare = on_the_mains("diaphragm", valve=False, highest="8 bar")
    (one,) = (one for one in ratings_findings(Plan.of(bare)) if one.key.startswith("ratings.pump"))
    assert one.verdict is Verdict.WATCH
    assert f"The pump may be made for 6{NB}bar only; 8{NB}bar can come from a campsite's tap" in one.statement.text()
    bare["pumps"]["pump"]["rated"] = "10 bar"
    assert not [one for one in ratings_findings(Plan.of(bare)) if one.key.startswith("ratings.pump")]
    strong = told({"pumps.pump.curve": [["0 L/min", "7 bar"], ["12 L/min", "0 bar"]]})
    assert not [key for key in strong if key.startswith("ratings.pump")]


def test_a_strainer_belongs_before_the_pump() -> None:
    assert not [key for key in told({}) if "strainer" in key]  # in the suction line of the example
    one = told({"runs.trunk.fittings": {"strainer": 1}})["ratings.strainer.weak"]
    assert one.verdict is Verdict.WATCH
    assert f"The strainer in the trunk may be made for 2{NB}bar only" in one.statement.text()
    assert one.change is not None and "before the pump" in one.change.text()


def test_a_hot_barb_holds_less_than_a_cold_one() -> None:
    stands = rating_at(ratings()["barb and clamp"], FAMILY.heaters["heater"].set_point)
    assert stands == pytest.approx(8e5 - 5e5 * 40 / 75)
    weak = told({"runs.hot trunk.fittings": {"barb elbow": 1}, "runs.hot trunk.size": "silicone hose 13 mm"})
    one = weak["ratings.barb and clamp.weak"]
    assert one.verdict is Verdict.FAILS
    assert one.limit is not None and one.limit.value == pytest.approx(stands)
    assert one.change is not None and f"opens at 4.8{NB}bar or less" in one.change.text()


@WHOLE_PLANS
@given(raw=plans())
def test_any_plan_is_judged_and_no_finding_contradicts_its_numbers(raw: Raw) -> None:
    plan = Plan.of(raw)
    for one in ratings_findings(plan):
        row = next((row for key, row in ratings().items() if one.key.startswith(f"ratings.{key}.")), None)
        told = one.address.endswith(".rated")
        if row is None or one.verdict is Verdict.FINE:
            continue
        over = one.margin is not None and one.margin.value < 0
        assert one.verdict is (Verdict.FAILS if over and (told or not row.least) else Verdict.WATCH)
        assert one.change is not None
        assert plan.at(one.address) not in pipes()
