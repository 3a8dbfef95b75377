"""The card that stays in the van: each step only where the plan raises it, tags as on the drawing, all of it text."""

from __future__ import annotations

import csv
import datetime as dt
import html
import io
import re

import pytest

from tests.document.strict_reader import page
from tests.examples import NAMES, example, example_answers
from vanwater.answers.core.statement import say
from vanwater.answers.questions import answers_to
from vanwater.document.card import Tag, card, tags, tags_csv
from vanwater.document.short import render_for
from vanwater.system.numbering import numbering

DAY = dt.date(2027, 3, 4)


def steps(name: str, when: str, us: bool = False) -> list[str]:
    text = card(example_answers(name), us=us, date=DAY)
    section = text.partition(f"<h2>{when}</h2>")[2].partition("</section>")[0]
    found = re.findall(r"<li>(.*?)</li>", section)
    return [html.unescape(each).replace("\N{NO-BREAK SPACE}", " ") for each in found]


@pytest.mark.parametrize("name", NAMES)
def test_it_is_short_and_the_same_each_time(name: str) -> None:
    text = card(example_answers(name), date=DAY)
    assert text == card(example_answers(name), date=DAY) and len(text.encode()) < 40_000
    assert page(text).text.count("Before the first use") == 1


@pytest.mark.parametrize("name", NAMES)
def test_tags_are_the_numbers_of_the_drawing(name: str) -> None:
    asked = example_answers(name)
    numbers = numbering(asked.plan)
    wanted = [*map(str, sorted(numbers.pieces.values())), *(f"R{number}" for number in sorted(numbers.runs.values()))]
    assert [tag.tag for tag in tags(asked)] == wanted
    drawn = render_for("workshop", asked, date=DAY)
    assert all(f">{tag}<" in drawn for tag in wanted)
    rows = list(csv.reader(io.StringIO(tags_csv(asked, False))))
    assert rows[0] == ["tag", "what", "where"] and [row[0] for row in rows[1:]] == wanted


def test_cold_is_bled_before_hot_and_heat_comes_last() -> None:
    told = steps("family-winter", "Before the first use")
    order = ("Every drain", "Fill ", "Pump on", "Then each at hot", "All taps shut", "Sanitise", "Only now heat")
    assert [begin for step in told for begin in order if step.startswith(begin)] == list(order)


def test_a_van_without_a_heater_is_told_nothing_of_heat() -> None:
    told = " ".join((*steps("weekend-cans", "Before the first use"), *steps("weekend-cans", "Before frost")))
    assert "heat" not in told and "hot" not in told


def test_the_us_edition_is_wholly_us() -> None:
    for name in NAMES:
        text = card(example_answers(name), us=True, date=DAY)
        words = page(text).text
        assert "size: letter" in text and not re.search(r"\d (?:mL|L|m|cm|bar|°C|kg)\b", words), name


def test_the_cautions_are_those_that_the_plan_raises() -> None:
    asked = example_answers("family-winter")
    told = page(card(asked, date=DAY)).text
    raised = {caution.key: caution for answer in asked.values() for caution in answer.cautions}
    assert raised
    for caution in raised.values():
        brief = caution.brief if isinstance(caution.brief, str) else caution.brief.text()
        assert " ".join(brief.replace("\N{NO-BREAK SPACE}", " ").split()) in told
    warned = ["Warning." in each.text for each in page(card(asked, date=DAY)).all("ul", class_="cautions")[0].all("li")]
    assert len(warned) == len(raised) and warned == sorted(warned, reverse=True) and len(set(warned)) == 2


def test_a_plans_words_are_only_text_and_no_formula(monkeypatch: pytest.MonkeyPatch) -> None:
    hostile = "<img src=x onerror=1>"
    plan = example("weekend-cans").changed({"van.name": hostile, "van.revision": "=1+1"})
    text = card(answers_to(plan), date=DAY)
    page(text)
    assert "<img" not in text
    hostile_tag = Tag("=1+1", say("@sum"), say("{text}", text="+1"))  # no plan may call a piece so
    monkeypatch.setattr("vanwater.document.card.tags", lambda _: iter([hostile_tag]))
    _, row = csv.reader(io.StringIO(tags_csv(answers_to(plan), False)))
    assert len(row) == 3 and not {cell[:1] for cell in row} & set("=@+")
