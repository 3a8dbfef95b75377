from __future__ import annotations

from typing import Any

import pytest

from tests.pumped import KINDS, on_the_mains, pumped
from vanwater.answers.core.finding import Finding, Verdict
from vanwater.answers.core.number import Number
from vanwater.answers.mains.answer import mains
from vanwater.answers.mains.flows import on_mains
from vanwater.answers.outlets.answer import outlets
from vanwater.answers.questions import QUESTIONS
from vanwater.answers.ratings.answer import ratings
from vanwater.plan.model import Plan
from vanwater.system.path_conditions import mains_ways


def findings(raw: dict[str, Any]) -> dict[str, Finding]:
    return {found.key: found for found in mains(Plan.of(raw)).findings}


def width(number: Number) -> float:
    assert number.range is not None
    return number.range[1] - number.range[0]


@pytest.mark.parametrize("kind", KINDS)
def test_off_grid_is_told_as_ever_and_the_mains_beside_it(kind: str) -> None:
    plan = Plan.of(on_the_mains(kind, valve=False, regulator="2.5 bar"))
    answer, alone = mains(plan), Plan.of(pumped(kind))
    assert outlets(plan).outlets["tap"].flow.likely == outlets(alone).outlets["tap"].flow.likely
    assert set(answer.outlets) == {"tap", "rinse"}
    table = next(table for table in answer.tables if table.key == "mains")
    assert [row[0] for row in table.rows] == ["tap", "rinse"]
    assert any(caution.key == "mains water" for caution in QUESTIONS["mains"].ask(plan).cautions)
    assert answer.numbers["outlet.tap.flow.mains"] is answer.outlets["tap"].flow
    assert answer.verdict.text().startswith("On a campsite's water the tap gives")
    assert mains(alone).silent


def test_the_range_of_the_tap_is_the_range_of_the_flow_and_a_regulator_takes_it_away() -> None:
    bare = mains(Plan.of(on_the_mains("diaphragm"))).outlets["tap"]
    held = mains(Plan.of(on_the_mains("diaphragm", regulator="2 bar"))).outlets["tap"]
    assert bare.source.likely == pytest.approx(4e5)
    assert bare.source.range == pytest.approx((2e5, 6e5))
    assert held.source.likely == pytest.approx(2e5)
    assert held.source.range is None
    assert width(bare.flow) > 1.5 * width(held.flow)
    none = Plan.of(pumped("diaphragm"))
    assert mains_ways(none) == ()
    assert on_mains(none, ()) == {}


def test_all_is_well_with_regulator_and_check_valves() -> None:
    assert {found.verdict for found in findings(on_the_mains("diaphragm", regulator="2.5 bar")).values()} == {
        Verdict.FINE
    }


def test_without_a_regulator_the_taps_pressure_is_told_and_pieces_are_judged_by_it() -> None:
    raw = on_the_mains("diaphragm")
    found = findings(raw)["mains.inlet.regulator"]
    assert found.verdict is Verdict.WATCH
    assert "6\N{NO-BREAK SPACE}bar" in found.statement.text()
    rated = [one for one in ratings(Plan.of(raw)).findings if one.key.startswith("ratings.pvc hose 10 mm")]
    assert [one.verdict for one in rated] == [Verdict.WATCH]
    raw["mains"]["inlet"]["highest"] = "9 bar"
    rated = [one for one in ratings(Plan.of(raw)).findings if one.key.startswith("ratings.pvc hose 10 mm")]
    assert [one.verdict for one in rated] == [Verdict.FAILS]


def test_the_lesser_of_regulator_and_tap_is_told() -> None:
    held = findings(on_the_mains("diaphragm", regulator="2.5 bar"))["mains.inlet.regulator"]
    assert held.value is not None
    assert held.value.number is not None
    assert held.value.number.key == ("mains", "inlet", "regulator")
    assert held.statement.text().replace("\N{NO-BREAK SPACE}", " ") == (
        "The regulator at the inlet holds 2.5 bar on the mains, 0.5 bar less at 10 L/min."
    )
    raw = on_the_mains("diaphragm", regulator="3 bar")
    raw["mains"]["inlet"] |= {"lowest": "1 bar", "highest": "2 bar"}
    low = findings(raw)["mains.inlet.regulator"]
    assert "2\N{NO-BREAK SPACE}bar" in low.statement.text()


