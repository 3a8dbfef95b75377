"""Findings that come and go."""

from __future__ import annotations

from dataclasses import replace

from tests.compared import BARE, LONGER, family
from tests.examples import example_answers
from vanwater.answers.core.finding import Verdict
from vanwater.answers.questions import Answers
from vanwater.options.turned import turned


def keys(answers: Answers) -> set[tuple[str, str]]:
    return {
        (question, finding.key)
        for question, answer in answers.items()
        for finding in answer.findings
        if finding.verdict is not Verdict.FINE
    }


def test_what_comes_is_told_there_alone_and_what_goes_here_alone() -> None:
    told = family()
    here = {key for _, key in keys(told.base)}
    for name, answers in told.possible.items():
        there = {key for _, key in keys(answers)}
        mine = [turn for turn in told.turned if turn.variant == name]
        assert mine
        for turn in mine:
            assert (turn.finding.key in there - here) == (turn.turn == "comes") or turn.finding.key in here & there
            if turn.turn == "goes":
                assert turn.finding.verdict is not Verdict.FINE
    assert {turn.turn for turn in told.turned if turn.variant == BARE.name} >= {"comes", "goes"}
    assert [turn.turn for turn in told.turned if turn.variant == LONGER.name] == ["comes"]


def test_the_accumulator_that_is_left_out_makes_the_pump_chatter() -> None:
    told = [turn for turn in family().turned if turn.variant == BARE.name]
    assert any("chatters" in turn.finding.statement.text() and turn.worse for turn in told)
    assert any("Without any charge" in turn.finding.statement.text() and not turn.worse for turn in told)


def test_another_verdict_is_worse_or_better() -> None:
    base = example_answers("family-winter")
    name, answer = next(
        (name, answer) for name, answer in base.items() if any(f.verdict is Verdict.WATCH for f in answer.findings)
    )
    graver = tuple(
        replace(finding, verdict=Verdict.FAILS) if finding.verdict is Verdict.WATCH else finding
        for finding in answer.findings
    )
    other = Answers(base.plan, {**base.each, name: replace(answer, findings=graver)})
    assert {turn.turn for turn in turned("other", base, other)} == {"worse"}
    assert {turn.turn for turn in turned("other", other, base)} == {"better"}
    assert turned("other", base, base) == ()
