"""What stands on paper is read back: every number of every paper, in both systems of units, is what the answers tell.

In sentences, tables, sums and lists of the customer's pages, the workshop's sheet, the file, the card, a change order.
The files as written are read in both systems; of the other situations the short papers and the card by turns in metric
and US units, and one file of each van. All of all, in both, with ``VANWATER_PAPERS=all``.
"""

from __future__ import annotations

import os
import re
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, fields, is_dataclass
from typing import Any

import pytest

from tests.document.conftest import DATE, with_contents
from tests.document.read_back import BREAK, NUMBER, Page, flat, unlike
from tests.document.strict_reader import page as read_strictly
from tests.examples import NAMES, example, example_answers
from vanwater.answers.core.amount import Amount, Range
from vanwater.answers.core.handover import Fault, Living, Measure, Remember, Setting, Step
from vanwater.answers.core.number import Number
from vanwater.answers.core.question import Answer
from vanwater.answers.core.statement import BySystem, Count, Say, plain, say
from vanwater.answers.core.table import Column, Table
from vanwater.answers.questions import Answers, answers_to
from vanwater.document.book import Book
from vanwater.document.card import Card, card
from vanwater.document.change_order import render_change
from vanwater.document.glossary import terms_in
from vanwater.document.papers import paper
from vanwater.document.plan_listing import Value
from vanwater.document.short import Short
from vanwater.document.sums import Formula, Operand
from vanwater.options.variants import compare_plans
from vanwater.plan.address import note
from vanwater.plan.model import Plan
from vanwater.quantities import Quantity, retold

ALL = os.environ.get("VANWATER_PAPERS") == "all"
BOTH = (False, True)
EACH = [(name, situation) for name in NAMES for situation in ("", *example(name).overlays)]
SHORT = [(*each, us) for place, each in enumerate(EACH) for us in BOTH if ALL or us == bool(place % 2)]
FILES = [
    (*each, us)
    for each in EACH[1:]
    for us in BOTH
    if each[1] and (ALL or (us and each[1] == next(iter(example(each[0]).overlays))))
]
CHANGES = [(name, us) for place, name in enumerate(NAMES) for us in BOTH if ALL or us == bool(place % 2)]


@dataclass(frozen=True)
class Written:
    """A paper, what was put into it, and the answers that it tells."""

    page: Page
    contents: Any
    asked: Answers


def written(who: str, asked: Answers, us: bool) -> Written:
    write: Callable[..., str] = card if who == "card" else lambda *args, **how: paper(who, *args, **how)
    text, contents = with_contents(lambda: write(asked, us=us, date=DATE))
    return Written(Page(read_strictly(text), us), contents, asked.read_in(us))


def asked_of(name: str, situation: str, us: bool) -> Answers:
    asked = answers_to(example(name).in_situation(situation)) if situation else example_answers(name)
    return asked.read_in(us)


def read_wholly(told: Written, least: int) -> None:
    """Read a paper: all that it was given and all that the answers hand to it stands there, and no further number."""
    tell_all(told)
    page = told.page
    assert not page.wrong, "\n".join(page.wrong)
    assert not page.left(), "told by nobody:\n" + "\n".join(page.left())
    assert page.read >= least


@pytest.mark.parametrize(("name", "situation", "us"), SHORT)
def test_the_short_papers_and_the_card_are_read_back(name: str, situation: str, us: bool) -> None:
    asked = asked_of(name, situation, us)
    for who, least in (("customer", 8), ("workshop", 20), ("card", 0)):
        told = written(who, asked, us)
        for sentence in handed(who, told.asked):
            told.page.tell(sentence, wanted=True)
        read_wholly(told, least)


def test_the_file_is_read_back(example: Answers, filed: Callable[..., Any], tree: Any) -> None:
    for us in BOTH:
        told = Written(Page(tree(us=us), us), filed(us, False)[1], example.read_in(us))
        read_wholly(told, 900)


@pytest.mark.parametrize(("name", "situation", "us"), FILES)
def test_the_file_of_a_situation_is_read_back(name: str, situation: str, us: bool) -> None:
    read_wholly(written("file", asked_of(name, situation, us), us), 200)


