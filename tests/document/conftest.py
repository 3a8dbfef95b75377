"""Plans and hand-made answers from which documents are written."""

from __future__ import annotations

import datetime as dt
import importlib.util
import sys
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from functools import cache
from pathlib import Path
from types import ModuleType
from typing import Any

import numpy as np
import pytest

from tests.answered import answered
from tests.examples import NAMES, example_answers
from vanwater.answers.core.answer import Assumption, Caution
from vanwater.answers.core.finding import Finding, Verdict, worst_first
from vanwater.answers.core.number import Number
from vanwater.answers.core.question import Answer
from vanwater.answers.core.statement import say
from vanwater.answers.core.table import Column, Table
from vanwater.answers.core.working import limit, stated, step
from vanwater.answers.questions import Answers
from vanwater.document.html import page_of, render
from vanwater.plan.file import read
from vanwater.plan.model import Plan
from vanwater.plan.tables import resource
from vanwater.quantities import (
    DAILY_VOLUME,
    DAY,
    FLOW,
    PRESSURE_DIFFERENCE,
    STAY,
    VOLUME,
    Array,
    DailyVolume,
    Quantity,
    Real,
    Stay,
    Volume,
)

DATE = dt.date(2026, 11, 25)
LITRE, PER_MINUTE, PER_DAY = 1e-3, 1e-3 / 60, 1e-3 / DAY


@dataclass(frozen=True)
class Told:
    """A plan and hand-made answers to it."""

    plan: Plan
    each: Mapping[str, Answer]
    situations: Mapping[str, Mapping[str, Answer]] = field(default_factory=dict)

    def read_in(self, us: bool) -> Told:  # noqa: ARG002 - hand-made answers stay as they are
        return self


def days(content: Volume[Real], daily: DailyVolume[Real]) -> Stay[Array]:
    """Days until a store is empty.

    Formula: V_u / q

    Parameters
    ----------
    content : float or array
        What it gives, V_u [m³].
    daily : float or array
        What is taken a day, q [m³/s].

    Returns
    -------
    array
        Days [s].

    Notes
    -----
    A steady daily mean.

    References
    ----------
    A. Author (1999), Book of Balances, equation (7).
    """
    return np.asarray(np.asarray(content) / np.asarray(daily))


def number(value: float, quantity: Quantity, *key: str) -> Number:
    """A number of its own that nothing is made of."""
    return stated(" ".join(key), value, quantity, "By counting.", source="common practice").keyed(*key)


def stay(store: str = "grey", a_day: float = 30.0) -> Answer:
    daily = stated(
        f"into {store} a day",
        a_day * PER_DAY,
        DAILY_VOLUME,
        "The uses add up.",
        parts=[
            ("shower", (0.6 * a_day * PER_DAY, DAILY_VOLUME)),
            ("dishes", (0.4 * a_day * PER_DAY, DAILY_VOLUME)),
        ],
        source="sum of the uses",
    ).keyed("tank", store, "a_day")
    lasts = step(f"days of {store}", days, content=80 * LITRE, daily=daily).keyed("tank", store, "days")
    out = stated("days off-grid", lasts.likely, STAY, "The smallest of the days.", facts=[(store, lasts)]).keyed(
        "stay", "days", bracket=(0.8 * lasts.likely, 1.3 * lasts.likely)
    )
    wanted = limit("days wanted", 4 * DAY, STAY, "the plan's own wish")
    fresh = number(4.6 * DAY, STAY, "tank", "fresh", "days").keyed(
        "tank", "fresh", "days", bracket=(3.9 * DAY, 5.2 * DAY)
    )
    return answered(
        key="stay",
        title="Days off-grid",
        verdict=say("The {store} is full first, after {stay}.", store=store, stay=out),
        tables=(
            Table(
                "stores",
                say("How long each store lasts."),
                (Column("store"), Column("usable", VOLUME), Column("lasts", STAY)),
                (
                    (store, number(80 * LITRE, VOLUME, "tank", store, "usable").amount, out.shown),
                    ("fresh", number(110 * LITRE, VOLUME, "tank", "fresh", "usable").amount, fresh.shown),
                    ("battery", None, number(np.inf, STAY, "battery", "days").amount),
                ),
                say("{litres} a person.", litres=number(0.5 * a_day * PER_DAY, DAILY_VOLUME, "person", "a_day")),
            ),
        ),
        findings=worst_first(
            (
                Finding(
                    "stay.days",
                    Verdict.FAILS,
                    say("The van can stay out {stay}; {wanted} are wanted.", stay=out, wanted=wanted),
                    value=out.shown,
                    limit=wanted.amount,
                    change=say("Hold {more} more grey water.", more=number(40 * LITRE, VOLUME, "tank", store, "lack")),
                    gain=number(1.3 * DAY, STAY, "stay", "gain").amount,
                    address=f"tanks.{store}.capacity",
                    source="the plan's own wish",
                    bound="at least",
                ),
                Finding("stay.sound", Verdict.FINE, say("The battery lasts."), source="Energy balance"),
                Finding(
                    "stay.open",
                    Verdict.NOT_DECIDED,
                    say("How the cassette is emptied is not decided."),
                    change=say("Say its capacity."),
                    address="tanks.cassette.capacity",
                ),
            )
        ),
        numbers={"stay.days": out, f"tank.{store}.days": lasts},
        assumptions=(
            Assumption(
                "habits",
                say("The habits may lie {off} off.", off=number(0.25 * a_day * PER_DAY, DAILY_VOLUME, "habits")),
                "Write down the level for a few days.",
                "common practice",
                "household.unsure",
            ),
        ),
        cautions=(Caution("grey", "Empty grey water only where it is allowed.", short="Mind where grey water goes."),),
    )


