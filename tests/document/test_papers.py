from __future__ import annotations

import csv
import datetime as dt
import io

import pytest

from tests.examples import NAMES, example_answers
from vanwater.document.html import render
from vanwater.document.output_file import DRAWING, MARKDOWN, PAGE, PAPERS, TABLE, sealed
from vanwater.document.papers import in_form, paper
from vanwater.document.short import render_for
from vanwater.document.writings import WRITINGS, Subject

DAY = dt.date(2026, 11, 25)


def test_each_paper_is_that_of_its_reader() -> None:
    answers = example_answers("weekend-cans")
    assert paper("customer", answers, date=DAY) == render_for("customer", answers, date=DAY)
    assert paper("workshop", answers, date=DAY) == render_for("workshop", answers, date=DAY)
    assert paper("file", answers, date=DAY) == render(answers, date=DAY)


@pytest.mark.parametrize("key", ["parts", "tags"])
@pytest.mark.parametrize("name", NAMES)
def test_a_table_in_its_file_is_read_like_the_one_that_is_printed(name: str, key: str) -> None:
    text = WRITINGS[key].text(Subject(answers=example_answers(name), us=False))
    data = in_form(text, TABLE)
    assert data.startswith(b"\xef\xbb\xbf")  # by which spreadsheets know its letters
    (*heads, mark), *rows = csv.reader(io.StringIO(data.decode("utf-8-sig")))
    assert [heads, *rows] == list(csv.reader(io.StringIO(text))) and mark.startswith("written by vanwater: ")


def test_each_form_has_its_own_bytes() -> None:
    assert in_form("<svg/>", DRAWING) == b"<svg/>"
    assert in_form("a,b\n1,2\n", TABLE) == sealed(TABLE, b"\xef\xbb\xbfa,b,", b"\n1,2\n")
    assert in_form(paper("customer", example_answers("weekend-cans"), date=DAY), MARKDOWN).startswith(b"[//]: #")


@pytest.mark.parametrize("us", [False, True])
def test_the_three_papers_of_the_largest_example_are_small_enough_to_send(us: bool) -> None:
    pages = {reader: paper(reader, example_answers("family-winter"), us=us, date=DAY) for reader in PAPERS}
    sizes = {reader: len(in_form(page, PAGE)) for reader, page in pages.items()}
    assert sizes["customer"] < 150_000 and sum(sizes.values()) < 400 * 1024, sizes
