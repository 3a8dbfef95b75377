from __future__ import annotations

import numpy as np
import pytest

from tests.answered import stay
from tests.examples import NAMES, example, example_answers
from vanwater.answers.core.chart import Bars, Line, Rule, words
from vanwater.answers.questions import answers_to
from vanwater.answers.stay.answer import Stay
from vanwater.answers.stay.charts import days_of_stores, levels, litres_by_use
from vanwater.figures.data import csv
from vanwater.plan.model import Plan


def test_stores_run_out_when_the_answer_says() -> None:
    answer = stay(example("family-winter"))
    chart = levels(answer)
    assert chart is not None
    lines = [draw for draw in chart.draws if isinstance(draw, Line)]
    assert len(lines) == len(answer.stores)
    for line, store in zip(lines, answer.stores, strict=True):
        assert line.y[0] == 1
        assert np.all(np.diff(line.y) <= 0)
        if line.x[-1] == pytest.approx(store.days.likely):
            assert line.y[-1] == pytest.approx(0, abs=2e-2)
        assert line.low is not None
        assert line.high is not None
        assert np.all(line.low <= line.y + 1e-12)
        assert np.all(line.y <= line.high + 1e-12)
    assert [draw.x for draw in chart.draws if isinstance(draw, Rule)] == [answer.wanted]


@pytest.mark.parametrize("name", NAMES)
def test_each_store_has_a_bar_as_long_as_it_lasts(name: str) -> None:
    answer = example_answers(name)["stay"]
    assert isinstance(answer, Stay)
    chart = days_of_stores(answer)
    assert chart is not None
    bars, *stops = chart.bars
    by_name = {store.name: store for store in answer.stores}
    names = [words(text, "terminal") for text in bars.names]
    assert sorted(names) == sorted(by_name)
    for store, end, low, high in zip(names, bars.values, bars.low, bars.high, strict=True):
        days = by_name[store].days
        assert (end, (low, high)) == (days.likely, days.range or (days.likely, days.likely))
    told = {name: words(note, "terminal") for name, note in zip(names, bars.notes, strict=True) if note}
    first = answer.stores[0]
    assert told == {first.name: "empty first" if first.holds in ("fresh", "battery") else "full first"}
    assert [draw.x for draw in chart.draws if isinstance(draw, Rule)] == [answer.wanted]
    assert len(stops) == bool(answer.on_the_way)
    for more in stops:
        assert more.pale and more.start is not None
        assert np.array_equal(more.start, bars.values)
        ends = dict(zip(names, more.values, strict=True))
        longer = {way.store: way.stay.likely for way in answer.on_the_way}
        assert ends == {store: longer.get(store, by_name[store].days.likely) for store in names}
    assert chart.x.high is not None
    assert chart.x.high >= max(answer.days.likely, answer.wanted or 0.0)


def test_stores_stand_in_the_plans_own_order_whichever_ends_first() -> None:
    plan = example("family-winter")
    for people in (1, 4, 6):
        chart = days_of_stores(stay(plan.changed({"household.people": people})))
        assert chart is not None
        assert chart.bars[0].names == ("fresh", "grey", "battery")


def test_litres_by_use_are_those_of_the_answer() -> None:
    answer = stay(example("family-winter"))
    chart = litres_by_use(answer)
    assert chart is not None
    (bars,) = [draw for draw in chart.draws if isinstance(draw, Bars)]
    total = sum(float(use.fresh.value) for use in answer.uses)
    assert bars.values.sum() == pytest.approx(total)


@pytest.mark.parametrize("name", NAMES)
def test_every_example_has_its_charts(name: str) -> None:
    keys = [chart.key for answer in example_answers(name).values() for chart in answer.charts]
    assert keys[:5] == ["stores", "uses", "pump", "along", "budget"]
    assert len(set(keys)) == len(keys)


@pytest.mark.parametrize("name", NAMES)
def test_one_chart_alone_is_the_same_by_its_key(name: str) -> None:
    for answer in example_answers(name).values():
        every = answer.charts
        for chart in every:
            alone = answer.chart(chart.key)
            assert alone is not None
            assert (alone.key, alone.title, csv(alone)) == (chart.key, chart.title, csv(chart))
        first, asked = answer.chart(), [key for key in answer.question.on_demand if answer.chart(key) is not None]
        assert (first.key if first else None) == next(iter([*(chart.key for chart in every), *asked]), None)
        assert answer.chart("none-of-these") is None


def test_nothing_decided_draws_nothing() -> None:
    empty = Plan.of({"van": {"name": "t"}, "household": {"people": 1}})
    assert [chart for answer in answers_to(empty).values() for chart in answer.charts] == []