def supply(outlet: str = "shower") -> Answer:
    flow = stated(
        f"flow at the {outlet}",
        5.8 * PER_MINUTE,
        FLOW,
        "Solved for every row at once.",
        facts=[("formula", "p_pump(Q) = Σ Δp(Q)"), ("rows", "9"), ("from the pump", say("all of it"))],
        residual=(1e-6, PRESSURE_DIFFERENCE),
        source="A. Author (1999), Book of Balances, equation (7)",
    ).keyed("outlet", outlet, "flow", bracket=(5.1 * PER_MINUTE, 6.4 * PER_MINUTE))
    wanted = limit("flow wanted", 5.5 * PER_MINUTE, FLOW, "the plan")
    losses = [
        (name, number(loss, PRESSURE_DIFFERENCE, "piece", name, "loss").amount)
        for name, loss in ((outlet, 1.2e5), ("lift", -0.2e5))
    ]
    return answered(
        key="supply",
        title="What the outlets give",
        verdict=say("The {outlet} gives {flow}.", outlet=outlet, flow=flow),
        tables=(
            Table(
                "budget",
                say("Where the pressure goes with the {outlet} open.", outlet=outlet),
                (Column("piece"), Column("takes", PRESSURE_DIFFERENCE)),
                tuple(losses),
            ),
        ),
        findings=(
            Finding(
                f"outlets.{outlet}.flow",
                Verdict.WATCH,
                say("The {outlet} gives {flow}.", outlet=outlet, flow=flow),
                value=flow.shown,
                limit=wanted.amount,
                change=say("Take a wider hose."),
                gain=say("{more} more", more=number(0.4 * PER_MINUTE, FLOW, "outlet", outlet, "gain")),
                address=f"outlets.{outlet}.wanted",
                source="B. Writer (2004), Handbook of Showers, page 12",
                bound="at least",
            ),
        ),
        numbers={f"outlet.{outlet}.flow": flow},
        assumptions=stay().assumptions,
        cautions=(
            Caution("scald", "Hot water burns.", grave=True, source="C. Doctor (1947), Burns", short="Mind the heat."),
            Caution("grey", "Empty grey water only where it is allowed.", short="Mind where grey water goes."),
        ),
    )


@pytest.fixture
def family() -> Plan:
    return read(resource("data", "plans", "family-winter.toml")).plan


@pytest.fixture
def told(family: Plan) -> Told:
    """The family's van with two hand-made answers."""
    return Told(family, {"stay": stay(), "supply": supply()})


@pytest.fixture
def tell() -> Callable[..., Told]:
    """What makes such a pair of any plan, with names of its own in every answer."""

    def make(plan: Plan, store: str = "grey", outlet: str = "shower") -> Told:
        return Told(plan, {"stay": stay(store), "supply": supply(outlet)})

    return make


@pytest.fixture
def lasts() -> Callable[[], Number]:
    """What makes the same step anew."""
    return lambda: step("days of grey", days, content=80 * LITRE, daily=30 * PER_DAY)


@pytest.fixture(scope="session")
def reader() -> ModuleType:
    """The strict reader of pages beside this file."""
    spec = importlib.util.spec_from_file_location("strict_reader", Path(__file__).with_name("strict_reader.py"))
    assert spec is not None and spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    sys.modules[spec.name] = module
    spec.loader.exec_module(module)
    return module


@pytest.fixture(scope="session", params=NAMES)
def example(request: pytest.FixtureRequest) -> Answers:
    """Each example plan with its real answers."""
    return example_answers(request.param)


@pytest.fixture(scope="session")
def filed(example: Answers) -> Callable[[bool, bool], tuple[str, Any]]:
    """An example's document of one day and what its template was given, once in each system of units."""

    @cache
    def written(us: bool, charts: bool) -> tuple[str, Any]:
        return with_contents(lambda: render(example, date=DATE, us=us, charts=None if charts else {}))

    return written


def with_contents(write: Callable[[], str]) -> tuple[str, Any]:
    """A page, and what its template was given."""
    given: dict[str, Any] = {}

    def kept(*args: Any, **how: Any) -> str:
        given.update(how)
        return page_of(*args, **how)

    with pytest.MonkeyPatch.context() as patch:
        for module in ("html", "short", "card", "change_order"):
            patch.setattr(f"vanwater.document.{module}.page_of", kept)
        return write(), given["book"]


@pytest.fixture(scope="session")
def page(example: Answers, filed: Callable[[bool, bool], tuple[str, Any]]) -> Callable[..., str]:
    """An example's document of one day, written once in each system of units, with and without its charts."""
    return lambda us=example.plan.us, charts=False: filed(us, charts)[0]


@pytest.fixture(scope="session")
def tree(page: Callable[..., str], reader: ModuleType) -> Callable[..., Any]:
    """What the strict reader reads in such a page."""

    @cache
    def parsed(text: str) -> Any:
        return reader.page(text)

    return lambda **how: parsed(page(**how))
