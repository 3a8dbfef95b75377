"""The steps before frost say what the plan's heights, drains and check valves say, in the order of the hands."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given

from tests.drawn import WHOLE_PLANS
from tests.examples import NAMES, example
from tests.strategies import plans
from vanwater.answers.frost.draining_steps import draining_steps
from vanwater.plan.model import Plan
from vanwater.system.draining import draining

VAN = {"van": {"name": "A"}, "household": {"people": 2}}


def told(plan: Plan) -> list[str]:
    return [step.text.text().replace("\N{NO-BREAK SPACE}", " ") for step in draining_steps(plan)]


def with_drain(lowest: str) -> Plan:
    return Plan.of(
        {
            **VAN,
            "tanks": {"fresh": {"holds": "fresh", "capacity": "60 L", "z": "0 m"}},
            "pumps": {"pump": {"kind": "diaphragm", "z": "0.1 m"}},
            "outlets": {"high": {"type": "galley tap", "z": "1.2 m"}, "low": {"type": "galley tap", "z": "0.9 m"}},
            "tees": {"tee": {"z": "0.2 m"}},
            "runs": {
                "suction": {"from": "fresh", "to": "pump", "bore": "10 mm", "length": "1 m"},
                "trunk": {
                    "from": "pump",
                    "to": "tee",
                    "bore": "10 mm",
                    "length": "1 m",
                    "lowest": lowest,
                    "fittings": {"drain cock": 1},
                },
                "a": {"from": "tee", "to": "high", "bore": "10 mm", "length": "1 m"},
                "b": {"from": "tee", "to": "low", "bore": "10 mm", "length": "1 m"},
            },
        }
    )


def test_heat_off_before_tanks_taps_before_drains() -> None:
    lines = told(example("family-winter"))
    assert [line.split()[0] for line in lines[:4]] == ["Off:", "Empty", "Run", "Open"]
    assert "shower (12) at 1.8 m, galley tap (14) at 1 m" in lines[3].replace("1.1 m", "1 m").replace("1.05 m", "1 m")
    assert lines[-1].startswith("Leave all of it open")


def test_hoses_are_laid_down_where_one_is_held_in_the_hand_alone() -> None:
    (taps,) = [line for line in told(example("weekend-cans")) if line.startswith("Open every tap")]
    assert taps.startswith("Open every tap, the highest first: galley tap")
    (taps,) = [line for line in told(example("family-winter")) if line.startswith("Open every tap")]
    assert "mixing taps half way" in taps and "lay hand-held hoses down: shower" in taps


def test_heights_are_told_in_inches_to_who_reads_us_units() -> None:
    lines = [step.text.text(us=True) for step in draining_steps(example("family-winter"))]
    tall = " ".join(lines).replace("\N{NO-BREAK SPACE}", " ")
    assert "shower (12) at 71 in" in tall and "pump (3) at 2 in over a bowl" in tall and " ft" not in tall


def test_a_drain_is_named_with_its_tag_run_and_height() -> None:
    lines = told(with_drain("0.05 m"))
    assert any(line == "Open the drains, the lowest last: drain cock (3) in trunk (R2) at 0.05 m." for line in lines)
    assert not any(line.startswith("Low point") for line in lines)


def test_the_lowest_drain_is_opened_last_and_one_without_a_height_first() -> None:
    drained = {"bore": "10 mm", "length": "1 m", "fittings": {"ball drain": 1}}
    plan = with_drain("0.05 m").changed(
        {
            "runs.a": {"from": "tee", "to": "high", "lowest": "0.15 m", **drained},
            "runs.b": {"from": "tee", "to": "low", **drained},
        }
    )
    (line,) = (line for line in told(plan) if line.startswith("Open the drains"))
    assert [line.index(f"in {run} (R") for run in ("b", "a", "trunk")] == sorted(
        line.index(f"in {run} (R") for run in plan.runs if run != "suction"
    )


def test_what_has_no_way_down_is_a_low_point_with_its_joint() -> None:
    plan = example("family-winter")
    (pool,) = draining(plan).pools
    (low,) = (line for line in told(plan) if line.startswith("Low point"))
    assert pool.lowest in low and f"with it {len(pool.runs) - 1} runs more" in low and "joint at the pump (3)" in low


def test_a_trap_is_told_its_antifreeze_by_the_name_of_its_run() -> None:
    (line,) = (each for each in told(with_drain("5 cm").changed({"runs.b.trap": True})) if "Antifreeze" in each)
    assert line.endswith("into the traps: b (R4).")
    assert not any("Antifreeze" in each for each in told(with_drain("5 cm")))


def test_nothing_is_told_that_the_van_does_not_have() -> None:
    bare = told(example("weekend-cans"))
    assert not any(word in line for line in bare for word in ("heater", "pads", "mixing", "Antifreeze", "accumulator"))


@pytest.mark.parametrize("name", NAMES)
def test_every_run_that_keeps_water_is_counted_or_named(name: str) -> None:
    plan, lines = example(name), " ".join(told(example(name)))
    for pool in draining(plan).pools:
        assert pool.lowest in lines
    for run in (*draining(plan).sags, *draining(plan).unsaid):
        assert run in lines


@pytest.mark.parametrize("name", NAMES)
def test_what_keeps_water_in_any_case_is_told_where_it_is_fitted(name: str) -> None:
    plan, lines = example(name), " ".join(told(example(name)))
    assert ("out of the accumulator" in lines) is bool(plan.accumulators)
    for kind in ("filter", "strainer"):
        assert (f"{kind}s" in lines) is any(run.fitted(kind) for run in plan.runs.values())


@WHOLE_PLANS
@given(plans())
def test_every_plan_has_steps_in_their_order(raw: dict[str, Any]) -> None:
    steps = list(draining_steps(Plan.of(raw, file=True)))
    assert [step.place for step in steps] == sorted({step.place for step in steps})
    assert all(step.text.text().endswith(".") and "not known" not in step.text.text() for step in steps)
