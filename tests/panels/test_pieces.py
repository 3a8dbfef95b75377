from __future__ import annotations

import re
import xml.etree.ElementTree as ET

import pytest

from tests.examples import example as example_plan
from tests.examples import example_answers
from vanwater.answers.core.gathered import by_key, numbers_in
from vanwater.answers.core.statement import Count
from vanwater.answers.questions import QUESTIONS
from vanwater.answers.situations import AS_WRITTEN
from vanwater.panels.csv_link import csv_link
from vanwater.panels.pieces import Picture, Pieces, situations
from vanwater.plan.file import PlanFile
from vanwater.plan.model import Plan

BARE = Plan.of({"van": {"name": "empty"}, "household": {"people": 2}})


def pieces_of(plan: Plan, question: str = "stay", us: bool | None = None) -> Pieces:
    return Pieces(QUESTIONS[question].ask(plan), plan.us if us is None else us)


@pytest.mark.parametrize("question", list(QUESTIONS))
def test_every_piece_stands_without_widgets_in_html_and_in_words(example: PlanFile, question: str) -> None:
    page = pieces_of(example.plan, question)
    pieces = [page.verdict(), page.findings(), page.sums(), page.assumptions(), page.cautions()]
    pieces += [page.table(table.key) for table in page.answer.tables]
    for piece in pieces:
        assert piece._repr_html_().startswith("<")
        assert repr(piece).strip()
    assert repr(page.verdict()) == page.answer.verdict.text(page.us)
    counts = any(isinstance(given, Count) for _, given in page.answer.verdict.given)
    assert ("<b>" in page.verdict().html) is (bool(page.answer.verdict.amounts) or counts)
    picture = page.chart()
    assert isinstance(picture, Picture) is (page.answer.chart() is not None)
    assert len(repr(picture)) > 20
    if isinstance(picture, Picture):
        ET.fromstring(picture.svg)
        assert picture.svg in picture._repr_html_()


def test_findings_of_one_subject_can_be_told_alone(family: PlanFile) -> None:
    page = pieces_of(family.plan, "ratings")
    told = repr(page.findings("pipes", "pieces"))
    wanted = [one for one in page.answer.findings if one.key.split(".")[1] in ("pipes", "pieces")]
    assert wanted
    assert [line for line in told.splitlines() if line] == [
        line for line in repr(page.findings()).splitlines() if any(one.statement.text() in line for one in wanted)
    ]
    assert repr(page.findings("no such subject")) == "There is nothing to tell."


def test_units_can_be_chosen(family: PlanFile) -> None:
    assert "gal" not in repr(pieces_of(family.plan).table("uses"))
    assert "gal" in repr(pieces_of(family.plan.read_in(True), us=True).table("uses"))


def test_every_sum_unfolds(family: PlanFile) -> None:
    page = pieces_of(family.plan)
    told = by_key(numbers_in(page.answer.verdict, *page.answer.findings))
    given = [key for key, number in told.items() if number.source == "the plan" and not number.given]
    assert "household.days_wanted" in given  # what the plan gives has no sum
    sums = page.sums()
    assert sums.html.count("<details>") == len(told) - len(given) > 3
    assert not set(given) & by_key(sums.numbers).keys()
    assert sums.html.count("V / q") == sums.html.count("V / q (as ") + 1 > 1


def test_what_a_sum_above_has_told_is_named_with_its_place(family: PlanFile) -> None:
    sums = re.findall(r"<details>.*?</details>", pieces_of(family.plan).sums().html, re.DOTALL)
    named = [(place, int(where)) for place, sum_ in enumerate(sums, 1) for where in re.findall(r"as in (\d+)\)", sum_)]
    assert named and all(where < place for place, where in named)
    for place, sum_ in enumerate(sums, 1):
        assert sum_.startswith(f"<details><summary>{place} <b>")
        for name, where in re.findall(r"^ *(.+) = [^=\n]*\(as in (\d+)\)$", sum_, re.MULTILINE):
            what = re.sub(r"^\S+ \((.*)\)$", r"\1", re.sub("<[^>]*>", "", name))
            assert what in sums[int(where) - 1], (what, where)


def test_what_is_not_decided_is_said_in_place() -> None:
    page = pieces_of(BARE)
    assert repr(page.chart("stores")) == "There is nothing to draw yet."
    assert repr(page.table("uses")) == "This is not decided yet."
    decided = Pieces(example_answers("family-winter")["outlets"])  # its shower gives what is wanted
    assert repr(decided.table("gains")) == "There is nothing of this to tell."
    assert "not decided" in repr(page.findings())


@pytest.mark.parametrize("name", ["family-winter", "long-stay-dry-toilet"])
def test_situations_are_told_side_by_side(name: str) -> None:
    plan = example_plan(name)
    text = situations(plan).text
    assert all(situation in text for situation in plan.situations) and AS_WRITTEN in text


def test_a_plan_without_situations_says_so() -> None:
    assert situations(BARE).text == "The plan has no situations."


def test_each_piece_knows_the_numbers_that_it_shows(family: PlanFile) -> None:
    page = pieces_of(family.plan)
    assert "stay.days" in by_key(page.verdict().numbers)
    assert "tank.fresh.usable" in by_key(page.table("stores").numbers)
    assert "use.shower.fresh_a_day" in by_key(page.chart("uses").numbers)
    assert "stay.days" in by_key(page.sums().numbers)


def test_the_link_holds_the_numbers_of_its_chart_and_is_hidden_where_it_would_be_dead() -> None:
    answer = example_answers("family-winter")["stay"]
    chart = answer.chart("levels")
    assert chart is not None
    link = Pieces(answer, van="Family van").link("levels")
    assert csv_link(chart, False, "Family van") in link.html
    assert '<div class="vw-trusted" hidden="hidden">' in link.html
    assert "offered as a file when this notebook is trusted" in link.html.partition('class="vw-untrusted">')[2]
    assert link.text == ""
    assert Pieces(answer).link("no such chart").html == ""
    minute = Pieces(example_answers("family-winter")["pump_starts"])
    assert minute.answer.chart("flow-over-time") is not None
    assert minute.link("flow-over-time").html == ""  # 20 000 letters
