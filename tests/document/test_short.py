"""The customer's pages and the workshop's sheet: short, the same numbers as everywhere, in one system of units."""

from __future__ import annotations

import datetime as dt
import html
import re

import pytest

from tests.examples import NAMES, example, example_answers
from vanwater.answers.core.handover import HEADS, TOPICS, Measure
from vanwater.answers.questions import answers_to
from vanwater.document.handover import handover
from vanwater.document.html import render
from vanwater.document.short import READERS, Reader, render_for
from vanwater.plan.model import Plan

DAY = dt.date(2027, 3, 4)
METRIC = re.compile(r"\d\s?(?:L|mL|kg|bar|m|mm|°C)\b")


def words(page: str) -> str:
    body = re.sub(r"<(style|svg)\b.*?</\1>", " ", page, flags=re.DOTALL)
    return spaced(html.unescape(re.sub(r"</?b>", "", body, flags=re.DOTALL)).replace("<", " <"))


def spaced(text: str) -> str:
    """Without tags, every kind of space alike."""
    return re.sub(r"\s+", " ", re.sub(r"<[^>]+>", " ", text))


@pytest.mark.parametrize("reader", READERS)
@pytest.mark.parametrize("name", NAMES)
def test_it_is_short_the_same_each_time_and_holds_nothing_from_outside(name: str, reader: Reader) -> None:
    asked = example_answers(name)
    page = render_for(reader, asked, date=DAY)
    assert page == render_for(reader, asked, date=DAY)
    assert len(page.encode()) < 150_000
    assert page.count("<h1>") == 1 and re.search("4 March 2027|March 4, 2027", page)
    assert not re.search(r"<script|src=|https?://(?!www\.w3\.org)", page)
    said = words(page).casefold()
    assert not re.search(
        r"\b(?:certified|compliant)\b",
        said.replace("not a design certified by anyone", ""),
    )


def test_the_customer_reads_the_days_of_every_situation_and_has_a_place_to_sign() -> None:
    asked = example_answers("family-winter")
    said = words(render_for("customer", asked, date=DAY))
    assert spaced(asked.headline.text()) in said
    for name, there in asked.situations.items():
        assert name in said and spaced(there.headline.text()) in said
    for finding in (finding for answer in asked.values() for finding in answer.findings if finding.urgent):
        assert spaced(finding.statement.text()) in said
    assert "Received by" in said and "Never switch a water heater on" in said and "No water comes" in said


def test_the_workshop_finds_each_run_each_cut_and_each_measurement() -> None:
    asked = example_answers("family-winter")
    said = words(render_for("workshop", asked, date=DAY))
    for number, run in enumerate(asked.plan.runs, 1):
        assert f"R{number}" in said and run in said
    expected = [spaced(measure.expected.text()) for measure in measures("family-winter")]
    assert expected and all(text in said for text in expected)


def measures(name: str) -> tuple[Measure, ...]:
    asked = example_answers(name)
    return handover(asked.plan, tuple(asked.each.values())).measures


@pytest.mark.parametrize("reader", READERS)
def test_in_us_units_nothing_metric_stands(reader: Reader) -> None:
    page = render_for(reader, example_answers("weekend-cans").read_in(True), us=True, date=DAY)
    assert not METRIC.findall(words(page))


def test_measurements_stand_in_the_order_in_which_they_are_made_and_topics_in_theirs() -> None:
    for name in NAMES:
        asked = example_answers(name)
        handed = handover(asked.plan, tuple(asked.each.values()))
        places = [measure.place for measure in handed.measures]
        assert places == sorted(places) and places
        assert list(handed.living) == [topic for topic in TOPICS if topic in handed.living]
        assert len({fault.sign for fault in handed.faults}) == len(handed.faults)


def test_what_a_van_lacks_is_not_spoken_of() -> None:
    said = words(render_for("customer", example_answers("weekend-cans"), date=DAY))
    assert "relief valve" not in said and "heater" not in said.split("Cautions")[0]
    assert "heating pad" not in words(render_for("customer", example_answers("long-stay-dry-toilet"), date=DAY))


