from __future__ import annotations

from typing import Any

import pytest

from tests.answered import frost, pump_starts, stay
from vanwater.answers.frost.controls import pad_for
from vanwater.answers.pump_starts.controls import accumulator_for
from vanwater.panels.bench import Bench
from vanwater.panels.control_part import has_part, part_at
from vanwater.panels.panel import Panel
from vanwater.plan.file import PlanFile, read
from vanwater.plan.model import Plan
from vanwater.plan.tables import resource


@pytest.fixture
def bare() -> PlanFile:
    """A plan whose pump has no accumulator."""
    return read(resource("data", "plans", "long-stay-dry-toilet.toml"))


def test_a_part_is_known_by_the_first_two_names() -> None:
    assert part_at("accumulators.accumulator.volume") == "accumulators.accumulator"
    assert part_at("site.wind") == ""


def test_what_is_planned_is_there(family: PlanFile) -> None:
    plan = family.plan
    assert has_part(plan, "site.wind")
    assert has_part(plan, "pumps.pump.cut_in")
    assert not has_part(plan, "pumps.other.cut_in")


def test_a_planned_accumulator_is_left_alone(family: PlanFile) -> None:
    plan = family.plan
    assert accumulator_for(plan, "pump") == "accumulator"
    assert pump_starts(plan).question.fits(plan, pump_starts(plan)) == {}
    assert stay(plan).question.fits(plan, stay(plan)) == {}


def test_a_missing_accumulator_sits_behind_the_pump_with_the_pre_charge_to_set(bare: PlanFile) -> None:
    plan = bare.plan
    answer = pump_starts(plan)
    (fields,) = answer.question.fits(plan, answer).values()
    assert fields["at"] == "tee"
    fitted = plan.changed({"accumulators.accumulator": dict(fields)})
    assert fitted.accumulators["accumulator"].precharge == pytest.approx(answer.pumps[0].setting.value, rel=0.06)
    assert pump_starts(fitted).pumps[0].vessel == "accumulator"


def test_a_pump_without_a_tee_carries_it_itself() -> None:
    plan = read(resource("data", "plans", "weekend-cans.toml")).plan
    (fields,) = pump_starts(plan).question.fits(plan, pump_starts(plan)).values()
    assert fields["at"] == "pump"
    assert fields["volume"].endswith((" gal", " fl oz"))
    assert fields["precharge"].endswith(" psi")
    assert pump_starts(plan.changed({"accumulators.accumulator": dict(fields)})).pumps[0].vessel == "accumulator"


def test_a_name_that_is_taken_is_numbered(bare: PlanFile) -> None:
    plan = bare.plan.changed({"tees.accumulator": {}})
    assert accumulator_for(plan, "pump") == "accumulator 2"


def test_tanks_without_a_pad_may_get_one(family: PlanFile) -> None:
    plan = family.plan.changed({"pads.grey pad": None})
    assert pad_for(plan, "fresh") == "fresh pad"
    assert pad_for(plan, "grey") == "grey pad"
    assert frost(plan).question.fits(plan, frost(plan)) == {"pads.grey pad": {"tank": "grey", "power": "60 W"}}


def accumulator_of(panel: Panel) -> Any:
    return panel.bench.plan.accumulators.get("accumulator")


def test_one_control_fits_the_part_and_the_way_back_takes_it_out(bare: PlanFile) -> None:
    panel = Bench(bare).panel("pump_starts")
    volume, precharge = (panel.controls[f"accumulators.accumulator.{key}"] for key in ("volume", "precharge"))
    assert "chatters" in panel.verdict.value
    assert "plan: not decided" in volume.head.value
    assert float(precharge.box.value) == pytest.approx(0.9, abs=0.01)  # type: ignore[attr-defined]
    volume.turn(1.5e-3)
    assert accumulator_of(panel).volume == 1.5e-3
    assert accumulator_of(panel).precharge == pytest.approx(precharge.value)
    assert "without the accumulator" in panel.verdict.value
    assert "piece at which it sits: tee" in panel.verdict.value
    assert panel.bench.written["accumulators.accumulator.volume"] == "1.5 L"
    precharge.turn(0.5e5)
    assert accumulator_of(panel).precharge == 0.5e5
    panel.bench.home(panel)
    assert accumulator_of(panel) is None
    assert "chatters" in panel.verdict.value


def test_every_plan_says_the_same_with_its_proposal_as_without(example: PlanFile) -> None:
    plan: Plan = example.plan
    for answer in (pump_starts(plan), frost(plan)):
        for part, fields in answer.question.fits(plan, answer).items():
            assert not has_part(plan, f"{part}.any")
            plan.changed({part: dict(fields)})
