"""What a question says that it never reads, it never reads: so a situation may share its answer."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from typing import Any

import pytest
from hypothesis import given, settings

from tests.examples import NAMES, example, example_answers
from tests.strategies import plans
from vanwater.answers.core.question import Answer, Question
from vanwater.answers.questions import QUESTIONS
from vanwater.plan.model import Plan
from vanwater.plan.part import Part
from vanwater.plan.problems import PlanError

SHARED = {key: question for key, question in QUESTIONS.items() if question.unread}


@contextmanager
def reads(plan: Plan) -> Iterator[set[str]]:
    """The tables that are read of a plan, and the single values of those that stand once."""
    read: set[str] = set()
    once = {id(value): table for table, value in plan.__dict__.items() if isinstance(value, Part)}
    known, at = frozenset(Plan.model_fields), Plan.at

    def of_a_part(part: Part, name: str) -> Any:
        if part is plan and name in known and id(plan.__dict__[name]) not in once:
            read.add(name)
        elif id(part) in once and name in type(part).model_fields:
            read.add(f"{once[id(part)]}.{name}")
        return object.__getattribute__(part, name)

    def at_address(asked: Plan, address: str) -> Any:
        table, *names = address.split(".")
        read.add(f"{table}.{names[0]}" if table in once.values() else table)
        return at(asked, address)

    with pytest.MonkeyPatch.context() as patched:
        patched.setattr(Part, "__getattribute__", of_a_part, raising=False)
        patched.setattr(Plan, "at", at_address)
        yield read


def told(question: Question[Any], plan: Plan) -> dict[str, object]:
    """All that an answer holds, read."""
    answer: Answer = question.ask(plan)
    sentences = [answer.verdict, *(finding.statement for finding in answer.findings)]
    sentences += [finding.change for finding in answer.findings if finding.change is not None]
    shown = {key: (number.text(), number.range) for key, number in answer.numbers.items()}
    return {
        "said": [sentence.text(us) for sentence in sentences for us in (False, True)],
        "charts": len(answer.charts),
        "numbers": shown,
        "tables": [table.cells() for table in (*answer.tables, *answer.pieces)],
    }


def unread_but_read(plan: Plan) -> dict[str, list[str]]:
    """By question what it read although it says that it never does."""
    broken = {}
    for key, question in SHARED.items():
        fresh = plan.twin()
        fresh._known = {}
        with reads(fresh) as read:
            told(question, fresh)
        broken[key] = sorted(place for place in read if question._blind_to(frozenset({place})))
    return {key: places for key, places in broken.items() if places}


@pytest.mark.parametrize("name", NAMES)
def test_no_question_reads_what_it_says_it_never_reads(name: str) -> None:
    plan = example(name)
    for there in (plan, *(plan.in_situation(situation) for situation in plan.situations)):
        assert unread_but_read(there) == {}


@settings(max_examples=10, deadline=None)
@given(plans())
def test_nor_of_a_plan_of_any_shape(raw: dict[str, Any]) -> None:
    assert unread_but_read(Plan.of(raw, file=True)) == {}


def test_who_reads_is_seen() -> None:
    plan = example("touring-campsites").changed({"van.revision": "9"})
    with reads(plan) as read:
        told(QUESTIONS["frost"], plan)
    assert {"frost.design_cold", "runs", "tanks"} <= read


@pytest.mark.parametrize("name", NAMES)
def test_without_what_it_never_reads_it_tells_the_same(name: str) -> None:
    plan, left_out = example(name), 0
    for question in SHARED.values():
        whole = told(question, plan)
        for table in question.unread:
            try:
                bare = plan.changed({table: None, "situations": None, "measured": None, "agreed": None})
            except PlanError:  # something else of the plan needs it
                continue
            left_out += 1
            assert told(question, bare) == whole, (question.key, table)
    assert left_out > 10


def test_a_situation_shares_what_it_leaves_as_it_is_and_nothing_else() -> None:
    base = example_answers("touring-campsites")
    there = base.situations["on a site"]  # other hours, another stay
    shared = {key for key, answer in there.items() if answer.verdict is base[key].verdict}
    assert shared == {key for key in SHARED if key in base}
    cold = base.situations["early spring"]  # colder water weighs more
    assert {key for key, answer in cold.items() if answer.verdict is base[key].verdict} == {"parts"}
