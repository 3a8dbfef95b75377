from __future__ import annotations

import datetime as dt
from dataclasses import replace

from tests.examples import example_answers
from vanwater.answers.situations import further
from vanwater.document.book import book
from vanwater.document.html import render
from vanwater.document.words import Words
from vanwater.plan.model import Plan
from vanwater.quantities import DAY


def test_everything_is_numbered_once_and_found_again(told):
    made = book(told, Words(), dt.date(2026, 11, 25), {})
    assert made.date == "25 November 2026"
    assert [section.answer.key for section in made.sections] == ["stay", "supply"]
    assert [one.number for _, ways in made.formulas for way in ways for one in way.sums] == [1, 2, 3, 4]
    assert len(made.sources) == len(set(made.sources)) > 5
    cited = [
        one.source for section in made.sections for one in (*section.findings, *section.assumptions, *section.cautions)
    ]
    cited += [way.source for _, ways in made.formulas for way in ways] + [source for _, source in made.stock]
    numbers = {one.number for one in cited if one is not None and one.number}
    assert numbers == set(range(1, len(made.sources) + 1))
    assert all(made.sources[one.number - 1] == one.text for one in cited if one is not None and one.number)


def test_sources_are_in_the_order_of_reading(told):
    made = book(told, Words(), dt.date(2026, 11, 25), {})
    assert made.sources[:4] == (
        "Energy balance",
        "C. Doctor (1947), Burns",
        "B. Writer (2004), Handbook of Showers, page 12",
        "A. Author (1999), Book of Balances, equation (7).",
    )


def test_what_is_to_know_and_not_decided_is_told_as_in_its_section(told):
    made = book(told, Words(), dt.date(2026, 11, 25), {})
    told_before = [one for section in made.sections for one in section.findings]
    assert len(made.to_know) == 3
    assert all(any(one is other for other in told_before) for one in (*made.to_know, *made.undecided))
    assert [one.finding.key for one in made.undecided] == ["stay.open"]


def test_days_wanted_are_those_of_the_plan(told):
    assert book(told, Words(), dt.date(2026, 11, 25), {}).wanted.value == 3 * DAY
    short = Plan.of({"van": {"name": "A"}, "household": {"people": 1}})
    assert book(replace(told, plan=short), Words(), dt.date(2026, 11, 25), {}).wanted is None


def test_situations_stand_before_the_contents_with_what_fails_there_and_their_values_in_the_plan() -> None:
    answers = example_answers("family-winter")
    made = book(answers, Words(), dt.date(2026, 11, 25), {})
    assert [one.name for one in made.situations] == list(answers.situations)
    for one in made.situations:
        there = answers.situations[one.name]
        assert one.verdicts[0] == there.headline
        assert {finding.key for finding in one.findings} == {finding.key for finding, _ in further(answers, there)}
    week = {value.address: value.shown for value in made.situations[0].values}
    assert Words()(week["frost.design_cold"]) == "−14\N{NO-BREAK SPACE}°C"
    assert {value.address: value.shown for value in made.situations[2].values}["loads.skis on the door"] == "left out"
    page = render(answers, date=dt.date(2026, 11, 25))
    first = page[: page.index('id="inside"')]
    assert all(f"<h3>{name}</h3>" in first for name in answers.situations)
    assert "4\N{NO-BREAK SPACE}days are wanted" in first
