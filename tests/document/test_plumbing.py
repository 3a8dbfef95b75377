"""The drawing of the plumbing in the document, with its lists."""

from __future__ import annotations

import pytest

from tests.examples import NAMES, example_answers
from vanwater.answers.questions import answers_to
from vanwater.document.html import render
from vanwater.document.plumbing import plumbing
from vanwater.document.sources import Sources
from vanwater.document.sums import Sums
from vanwater.document.words import Words
from vanwater.plan.model import Plan


@pytest.mark.parametrize("us", [False, True], ids=["metric", "us"])
@pytest.mark.parametrize("name", NAMES)
def test_every_run_of_the_drawing_stands_in_the_list(name: str, us: bool) -> None:
    asked, words = example_answers(name).read_in(us), Words(us)
    shown = plumbing(asked, words, Sums(tuple(asked.each.values()), words, Sources(us)))
    assert shown is not None
    listed = [row.slots[0].text for row in shown.runs.rows]
    assert listed == [f"R{number}" for number in range(1, len(asked.plan.runs) + 1)]
    assert all(f">{number} " in shown.svg or f">{number}</text>" in shown.svg for number in listed)


def test_the_page_has_the_drawing_once_and_names_it_in_its_contents() -> None:
    page = render(example_answers("weekend-cans"))
    assert page.count('class="vw-schematic"') == 1
    assert '<a href="#plumbing">' in page and 'id="plumbing"' in page


def test_a_plan_without_runs_has_no_drawing() -> None:
    raw = {"van": {"name": "v"}, "household": {"people": 1}, "tanks": {"can": {"holds": "fresh", "capacity": "9 L"}}}
    assert 'href="#plumbing"' not in render(answers_to(Plan.of(raw, file=True)))
