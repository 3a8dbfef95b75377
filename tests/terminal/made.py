"""Answers made by hand, and screens that write into memory: what the tests of the terminal share."""

from __future__ import annotations

import io
import re

from tests.answered import answered
from vanwater.answers.core.answer import Assumption, Caution
from vanwater.answers.core.cell import Cell
from vanwater.answers.core.finding import Finding, Verdict
from vanwater.answers.core.number import Number
from vanwater.answers.core.question import Answer
from vanwater.answers.core.statement import Amount, Range, say
from vanwater.answers.core.table import Column, Table
from vanwater.answers.core.working import stated
from vanwater.answers.questions import Answers
from vanwater.plan.model import Plan
from vanwater.quantities import DAILY_VOLUME, FLOW, PRESSURE, STAY, VOLUME
from vanwater.terminal.screen import Screen

DAY = 86400.0
ESCAPE = re.compile(r"\x1b\[[0-9;]*m")

HOSTILE = "[red]$x_1$<b>=1+1 \x1b[31m\x07\u202emoc\u202c\r\n中文タンク [/red][link=file:///]"
"""A text that is markup, formula, control code and reversed writing in one."""


def numbers_only(*rows: tuple[Cell, ...]) -> Table:
    return Table("stores", say("How long."), (Column("store"), Column("lasts", STAY), Column("holds", VOLUME)), rows)


def number(name: str, result: Amount | Range) -> Number:
    value, bracket = (result.likely, (result.low, result.high)) if isinstance(result, Range) else (result.value, None)
    told = stated(name, value, result.quantity, f"What {name} is.", source="common practice")
    return told.keyed(bracket=bracket)


def finding(key: str, verdict: Verdict, change: str = "", **more: object) -> Finding:
    told = say(change) if change else None
    return Finding(key, verdict, say("This is {key}.", key=key), change=told, **more)  # type: ignore[arg-type]


def days(likely: float, low: float, high: float) -> Range:
    return Range(low * DAY, likely * DAY, high * DAY, STAY)


def made(*answers: Answer, **van: str) -> Answers:
    plan = Plan.of({"van": {"name": "Test van", **van}, "household": {"people": 2}})
    return Answers(plan, {answer.key: answer for answer in answers})


def answer(key: str = "stay", **parts: object) -> Answer:
    given = {"verdict": say("Grey is full first, after {days}.", days=days(3.4, 2.6, 4.3)), "title": "Days off-grid"}
    return answered(key=key, **{**given, **parts})  # type: ignore[arg-type]


def rich_answer(key: str = "stay", name: str = "fresh") -> Answer:
    """An answer with something of everything."""
    return answer(
        key,
        tables=(
            numbers_only((name, days(3.4, 2.6, 4.3), Amount(0.1, VOLUME)), ("grey", days(4, 3, 5), None)),
            Table("uses", say("A day."), (Column("use"), Column("takes", DAILY_VOLUME)), ((name, Amount(1e-7, FLOW)),)),
        ),
        findings=(
            finding("a.fails", Verdict.FAILS, "Take a larger one.", gain=Amount(DAY, STAY), address="tanks.grey"),
            finding("a.watch", Verdict.WATCH, "Measure it."),
            finding("a.open", Verdict.NOT_DECIDED, "Say it."),
            finding("a.fine", Verdict.FINE),
        ),
        numbers={
            f"{key}.days.{name}": number(f"days of {name}", days(3.4, 2.6, 4.3)),
            f"{key}.pressure": number("pressure", Amount(1e5, PRESSURE)),
        },
        assumptions=(Assumption("share", say("A share is taken."), "Measure the share.", "common practice"),),
        cautions=(Caution("mild", "Mind the mild thing."), Caution("grave", "Mind the grave thing.", grave=True)),
    )


class Terminal(io.StringIO):
    """A stream that says it is a terminal."""

    def isatty(self) -> bool:
        return True


def piped(encoding: str = "utf-8", us: bool = False) -> Screen:
    return Screen.of(io.TextIOWrapper(io.BytesIO(), encoding=encoding), us)


def live(us: bool = False) -> Screen:
    return Screen.of(Terminal(), us)