@pytest.mark.parametrize(("name", "us"), CHANGES)
def test_a_change_order_is_read_back(name: str, us: bool) -> None:
    now = example(name).read_in(us)
    tank = next(iter(now.tanks))
    size = "length" if now.tanks[tank].capacity is None else "capacity"
    addresses = [f"tanks.{tank}.{size}", f"runs.{next(iter(now.runs))}.length"]
    other = now.changed({address: 1.5 * now.at(address) for address in addresses}, si=True)
    comparison = compare_plans("now", now, {"larger": other}, keys=())
    text, contents = with_contents(lambda: render_change(comparison, date=DATE))
    told = Written(Page(read_strictly(text), us), contents, comparison.base)
    plans = [answers.plan for answers in (comparison.base, *comparison.possible.values())]
    for answers in (comparison.base, *comparison.possible.values()):
        told.page.tell(answers.headline, wanted=True)
    changes = told.page.root.all("table", class_="sheet")[1].all("tbody")[0].all("tr")
    for row, address in zip(changes, addresses, strict=True):
        for cell, plan in zip(row.all("td")[-2:], plans, strict=True):
            read_value(told.page, plan, address, told.page.words(cell), "")
    read_wholly(told, 8)


def test_a_number_that_is_another_one_would_be_seen() -> None:
    """Of many numbers of a paper each is turned into another one, one after the other."""
    asked = example_answers("weekend-cans")
    for who, step in (("customer", 11), ("workshop", 41), ("card", 3)):
        text, contents = with_contents(
            lambda who=who: card(asked, date=DATE) if who == "card" else paper(who, asked, date=DATE)
        )
        shown = [each for each in NUMBER.finditer(text) if _is_read(text, each.start())]
        assert len(shown) > 3
        for number in shown[::step]:
            first = number[0].lstrip("\N{MINUS SIGN}")[0]
            place = number.start() + number[0].index(first)
            other = f"{text[:place]}{int(first) % 9 + 1}{text[place + 1 :]}"
            told = Written(Page(read_strictly(other), asked.plan.us), contents, asked)
            with pytest.raises(AssertionError):
                read_wholly(told, 0)


def _is_read(text: str, place: int) -> bool:
    """Whether a place is one of words, in no tag, drawing or style, and stands for itself."""
    before = text[:place]
    hidden = any(before.count(f"<{tag}") != before.count(f"</{tag}>") for tag in ("svg", "style", "title"))
    alone = not re.search(r"[\w.,/\N{MINUS SIGN}⁻-]$", before)
    return alone and not hidden and before.rfind(">") > before.rfind("<") and "&" not in before[-7:]


def handed(who: str, asked: Answers) -> Iterator[Any]:
    """What the answers hand to a short paper."""
    kinds = {"customer": (Living, Fault), "workshop": (Measure, Setting, Remember), "card": (Step,)}[who]
    for answer in asked.values():
        if who == "customer" and answer.question.brief and answer.decided:
            yield answer.verdict
        yield from (finding.statement for finding in answer.findings if who == "customer" and finding.urgent)
        yield from (caution.text if who == "workshop" else caution.brief for caution in answer.cautions)
        for each in answer.question.handover(asked.plan, answer):
            if isinstance(each, kinds):
                yield from (
                    value for value in (getattr(each, part.name) for part in fields(each)) if isinstance(value, Say)
                )
    if who == "customer":
        yield from (there.headline for there in asked.situations.values())


# --- what a paper was given ---------------------------------------------------------------------------------


APPENDIX = ("formulas", "listings", "plan")
"""Of the file, what is read place by place."""


def leaves(held: Any) -> Iterator[Any]:
    """Every sentence, number and text in what a paper was given, whoever holds it; tables as they are."""
    if isinstance(held, Say | Amount | Range | Count | BySystem | Table):
        yield held
    elif isinstance(held, str):
        yield str(held)
    elif isinstance(held, Number):
        yield held.shown
    elif isinstance(held, Answer):
        yield from (held.title, held.verdict, *(chart.sentence for chart in held.charts))
    elif isinstance(held, Mapping):
        yield from (leaf for pair in held.items() for each in pair for leaf in leaves(each))
    elif isinstance(held, tuple | list):
        yield from (leaf for each in held for leaf in leaves(each))
    elif isinstance(held, Plan | Quantity):
        return
    elif is_dataclass(held):
        extra = [
            getattr(held, name, None) for name in ("advice", "brief", "room", "not_whole", "wanted", "told", "day")
        ]
        yield from (leaf for each in extra for leaf in leaves(each))
        names = [each.name for each in fields(held) if not (isinstance(held, Book) and each.name in APPENDIX)]
        yield from (leaf for name in names for leaf in leaves(getattr(held, name)))


