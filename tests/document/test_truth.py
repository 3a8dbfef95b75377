"""What stands on paper is read back: each number of a table is the answer's, in both systems, in situations too."""

from __future__ import annotations

import datetime as dt
import math
import re
from collections.abc import Iterator
from types import ModuleType
from typing import Any

import pytest

from tests.examples import NAMES, example, example_answers
from vanwater.answers.core.amount import Amount, Range
from vanwater.answers.core.table import Table
from vanwater.answers.questions import Answers, answers_to
from vanwater.document.html import render
from vanwater.document.markdown import markdown
from vanwater.document.papers import paper
from vanwater.document.short import render_for

DAY = dt.date(2026, 11, 25)
NUMBER = re.compile(r"\N{MINUS SIGN}?\d[\d\u202f\u2009]*(?:\.\d+)?")
BLANK = " \xa0\u202f\u2007\u2008"
SITUATIONS = [("weekend-cans", name) for name in example("weekend-cans").overlays] + [("family-winter", "laid up")]


def flat(text: str) -> str:
    return " ".join(
        text.replace("\xa0", " ").replace("\u202f", " ").replace("\u2007", " ").replace("\u2008", " ").split()
    )


def value_of(text: str) -> float | None:
    """The first number of a cell, as somebody reads it."""
    number = NUMBER.search(text)
    if number is None:
        return None
    return float(re.sub("[\u202f\u2009]", "", number[0]).replace("\N{MINUS SIGN}", "-"))


def likely(cell: object) -> Amount | None:
    amount = cell.amount if isinstance(cell, Range) else cell
    return amount if isinstance(amount, Amount) and math.isfinite(amount.value) else None


def compare(shown: Any, table: Table, us: bool) -> int:
    """Read a table's cells back into SI and hold them against the answer's values; gives how many were numbers."""
    ends = {int(name[1:]) - 1 for name in re.findall(r"\be\d+", shown.attributes.get("class", ""))}
    rows = shown.all("tbody")[0].all("tr")
    assert len(rows) == len(table.rows)
    read = 0
    for row, cells in zip(rows, table.rows, strict=True):
        every = [one for one in row.parts if not isinstance(one, str)]
        texts = [one for place, one in enumerate(every) if place not in ends]
        for one, cell in zip(texts, cells, strict=False):
            amount = likely(cell)
            if amount is None or (back := value_of(text := "".join(_words(one)))) is None:
                continue
            true = float(amount.quantity.show(amount.value, us))
            if unit := NUMBER.sub("", text, count=1).strip(BLANK):  # not the head's: as a builder would write it
                true = back * amount.value / amount.quantity.read(f"{back} {unit.replace(chr(0xA0), ' ')}")
            assert back == pytest.approx(true, rel=1e-3, abs=_half_step(text, amount, us)), (table.key, text)
            read += 1
    return read


def matched(sheets: list[Any], tables: list[Table], us: bool) -> Iterator[tuple[Any, Table]]:
    """Each table of the answers with its sheet, by its caption and in its order; ways by piece stand between them."""
    left = iter(sheets)
    for table in tables:
        caption = flat(table.caption.text(us))
        yield next(sheet for sheet in left if sheet.all("caption")[0].text == caption), table


def _words(node: Any) -> list[str]:
    return [part if isinstance(part, str) else "".join(_words(part)) for part in node.parts]


def _half_step(text: str, amount: Amount, us: bool) -> float:
    """Half of the last digit that says something ("180" says tens), or of the step in which the quantity is told."""
    number = NUMBER.search(text)
    assert number is not None
    whole, _, decimals = re.sub("[^0-9.]", "", number[0]).partition(".")
    place = -len(decimals) if decimals else len(whole) - len(whole.rstrip("0")) if whole.strip("0") else 0
    return max(0.51 * 10.0**place, 0.51 * max(amount.quantity.steps.get(amount.quantity.unit(us), (0.0,))))


@pytest.mark.parametrize("us", [False, True])
@pytest.mark.parametrize("name", NAMES)
def test_the_numbers_of_the_workshop_are_those_of_the_answers(name: str, us: bool, reader: ModuleType) -> None:
    asked = example_answers(name).read_in(us)
    root = reader.page(render_for("workshop", asked, us=us, date=DAY))
    sheets = {one.all("caption")[0].text: one for one in root.all("table", class_="sheet")}
    tables = [*asked["parts"].tables, *(table for table in asked["power"].tables if table.key == "cables")]
    read = [compare(sheets[flat(table.caption.text(us))], table, us) for table in tables]
    assert sum(read) > 5


def test_the_numbers_of_the_file_are_those_of_the_answers(example: Answers, tree: Any) -> None:
    for us in (example.plan.us, not example.plan.us):
        asked = example.read_in(us)
        sections = tree(us=us, charts=us is example.plan.us).all("section", class_="answer")
        sheets = [one for section in sections for one in section.all("table", class_="sheet")]
        tables = [table for answer in asked.each.values() for table in answer.tables]
        assert sum(compare(*both, us) for both in matched(sheets, tables, us)) > 40


@pytest.mark.parametrize(("name", "situation"), SITUATIONS)
def test_in_a_situation_they_are_those_of_the_situation(name: str, situation: str, reader: ModuleType) -> None:
    plan = example(name).in_situation(situation)
    asked = answers_to(plan)
    for us in (False, True):
        there = asked.read_in(us)
        page = render(there, us=us, date=DAY, charts={})
        sheets = [
            one for section in reader.page(page).all("section", class_="answer")
            for one in section.all("table", class_="sheet")
        ]  # fmt: skip
        tables = [table for answer in there.each.values() for table in answer.tables]
        assert sum(compare(*both, us) for both in matched(sheets, tables, us)) > 5
        for who in ("customer", "workshop"):
            short = paper(who, asked, us=us, date=DAY)
            if who == "customer":
                assert flat(there.headline.text(us)) in reader.page(short).text
            assert markdown(short) == markdown(paper(who, asked, us=us, date=DAY))


def test_a_cell_that_tells_something_else_would_be_seen(reader: ModuleType) -> None:
    asked = example_answers("weekend-cans")
    page = render(asked, date=DAY, charts={})
    table = asked["stay"].tables[0]
    (sheet, *_) = reader.page(page).all("section", class_="answer")[0].all("table", class_="sheet")
    assert compare(sheet, table, asked.plan.us) > 3
    text = likely(next(cell for cell in table.rows[0] if likely(cell)))
    assert text is not None
    wrong = re.sub(r"<td>(?=\d)", "<td>9", page)
    (other, *_) = reader.page(wrong).all("section", class_="answer")[0].all("table", class_="sheet")
    with pytest.raises(AssertionError):
        compare(other, table, asked.plan.us)