@pytest.mark.parametrize("name", NAMES)
def test_nothing_is_assumed_of_what_a_van_lacks(name: str) -> None:
    answers = example_answers(name)
    told = " ".join(
        f"{each.statement.text()} {each.measure}" for answer in answers.values() for each in answer.assumptions
    )
    parts = (("eater", answers.plan.heaters), ("inverter", answers.plan.inverter))
    assert [
        word for word, there in (*parts, ("the accumulator", answers.plan.accumulators)) if word in told and not there
    ] == []


def test_the_title_block_stands_on_every_paper_as_text_alone() -> None:
    said = {"builder": "Yard <7>", "customer": "Two of us", "chassis": "WV-0001", "drawing": "W-01", "checked": "by us"}
    asked = answers_to(example("weekend-cans").changed({f"van.{key}": text for key, text in said.items()}))
    for page in (*(render_for(reader, asked, date=DAY) for reader in READERS), render(asked, date=DAY, charts={})):
        block = page.partition('<dl class="title-block">')[2].partition("</dl>")[0]
        assert all(html.escape(text) in block for text in said.values())
        assert "local codes and licensed practice decide" in block


def test_a_drained_van_is_told_how_water_comes_back_and_nothing_of_days() -> None:
    asked = answers_to(example("family-winter").in_situation("laid up"))
    said = words(render_for("customer", asked, date=DAY))
    assert "When water comes back" in said and "Leaving drained" in said
    assert "The days hold for" not in said and "ends the stay" not in said and "Received by" not in said


def test_the_workshop_reads_what_is_set_and_what_is_looked_after() -> None:
    asked = example_answers("family-winter")
    said = words(render_for("workshop", asked, date=DAY))
    handed = handover(asked.plan, tuple(asked.each.values()))
    settings = {each.what.text(): spaced(each.value.text()) for each in handed.settings}
    assert settings["Pressure at which the pump stops"] == "2.6 bar"
    assert settings["Thermostat of the heater"] == "60 °C"
    assert settings["Relief valve of the heater"] == "6 bar" and settings["Cut-out of the fresh pad"] == "by level"
    assert all(spaced(what) in said and spaced(value) in said for what, value in settings.items())
    assert all(head in said for head in HEADS) and "inverter cable" in said and "qualified person" in said
    assert "may carry, A fuse, A" in said and "holds the load and guards the cable" in said


def test_a_plan_of_two_tanks_gives_a_page() -> None:
    raw = {
        "van": {"name": "<b>v</b>"},
        "household": {"people": 1},
        "tanks": {"can": {"holds": "fresh", "capacity": "9 L"}},
    }
    for reader in READERS:
        page = render_for(reader, answers_to(Plan.of(raw, file=True)), date=DAY)
        assert "&lt;b&gt;v&lt;/b&gt;" in page and "<b>v</b>" not in page


def test_a_situation_has_a_page_of_its_own() -> None:
    there = answers_to(example("family-winter").in_situation("ski week"))
    said = words(render_for("customer", there, date=DAY))
    assert "Family van, winter use: ski week" in said
    assert "What was chosen, and why" in said and "built otherwise" not in said  # weighed for the plan as it is written


def test_how_a_range_is_read_is_told_by_a_number_of_this_van() -> None:
    asked = example_answers("family-winter")
    said = words(render_for("customer", asked, date=DAY))
    assert f"“{spaced(asked.numbers['tank.grey.days'].shown.text())}” means: the first is likely" in said
    lower = "so its own range above lies lower"
    assert lower in said  # 2.0 to 3.3 in the headline, 2.0 to 3.4 of the tank alone
    alike = words(render_for("customer", example_answers("touring-campsites"), date=DAY))
    assert "means: the first is likely" in alike and lower not in alike


def test_the_customer_finds_telephone_and_tags_and_the_drawing_behind_the_terms() -> None:
    said = words(render_for("customer", example_answers("family-winter"), date=DAY))
    assert said.index("Telephone") < said.index("The trade's terms") < said.index("Where the water goes")
    assert "the card names them" in said
