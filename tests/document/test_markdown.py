"""The papers in Markdown say what the pages say, cell by cell, and nothing of a plan acts as markup there."""

from __future__ import annotations

import datetime as dt
import re
from collections.abc import Callable, Iterator
from types import ModuleType
from typing import Any

import pytest
from markdown_it import MarkdownIt

from tests.examples import NAMES, example, example_answers
from vanwater.answers.questions import answers_to
from vanwater.document.html import render
from vanwater.document.markdown import markdown
from vanwater.document.output_file import MARKDOWN, PAPERS
from vanwater.document.papers import in_form, paper
from vanwater.document.short import READERS, render_for

DAY = dt.date(2026, 11, 25)
READ = MarkdownIt("commonmark", {"html": True}).enable(["table", "strikethrough"])
"""What a reader with the widest habits makes of it, HTML included."""

HOSTILE = (
    "<script>alert(1)</script>",
    "| a | b |",
    "**bold** _it_ ~~gone~~ `code`",
    "[here](https://example.org) <https://example.org> ![x](y)",
    "# head",
    "1. one",
    "- item",
    "---",
    "&lt;b&gt; &#65;",
    "\\| \\",
    "x\n\n# y",
    "=1+1",
    "[^1]: note",
)


def flat(text: str) -> str:
    return " ".join(text.replace("\xa0", " ").replace("\u202f", " ").split())


def tables(text: str) -> list[list[list[str]]]:
    """Each table as rows of cells, as a reader shows them."""
    found: list[list[list[str]]] = []
    for token, after in zip(tokens := READ.parse(text), [*tokens[1:], None], strict=True):
        if token.type == "table_open":
            found.append([])
        elif token.type == "tr_open":
            found[-1].append([])
        elif token.type in ("th_open", "td_open"):
            assert after is not None
            found[-1][-1].append(flat("".join(shown(after.children or ()))))
    return found


def shown(tokens: Any) -> Iterator[str]:
    for token in tokens:
        yield token.content if token.type in ("text", "text_special", "code_inline") else ""


def of_page(page: str, reader: ModuleType) -> list[list[list[str]]]:
    """Each table of a page, what is folded left out, a cell over two columns followed by an empty one."""
    found = []
    for table in reader.page(page).all("table"):
        if "details" in table.inside:
            continue
        rows = [
            [
                text
                for cell in row.all()
                if cell.tag in ("th", "td")
                for text in [cell.text, *[""] * (int(cell.attributes.get("colspan", "1")) - 1)]
            ]
            for row in table.all("tr")
        ]
        if not table.all("thead"):
            rows = [[""] * len(rows[0]), *rows]
        found.append(rows)
    return found


def same_cells(text: str, page: str, reader: ModuleType) -> int:
    """Compare them, and count."""
    here, there = tables(text), of_page(page, reader)
    assert len(here) == len(there)
    for mine, other in zip(here, there, strict=True):
        plainly = [[re.sub(r"(?<=\w)_(?=\w)", "", cell) for cell in row] for row in mine]  # an index set low
        assert plainly == [[re.sub(r"(?<=\w)_(?=\w)", "", cell) for cell in row] for row in other]
    return sum(len(row) for table in here for row in table)


@pytest.mark.parametrize("us", [False, True])
@pytest.mark.parametrize("name", NAMES)
def test_the_short_papers_hold_the_same_cells(name: str, us: bool, reader: ModuleType) -> None:
    for who in READERS:
        page = render_for(who, example_answers(name), us=us, date=DAY)
        assert same_cells(markdown(page), page, reader) > (4 if who == "customer" else 100)


def test_the_file_holds_the_same_cells_and_headings(page: Callable[..., str], reader: ModuleType) -> None:
    whole = page(charts=True)
    text = markdown(whole)
    assert same_cells(text, whole, reader) > 500
    heads = [one.text for one in reader.page(whole).all() if re.fullmatch("h[1-4]", one.tag)]
    told = [token for token, before in zip(READ.parse(text)[1:], READ.parse(text), strict=False)
            if before.type == "heading_open"]  # fmt: skip
    assert [flat("".join(shown(token.children))).replace("_", "") for token in told] == [
        head.replace("_", "") for head in heads
    ]
    assert text.count("`vanwater draw` writes it alone") == whole.count("<svg")


def test_every_word_outside_of_tables_is_there(reader: ModuleType) -> None:
    page = render_for("customer", example_answers("family-winter"), date=DAY)
    said = flat(" ".join("".join(shown(token.children or ())) for token in READ.parse(markdown(page))))
    for tag in ("p", "li", "dt"):
        for one in reader.page(page).all(tag):
            assert one.text in said, one.text


def test_names_are_only_ever_text(reader: ModuleType) -> None:
    plan = example("weekend-cans")
    usual = kinds(markdown(render(answers_to(plan), date=DAY)))
    texts = dict(zip(("name", "note", "builder", "customer", "checked", "drawing"), HOSTILE, strict=False))
    long = {field: name[:40] for field, name in texts.items()}
    agreed = {"finding": "stay.days", "on": HOSTILE[0][:40], "words": HOSTILE[3], "situation": "four days in May"}
    revisions = {
        f"r{place}": {"on": name[:40], **dict.fromkeys(("what", "by", "checked", "signed"), name)}
        for place, name in enumerate(HOSTILE)
    }
    asked = answers_to(
        plan.changed(
            {
                **{f"van.{field}": text for field, text in long.items()},
                "van.revision": HOSTILE[2][:20],
                "agreed.a": agreed,
                **{f"revisions.{key}": told for key, told in revisions.items()},
            }
        )
    )
    for who in PAPERS:
        page = paper(who, asked, date=DAY)
        text = markdown(page)
        same_cells(text, page, reader)
        assert kinds(text) <= usual
    cells = [cell for table in tables(text) for row in table for cell in row]
    assert all(flat(name) in cells for name in HOSTILE)  # in the file, which has all revisions


def kinds(text: str) -> set[str]:
    """What kinds of things a reader sees in a text."""
    tokens = READ.parse(text)
    inner = {child.type for token in tokens for child in token.children or ()}
    return {token.type for token in tokens if token.nesting >= 0} | inner


def test_its_first_line_says_by_what_it_was_written_and_is_never_shown() -> None:
    page = render_for("workshop", example_answers("weekend-cans"), date=DAY)
    text = in_form(page, MARKDOWN, DAY)
    assert text == in_form(page, MARKDOWN, DAY)
    assert text.startswith(MARKDOWN.written_by)
    assert "written by vanwater" not in READ.render(text.decode())
    assert "Skip to" not in text.decode()


def test_a_line_begins_nothing_and_a_wide_cell_keeps_its_row() -> None:
    page = (
        "<!DOCTYPE html><html><head><title>t</title></head><body><main>loose <b>words</b>"
        "<p># a</p><p>12) b</p><p>--- c</p><ul><li>+ d<p>e</p></li></ul><table><tbody>"
        '<tr><td colspan="2">x|y<br>z</td><td class="number">2</td></tr></tbody></table></main></body></html>'
    )
    assert markdown(page).split("\n\n")[1:] == [
        "loose **words**",
        "\\# a",
        "12\\) b",
        "\\--- c",
        "- \\+ d e",
        "|  |  |  |\n| --- | --- | ---: |\n| x\\|y z |  | 2 |\n",
    ]
