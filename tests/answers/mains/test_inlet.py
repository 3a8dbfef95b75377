from __future__ import annotations

from typing import Any

import pytest

from tests.pumped import KINDS, on_the_mains, pumped
from vanwater.answers.core.finding import Finding, Verdict
from vanwater.answers.mains.inlet import mains_ways, on_mains
from vanwater.answers.outlets.answer import supply
from vanwater.plan.model import Plan


def findings(raw: dict[str, Any]) -> dict[str, Finding]:
    return {found.key: found for found in supply(Plan.of(raw)).findings if found.key.startswith("supply.mains")}


@pytest.mark.parametrize("kind", KINDS)
def test_off_grid_is_told_as_ever_and_the_mains_beside_it(kind: str) -> None:
    answer = supply(Plan.of(on_the_mains(kind, valve=False, regulator="2.5 bar")))
    alone = supply(Plan.of(pumped(kind)))
    assert answer.outlets["tap"].flow.likely == alone.outlets["tap"].flow.likely
    assert set(answer.on_mains) == {"tap", "rinse"}
    table = next(table for table in answer.tables if table.key == "mains")
    assert [row[0] for row in table.rows] == ["tap", "rinse"]
    assert any(caution.key == "mains water" for caution in answer.cautions)
    step = answer.numbers["supply.tap.mains"]
    assert float(step.value[0]) == answer.on_mains["tap"].flow.likely
    assert step.lines()
    assert "supply.tap.mains" not in alone.numbers
    assert not any(table.key == "mains" for table in alone.tables)


def test_the_range_of_the_tap_is_the_range_of_the_flow_and_a_regulator_takes_it_away() -> None:
    bare = supply(Plan.of(on_the_mains("diaphragm"))).on_mains["tap"]
    held = supply(Plan.of(on_the_mains("diaphragm", regulator="2 bar"))).on_mains["tap"]
    assert (bare.source.low, bare.source.likely, bare.source.high) == pytest.approx((2e5, 4e5, 6e5))
    assert (held.source.low, held.source.likely, held.source.high) == pytest.approx((2e5, 2e5, 2e5))
    assert bare.flow.high - bare.flow.low > 1.5 * (held.flow.high - held.flow.low)
    none = Plan.of(pumped("diaphragm"))
    assert mains_ways(none) == ()
    assert on_mains(none, ()) == {}


def test_all_is_well_with_regulator_and_check_valves() -> None:
    assert {found.verdict for found in findings(on_the_mains("diaphragm", regulator="2.5 bar")).values()} == {
        Verdict.FINE
    }


def test_without_a_regulator_the_taps_pressure_is_told_and_pieces_are_judged_by_it() -> None:
    raw = on_the_mains("diaphragm")
    found = findings(raw)["supply.mains.inlet.regulator"]
    assert found.verdict is Verdict.WATCH
    assert "6\N{NO-BREAK SPACE}bar" in found.statement.text()
    rated = [one for one in supply(Plan.of(raw)).findings if one.key.startswith("supply.rating.pvc hose 10 mm")]
    assert [one.verdict for one in rated] == [Verdict.WATCH]
    raw["mains"]["inlet"]["highest"] = "9 bar"
    rated = [one for one in supply(Plan.of(raw)).findings if one.key.startswith("supply.rating.pvc hose 10 mm")]
    assert [one.verdict for one in rated] == [Verdict.FAILS]


def test_a_heaters_relief_valve_opens_on_too_much() -> None:
    raw = on_the_mains("diaphragm", regulator="3.5 bar")
    raw["heaters"] = {"heater": {"volume": "6 L", "relief": "3 bar"}}
    found = findings(raw)["supply.mains.inlet.regulator"]
    assert found.verdict is Verdict.FAILS
    assert "relief valve" in found.statement.text()


@pytest.mark.parametrize("kind", KINDS)
def test_without_check_valves_the_campsite_and_the_tank_are_not_kept_apart(kind: str) -> None:
    found = findings(on_the_mains(kind, valve=False, regulator="2.5 bar"))
    assert found["supply.mains.inlet.back-flow"].verdict is Verdict.FAILS
    pump = found["supply.mains.inlet.pump"]
    assert pump.verdict is (Verdict.FAILS if kind == "submersible" else Verdict.WATCH)


def test_a_pump_that_runs_along_is_told() -> None:
    found = findings(on_the_mains("diaphragm", regulator="1 bar"))
    assert found["supply.mains.inlet.pump.starts"].verdict is Verdict.WATCH
    assert "supply.mains.inlet.pump.starts" not in findings(on_the_mains("foot", regulator="1 bar"))


def test_an_outlet_on_the_mains_only_is_told_so() -> None:
    raw = on_the_mains("diaphragm", regulator="2.5 bar")
    raw["outlets"]["utility tap"] = {"flow": "5 L/min", "at": "1 bar", "z": "0.5 m"}
    raw["runs"]["utility hose"] = {"from": "inlet", "to": "utility tap", "bore": "10 mm", "length": "1 m"}
    answer = supply(Plan.of(raw))
    found = next(one for one in answer.findings if one.key == "supply.utility tap.way")
    assert found.verdict is Verdict.WATCH
    assert set(answer.on_mains) == {"tap", "rinse", "utility tap"}
    assert answer.on_mains["utility tap"].flow.likely > 0


def test_an_inlet_that_feeds_nothing_says_nothing() -> None:
    raw = pumped("diaphragm")
    raw["mains"] = {"inlet": {}}
    assert findings(raw) == {}
    assert dict(supply(Plan.of(raw)).on_mains) == {}
