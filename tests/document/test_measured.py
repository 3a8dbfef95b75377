"""The short papers show what was measured beside what is expected; a value outside says what to correct."""

from __future__ import annotations

import datetime as dt

import pytest

from tests.document.strict_reader import page
from tests.examples import example, example_answers
from tests.terminal.made import HOSTILE
from vanwater.answers.core.key import key_text
from vanwater.answers.questions import Answers, answers_to
from vanwater.document.handover import handover
from vanwater.document.html import render
from vanwater.document.measured import OnTheVan, on_the_van
from vanwater.document.short import READERS, Reader, render_for

DAY = dt.date(2027, 3, 4)
VAN = "long-stay-dry-toilet"


def shown(asked: Answers) -> OnTheVan:
    answers = tuple(asked.each.values())
    return on_the_van(handover(asked.plan, answers).measures, answers)


def test_each_measurement_stands_once_with_its_key_or_in_words() -> None:
    checks = shown(example_answers(VAN)).checks
    keys = [check.key for check in checks if check.key]
    assert len(keys) == len(set(keys)) > 10 and any(not check.key for check in checks)
    assert all(check.band is not None for check in checks if check.key)
    assert {check.key for check in checks if check.reading} == {"outlet.shower.flow", "tank.main.usable"}


def test_outside_its_band_the_sheet_says_what_to_correct() -> None:
    by_key = {check.key: check for check in shown(example_answers(VAN)).checks}
    assert "correct outlets.shower.flow in the plan" in by_key["outlet.shower.flow"].else_.text()
    assert "correct" not in by_key["tank.main.usable"].else_.text()


def test_what_is_no_measurement_of_the_handover_follows_behind() -> None:
    said = {"number": "site.cold_water", "value": "13 °C", "on": "2025-03-14", "instrument": "probe"}
    last = shown(answers_to(example("weekend-cans").changed({"measured.a": said}))).checks[-1]
    assert last.key == "site.cold_water" and last.reading is not None and last.band is not None


def test_it_stands_beside_every_sentence_that_shows_the_number() -> None:
    asked = example_answers(VAN)
    told = shown(asked).beside(asked["outlets"].verdict)
    assert [each.text() for each in told] == ["measured on 20 February 2026: 4.6\N{NO-BREAK SPACE}L/min"]
    assert key_text(("outlet", "shower", "flow")) in asked.numbers
    assert shown(example_answers("weekend-cans")).beside(example_answers("weekend-cans").headline) == ()


@pytest.mark.parametrize("us", (False, True))
@pytest.mark.parametrize("reader", READERS)
def test_the_papers_tell_value_day_and_instrument(reader: Reader, us: bool) -> None:
    told = page(render_for(reader, example_answers(VAN), date=DAY, us=us)).text
    assert ("1.22 gal/min" if us else "4.6 L/min") in told
    assert ("February 20, 2026" if us else "20 February 2026") in told and "marked bucket and watch" in told
    assert "✕ below" in told
    assert ("✓ within" in told) is (reader == "workshop")


def test_the_file_holds_the_table() -> None:
    told = page(render(example_answers(VAN), date=DAY)).text
    assert "What was measured on the van, beside what is expected." in told and "below the band" in told


def test_what_somebody_wrote_is_only_ever_text() -> None:
    said = {"number": "site.cold_water", "value": "13 °C", "on": "2025-03-14", "instrument": HOSTILE[:80]}
    said |= {"by": HOSTILE[:80], "note": HOSTILE}
    asked = answers_to(example("weekend-cans").changed({"measured.a": said}))
    for text in (*(render_for(reader, asked, date=DAY) for reader in READERS), render(asked, date=DAY)):
        page(text)
        assert "<b>=1" not in text and "\x1b" not in text