def test_a_heaters_relief_valve_opens_on_too_much() -> None:
    raw = on_the_mains("diaphragm", regulator="3.5 bar")
    raw["heaters"] = {"heater": {"volume": "6 L", "relief": "3 bar"}}
    found = findings(raw)["mains.inlet.regulator"]
    assert found.verdict is Verdict.FAILS
    assert "relief valve" in found.statement.text()


@pytest.mark.parametrize("kind", KINDS)
def test_without_check_valves_the_campsite_and_the_tank_are_not_kept_apart(kind: str) -> None:
    found = findings(on_the_mains(kind, valve=False, regulator="2.5 bar"))
    assert found["mains.inlet.back-flow"].verdict is Verdict.FAILS
    pump = found["mains.inlet.pump"]
    assert pump.verdict is (Verdict.FAILS if kind == "submersible" else Verdict.WATCH)


def test_a_check_valve_before_the_heater_does_not_keep_the_cold_water_from_flowing_back() -> None:
    """Where every outlet mixes, the heater's check valve lies on the way to all of them, yet only on their hot side."""
    raw = on_the_mains("diaphragm", valve=False, regulator="2.5 bar")
    raw["heaters"] = {"heater": {"volume": "6 L", "relief": "4 bar"}}
    raw["tees"]["hot tee"] = {}
    raw["mixers"] = {"tap mixer": {}, "rinse mixer": {}}
    for outlet in ("tap", "rinse"):
        raw["runs"][f"{outlet} hose"]["to"] = f"{outlet} mixer"
        raw["runs"][f"{outlet} hot"] = {**raw["runs"][f"{outlet} hose"], "from": "hot tee"}
        raw["runs"][f"{outlet} spout"] = {**raw["runs"][f"{outlet} hose"], "from": f"{outlet} mixer", "to": outlet}
    hose = {"size": "pvc hose 10 mm", "length": "1 m"}
    raw["runs"]["feed"] = {"from": "tee", "to": "heater", **hose, "fittings": {"spring check valve": 1}}
    raw["runs"]["hot"] = {"from": "heater", "to": "hot tee", **hose}
    assert findings(raw)["mains.inlet.back-flow"].verdict is Verdict.FAILS
    inlet = next(run for run in raw["runs"].values() if run["from"] == "inlet")
    inlet["fittings"] = {"spring check valve": 1}
    assert "mains.inlet.back-flow" not in findings(raw)


def test_a_pump_that_runs_along_is_told() -> None:
    found = findings(on_the_mains("diaphragm", regulator="1 bar"))
    assert found["mains.inlet.pump.starts"].verdict is Verdict.WATCH
    assert "mains.inlet.pump.starts" not in findings(on_the_mains("foot", regulator="1 bar"))


def test_an_outlet_on_the_mains_only_is_told_so() -> None:
    raw = on_the_mains("diaphragm", regulator="2.5 bar")
    raw["outlets"]["utility tap"] = {"flow": "5 L/min", "at": "1 bar", "z": "0.5 m"}
    raw["runs"]["utility hose"] = {"from": "inlet", "to": "utility tap", "bore": "10 mm", "length": "1 m"}
    answer = mains(Plan.of(raw))
    found = next(one for one in outlets(Plan.of(raw)).findings if one.key == "outlets.utility tap.way")
    assert found.verdict is Verdict.WATCH
    assert set(answer.outlets) == {"tap", "rinse", "utility tap"}
    assert answer.outlets["utility tap"].flow.likely > 0


def test_an_inlet_that_feeds_nothing_says_nothing() -> None:
    raw = pumped("diaphragm")
    raw["mains"] = {"inlet": {}}
    assert findings(raw) == {}
    assert mains(Plan.of(raw)).silent
