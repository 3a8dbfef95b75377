from __future__ import annotations

import math

import pytest

from vanwater.plan.electricity import Cable, Inverter
from vanwater.plan.model import Plan
from vanwater.plan.problems import PlanError

PLAN = {"van": {"name": "x"}, "household": {"people": 2}}
BATTERY = {"volts": "12.8 V", "charge": "200 Ah", "usable": "85 %"}


def refused(**tables: object) -> PlanError:
    with pytest.raises(PlanError) as caught:
        Plan.of({**PLAN, **tables})
    return caught.value


def test_battery_that_says_nothing_is_asked_for_all_it_needs() -> None:
    problems = refused(battery={}).problems
    assert [problem.address for problem in problems] == ["battery.charge", "battery.usable", "battery.volts"]
    assert [problem.expected for problem in problems] == ['charge = "200 Ah"', 'usable = "85 %"', 'volts = "12.8 V"']


def test_series_adds_volts_alone() -> None:
    plan = Plan.of({**PLAN, "battery": {**BATTERY, "series": 2, "parallel": 3}})
    assert plan.battery is not None
    assert plan.battery.bank_volts == pytest.approx(25.6)
    assert plan.battery.charge == pytest.approx(200 * 3600)


def test_a_bank_of_unlike_batteries_is_refused_with_the_way_out() -> None:
    problem, *_ = refused(battery={**BATTERY, "charge": ["100 Ah", "200 Ah"]}).problems
    assert problem.address == "battery.charge" and "series and parallel" in problem.slip


def test_an_element_is_held_against_the_whole_bank() -> None:
    heater = {"volume": "6 L", "source": "battery", "volts": "12 V"}
    problem, *_ = refused(battery={**BATTERY, "series": 2}, heaters={"store": heater}).problems
    assert problem.address == "heaters.store.volts"
    assert "25.6" in problem.message
    Plan.of({**PLAN, "battery": BATTERY, "heaters": {"store": heater}})


def test_panels_without_what_a_day_is_worth_are_refused() -> None:
    problem, *_ = refused(sun={"panels": "300 W"}).problems
    assert problem.address == "sun.full_sun"


@pytest.mark.parametrize(("size", "words"), [({}, "no section"), ({"section": "6 mm²", "awg": 10}, "either")])
def test_a_cable_has_its_size_once(size: dict[str, object], words: str) -> None:
    raw = {"pumps": {"pump": {"kind": "foot"}}, "cables": {"long": {"to": "pump", "length": "4 m", **size}}}
    problem, *_ = refused(**raw).problems
    assert problem.address == "cables.long.section" and words in problem.message


def test_a_cable_that_leads_to_a_slip_is_refused() -> None:
    raw = {"pumps": {"pump": {"kind": "foot"}}, "cables": {"long": {"to": "pmup", "length": "4 m", "awg": 10}}}
    problem, *_ = refused(**raw).problems
    assert problem.address == "cables.long.to" and "pump" in problem.slip


def test_gauge_of_american_wires_by_astm_b258() -> None:
    """ASTM B258: 10 AWG has 2.588 mm, 36 AWG 0.127 mm of diameter; six gauges double it."""
    ten = Cable(to="pump", length=1.0, awg=10).copper
    assert 2 * math.sqrt(ten / math.pi) == pytest.approx(2.588e-3, rel=2e-4)
    four = Cable(to="pump", length=1.0, awg=4).copper
    assert four / ten == pytest.approx(4.0, rel=0.02)
    assert Cable(to="pump", length=1.0, section=2.5e-6).copper == 2.5e-6


def test_defaults() -> None:
    assert 0.5 < Inverter().efficiency < 1.0
