from __future__ import annotations

import json
from typing import Any

import pytest

from vanwater.panels.worked_plan import in_the_cold, plan_of
from vanwater.plan.tables import resource
from vanwater.system.batch import Batch
from vanwater.system.stores import tank_reach

VANS = json.loads(resource("data", "validation", "worked_vans.json").read_text(encoding="utf-8"))["scenarios"]
each = pytest.mark.parametrize("van", VANS, ids=[van["id"] for van in VANS])


@each
def test_the_inputs_stand_in_the_plan(van: dict[str, Any]) -> None:
    given, plan = van["inputs"], plan_of(van)
    assert plan.household.people == given["people"]
    assert plan.at("accumulators.accumulator.volume") == pytest.approx(given["accumulator"]["volume_L"] * 1e-3)
    assert plan.at("heaters.heater.power") == given["heater"]["element_W"]
    assert plan.at("battery.charge") / 3600 == pytest.approx(given["electric"]["battery_Ah"])
    assert plan.at("runs.hot leg.bore") == pytest.approx(given["supply"]["hot_leg"]["bore_mm"] * 1e-3)
    assert set(plan.uses) >= set(given["uses"])
    assert plan.at("tanks.grey.x") == given["axles"]["grey_x_m"]
    assert plan.at("vehicle.wheelbase") == given["axles"]["wheelbase_m"]
    reach = tank_reach(Batch(plan), "fresh").usable[0] * 1e3
    assert reach == pytest.approx(given["tanks"]["fresh_usable_L"], abs=0.01)
    assert ("urine container" in plan.tanks) is ("urine_L" in given["tanks"])


@each
def test_in_the_cold_the_tank_has_its_sides_and_a_pad(van: dict[str, Any]) -> None:
    given, plan = van["inputs"]["frost"], in_the_cold(van)
    assert plan.at("tanks.fresh.length") == given["tank"]["L"]
    assert plan.at("tanks.fresh.foam") == pytest.approx(given["tank"]["foam_mm"] * 1e-3)
    assert plan.at("frost.design_cold") == pytest.approx(given["T_out"] + 273.15)
    assert plan.at("pads.pad.power") == given["pad_W"]
    assert plan.at("runs.trunk.beside") == "outside"
