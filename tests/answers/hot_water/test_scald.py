from __future__ import annotations

import pytest

from tests.examples import example
from vanwater.answers.core.finding import Finding, Verdict
from vanwater.answers.hot_water.answer import hot_water
from vanwater.physics.scald import scald_time
from vanwater.plan.model import Plan

FAMILY = example("family-winter")
SET = "heaters.heater.set_point"


def scald(plan: Plan) -> Finding:
    return next(finding for finding in hot_water(plan).findings if finding.key == "hot_water.heater.scald")


def valves(shower: float, galley: float, **changes: float) -> Plan:
    """Thermostatic valves at both mixing taps."""
    return FAMILY.changed(
        {
            **{f"mixers.{name}.kind": "thermostatic" for name in ("shower mixer", "galley mixer")},
            "mixers.shower mixer.set": 273.15 + shower,
            "mixers.galley mixer.set": 273.15 + galley,
            SET: 273.15 + 70,
            **changes,
        },
        si=True,
    )


def test_first_injury_and_a_childs_are_told_before_the_burn() -> None:
    numbers = hot_water(FAMILY).numbers
    burn = float(scald_time(333.15))
    assert numbers["heater.heater.burn_time"].likely == pytest.approx(burn)
    assert numbers["heater.heater.injury_time"].likely == pytest.approx(burn / 2)
    assert numbers["heater.heater.childs_injury_time"].likely == pytest.approx(burn / 4)
    assert "first hurts skin after about 3\xa0s" in scald(FAMILY).statement.text()


def test_it_is_judged_by_what_comes_out_and_not_by_the_store() -> None:
    assert scald(FAMILY.changed({SET: 273.15 + 70}, si=True)).verdict is Verdict.WATCH
    assert scald(valves(38, 43)).verdict is Verdict.FINE
    held = valves(38, 47)
    assert scald(held).verdict is Verdict.FINE
    assert hot_water(held).numbers["heater.heater.delivered"].likely == 273.15 + 47
    hot = valves(38, 55)
    assert scald(hot).verdict is not Verdict.FAILS
    assert hot_water(hot).numbers["heater.heater.burn_time"].likely == pytest.approx(float(scald_time(328.15)))


def test_boiling_hot_water_tells_no_seconds() -> None:
    told = scald(FAMILY.changed({SET: 273.15 + 85}, si=True)).statement.text()
    assert "at once" in told and "less than a second" in told
