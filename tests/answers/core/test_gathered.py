from __future__ import annotations

import numpy as np
import pytest

from vanwater.answers.core.chart import Axis, Bars, Chart
from vanwater.answers.core.finding import Finding, Verdict
from vanwater.answers.core.gathered import by_key, numbers_in, together
from vanwater.answers.core.number import Number
from vanwater.answers.core.pieces import Working
from vanwater.answers.core.statement import say
from vanwater.answers.core.table import Column, Table
from vanwater.plan.model import Plan
from vanwater.quantities import VOLUME

PLAN = Plan.of({"van": {"name": "v"}, "household": {"people": 2}})


def number(key: str, value: float = 1.0) -> Number:
    return Number(key, VOLUME, np.asarray(value), Working("By counting."), key=("tank", key))


A, B, C, D, E, F = map(number, "abcdef")


def test_every_number_that_is_shown_is_found() -> None:
    table = Table("t", say("t"), (Column("x"), Column("y", VOLUME)), (("x", C.amount), (say("{n}", n=D), None)))
    finding = Finding("k", Verdict.FINE, say("{all}", all=(A, say("{b}", b=B))), value=E.shown, limit=F.amount)
    assert list(numbers_in(finding, table)) == [A, B, E, F, C, D]
    chart = Chart("c", say("{n}", n=A), Axis("x", VOLUME), Axis("y"), (Bars.of("fresh", ("b",), (B,)),))
    assert list(numbers_in(chart)) == [A, B]
    assert list(numbers_in("text", 3, None, say("no number"))) == []


def test_numbers_stand_by_the_alphabet_and_no_thing_is_held_twice() -> None:
    assert list(by_key((C, A), (B, A))) == ["tank.a", "tank.b", "tank.c"]
    assert list(by_key((number("a"), A))) == ["tank.a"]
    with pytest.raises(ValueError, match=r"tank\.a: held twice"):
        by_key((A, number("a", 2.0)))


def test_a_thing_that_two_answers_show_is_held_by_the_one_that_knows_its_range() -> None:
    ranged = number("a").keyed("tank", "a", bracket=(0.5, 2.0))
    for several in (({"tank.a": A}, {"tank.a": ranged}), ({"tank.a": ranged}, {"tank.a": A})):
        assert together(several)["tank.a"] is ranged
    with pytest.raises(ValueError, match=r"tank\.a: held twice"):
        together(({"tank.a": A}, {"tank.a": number("a", 2.0)}))
