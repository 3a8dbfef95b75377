from __future__ import annotations

import numpy as np

from tests.answered import answered
from vanwater.answers.core.chart import Axis, Bars, Chart
from vanwater.answers.core.number import Number
from vanwater.answers.core.pieces import Working
from vanwater.answers.core.question import Answer, Question
from vanwater.answers.core.statement import say
from vanwater.answers.core.table import Column, Table
from vanwater.plan.model import Plan
from vanwater.quantities import VOLUME

PLAN = Plan.of({"van": {"name": "v"}, "household": {"people": 2}})


def number(key: str, value: float = 1.0) -> Number:
    return Number(key, VOLUME, np.asarray(value), Working("By counting."), key=("tank", key))


A, B = map(number, "ab")


def test_an_answer_knows_what_was_asked_and_makes_tables_and_numbers_once() -> None:
    made: list[str] = []

    def tables() -> tuple[Table, ...]:
        made.append("tables")
        return (Table("t", say("t"), (Column("x", VOLUME),), ((A.amount,),)), Table("e", say("e"), (), ()))

    question = Question[Answer](
        key="q", title="Question", answer=lambda _: Answer(verdict=say("{b}", b=B), make_tables=tables)
    )
    answer = question.ask(PLAN)
    assert made == [] and (answer.key, answer.title, answer.label) == ("q", "Question", "Question")
    assert list(answer.numbers) == ["tank.a", "tank.b"] and answer.numbers["tank.a"] is A
    assert [table.key for table in answer.tables] == ["t"] and made == ["tables"]
    assert repr(answer) == "<Question: 1 000\N{NO-BREAK SPACE}L>".replace(" 000", "\N{NARROW NO-BREAK SPACE}000")


def test_charts_by_key_the_first_that_can_be_drawn_without_one() -> None:
    chart = Chart("b", "b", Axis("x", VOLUME), Axis("y"), (Bars("fresh", ("b",), np.array([1.0])),))
    question = Question[Answer](
        key="q",
        title="Q",
        answer=lambda _: Answer(verdict=say("v")),
        charts={"a": lambda _: None, "b": lambda _: chart},
        on_demand={"c": lambda _: chart},
    )
    answer = question.ask(PLAN)
    assert answer.charts == (chart,) and answer.chart() is chart and answer.chart("c") is chart
    assert answer.chart("a") is None and answer.chart("none") is None
    assert answered(key="k", title="t", verdict=say("v")).charts == ()
