"""What a situation changes is told beside the plan as it is written; what it leaves as it is, is not told again."""

from __future__ import annotations

import datetime as dt

import pytest

from tests.examples import NAMES, example, example_answers
from tests.terminal.made import piped
from vanwater.answers.core.finding import Verdict
from vanwater.answers.questions import answers_to
from vanwater.answers.situations import AS_WRITTEN, cautions_there, further, otherwise, side_by_side
from vanwater.document.book import book
from vanwater.document.words import Words
from vanwater.plan.problems import PlanError
from vanwater.terminal.overview import overview

FAMILY = example_answers("family-winter")


@pytest.mark.parametrize("name", NAMES)
def test_a_situation_s_answers_are_those_of_its_own_plan(name: str) -> None:
    plan = example(name)
    answers = answers_to(plan)
    assert list(answers.situations) == list(plan.situations)
    for situation, there in answers.situations.items():
        own = answers_to(plan.changed({**plan.overlays[situation].values, "measured": None}))
        assert {key: number.text() for key, number in there.numbers.items()} == {
            key: number.text() for key, number in own.numbers.items()
        }


def test_the_plan_beside_itself_changes_nothing() -> None:
    again = answers_to(FAMILY.plan)
    assert otherwise(FAMILY, again) == otherwise(FAMILY, again, numbers=True) == ()
    assert further(FAMILY, again) == ()


def test_other_words_are_told_and_other_numbers_only_where_they_are_wanted() -> None:
    there = FAMILY.situations["summer lake"]
    words = [answer.key for answer in otherwise(FAMILY, there)]
    numbers = [answer.key for answer in otherwise(FAMILY, there, numbers=True)]
    assert words == ["frost"]  # no frost to fear; the grey tank is full first in both
    assert set(words) < set(numbers) and "stay" in numbers


@pytest.mark.parametrize("situation", FAMILY.plan.situations)
def test_all_that_fails_is_told_unless_the_plan_says_the_same(situation: str) -> None:
    there = FAMILY.situations[situation]
    told = {finding.key: new for finding, new in further(FAMILY, there)}
    failing = {finding.key for finding in FAMILY.findings if finding.verdict is Verdict.FAILS}
    for finding in there.findings:
        if finding.verdict is Verdict.FAILS and finding.key not in failing:
            assert told[finding.key]
        if finding.verdict is Verdict.FINE:
            assert finding.key not in told


def test_what_differs_slightly_is_not_told_again() -> None:
    (weak,) = (f for f in FAMILY.findings if f.key.startswith("simultaneous.") and f.verdict is Verdict.FAILS)
    for name in ("autumn half-term", "summer lake"):
        there = FAMILY.situations[name]
        (same,) = (finding for finding in there.findings if finding.key == weak.key)
        assert same.statement.text() != weak.statement.text()  # 4.7 L/min for 4.6
        assert weak.key not in {finding.key for finding, _ in further(FAMILY, there)}
    assert "stay.days" in {finding.key for finding, _ in further(FAMILY, FAMILY.situations["summer lake"])}


def test_a_danger_of_a_situation_alone_is_told_as_new() -> None:
    plan = FAMILY.plan
    overlay = {"situations": {"hot": {"heaters": {"heater": {"relief": "1.2 bar"}}}}}
    answers = answers_to(type(plan).of({**plan.own, **overlay}))
    assert ("hot_water.heater.relief", True) in [
        (finding.key, new) for finding, new in further(answers, answers.situations["hot"])
    ]


def test_side_by_side_has_a_column_a_situation() -> None:
    table = side_by_side(FAMILY, FAMILY.situations)
    assert [column.heading for column in table.columns] == ["question", AS_WRITTEN, *FAMILY.situations]
    assert [row[0] for row in table.rows] == [answer.label for answer in FAMILY.values() if answer.question.brief]
    for place, answers in enumerate((FAMILY, *FAMILY.situations.values()), 1):
        assert table.rows[0][place] == answers.headline
    assert "ski week" in FAMILY._repr_html_()


def test_without_situations_nothing_stands_beside() -> None:
    there = FAMILY.situations["ski week"]
    assert not there.situations and there.side_by_side is None


def test_a_caution_that_a_situation_alone_raises_is_told_with_it() -> None:
    there = FAMILY.situations["ski week"]
    summer = FAMILY.plan.changed({"situations": None, "pads": {}, "frost.design_cold": "12 °C"})
    winter = {"ski": {"pads": dict(FAMILY.plan.own["pads"]), "frost": {"design_cold": "-14 °C"}}}
    answers = answers_to(type(summer).of({**summer.own, "situations": winter}))
    (caution,) = (one for one in cautions_there(answers, answers.situations["ski"]) if one.key == "pad")
    told = "\n".join(overview(answers, piped()))
    assert caution.brief in told.replace("\N{NO-BREAK SPACE}", " ")
    assert cautions_there(FAMILY, there) == ()
    (one,) = book(answers, Words(), dt.date(2026, 11, 27), {}).situations
    assert caution in one.cautions


def test_a_plan_that_no_longer_fits_its_situations_says_so_where_it_shows_itself() -> None:
    plan = FAMILY.plan.changed({"loads.skis on the door": None})
    shown = answers_to(plan)._repr_html_()
    assert "The plan has no [loads.skis on the door]" in shown
    with pytest.raises(PlanError, match="summer lake"):
        answers_to(plan).situations["summer lake"]


def test_what_fails_as_written_too_is_told_with_the_situation_s_own_numbers() -> None:
    told = {finding.key: new for finding, new in further(FAMILY, FAMILY.situations["ski week"])}
    assert told["frost.suction.freezes"] is False and told["stay.days"] is False
    assert "simultaneous.evening.shower" not in told  # as written, but for a little
