from __future__ import annotations

import math
from typing import Any

import numpy as np
import pytest
from hypothesis import given

from tests.answered import outlets as answer_to
from tests.drawn import WHOLE_PLANS
from tests.examples import NAMES, example
from tests.pumped import KINDS, pumped
from tests.strategies import plans
from tests.walk import walk
from vanwater.answers.core.finding import Finding, Verdict
from vanwater.answers.outlets.answer import Outlets, outlets
from vanwater.answers.outlets.outlet import OutletSupply
from vanwater.answers.outlets.suction import npsh
from vanwater.answers.questions import QUESTIONS
from vanwater.physics.pressure_switch import draw_flow, supply_flow
from vanwater.plan.model import Plan
from vanwater.system.compliance import pump_line

NUMBERS = ("flow", "pressure", "rise", "inlet", "discharge", "suction_loss", "lift", "temperature")
FAMILY = example("family-winter")
LONG = example("long-stay-dry-toilet")
WEEKEND = example("weekend-cans")


@pytest.mark.parametrize("name", NAMES)
def test_budget_adds_up_to_the_pumps_rise(name: str) -> None:
    answer = outlets(example(name))
    assert answer.outlets
    for one in answer.outlets.values():
        assert sum(piece.loss.likely for piece in one.budget) == pytest.approx(one.rise.likely, abs=1e-3)
        assert one.flow.range is not None
        assert one.flow.range[0] < one.flow.likely < one.flow.range[1]
        assert one.reaches


def test_outlet_hangs_most_on_its_constant_and_the_pump() -> None:
    one = outlets(FAMILY).outlets["shower"]
    assert [hung.address for hung in one.flow.influences[:2]] == ["outlets", "pumps"]
    swings = [hung.swing for hung in one.flow.influences]
    assert swings == sorted(swings, reverse=True)


def test_a_gain_is_what_the_changed_plan_gives() -> None:
    one = outlets(LONG).outlets["shower"]
    for gain in one.gains:
        after = outlets(LONG.changed(dict(gain.remedy.row.values))).outlets["shower"]
        assert after.flow.likely - one.flow.likely == pytest.approx(gain.flow.likely, rel=1e-6), gain.words.text()
    assert {gain.remedy.kind for gain in one.gains} >= {"filter", "wider"}


THRIFTY = LONG.changed(
    {"outlets.shower.type": None, "outlets.shower.flow": 1.2e-3 / 60, "outlets.shower.at": 1e5}, si=True
)
"""The long-stay van with a handset so small that the pump cycles under it."""


def finding_of(answer: Outlets, key: str) -> Finding:
    return next(finding for finding in answer.findings if finding.key == key)


def test_pump_cycles_under_a_small_outlet() -> None:
    answer = outlets(THRIFTY)
    assert answer.outlets["shower"].cycles
    finding = finding_of(answer, "outlets.shower.switch")
    assert finding.verdict is Verdict.WATCH
    assert "cycles" in finding.statement.text()
    assert not outlets(LONG).outlets["shower"].cycles


def mean_by_marching(supply: OutletSupply) -> tuple[float, float, float]:
    """Mean, time on and time off, by small steps of pressure through one cycle with what the line alone gives."""
    plan, path = supply.plan, supply.case.physics
    cut_in, cut_out = plan.pumps["pump"].cut_in, plan.pumps["pump"].cut_out
    assert cut_in is not None and cut_out is not None
    edges = np.linspace(cut_in, cut_out, 201)
    given_ = float(pump_line(supply.batch, "pump").likely[0]) * np.diff(edges)
    middle = 0.5 * (edges[1:] + edges[:-1])
    draw, brings = (
        np.array([flow(path, np.full(len(supply.batch), p))[0] for p in middle]) for flow in (draw_flow, supply_flow)
    )
    on, off = np.sum(given_ / (brings - draw)), np.sum(given_ / draw)
    return float((np.sum(given_ / (brings - draw) * draw) + np.sum(given_)) / (on + off)), float(on), float(off)


