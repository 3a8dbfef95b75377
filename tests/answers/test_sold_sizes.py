"""What a remedy names can be bought where the reader's units are used, and its sum holds that very size."""

from __future__ import annotations

import pytest

from tests.examples import example
from vanwater.answers.core.finding import Finding
from vanwater.answers.core.number import Number
from vanwater.answers.pump_starts.accumulator_size import GAS_SHARE
from vanwater.answers.questions import QUESTIONS, answers_to
from vanwater.command import main
from vanwater.document.html import render
from vanwater.plan.model import Plan
from vanwater.plan.sold import sold
from vanwater.quantities import PRESSURE
from vanwater.system.remedies import next_size, way_remedies
from vanwater.system.ways import way_to

FAMILY = example("family-winter")
OWN = {"us": "1/2 in", "metric": "13 mm"}
SUCTION = "run.suction.time_to_ice.parked"


def finding(plan: Plan, question: str, key: str) -> Finding:
    return next(found for found in QUESTIONS[question].ask(plan).findings if found.key == key)


def told(plan: Plan, question: str, key: str) -> str:
    advice = finding(plan, question, key).advice
    assert advice is not None
    return advice.text(plan.us).replace("\N{NO-BREAK SPACE}", " ")


@pytest.mark.parametrize("us", [False, True])
def test_a_sleeve_is_told_as_it_is_sold_and_lasts_as_long_as_is_told(us: bool) -> None:
    plan = FAMILY.read_in(us)
    advice = told(plan, "frost", "frost.suction.freezes")
    sleeve = OWN[plan.van.units]
    assert f"a sleeve of {sleeve} alone" in advice
    lasts = QUESTIONS["frost"].ask(plan.changed({"runs.suction.foam": sleeve})).numbers[SUCTION]
    assert f"makes it {round(lasts.likely / 60.0)} min" in advice


@pytest.mark.parametrize("us", [False, True])
def test_more_foam_is_told_as_it_is_sold_and_holds_as_much_cold_as_is_told(us: bool) -> None:
    plan = FAMILY.read_in(us)
    table = next(table for table in QUESTIONS["frost"].ask(plan).tables if table.key == "remedies")
    rows = {row[0].text(us): row[2].text(us) for row in table.rows}  # type: ignore[union-attr]
    foam = "3/4 in" if us else "20 mm"
    (then,) = (
        text
        for what, text in rows.items()
        if what.replace("\N{NO-BREAK SPACE}", " ").startswith(foam) and "fresh" in what
    )
    thicker = (plan.tanks["fresh"].foam or 0.0) + sold(us).foam
    colder = QUESTIONS["frost"].ask(plan.changed({"tanks.fresh.foam": thicker}, si=True))
    assert then == colder.numbers["tank.fresh.lowest_cold.parked"].rounded(2).text(us)


@pytest.mark.parametrize("name", ["long-stay-dry-toilet", "family-winter"])
def test_an_accumulator_is_one_of_those_sold_and_its_pre_charge_can_be_set(name: str) -> None:
    plan = example(name).changed({"accumulators": None}).read_in(True)
    (cycle,) = QUESTIONS["pump_starts"].ask(plan).pumps  # type: ignore[attr-defined]
    assert cycle.fitted.size.likely in sold(True).accumulators
    psi = float(PRESSURE.show(cycle.setting.likely, us=True))
    assert psi == pytest.approx(round(psi), abs=1e-9)
    advice = told(plan, "pump_starts", "pump_starts.pump.chatter")
    assert f"its pre-charge set to {round(psi)} psi" in advice
    at = next(run.end for run in plan.runs.values() if run.start == "pump")
    vessel = {"at": at, "volume": GAS_SHARE * cycle.fitted.size.likely, "precharge": cycle.setting.likely}
    (cured,) = QUESTIONS["pump_starts"].ask(plan.changed({"accumulators.vessel": vessel}, si=True)).pumps  # type: ignore[attr-defined]
    assert isinstance(cured.starts, Number)
    assert cured.starts.likely == pytest.approx(cycle.fitted.starts.likely, rel=1e-6)


def test_hose_is_widened_by_the_inch_where_us_units_are_used() -> None:
    assert next_size("pvc hose 8 mm", us=True).key == "pvc hose 3/8 in"  # type: ignore[union-attr]
    assert next_size("pvc hose 1/2 in", us=True).key == "pvc hose 5/8 in"  # type: ignore[union-attr]
    assert next_size("pvc hose 8 mm").key == "pvc hose 10 mm"  # type: ignore[union-attr]
    assert next_size("pex 12 mm", us=True).key == "pex 16 mm"  # type: ignore[union-attr]
    plan = FAMILY.changed({"runs.handset hose.size": None, "runs.handset hose.bore": "8 mm"})
    for us, bore in ((False, 0.010), (True, 0.375 * 0.0254)):
        wider = {one.address: one.then for one in way_remedies(plan.read_in(us), way_to(plan.read_in(us), "shower"))}
        assert wider["runs.handset hose.bore"] == pytest.approx(bore)


def test_whoever_reads_another_system_is_told_its_sizes_in_every_medium(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["check", "data/plans/family-winter.toml", "--units", "us"]) == 0
    assert "a sleeve of 1/2 in alone" in " ".join(capsys.readouterr().out.split()).replace("\N{NO-BREAK SPACE}", " ")
    page = render(answers_to(FAMILY), us=True).replace("\N{NO-BREAK SPACE}", " ")
    assert "a sleeve of 1/2 in" in page
    assert "0.51 in" not in page


def test_answers_read_in_their_own_units_are_the_same() -> None:
    answers = answers_to(FAMILY)
    assert answers.read_in(False) is answers
    assert answers.read_in(True).plan.us
    assert FAMILY.read_in(False) is FAMILY
    assert FAMILY.read_in(True).read_in(False) == FAMILY