def own(text: str, us: bool) -> str:
    """A text of the program in the reader's units, as ``tests/quantities/test_retold.py`` judges it."""
    return flat(retold(text, us))


def tell_all(paper: Written) -> None:
    """Look for everything that the paper was given on its page: first what has a place, then what has words."""
    page, plan, us = paper.page, paper.asked.plan, paper.page.us
    each = list(dict.fromkeys(leaves(paper.contents)))
    read_tables(page, [leaf for leaf in each if isinstance(leaf, Table)])
    if isinstance(paper.contents, Book):
        read_file(paper)
    for leaf in each:
        if isinstance(leaf, Table):
            page.tell(leaf.caption)
            page.tell(leaf.note)
        elif isinstance(leaf, str):
            for text in {leaf, own(leaf, us), low(page, own(leaf, us))} if re.search(r"\d", leaf) else ():
                page.tell(text)
        else:
            page.tell(leaf)
    for told in composed(paper):
        page.tell(told, wanted=not isinstance(paper.contents, Short))
    for told in said_in(plan):
        page.tell(told)


def read_file(paper: Written) -> None:
    """Its sums and the plan's listing, place by place; terms, and the numbers of what it leads to."""
    page, plan = paper.page, paper.asked.plan
    read_sums(page, paper.contents)
    read_plan(page, plan)
    for told in decided(paper.contents, plan):
        page.tell(told, wanted=True)
    for field in (field for listing in paper.contents.listings for field in listing.said):
        page.tell(field.meaning)
    for term in terms_in(page.text):
        page.tell(term.meaning)
    page.tell("those for diagrams (ISO 14617, from memory)", wanted=True)
    for leads in (*page.root.all("a"), *page.root.all("span", class_="no"), *page.root.all("nav")):
        page.mark(leads)


def said_in(plan: Plan) -> Iterator[str]:
    """What a builder says of the van, of its revisions and of what was measured."""
    for part in (plan.van, *plan.revisions.values(), *plan.measured.values()):
        yield from (text for text in part.model_dump().values() if isinstance(text, str))


def composed(paper: Written) -> Iterator[list[Any]]:
    """What the template sets side by side, so that each number is read at its place."""
    plan, contents, us = paper.asked.plan, paper.contents, paper.page.us
    yield ["Revision ", plan.van.revision, " · ", contents.date]
    for each in getattr(contents, "key_numbers", ()):
        yield [each.name, BREAK, each.value]
    if isinstance(contents, Book):
        yield [" · for ", Count(plan.household.people, "person", "people")]
        if contents.wanted is not None:
            yield [" · ", contents.wanted, " wanted"]
    elif isinstance(contents, Short):
        yield from ([own(each.name, us), " ", each.what] for each in contents.choices if each.what is not None)
        for each in contents.measured.readings:
            yield [each.what, BREAK, each.expected.shown, BREAK, each.value.amount]
            yield [" (measured: ", each.value.amount, ")"]
        yield from ([each.what, BREAK, each.value, BREAK] for each in contents.handed.settings)
        for each in contents.measured.checks:
            how = [
                each.what,
                ".",
                *([" ", own(each.how, us)] if each.how else []),
                *([f" {each.key}"] if each.key else []),
            ]
            reading = [BREAK, each.reading.value.amount] if each.reading is not None else []
            yield [*how, BREAK, each.expected, *([BREAK, each.band] if each.band is not None else [BREAK]), *reading]
    elif isinstance(contents, Card):
        yield from ([BREAK, each.tag, each.what, BREAK, each.where] for each in contents.tags)


def read_tables(page: Page, tables: list[Table]) -> None:
    """Each table by its caption, in its order."""
    waiting = {}
    for table in tables:
        waiting.setdefault(flat(table.caption.text(page.us)), []).append(table)
    for shown in page.root.all("table", class_="sheet"):
        caption = page.words(shown.all("caption")[0])
        if waiting.get(caption):
            page.table(shown, waiting[caption].pop(0))


