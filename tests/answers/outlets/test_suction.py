from __future__ import annotations

from typing import Any

import pytest

from tests.examples import NAMES, example
from tests.pumped import pumped
from vanwater.answers.core.finding import Finding, Verdict
from vanwater.answers.core.key import key_text
from vanwater.answers.core.statement import Amount
from vanwater.answers.outlets.answer import outlets
from vanwater.answers.outlets.outlet import OutletSupply
from vanwater.answers.outlets.suction import (
    LEAST,
    npsh,
    npsh_highest,
    npsh_required,
    npsh_to_spare,
    suction_findings,
    suction_table,
)
from vanwater.plan.model import Plan

FAMILY = example("family-winter")


def head(plan: Plan) -> float:
    return npsh(outlets(plan).outlets["shower"]).likely


@pytest.mark.parametrize("name", NAMES)
def test_examples_have_head_enough_and_show_it(name: str) -> None:
    plan = example(name)
    answer = outlets(plan)
    assert not any(one.key.endswith(".npsh") for one in answer.findings)
    if all(pump.kind == "submersible" for pump in plan.pumps.values()):
        assert not any(table.key == "suction" for table in answer.tables)
        return
    table = next(table for table in answer.tables if table.key == "suction")
    assert len(table.rows) == len(answer.outlets)
    for row in table.rows:
        shown = row[2]
        assert isinstance(shown, Amount)
        assert shown.number is answer.numbers[key_text(("outlet", str(row[0]), "npsh"))]


def test_altitude_warmth_and_a_higher_pump_each_take_head() -> None:
    base = head(FAMILY)
    for change in ({"site.altitude": 2500.0}, {"site.cold_water": 303.15}, {"pumps.pump.z": 1.0}):
        assert head(FAMILY.changed(change, si=True)) < base
    # the pump 1 m higher takes a metre, less what the smaller flow loses on the suction side
    assert base - head(FAMILY.changed({"pumps.pump.z": 1.05}, si=True)) == pytest.approx(1.0, abs=0.05)


def test_too_little_head_is_told_and_less_than_none_fails() -> None:
    plan = FAMILY.changed({"runs.suction.bore": "4.5 mm", "runs.suction.size": None, "runs.suction.length": "12 m"})
    one = outlets(plan).outlets["shower"]
    left = npsh_highest(one).likely
    assert left < npsh(one).likely < LEAST["diaphragm"][1]
    _, finding = suction_findings(one)
    assert finding.verdict is (Verdict.FAILS if left <= 0 else Verdict.WATCH)
    assert finding.value is not None and finding.value.likely == pytest.approx(left)  # type: ignore[union-attr]
    assert "boil" in finding.statement.text()
    assert finding.change is not None and "wider" in finding.change.text()
    assert [finding.key for finding in suction_findings(outlets(FAMILY).outlets["shower"])] == ["outlets.pump.priming"]


@pytest.mark.parametrize("z", [3.2, 4.0])
def test_a_pump_that_stands_too_high_for_its_head_is_told_how_much_lower(z: float) -> None:
    raw = pumped("diaphragm", z=z, priming_lift="5 m")
    raw["site"] = {"altitude": "2000 m", "highest": "4500 m"}
    raw["runs"]["suction"]["size"] = "pvc hose 19 mm"

    def told(raw: dict[str, Any]) -> Finding | None:
        answer = outlets(Plan.of(raw))
        return next((finding for finding in answer.findings if finding.key == "outlets.pump.npsh"), None)

    finding = told(raw)
    assert finding is not None and finding.change is not None
    assert "4500" in "".join(letter for letter in finding.statement.text() if letter.isdigit())
    raw["pumps"]["pump"]["z"] -= dict(finding.change.given)["lower"].value  # type: ignore[union-attr]
    assert told(raw) is None


def test_head_is_judged_at_the_highest_place() -> None:
    """By the standard atmosphere 93 760 Pa at 650 m and 81 490 Pa at 1800 m (ISO 2533, recomputed)."""
    one = outlets(FAMILY).outlets["shower"]
    weight = 9.80665 * 999.7
    assert npsh(one).likely - npsh_highest(one).likely == pytest.approx((93763.6 - 81490.6) / weight, rel=2e-3)
    here = outlets(FAMILY.changed({"site.highest": None})).outlets["shower"]
    assert npsh_highest(here) is npsh(here)


def test_gravity_has_no_suction_table() -> None:
    raw = {
        "van": {"name": "x"},
        "household": {"people": 1},
        "tanks": {"can": {"holds": "fresh", "capacity": "20 L", "z": "1.5 m"}},
        "outlets": {"tap": {"flow": "3 L/min", "at": "0.1 bar", "z": "0.9 m"}},
        "runs": {"hose": {"from": "can", "to": "tap", "bore": "10 mm", "length": "1 m"}},
    }
    plan = Plan.of(raw)
    assert outlets(plan).outlets["tap"].reaches
    assert suction_table(outlets(plan).outlets.values()).rows == ()


def test_head_is_as_unsure_as_the_suction_side() -> None:
    one = outlets(FAMILY).outlets["shower"]
    low, high = one.suction_loss.range or (0.0, 0.0)
    for number in (npsh(one), npsh_highest(one)):
        assert number.range is not None
        assert number.range[0] == pytest.approx(number.likely - (high - one.suction_loss.likely) / 9.80e3, abs=1e-3)
        assert number.range[1] == pytest.approx(number.likely + (one.suction_loss.likely - low) / 9.80e3, abs=1e-3)


def test_the_head_that_a_pump_needs_is_its_own_or_that_of_its_kind() -> None:
    def told(**said: Any) -> tuple[OutletSupply, Finding | None]:
        answer = outlets(FAMILY.changed({f"pumps.pump.{field}": value for field, value in said.items()}))
        finding = next((finding for finding in answer.findings if finding.key == "outlets.pump.npsh"), None)
        return answer.outlets["shower"], finding

    usual, none = told()
    needed, spare = npsh_required(usual), npsh_to_spare(usual)
    assert none is None and needed.likely == 3.0 and needed.range == (2.0, 4.0)
    assert "common practice, from memory" in needed.source
    head = npsh_highest(usual)
    assert head.range is not None and spare.range is not None
    assert spare.likely == pytest.approx(head.likely - 3.0, rel=1e-12)
    by_hand = spare.likely - ((head.likely - head.range[0]) ** 2 + 1.0) ** 0.5
    assert spare.range[0] == pytest.approx(by_hand, rel=1e-12)
    short, finding = told(npsh=f"{head.likely + 0.2:.3f} m")
    assert npsh_required(short).range is None
    assert finding is not None and finding.verdict is Verdict.WATCH and "Only" in finding.statement.text()
    _, finding = told(npsh=f"{0.5 * (head.likely + head.range[0]):.4f} m")  # short at the low end alone
    assert finding is not None and finding.verdict is Verdict.WATCH and "may rattle" in finding.statement.text()
    _, finding = told(npsh=f"{head.range[0] - 0.05:.3f} m")
    assert finding is None
