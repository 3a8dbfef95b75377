from __future__ import annotations

import pytest

from tests.examples import example
from vanwater.answers.core.finding import Finding, Verdict
from vanwater.answers.hot_water.answer import hot_water
from vanwater.plan.model import Plan
from vanwater.system.batch import Batch
from vanwater.system.hot_water_demand import hot_water_a_day

FAMILY = example("family-winter").changed(
    {
        "tanks.fresh.temperature": "10 °C",
        "cables": {},
        "inverter.cable": "98 %",
        "heaters.heater.left_hot": False,
        "battery.chemistry": None,
    }
)
"""Its water at 10 °C, and no cable, cell or cooling of its own, so that sums by hand stay short."""
SET, VOLUME = "heaters.heater.set_point", "heaters.heater.volume"


def found(plan: Plan, key: str) -> Finding | None:
    return next((finding for finding in hot_water(plan).findings if finding.key == f"hot_water.{key}"), None)


def hygiene(**changes: float) -> Finding:
    finding = found(
        FAMILY.changed({f"heaters.heater.{name}": value for name, value in changes.items()}, si=True), "heater.hygiene"
    )
    assert finding is not None
    return finding


def test_turnover_is_what_is_drawn_a_day_over_what_it_holds() -> None:
    turned = hot_water(FAMILY).numbers["heater.heater.turnover"]
    assert turned.likely == pytest.approx(float(hot_water_a_day(Batch(FAMILY), "heater")[0]) * 86400.0 / 10e-3)
    assert turned.range is not None and turned.range[0] == pytest.approx(0.76 * turned.likely, rel=0.05)


def test_a_hot_store_that_is_drawn_through_needs_no_advice() -> None:
    sound = hygiene()
    assert sound.verdict is Verdict.FINE and sound.change is None


def test_heat_through_and_flush_is_advice_where_it_stands_or_is_set_low() -> None:
    for changes in ({"set_point": 273.15 + 52}, {"volume": 0.08}):
        told = hygiene(**changes)
        assert told.verdict is Verdict.FINE
        assert told.change is not None and "heat it through to 60" in told.change.text()


def test_a_rule_of_houses_is_named_as_one_and_brands_no_van() -> None:
    stands = hygiene(set_point=273.15 + 55, volume=0.08)
    assert stands.verdict is Verdict.FINE
    assert "Houses, whose water stands in long pipes, store at 60" in stands.statement.text()
    warm = hygiene(set_point=273.15 + 45, volume=0.08)
    assert warm.verdict is Verdict.WATCH and "more than 3 days is long" in warm.statement.text().replace("\xa0", " ")


@pytest.mark.parametrize(("celsius", "verdict"), [(10, None), (20, None), (22, Verdict.FINE), (27, Verdict.WATCH)])
def test_cold_water_that_is_warm_is_told(celsius: float, verdict: Verdict | None) -> None:
    finding = found(FAMILY.changed({"tanks.fresh.temperature": 273.15 + celsius}, si=True), "cold.warm")
    assert (finding.verdict if finding is not None else None) is verdict
