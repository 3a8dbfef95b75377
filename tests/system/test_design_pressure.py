from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given

from tests.drawn import WHOLE_PLANS
from tests.examples import NAMES, example
from tests.pumped import on_the_mains
from tests.strategies import Raw, plans
from vanwater.plan.model import Plan
from vanwater.system.design_pressure import design_pressures, driven_pressures, shut_off

FAMILY = example("family-winter")


def test_behind_the_pump_its_pressure_at_no_flow_and_at_its_volts_counts() -> None:
    pump = FAMILY.pumps["pump"]
    pressure = shut_off(pump)
    # 12.7 of 13.6 V take 12.5 L/min · 0.9/13.6 off the flow; the first line falls 0.4 bar in 3 L/min
    assert pressure == pytest.approx((3.1 - 0.4 / 3 * 12.5 * 0.9 / 13.6) * 1e5)
    assert shut_off(pump.model_copy(update={"volts": 13.6})) == pytest.approx(3.1e5)
    assert shut_off(pump.model_copy(update={"curve": None})) is None
    found = design_pressures(FAMILY)
    for run in ("trunk", "cold trunk", "cold shower line", "basin line"):
        assert (found[run].pressure, found[run].cause) == (pressure, "pump")
    assert found["suction"].pressure is None


def test_a_larger_cut_out_counts_and_behind_a_mixing_tap_only_that() -> None:
    plan = FAMILY.changed({"pumps.pump.cut_out": "3.4 bar"})
    assert design_pressures(plan)["trunk"].pressure == pytest.approx(3.4e5)
    assert design_pressures(plan)["trunk"].cause == "switch"
    assert design_pressures(FAMILY)["handset hose"].pressure == pytest.approx(2.6e5)
    no_switch = FAMILY.changed({"pumps.pump.cut_out": None, "pumps.pump.cut_in": None})
    assert design_pressures(no_switch)["handset hose"].cause == "pump"


def test_the_relief_valve_presses_up_to_the_check_valve_and_the_taps() -> None:
    relieved = {run for run, one in design_pressures(FAMILY).items() if one.cause == "relief"}
    assert relieved == {"heater feed", "hot trunk", "hot shower line", "hot galley line"}
    bare = FAMILY.changed({"runs.heater feed.fittings": {}})
    assert design_pressures(bare)["trunk"].cause == design_pressures(bare)["basin line"].cause == "relief"
    assert design_pressures(bare)["handset hose"].cause == "switch"
    assert design_pressures(bare)["suction"].pressure is None
    assert {one.cause for one in design_pressures(FAMILY.changed({"heaters.heater.relief": None})).values()} <= {
        "pump",
        "switch",
        "",
    }


def test_heated_water_that_can_go_back_into_an_open_tank_presses_nothing() -> None:
    raw: dict[str, Any] = {
        "van": {"name": "x"},
        "household": {"people": 1},
        "tanks": {"fresh": {"holds": "fresh", "capacity": "20 L"}},
        "heaters": {"heater": {"volume": "5 L", "relief": "3 bar"}},
        "outlets": {"tap": {}},
        "runs": {"down": {"from": "fresh", "to": "heater"}, "hot": {"from": "heater", "to": "tap"}},
    }
    assert {one.pressure for one in design_pressures(Plan.of(raw)).values()} == {None}
    raw["runs"]["down"]["fittings"] = {"swing check valve": 1}
    assert {one.pressure for one in design_pressures(Plan.of(raw)).values()} == {3e5}


def test_warmth_is_the_set_point_behind_the_heater_and_the_cupboards_elsewhere() -> None:
    found = design_pressures(FAMILY)
    hot = {run for run, one in found.items() if one.heater}
    assert hot == {"hot trunk", "hot shower line", "hot galley line", "handset hose", "galley spout"}
    assert {found[run].temperature for run in hot} == {FAMILY.heaters["heater"].set_point}
    assert {one.temperature for run, one in found.items() if run not in hot} == {FAMILY.site.warmest}


def test_behind_a_thermostatic_valve_its_setting_is_the_warmth_unless_hot_water_comes_by_another_way() -> None:
    valve = {"mixers.shower mixer": {"kind": "thermostatic", "set": "42 °C", "z": "1 m"}}
    held = design_pressures(FAMILY.changed(valve))
    assert held["handset hose"].temperature == pytest.approx(315.15)
    assert held["hot shower line"].temperature == FAMILY.heaters["heater"].set_point == held["galley spout"].temperature
    unset = FAMILY.changed({"mixers.shower mixer": {"kind": "thermostatic", "z": "1 m"}})
    assert design_pressures(unset)["handset hose"].temperature == FAMILY.heaters["heater"].set_point


def test_drains_are_none_of_the_supply() -> None:
    raw = {**FAMILY.own, "tees": {**FAMILY.own["tees"], "tray": {}}}
    raw["runs"] = {**raw["runs"], "waste": {"from": "shower", "to": "tray"}, "dump": {"from": "tee", "to": "grey"}}
    assert {"waste", "dump"}.isdisjoint(design_pressures(Plan.of(raw)))
    assert set(design_pressures(Plan.of(raw))) == set(FAMILY.runs)


@pytest.mark.parametrize("name", NAMES)
def test_every_run_of_an_example_is_of_the_supply(name: str) -> None:
    assert set(design_pressures(example(name))) == set(example(name).runs)


@WHOLE_PLANS
@given(raw=plans())
def test_any_plan_has_strains_of_its_own_runs_and_nothing_negative(raw: Raw) -> None:
    plan = Plan.of(raw)
    for run, one in design_pressures(plan).items():
        assert run in plan.runs
        assert (one.pressure is None) is (one.cause == "")
        assert one.pressure is None or one.pressure >= 0.0
        assert one.temperature >= plan.site.cold_water


def test_the_mains_presses_back_to_the_next_check_valve_or_pump() -> None:
    bare = design_pressures(Plan.of(on_the_mains("diaphragm", valve=False, highest="8 bar")))
    assert (bare["trunk"].pressure, bare["trunk"].cause) == (pytest.approx(8e5), "mains")
    assert bare["suction"].pressure is None  # the pump's own valves close
    raw = on_the_mains("diaphragm", highest="8 bar")
    raw["tees"]["far tee"] = {"z": "15 cm"}
    raw["runs"]["trunk"]["to"] = "far tee"
    raw["runs"]["second trunk"] = {"from": "far tee", "to": "tee", "size": "pvc hose 10 mm", "length": "1 m"}
    kept = design_pressures(Plan.of(raw))
    assert kept["second trunk"].cause == kept["trunk"].cause == "mains"  # up to its check valve
    raw["runs"]["second trunk"]["fittings"] = {"spring check valve": 1}
    assert design_pressures(Plan.of(raw))["trunk"].cause == "pump"


def test_what_drives_leaves_out_what_a_heaters_growing_water_does() -> None:
    assert design_pressures(FAMILY)["hot trunk"].cause == "relief"
    driven = driven_pressures(FAMILY)
    assert {design.cause for design in driven.values()} <= {"pump", "switch", ""}
    assert driven["hot trunk"].temperature == FAMILY.heaters["heater"].set_point
