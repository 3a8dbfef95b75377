from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given

from tests.drawn import WHOLE_PLANS
from tests.examples import NAMES, example
from tests.strategies import Raw, plans
from vanwater.answers.core.finding import Finding, Verdict
from vanwater.answers.ratings.answer import ratings as answered
from vanwater.answers.ratings.joints import joints_findings
from vanwater.plan.model import Plan

FAMILY = example("family-winter")
WEEKEND = example("weekend-cans")


def told(plan: Plan, changes: dict[str, Any]) -> dict[str, Finding]:
    """What is told beside the ends that are joined as usual."""
    found = joints_findings(plan.changed(changes))
    return {one.key: one for one in found if one.key != "ratings.joints.usual"}


def advice(one: Finding) -> str:
    assert one.change is not None
    return one.change.text()


@pytest.mark.parametrize("name", NAMES)
def test_examples_raise_no_alarm(name: str) -> None:
    assert {one.key: one.verdict for one in joints_findings(example(name))} == {"ratings.joints.usual": Verdict.FINE}


def test_a_pipes_kind_brings_its_usual_joint_without_a_word() -> None:
    (one,) = joints_findings(WEEKEND)
    assert one.statement.text() == (
        "4\N{NO-BREAK SPACE}ends of runs are taken to be joined as usual for their hose or pipe: barb."
    )
    (taken,) = answered(WEEKEND).assumptions
    assert "the usual one of the hose or pipe: barb" in taken.statement.text()
    assert "common practice" in taken.source
    assert taken.address == "runs.suction.start_joint"
    said = WEEKEND.changed({"pumps.pump.joint": "push-fit 15 mm"})
    assert told(WEEKEND, {"pumps.pump.joint": "push-fit 15 mm"})["ratings.joint.suction.end"].verdict is Verdict.FAILS
    assert "2\N{NO-BREAK SPACE}ends" in _usual(said).statement.text()


def _usual(plan: Plan) -> Finding:
    return next(one for one in joints_findings(plan) if one.key == "ratings.joints.usual")


@pytest.mark.parametrize(
    ("run", "size", "fitting", "instead"),
    [
        ("suction", "pvc hose 12.5 mm", "push-fit elbow", "barb elbow"),
        ("trunk", "polyethylene tube 12 mm", "barb tee branch", "push-fit tee branch"),
        ("trunk", "multilayer 16 mm", "push-fit coupling", "press coupling"),
        ("trunk", "pex 3/8 in", "metal crimp elbow 1/2 in", "push-fit elbow"),
        ("trunk", "pex 16 mm", "plastic crimp tee run", "push-fit tee run"),
    ],
)
def test_a_fitting_that_does_not_hold_fails_and_what_is_told_instead_holds(
    run: str, size: str, fitting: str, instead: str
) -> None:
    at = f"runs.{run}"
    found = told(FAMILY, {f"{at}.size": size, f"{at}.fittings": {fitting: 2}})
    (one,) = found.values()
    assert one.verdict is Verdict.FAILS
    assert one.address == f"{at}.fittings.{fitting}"
    assert f"The {fitting} in the {run} does not hold on {size}" in one.statement.text()
    assert advice(one) == f"Take {instead}."
    assert told(FAMILY, {f"{at}.size": size, f"{at}.fittings": {instead: 2}}) == {}
    assert told(FAMILY, {f"{at}.size": size, f"{at}.fittings": {fitting: 0}}) == {}


def test_runs_with_the_same_fault_are_told_together() -> None:
    at = {f"runs.{run}.fittings": {"push-fit elbow": 1} for run in ("suction", "tap hose")}
    (one,) = told(WEEKEND, at).values()
    assert "suction and tap hose" in one.statement.text()
    assert one in answered(WEEKEND.changed(at)).findings


