from __future__ import annotations

import pytest

from vanwater.answers.questions import QUESTIONS
from vanwater.panels.bench import Bench
from vanwater.panels.page import SAVED, plan_named
from vanwater.panels.pieces import Pieces
from vanwater.plan.file import PlanFile


def test_a_bench_that_nobody_moved_shows_the_pieces_of_its_plan(example: PlanFile) -> None:
    bench = Bench(example)
    for question in QUESTIONS:
        page, pieces = bench.page(question), Pieces(QUESTIONS[question].ask(example.plan), bench.us)
        assert page.verdict().piece == pieces.verdict()
        assert page.findings().piece == pieces.findings()
        assert page.assumptions().piece == pieces.assumptions()
        assert page.cautions().piece == pieces.cautions()
        assert page.sums().piece == pieces.sums()
        assert page.chart().piece == pieces.chart()
        for table in pieces.answer.tables:
            assert page.table(table.key).piece == pieces.table(table.key)


def test_an_unknown_question_is_refused(family: PlanFile) -> None:
    with pytest.raises(KeyError, match="weather"):
        Bench(family).page("weather")


def test_what_stands_still_says_that_it_is_of_the_saved_plan(family: PlanFile) -> None:
    bench = Bench(family)
    beside = bench.page("stay").situations()
    before = repr(beside)
    assert SAVED not in before and "ski week" in before
    bench.set("household.people", 6)
    assert repr(beside) == f"{SAVED}\n{before}"
    bench.home()
    assert repr(beside) == before


def test_the_plan_in_hand_is_named_with_how_it_stands(family: PlanFile) -> None:
    bench = Bench(family)
    named = plan_named(bench)
    assert repr(named) == "The plan in hand: Family van, winter use (family-winter.toml)."
    bench.choose("ski week")
    bench.set("household.people", 3)
    assert repr(named).endswith(
        "Situation: ski week. Moved and not saved: household, people who live in the van: 4 → 3."
    )
