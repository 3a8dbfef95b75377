from __future__ import annotations

from tests.answered import simultaneous
from tests.examples import NAMES, example
from vanwater.answers.questions import answers_to


def test_the_verdict_tells_the_weakest_and_what_it_loses() -> None:
    answer = simultaneous(example("family-winter"))
    text = answer.verdict.text().replace("\xa0", " ")
    (evening,) = answer.sets
    lost = 1 - evening.flow["shower"].likely / evening.alone["shower"].flow.likely
    assert text.startswith("With shower and galley tap open the shower gives 4.7 L/min")
    assert text.endswith(f"{100 * lost:.0f} % less than alone.")


def test_controls_lead_somewhere_and_begin_with_pump_and_outlets() -> None:
    plan = example("family-winter")
    answer = simultaneous(plan)
    controls = list(answer.question.controls(plan, answer))
    assert controls[:2] == ["pumps.pump.volts", "outlets.shower.flow"]
    assert "runs.handset hose.length" in controls
    for address in controls:
        plan.at(address)


def test_it_is_left_out_where_no_set_is_planned() -> None:
    for name in NAMES:
        plan = example(name)
        assert ("simultaneous" in answers_to(plan)) is bool(plan.together)
        assert simultaneous(plan).decided is bool(plan.together)