def read_sums(page: Page, book: Book) -> None:
    """Each sum at its place in the appendix: its result and what was put in, in one line or as a row of its table."""
    tables = page.root.all("table", class_="put")
    for way in (way for _, ways in book.formulas for way in ways):
        page.tell(
            [own(way.meaning, page.us), " " * bool(way.formula), low(page, own(way.formula, page.us))], wanted=True
        )
        for text in (way.note, *(letter.meaning for letter, _ in way.letters), getattr(way.source, "text", "")):
            page.tell(own(text, page.us))
        for letter, alike in way.letters:
            if alike:
                page.tell([flat(letter.meaning), ": ", letter.value], wanted=True)
        if way.tabular:
            read_sum_rows(page, way, tables.pop(0))
            continue
        for each in way.sums:
            put = [[", " if at else ": ", *label(page, one)] for at, one in enumerate(way.differing(each))]
            page.tell([f"S{each.number} ", each.step.name, " = ", each.step.result, *put], wanted=True)


def label(page: Page, put: Operand) -> list[Any]:
    """What stands before what was put in, and that."""
    if put.meaning == "formula":
        return [low(page, own(str(put.value), page.us))]
    return [low(page, put.symbol) or flat(put.meaning), " ", put.value, f" S{put.sum}" if put.sum else ""]


def low(page: Page, text: str) -> str:
    """As letters of formulas stand there, their indices set low."""
    return flat(re.sub(r"(?<=\w)_(\w+)", r"\1", plain(text, "terminal")))


def read_sum_rows(page: Page, way: Formula, shown: Any) -> None:
    labels = [put.label[0] for put in way.differing(way.sums[0])]
    rows = tuple(
        (f"S{each.number}", each.step.name, each.step.result, *(put.value for put in way.differing(each)))
        for each in way.sums
    )
    heads = [Column(low(page, head)) for head in ("no.", "which", "is", *labels)]
    page.table(shown, Table("sums", say("sums"), tuple(heads), rows), summed=True)


def read_plan(page: Page, plan: Plan) -> None:
    """Each value of the plan by the address that its table, row and column give."""
    (section,) = page.root.all("section", class_="plan")
    for table in (table for each in section.all("div", class_="listing") for table in each.all("table")):
        (corner, *heads), rows = table.all("thead")[0].all("th"), table.all("tbody")[0].all("tr")
        turned = "turned" in table.attributes["class"].split()
        for row in rows:
            first, *cells = (part for part in row.parts if not isinstance(part, str))
            for head, cell in zip(heads[turned:], cells[turned:], strict=True):
                field, part = (first, page.words(head)) if turned else (head, page.words(first))
                unit = page.words(cells[0] if turned else head).rpartition(", ")[2]
                name = page.words(field).partition(",")[0] if not turned else page.words(field)
                address = ".".join(each for each in (page.words(corner), "" if part == "value" else part, name) if each)
                text = page.words(cell).partition(BREAK.strip())[0].strip()  # without the mark of whose word it is
                if text:
                    read_value(page, plan, address, text, unit)
                page.mark(cell)


def decided(book: Book, plan: Plan) -> Iterator[list[Any]]:
    """What was taken where the plan says nothing, and what its situations say, each with the plan's own value."""
    for listing in book.listings:
        for told, value in listing.taken:
            yield [told.meaning, f" ({told.key}) ", value_in(plan, value, told.quantity)]
    for each in book.situations:
        there = plan.in_situation(each.name)
        yield from ([f"{value.address} ", value_in(there, value, None)] for value in each.values)


def value_in(plan: Plan, shown: Value, quantity: Quantity | None) -> Any:
    if not isinstance(shown.shown, Amount):
        return shown.shown
    return Amount(plan.at(shown.address), quantity or shown.shown.quantity)


def read_value(page: Page, plan: Plan, address: str, text: str, unit: str) -> None:
    value, quantity = plan.at(address), note(Plan, address).quantity
    if isinstance(value, bool) or not isinstance(value, float) or quantity is None:
        return
    page.read += 1
    if odd := unlike(text, Amount(value, quantity), unit):
        page.wrong.append(f"{address}: {text!r}: {odd}")