def test_a_cycling_outlet_is_told_by_its_mean_with_its_swing() -> None:
    """Yesterday it was told at the steady crossing, above its cut-out: a flow that it never has."""
    answer = outlets(THRIFTY)
    supply = answer.outlets["shower"]
    mean, on, off = mean_by_marching(supply)
    crossing = float(supply.solved.flow[0])
    assert supply.flow.likely == pytest.approx(mean, rel=1e-3) and crossing > 1.1 * mean
    assert [number.likely for number in supply.times] == pytest.approx([on, off], rel=2e-3)
    assert supply.least.likely < mean < supply.most.likely < crossing
    cut_in, cut_out = THRIFTY.pumps["pump"].cut_in, THRIFTY.pumps["pump"].cut_out
    assert cut_in is not None and cut_out is not None
    assert cut_in < supply.discharge.likely < cut_out < supply.crossing.likely
    assert supply.pressure.likely == pytest.approx(
        (mean / float(supply.case.physics.outlet_constant[0])) ** 2, rel=1e-3
    )
    assert sum(piece.loss.likely for piece in supply.budget) == pytest.approx(supply.rise.likely, abs=1e-3)
    told = (supply.flow.text(), supply.least.rounded(2).text(), supply.most.rounded(2).text())
    for text in (answer.verdict.text(), finding_of(answer, "outlets.shower.flow").statement.text()):
        assert all(number in text for number in told) and "in the mean" in text
    table = next(table for table in answer.tables if table.key == "outlets")
    row = dict(zip([column.heading for column in table.columns], table.rows[0], strict=True))
    assert (row["gives"], row["swings from"], row["to"]) == (
        supply.flow.shown,
        supply.least.rounded(2),
        supply.most.rounded(2),
    )
    plain = next(table for table in outlets(LONG).tables if table.key == "outlets")
    assert "swings from" not in [column.heading for column in plain.columns]
    assert walk(answer) > 15


def test_the_wish_is_judged_by_the_mean_and_a_regulated_outlet_by_the_low_end() -> None:
    supply = outlets(THRIFTY).outlets["shower"]
    between = 0.5 * (supply.flow.likely + float(supply.solved.flow[0]))
    wished = outlets(THRIFTY.changed({"outlets.shower.wanted": between}, si=True))
    assert finding_of(wished, "outlets.shower.flow").verdict is Verdict.FAILS
    held = THRIFTY.changed({"outlets.shower.regulated": True, "outlets.shower.flow": 1.4e-3 / 60}, si=True)
    swings = outlets(held).outlets["shower"]
    assert swings.cycles and swings.least.likely <= swings.flow.likely <= swings.most.likely <= 1.4001e-3 / 60
    wanted = held.changed({"outlets.shower.wanted": 1.001 * swings.least.likely}, si=True)
    finding = finding_of(outlets(wanted), "outlets.shower.flow")
    assert (finding.value is not None and finding.value.number is swings.least) or finding.verdict is Verdict.FAILS


def test_what_a_remedy_brings_a_cycling_outlet_is_mean_against_mean() -> None:
    supply = outlets(THRIFTY).outlets["shower"]
    for remedy in supply.tried:
        after = outlets(THRIFTY.changed(dict(remedy.row.values))).outlets["shower"]
        row = supply.batch.place(remedy.row.key)
        for name in (*NUMBERS, "least", "most"):
            number, own = getattr(supply, name), getattr(after, name)
            assert number.values[row] == pytest.approx(own.likely, rel=1e-8, abs=1e-10), (remedy.row.key, name)


HIGH = {"curve": [["0 L/min", "0.35 bar"], ["8 L/min", "0 bar"]], "cut_in": "0.2 bar", "cut_out": "0.3 bar"}
DRY = {"curve": [["0 L/min", "0.8 bar"], ["8 L/min", "0 bar"]], "cut_in": "0.3 bar", "cut_out": "0.6 bar"}


