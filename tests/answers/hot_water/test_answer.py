from __future__ import annotations

import pytest

from tests.examples import example
from vanwater.answers.core.finding import Finding, Verdict
from vanwater.answers.hot_water.answer import hot_water
from vanwater.plan.model import Plan

FAMILY = example("family-winter")
WEEKEND = example("weekend-cans")


def number(plan: Plan, key: str) -> float:
    return float(hot_water(plan).heaters["heater"].steps[key].value.ravel()[0])


def found(plan: Plan, key: str) -> Finding:
    return next(one for one in hot_water(plan).findings if one.key == f"hot_water.heater.{key}")


def test_shower_energy_closes_with_its_parts() -> None:
    parts = number(FAMILY, "use_heat") + number(FAMILY, "run_off_heat")
    assert number(FAMILY, "use_energy") * 0.91 * 0.98 == pytest.approx(parts, rel=1e-12)


def test_bracket_meets_the_heat_in_the_tank() -> None:
    low, high = number(FAMILY, "charge_mixed"), number(FAMILY, "charge_plug")
    assert low < high
    # plug flow carries all the heat above cold out at the mixed temperature
    heat = number(FAMILY, "recovery_heat")
    per_litre = number(FAMILY, "use_heat") / (6.5e-3 / 60 * 80)
    assert high * per_litre == pytest.approx(heat, rel=0.01)


def test_hotter_larger_and_warmer_water_give_more() -> None:
    base = number(FAMILY, "charge_plug")
    assert number(FAMILY.changed({"heaters.heater.set_point": 273.15 + 70}, si=True), "charge_plug") > base
    assert number(FAMILY.changed({"heaters.heater.volume": 0.015}, si=True), "charge_plug") == pytest.approx(1.5 * base)
    assert number(FAMILY.changed({"site.cold_water": 273.15 + 20}, si=True), "charge_plug") > base
    assert number(FAMILY.changed({"site.cold_water": 273.15 + 20}, si=True), "recovery") < number(FAMILY, "recovery")


def test_showers_in_a_row_are_ordered_and_more_power_gives_no_fewer() -> None:
    low, high = hot_water(FAMILY).heaters["heater"].showers
    assert 0 <= low <= high
    strong = hot_water(FAMILY.changed({"heaters.heater.power": 3000.0}, si=True)).heaters["heater"].showers
    assert strong[0] >= low
    assert strong[1] >= high


@pytest.mark.parametrize(
    ("key", "changes", "verdict"),
    [
        ("current", {}, Verdict.FINE),
        ("current", {"battery.max_current": 90.0}, Verdict.FAILS),
        ("current", {"battery.max_current": None}, Verdict.NOT_DECIDED),
        ("inverter", {}, Verdict.FINE),
        ("inverter", {"inverter.rating": 1000.0}, Verdict.FAILS),
        ("inverter", {"inverter.rating": 1300.0}, Verdict.WATCH),
        ("idle", {"inverter.hours_on": 24 * 3600.0}, Verdict.WATCH),
        ("scald", {}, Verdict.WATCH),
        ("scald", {"heaters.heater.set_point": 273.15 + 45}, Verdict.FINE),
        ("hygiene", {}, Verdict.FINE),
        ("hygiene", {"heaters.heater.set_point": 273.15 + 48}, Verdict.WATCH),
        ("empty", {}, Verdict.FINE),
        ("empty", {"heaters.heater.empty_cut_out": False}, Verdict.FAILS),
        ("empty", {"heaters.heater.empty_cut_out": None}, Verdict.NOT_DECIDED),
        ("relief", {}, Verdict.FINE),
        ("relief", {"heaters.heater.relief": 2e5}, Verdict.FAILS),
        ("enough", {"uses.shower.duration": 240.0}, Verdict.FAILS),
        ("enough", {"heaters.heater.volume": 0.03}, Verdict.FINE),
    ],
)
def test_finding(key: str, changes: dict[str, object], verdict: Verdict) -> None:
    assert found(FAMILY.changed(changes, si=True), key).verdict is verdict


def test_engine_heat_takes_nothing_from_the_battery() -> None:
    answer = hot_water(FAMILY.changed({"heaters.heater.source": "engine"}))
    steps = answer.heaters["heater"].steps
    assert "use_energy" not in steps
    assert "current" not in steps
    assert "use_heat" in steps
    assert "from the battery" not in answer.verdict.text()


def test_house_rule_is_named_as_such() -> None:
    assert "Buildings" in found(FAMILY, "hygiene").statement.text()


def test_no_heater_is_no_fault() -> None:
    answer = hot_water(WEEKEND)
    assert not answer.decided
    assert answer.findings == ()
    unused = hot_water(FAMILY.changed({"uses": None, "household.habits": None}))
    assert "no use wants warm water" in unused.verdict.text()


def test_a_use_without_water_is_no_shower() -> None:
    plan = example("long-stay-dry-toilet").changed({"uses.shower.volume": 0.0}, si=True)
    assert hot_water(plan).heaters["heater"].use != "shower"