def test_threads_on_a_hose_need_an_adapter_that_is_counted() -> None:
    at = "runs.tap hose.fittings"
    (one,) = told(WEEKEND, {at: {"ball valve": 1}}).values()
    assert one.verdict is Verdict.WATCH
    assert "barb coupling" in advice(one)
    assert told(WEEKEND, {at: {"ball valve": 1, "barb coupling": 2}}) == {}
    assert told(WEEKEND, {at: {"ball valve": 1, "tail": 2}, "fittings.tail": {"k": 0.5}}) == {}
    assert "ratings.joint.ball valve.pvc hose 10 mm" in told(WEEKEND, {at: {"ball valve": 1, "push-fit coupling": 2}})


def test_ends_that_mate_are_counted_and_those_of_no_stock_size_are_not_decided() -> None:
    own = {"runs.tap hose.size": None, "runs.tap hose.bore": "10 mm", "runs.tap hose.fittings": None}
    found = {one.key: one for one in joints_findings(WEEKEND.changed(own | {"pumps.pump.joint": "barb 10 mm"}))}
    assert {key: one.verdict for key, one in found.items()} == {
        "ratings.joints": Verdict.FINE,
        "ratings.joints.usual": Verdict.FINE,
        "ratings.joints.open": Verdict.NOT_DECIDED,
    }
    assert found["ratings.joints"].statement.text().startswith("1\N{NO-BREAK SPACE}end")
    assert "2\N{NO-BREAK SPACE}ends" in found["ratings.joints.open"].statement.text()
    assert found["ratings.joints.open"].address == "runs.tap hose.start_joint"


def test_a_thread_takes_a_run_that_says_its_own_and_counts_the_adapter() -> None:
    pump = {"pumps.pump.joint": "BSP 1/2 in male"}
    plain = told(WEEKEND, pump)  # one barb coupling is among the tap hose's fittings, none among the suction's
    assert plain["ratings.joint.suction.end"].verdict is Verdict.WATCH
    assert "joined by barb; the pump is BSP 1/2 in male" in plain["ratings.joint.suction.end"].statement.text()
    assert "ratings.joint.tap hose.start" not in plain
    assert "ratings.joint.suction.end" not in told(WEEKEND, pump | {"runs.suction.fittings": {"barb coupling": 1}})
    screwed = pump | {"runs.tap hose.start_joint": "BSP 1/2 in female"}
    assert "ratings.joint.tap hose.start" not in told(WEEKEND, screwed)  # one barb coupling is among its fittings
    bare = told(WEEKEND, screwed | {"runs.tap hose.fittings": {}})["ratings.joint.tap hose.start"]
    assert bare.verdict is Verdict.WATCH
    assert "adapter from pvc hose 10 mm is not counted" in bare.statement.text()
    assert "barb coupling" in advice(bare)


@pytest.mark.parametrize(
    ("port", "own", "words", "adapter"),
    [
        ("NPT 1/2 in male", "BSP 1/2 in female", "bind and leak", "BSP 1/2 in male to NPT 1/2 in female"),
        ("BSP 1/2 in male", "BSP 1/2 in male", "do not go together", "BSP 1/2 in female to BSP 1/2 in female"),
        ("BSP 3/8 in male", "BSP 1/2 in female", "do not fit", "BSP 1/2 in male to BSP 3/8 in female"),
        ("NPT 3/8 in male", "BSP 3/8 in female", "do not fit", "BSP 3/8 in male to NPT 3/8 in female"),
        ("M22 x 1.5 male", "BSP 1/2 in female", "do not fit", "BSP 1/2 in male to M22 x 1.5 female"),
        ("push-fit 12 mm", "BSP 1/2 in female", "do not fit", "BSP 1/2 in male to push-fit 12 mm"),
        ("BSP 1/2 in male", "barb 10 mm", "do not fit", "barb 10 mm to BSP 1/2 in female"),
    ],
)
def test_ends_that_do_not_mate_fail_and_name_the_adapter(port: str, own: str, words: str, adapter: str) -> None:
    one = told(WEEKEND, {"pumps.pump.joint": port, "runs.tap hose.start_joint": own})["ratings.joint.tap hose.start"]
    assert one.verdict is Verdict.FAILS
    assert words in one.statement.text()
    assert adapter in advice(one)
    assert one.address == "runs.tap hose.start_joint"