@pytest.mark.parametrize("kind", ["diaphragm", "by-pass"])
@pytest.mark.parametrize(("pump", "words"), [(HIGH, "No water reaches the tap"), (DRY, "The tap runs dry")])
def test_an_outlet_above_what_the_switch_lets_the_pump_press_is_answered(
    kind: str, pump: dict[str, Any], words: str
) -> None:
    """Yesterday a traceback where the outlet got nothing, and a swing from none for the one that runs dry."""
    raw = pumped(kind, **pump, **({"by_pass": "0.25 bar"} if kind == "by-pass" else {}))
    raw["outlets"]["tap"]["z"] = "4.9 m"
    plan = Plan.of(raw)
    answer = outlets(plan)
    finding = finding_of(answer, "outlets.tap.dry")
    assert finding.verdict is Verdict.FAILS and words in finding.statement.text()
    assert not answer.outlets["tap"].reaches and answer.outlets["tap"].flow.likely == 0.0
    assert all(finding.key != "outlets.tap.switch" for finding in answer.findings)
    for question in QUESTIONS.values():
        walk(question.ask(plan))


def test_what_the_hoses_alone_hold_makes_the_pump_chatter_without_a_figure() -> None:
    """A stiff line gives a millilitre: yesterday "0.018 s on, 0.03 s off"."""
    stiff = outlets(THRIFTY.changed({"pumps.pump.line_gives": "1 mL/bar"}))
    text = finding_of(stiff, "outlets.shower.switch").statement.text()
    assert "chatters under the shower" in text and "s on," not in text
    assert "pump.pump.on.shower" not in stiff.numbers
    soft = outlets(THRIFTY.changed({"pumps.pump.line_gives": "100 mL/bar"}))
    assert "s on," in finding_of(soft, "outlets.shower.switch").statement.text()
    on, off = (number.likely for number in soft.outlets["shower"].times)
    assert on + off == pytest.approx(100 * sum(number.likely for number in stiff.outlets["shower"].times), rel=1e-9)


def test_a_pump_that_cycles_on_runs_without_length_is_answered() -> None:
    short = {f"runs.{run}.length": 0.0 for run in THRIFTY.runs}
    answer = outlets(THRIFTY.changed(short, si=True))
    supply = answer.outlets["shower"]
    assert supply.cycles and supply.least.likely < supply.flow.likely < supply.most.likely
    assert "chatters under the shower" in finding_of(answer, "outlets.shower.switch").statement.text()


def test_without_a_cut_in_the_mean_is_not_decided() -> None:
    plan = THRIFTY.changed({"pumps.pump.cut_in": None, "outlets.shower.wanted": "1 L/min"})
    supply = outlets(plan).outlets["shower"]
    finding = finding_of(outlets(plan), "outlets.shower.flow")
    assert finding.verdict is Verdict.NOT_DECIDED and finding.address == "pumps.pump.cut_in"
    assert "at most" in finding.statement.text()
    cut_out = np.full(len(supply.batch), plan.pumps["pump"].cut_out)
    assert supply.flow.likely == pytest.approx(draw_flow(supply.case.physics, cut_out)[0], rel=1e-9)
    many = outlets(plan.changed({"outlets.shower.wanted": "9 L/min"}))
    assert finding_of(many, "outlets.shower.flow").verdict is Verdict.FAILS


def test_wanted_flow_is_judged_with_the_best_remedy() -> None:
    plan = LONG.changed({"outlets.shower.wanted": 7.5e-3 / 60}, si=True)
    answer = outlets(plan)
    finding = next(one for one in answer.findings if one.key == "outlets.shower.flow")
    assert finding.verdict is Verdict.FAILS
    assert finding.change is not None
    assert finding.change.text() == answer.outlets["shower"].gains[0].words.text()


def test_too_cold_heater_fails() -> None:
    answer = outlets(FAMILY.changed({"heaters.heater.set_point": 273.15 + 35}, si=True))
    finding = next(one for one in answer.findings if one.key == "outlets.shower.warm")
    assert finding.verdict is Verdict.FAILS


def test_one_priming_finding_for_each_pump_and_altitude_only_worsens_it() -> None:
    def left(metres: float) -> float:
        found = [f for f in outlets(FAMILY.changed({"site.altitude": metres}, si=True)).findings if "priming" in f.key]
        assert len(found) == 1
        assert found[0].value is not None
        return found[0].value.value  # type: ignore[union-attr]

    assert left(0) == pytest.approx(
        left(1000), rel=1e-6
    )  # the plan's highest place, a pass at 1800 m, decides below it
    assert left(1000) > left(2500)


