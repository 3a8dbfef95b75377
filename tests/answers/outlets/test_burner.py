from __future__ import annotations

from typing import Any

import pytest

from tests.examples import example
from vanwater.answers.core.finding import Finding, Verdict
from vanwater.answers.core.harm import Harm
from vanwater.answers.outlets.answer import outlets
from vanwater.answers.outlets.burner import USUAL_LEAST, flow_through
from vanwater.plan.model import Plan
from vanwater.system.water_temperature import cold_water

FAMILY = example("family-winter")
L_MIN = 1e-3 / 60
INSTANT = FAMILY.changed(
    {"heaters.heater.source": "gas", "heaters.heater.volume": "0.8 L", "heaters.heater.volts": None}
)


def told(plan: Plan, outlet: str = "shower") -> Finding | None:
    return next((one for one in outlets(plan).findings if one.key == f"outlets.{outlet}.burner"), None)


def of_least(litres: float, **more: Any) -> Finding:
    finding = told(INSTANT.changed({"heaters.heater.least_flow": litres * L_MIN, **more}, si=True))
    assert finding is not None
    return finding


def test_only_a_heater_that_heats_as_the_water_flows_is_judged() -> None:
    assert told(FAMILY) is None
    assert told(INSTANT) is not None and told(INSTANT, "basin tap") is None  # a cold tap
    assert told(INSTANT.changed({"heaters.heater.volume": "6 L"})) is None
    electric = told(FAMILY.changed({"heaters.heater.least_flow": "9 L/min"}))
    assert electric is not None and "does not heat" in electric.statement.text()


def test_the_hot_share_at_the_low_end_of_the_swing_counts() -> None:
    plan = INSTANT.changed({"pumps.pump.cut_in": "1.2 bar", "pumps.pump.cut_out": "1.6 bar"})
    supply = outlets(plan).outlets["shower"]
    assert supply.cycles and supply.swings
    flow = flow_through(supply)
    cold = float(cold_water(supply.batch, supply.way)[0])
    hot = (311.15 - cold) / (INSTANT.heaters["heater"].set_point - cold)
    assert flow.likely == pytest.approx(supply.least.likely * hot, rel=1e-3)
    assert flow.likely < supply.flow.likely * hot
    usual = told(plan)
    assert usual is not None and usual.limit is not None and usual.limit.value == USUAL_LEAST
    assert "while the pump cycles" in usual.statement.text()


def test_below_its_least_flow_it_fails_and_near_it_is_watched() -> None:
    flow = flow_through(outlets(INSTANT).outlets["shower"])
    assert flow.range is not None
    low, likely = flow.range[0] / L_MIN, flow.likely / L_MIN
    fails, watched, fine = of_least(1.02 * likely), of_least(0.5 * (low + likely)), of_least(0.95 * low)
    assert (fails.verdict, watched.verdict, fine.verdict) == (Verdict.FAILS, Verdict.WATCH, Verdict.FINE)
    assert fails.harm is Harm.DOES_NOT_WORK and "does not light" in fails.statement.text()
    assert fails.address == "heaters.heater.least_flow" and fine.change is None
