from __future__ import annotations

import pytest

from tests.examples import example
from tests.walk import walk
from vanwater.answers.core.finding import Finding, Verdict
from vanwater.answers.hot_water.answer import hot_water
from vanwater.answers.stay.answer import stay
from vanwater.physics.instant import instant_flow, instant_rise
from vanwater.plan.change import CappedWarning
from vanwater.plan.model import Plan

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
BURNER = {
    "heaters.heater.source": "gas",
    "heaters.heater.volume": 0.5e-3,
    "heaters.heater.power": 12e3,
    "heaters.heater.volts": None,
    "heaters.heater.standby": 0.0,
}


def burning(**changes: object) -> Plan:
    return FAMILY.changed({**BURNER, **changes}, si=True)


def found(plan: Plan, key: str) -> Finding:
    return next(finding for finding in hot_water(plan).findings if finding.key == f"hot_water.heater.{key}")


def test_it_is_told_by_the_flow_that_it_warms_and_never_as_a_store() -> None:
    answer = hot_water(burning())
    numbers = answer.numbers
    assert numbers["heater.heater.warms.shower"].likely == pytest.approx(float(instant_flow(12e3, 283.15, 311.15)))
    assert numbers["heater.heater.hottest"].likely == pytest.approx(
        min(283.15 + float(instant_rise(12e3, 2e-3 / 60)), 333.15)
    )
    assert not any(word in key for key in numbers for word in ("charge", "in_a_row", "wait", "recovery.", "day"))
    assert answer.verdict.text() == "The heater warms 6.1\xa0L/min to 38\xa0°C as the water flows."
    assert not [each for each in answer.findings if each.key.endswith((".enough", ".day"))]
    assert "nothing stands warm" in found(burning(), "hygiene").statement.text()
    assert walk(answer) > 10


@pytest.mark.parametrize(
    ("power", "verdict"),
    [
        (13e3, Verdict.FINE),  # 6.7 L/min by 28 K; the shower's 6.5 L/min are wanted
        (12e3, Verdict.WATCH),
        (3.8e3, Verdict.FAILS),  # 1.9 L/min, and it lights at 2 L/min
    ],
)
def test_it_is_held_against_what_the_shower_wants_and_its_own_least_flow(power: float, verdict: Verdict) -> None:
    assert found(burning(**{"heaters.heater.power": power}), "warms.shower").verdict is verdict


def test_a_least_flow_of_its_own_counts() -> None:
    plan = burning(**{"heaters.heater.power": 3.8e3, "heaters.heater.least_flow": 1.5e-3 / 60})
    assert found(plan, "warms.shower").verdict is Verdict.WATCH


@pytest.mark.parametrize(("power", "verdict"), [(12e3, Verdict.WATCH), (19e3, Verdict.FINE)])
def test_outlets_open_together_share_what_it_warms(power: float, verdict: Verdict) -> None:
    wanted = {"outlets.galley tap.wanted": 2e-3 / 60}
    assert found(burning(**{"heaters.heater.power": power}, **wanted), "at_once.evening").verdict is verdict


def test_without_a_power_it_is_not_decided() -> None:
    answer = hot_water(burning(**{"heaters.heater.power": None}))
    assert found(burning(**{"heaters.heater.power": None}), "power").verdict is Verdict.NOT_DECIDED
    assert "not decided" in answer.verdict.text()
    assert not any("warms" in key for key in answer.numbers)


def test_each_of_several_heaters_has_its_own_numbers_and_uses() -> None:
    """A small electric heater at the galley, the gas burner at the shower."""
    small = {"volume": "5 L", "source": "battery", "power": "300 W", "set_point": "55 °C"}
    both = burning().changed(
        {
            "heaters.boiler": small,
            "runs.galley feed": {"from": "tee", "to": "boiler", "bore": "10 mm", "length": "1 m"},
            "runs.boiler line": {"from": "boiler", "to": "galley mixer", "bore": "10 mm", "length": "1 m"},
            "runs.hot galley line": None,
        }
    )
    answer = hot_water(both)
    assert {"heater.heater.warms.shower", "heater.boiler.charge.likely"} <= set(answer.numbers)
    assert "use.dishes.heat.boiler" in answer.numbers and "use.dishes.heat.heater" not in answer.numbers
    assert "The heater warms" in answer.verdict.text() and "One charge of the boiler" in answer.verdict.text()
    assert walk(answer) > 20


def test_what_runs_off_while_the_burner_starts_is_told_and_counted_in_the_days() -> None:
    slow = burning(**{"heaters.heater.start_up": 6.0})
    told = found(slow, "start")
    assert told.verdict is Verdict.FINE and "run off cold at each shower" in told.statement.text()
    answer = hot_water(slow)
    assert answer.numbers["use.shower.start_run_off"].likely == pytest.approx(6.5e-3 / 60 * 6.0)
    assert walk(answer)
    own, later = (stay(plan).numbers["use.shower.fresh_a_day"].likely for plan in (burning(), slow))
    assert (later - own) * 86400 == pytest.approx(4 * 0.5 * 6.5e-3 / 60 * 6.0)
    assert not [one for one in hot_water(burning()).findings if one.key.endswith(".start")]


def test_a_store_is_hot_later_by_the_start_of_its_burner() -> None:
    store = {**BURNER, "heaters.heater.volume": 10e-3, "heaters.heater.power": 4e3}
    own, slow = (
        hot_water(FAMILY.changed({**store, "heaters.heater.start_up": start}, si=True)) for start in (0.0, 150.0)
    )
    key = "heater.heater.recovery"
    assert slow.numbers[key].likely == pytest.approx(own.numbers[key].likely + 150.0)
    assert walk(slow)
    with pytest.warns(CappedWarning, match="only a burner"):
        FAMILY.changed({"heaters.heater.start_up": "2 min"})