def test_gaps_are_not_decided_by_address_and_others_still_come() -> None:
    answer = outlets(FAMILY.changed({"runs.handset hose.length": None}))
    assert set(answer.outlets) == {"galley tap", "basin tap"}
    finding = next(one for one in answer.findings if one.key == "outlets.shower.way")
    assert finding.verdict is Verdict.NOT_DECIDED
    assert finding.address == "runs.handset hose.length"
    nothing = outlets(Plan.of({"van": {"name": "t"}, "household": {"people": 1}}))
    assert not nothing.decided
    assert [one.key for one in nothing.findings] == ["outlets.none"]


def test_water_that_does_not_reach_is_said_and_no_number_is_false() -> None:
    plan = WEEKEND.changed({"outlets.galley tap.z": 4.9, "pumps.pump.curve": ((0.0, 3e4), (1e-4, 0.0))}, si=True)
    answer = outlets(plan)
    one = answer.outlets["galley tap"]
    assert not one.reaches
    assert one.flow.likely == 0
    assert "No water reaches" in answer.verdict.text()
    assert any(finding.verdict is Verdict.FAILS for finding in answer.findings)
    assert all(math.isfinite(piece.loss.likely) for piece in one.budget)


def test_regulated_outlet_holds_its_flow() -> None:
    plan = FAMILY.changed(
        {"outlets.shower.regulated": True, "outlets.shower.flow": 5e-3 / 60, "outlets.shower.at": 1e5}, si=True
    )
    one = outlets(plan).outlets["shower"]
    assert one.flow.likely == pytest.approx(5e-3 / 60)


def test_more_bore_or_volts_never_give_less() -> None:
    base = outlets(FAMILY).outlets["shower"].flow.likely
    for change in (
        {"runs.handset hose.size": "pvc hose 10 mm"},
        {"runs.suction.size": "pvc hose 16 mm"},
        {"pumps.pump.volts": 13.6},
        {"runs.hot shower line.fittings": {}},
    ):
        assert outlets(FAMILY.changed(change, si=True)).outlets["shower"].flow.likely > base


def test_verdict_names_flow_and_piece() -> None:
    text = outlets(FAMILY).verdict.text()
    assert "shower gives" in text
    assert "handset hose" in text
    assert np.isfinite(outlets(FAMILY).outlets["shower"].flow.likely)


def test_a_pump_that_cycles_is_told_before_its_cut_in_is_decided() -> None:
    answer = outlets(FAMILY.changed({"pumps.pump.cut_in": None, "pumps.pump.cut_out": "1.5 bar"}))
    found = next(one for one in answer.findings if one.key == "outlets.shower.switch")
    assert "stops it" in found.statement.text()
    assert "swings" not in found.statement.text()


@pytest.mark.parametrize("name", NAMES)
def test_every_number_of_the_examples_has_key_range_and_sum(name: str) -> None:
    assert walk(answer_to(example(name))) > 15


@WHOLE_PLANS
@given(plans())
def test_every_number_of_any_plan_has_key_range_and_sum(raw: dict[str, Any]) -> None:
    walk(answer_to(Plan.of(raw, file=True)))


@pytest.mark.parametrize("kind", KINDS)
def test_every_number_of_every_kind_of_pump_has_key_range_and_sum(kind: str) -> None:
    walk(answer_to(Plan.of(pumped(kind))))


def test_each_row_of_a_number_is_what_the_changed_plan_gives() -> None:
    one = outlets(LONG).outlets["shower"]
    for remedy in one.tried:
        after = outlets(LONG.changed(dict(remedy.row.values))).outlets["shower"]
        row = one.batch.place(remedy.row.key)
        pairs = [(one.losses[run], after.losses[run]) for run in one.losses]
        pairs += [(getattr(one, name), getattr(after, name)) for name in NUMBERS]
        pairs.append((npsh(one), npsh(after)))
        for number, own in pairs:
            assert number.values[row] == pytest.approx(own.likely, rel=1e-9, abs=1e-12), (remedy.row.key, number.name)