@pytest.mark.parametrize(("size", "told_of"), [("pex 15 mm", True), ("copper 15 mm", False)])
def test_plastic_pipe_in_a_compression_joint_takes_an_insert(size: str, told_of: bool) -> None:
    said = {"runs.tap hose.size": size, "runs.tap hose.fittings": {}, "outlets.galley tap.joint": "compression 15 mm"}
    one = told(WEEKEND, said)["ratings.joints"]
    assert one.verdict is Verdict.FINE
    assert ("insert" in one.statement.text()) is told_of


def test_a_needless_thread_is_left_away() -> None:
    said = {"pumps.pump.joint": "barb 10 mm", "runs.tap hose.start_joint": "BSP 1/2 in female"}
    one = told(WEEKEND, said)["ratings.joint.tap hose.start"]
    assert one.verdict is Verdict.FAILS
    assert advice(one) == "Leave the BSP 1/2 in female away: pvc hose 10 mm goes straight to barb 10 mm."


def test_a_hose_in_a_push_fit_and_on_a_barb_too_large_fail_for_their_own_reasons() -> None:
    wrong = told(WEEKEND, {"pumps.pump.joint": "push-fit 15 mm"})["ratings.joint.suction.end"]
    assert wrong.verdict is Verdict.FAILS
    assert "grips the outside of a rigid pipe" in wrong.statement.text()
    large = told(WEEKEND, {"pumps.pump.joint": "barb 13 mm"})["ratings.joint.suction.end"]
    assert large.verdict is Verdict.FAILS
    assert "the sizes differ" in large.statement.text()
    own = told(WEEKEND, {"runs.suction.end_joint": "barb 13 mm"})["ratings.joint.suction.end"]
    assert own.verdict is Verdict.FAILS


@WHOLE_PLANS
@given(raw=plans())
def test_any_plan_is_judged_with_one_not_decided_at_most_and_keys_of_their_own(raw: Raw) -> None:
    plan = Plan.of(raw)
    found = list(joints_findings(plan))
    assert len({one.key for one in found}) == len(found)
    assert sum(one.verdict is Verdict.NOT_DECIDED for one in found) <= 1
    said = any(run.start_joint or run.end_joint for run in plan.runs.values())
    if not said and not any(
        part.joint
        for table in ("tanks", "pumps", "heaters", "tees", "mixers", "outlets")
        for part in getattr(plan, table).values()
    ):
        assert {one.key for one in found if one.key.startswith("ratings.joints")} <= {"ratings.joints.usual"}
    for one in found:
        if one.verdict in (Verdict.FAILS, Verdict.WATCH):
            assert one.change is not None
            assert one.source


def test_a_bore_of_its_own_brings_the_usual_joint_of_its_material() -> None:
    own = {"runs.tap hose.size": None, "runs.tap hose.bore": "10 mm", "runs.tap hose.fittings": None}
    barbed = {"pumps.pump.joint": "barb 10 mm"}
    asked = told(WEEKEND, own | barbed)["ratings.joints.open"]
    assert asked.verdict is Verdict.NOT_DECIDED and "Say start_joint or end_joint of the run" in advice(asked)
    soft = own | barbed | {"runs.tap hose.material": "epdm"}
    assert "ratings.joints.open" not in told(WEEKEND, soft)
    usual = {one.key: one for one in joints_findings(WEEKEND.changed(soft))}["ratings.joints.usual"]
    assert "barb" in usual.statement.text()
    threaded = told(WEEKEND, {**soft, "pumps.pump.joint": "BSP 1/2 in male"})
    watched = threaded["ratings.joint.tap hose.start"]
    assert watched.verdict is Verdict.WATCH and "no adapter is counted" in watched.statement.text()
    counted = {**soft, "pumps.pump.joint": "BSP 1/2 in male", "runs.tap hose.fittings": {"barb coupling": 1}}
    assert "ratings.joint.tap hose.start" not in told(WEEKEND, counted)
    pushed = told(WEEKEND, {**soft, "pumps.pump.joint": "push-fit 15 mm"})["ratings.joint.tap hose.start"]
    assert pushed.verdict is Verdict.FAILS
