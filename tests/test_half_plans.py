"""Half a plan is answered or refused by name, wherever its builder stops; what is missing is told first.

A part of the half-written plans by default, the same at every run; all of them with ``VANWATER_HALF=all``.
"""

from __future__ import annotations

import copy
import datetime as dt
import json
import os
import random
from collections.abc import Iterator
from typing import Any, TypeVar

import pytest

from tests.examples import NAMES, example_answers
from tests.half_plans import Half, Raw, cut, field_out, orders, pieces_out, poor, raw_example
from tests.terminal.made import piped
from vanwater.answers.core.finding import Verdict
from vanwater.answers.missing import missing
from vanwater.answers.questions import Answers, answers_to
from vanwater.document.html import render
from vanwater.plan.model import Plan
from vanwater.plan.problems import PlanError
from vanwater.system.ways import way_from_mains, way_to
from vanwater.terminal.json_form import json_text
from vanwater.terminal.overview import everything, overview

ALL = os.environ.get("VANWATER_HALF") == "all"
T = TypeVar("T")


def some(halves: list[T], count: int) -> list[T]:
    """A part of them, the same at every run."""
    return halves if ALL or len(halves) <= count else random.Random(5).sample(halves, count)


def by_name(half: tuple[object, ...]) -> str:
    return str(half[0])


def told(half: Half, page: bool = False) -> Answers | None:
    """The answers to half a plan after terminal, JSON and, if wanted, document told them; None where it is refused."""
    what, raw = half
    try:
        plan = Plan.of(raw, file=True)
    except PlanError as error:
        assert all(problem.address and problem.expected for problem in error.problems), what
        return None
    answers = answers_to(plan)
    for us in (False, True):
        assert overview(answers, piped(us=us))
    screen = " ".join(" ".join(everything(answers, piped(us=False))).split())
    numbers = json.loads(json_text(answers, "1", "utf-8"), parse_constant=lambda word: pytest.fail(f"{word}: {what}"))
    assert len(numbers["missing"]) == len(answers.missing)
    for lack in answers.missing:
        assert lack.address
        assert " ".join(lack.statement.text().split()) in screen.replace("\N{NARROW NO-BREAK SPACE}", " ")
    if page or ALL:
        document = render(answers, date=dt.date(2026, 5, 1))
        assert ("The plan is not whole" in document) is bool(answers.missing)
    return answers


@pytest.mark.parametrize("half", some(list(cut()), 6), ids=by_name)
def test_a_plan_cut_after_any_statement_is_answered_or_refused_by_name(half: Half) -> None:
    told(half)


def test_an_example_cut_before_any_of_its_tables_is_answered_once_van_and_household_are_there() -> None:
    assert [what for what, raw in _before_tables() if "people" in raw.get("household", {}) and not _stands(raw)] == []


def _before_tables() -> Iterator[Half]:
    for name in NAMES:
        so_far: dict[str, dict[str, Any]] = {}
        for table, entries in raw_example(name).items():
            if not all(isinstance(value, dict) for value in entries.values()):
                so_far[table] = entries
                yield f"{name} up to {table}", copy.deepcopy(so_far)
                continue
            for entry, value in entries.items():
                so_far.setdefault(table, {})[entry] = value
                yield f"{name} up to {table}.{entry}", copy.deepcopy(so_far)


def _stands(raw: Raw) -> bool:
    try:
        Plan.of(raw, file=True)
    except PlanError:
        return False
    return True


@pytest.mark.parametrize("half", some([*pieces_out(1)], 5), ids=by_name)
def test_an_example_without_any_of_its_pieces_is_answered_and_says_what_is_missing(half: Half) -> None:
    answers = told(half, page=True)
    assert answers is not None and answers.missing
    (first, *_) = answers.missing
    gone = half[0].rpartition(".")[2]
    if ".".join(("runs", gone)) not in half[0]:
        assert f'"{gone}"' in first.statement.text()


@pytest.mark.parametrize("half", some([*pieces_out(2)], 6), ids=by_name)
def test_an_example_without_any_two_of_its_pieces_is_answered_and_says_what_is_missing(half: Half) -> None:
    answers = told(half)
    assert answers is not None
    piped = all(not way_from_mains(answers.plan, outlet).broken for outlet in answers.plan.outlets)
    assert answers.missing or (answers.plan.mains and piped)  # a van may live on a campsite's water alone


@pytest.mark.parametrize("half", some([*pieces_out(1), *pieces_out(2)], 60), ids=by_name)
def test_every_outlet_without_a_way_waits_for_something_that_is_named(half: Half) -> None:
    plan = Plan.of(half[1], file=True)
    waiting = {outlet for lack in missing(plan) for outlet in lack.outlets}
    dry = {outlet for outlet in plan.outlets if way_to(plan, outlet).broken and way_from_mains(plan, outlet).broken}
    assert waiting >= dry


@pytest.mark.parametrize("half", some([*pieces_out(1)], 40), ids=by_name)
def test_the_run_that_is_told_as_missing_makes_the_plan_whole_again(half: Half) -> None:
    """Written as it is told, a single missing run is the one that was taken out."""
    what, raw = half
    lacks = missing(Plan.of(raw, file=True))
    name = what.rpartition(".")[2]
    if "runs" not in what.rpartition(" without ")[2] or "from = a" in lacks[0].change.text():
        return
    whole = raw_example(what.partition(" ")[0])["runs"][name]
    written = lacks[0].change.text()
    assert f'"{whole["from"]}"' in written
    if "take it out" not in written:
        assert f'to = "{whole["to"]}"' in written


@pytest.mark.parametrize("half", some(list(orders()), 4), ids=by_name)
def test_any_order_of_the_tables_is_answered_alike(half: Half) -> None:
    answers, before = told(half), example_answers(half[0].partition(" ")[0])
    assert answers is not None
    assert answers.missing == ()
    shared = answers.numbers.keys() & before.numbers.keys()  # of things alike the first in the file is told
    shared = {key for key in shared if not key.endswith(".unbalanced")}  # what rounding leaves over
    assert len(shared) > 0.85 * len(before.numbers)
    assert {key: f"{answers.numbers[key].likely:.9g}" for key in shared} == {
        key: f"{before.numbers[key].likely:.9g}" for key in shared
    }


@pytest.mark.parametrize("half", some(list(poor()), 10), ids=by_name)
def test_measures_that_are_missing_or_very_wrong_are_answered_or_refused_by_name(half: Half) -> None:
    told(half)


TWINS = {
    "size": "bore",
    "bore": "size",
    "type": "flow",
    "z": "beside",
}
"""Fields that may be said instead of another one."""


@pytest.mark.parametrize(("what", "raw", "address"), some(list(field_out()), 12), ids=lambda value: str(value)[:50])
def test_not_decided_names_the_field_that_is_missing_and_vanishes_with_it(
    what: str, raw: dict[str, object], address: str
) -> None:
    try:
        answers = answers_to(Plan.of(raw, file=True))
    except PlanError as error:
        assert all(problem.address for problem in error.problems)
        return
    before = example_answers(what.partition(" ")[0])
    known = {(finding.key, finding.address) for finding in before.findings if finding.verdict is Verdict.NOT_DECIDED}
    holder, _, field = address.rpartition(".")
    meant = {address, f"{holder}.{TWINS.get(field, field)}"}
    for finding in answers.findings:
        if finding.key.startswith("measured."):  # its own number went with the field
            continue
        if finding.verdict is Verdict.NOT_DECIDED and (finding.key, finding.address) not in known:
            assert finding.address in meant, (finding.key, finding.address)
            assert finding.change is not None
