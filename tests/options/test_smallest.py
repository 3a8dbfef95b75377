"""The smallest size that works: held against every size that is sold, each a plan of its own."""

from __future__ import annotations

import math

import pytest

from tests.examples import NAMES, example
from tests.over import over
from vanwater.answers.questions import QUESTIONS
from vanwater.options.ladder import ladder
from vanwater.options.smallest import smallest
from vanwater.plan.problems import PlanError

CASES = [
    ("family-winter", "tanks.grey", "stay.days >= 1 day"),
    ("family-winter", "tanks.fresh", None),
    ("family-winter", "pumps.pump", None),
    ("family-winter", "pumps.pump", "outlet.shower.flow <= 7 L/min"),
    ("family-winter", "accumulators.accumulator", None),
    ("family-winter", "tanks.fresh.foam", None),
    ("family-winter", "pads.grey pad", None),
    ("family-winter", "heaters.heater", None),
    ("family-winter", "runs.trunk", "outlet.shower.flow >= 6.8 L/min"),
    ("long-stay-dry-toilet", "runs.cold line", None),
    ("long-stay-dry-toilet", "tanks.urine container", None),
    ("touring-campsites", "tanks.fresh", None),
    ("weekend-cans", "battery", "battery.days_without_charge >= 4 days"),
]


@over(CASES)
def test_it_is_the_smallest_of_all_that_are_sold(name: str, address: str, wish: str | None) -> None:
    plan = example(name)
    told = smallest(plan, address, wish)
    first, before = None, None
    for size, tried in zip(ladder(plan, address).sizes, told.tried, strict=True):
        assert size.name == tried.name
        try:
            number = QUESTIONS[told.wish.question].ask(plan.changed(size.values)).numbers.get(told.wish.key)
        except PlanError:
            assert tried.problem and not tried.met
            before = size.name if first is None else before
            continue
        value = math.nan if number is None else number.likely
        assert tried.value == pytest.approx(value, rel=1e-12, nan_ok=True)
        limit = told.wish.limit.likely
        met = value >= limit * (1 - 1e-9) if told.wish.bound == "at least" else value <= limit + 1e-9 * abs(limit)
        assert tried.met == met
        if met and first is None:
            first = size.name
        elif first is None:
            before = size.name
    assert (told.size.name if told.size else None) == first
    assert (told.smaller.name if told.smaller else None) == (before if first else None)
    if told.size is not None and told.overlay is not None:
        assert told.overlay.plan(plan) == plan.changed(told.size.values)
        assert told.size.met and (told.smaller is None or not told.smaller.met)


def test_the_bracket_is_told_with_both_numbers_and_their_ranges() -> None:
    told = smallest(example("touring-campsites"), "tanks.fresh")
    assert told.size is not None and told.smaller is not None
    assert told.size.number is not None and told.size.number.range is not None
    text = told.sentence.text().replace("\N{NO-BREAK SPACE}", " ")
    assert text.startswith(f"{told.size.name} is the smallest for fresh tank that does: ")
    assert f"{told.smaller.name} gives " in text and "wished is at least 2 days" in text


def test_where_nothing_meets_it_the_best_is_told_with_what_it_reaches() -> None:
    told = smallest(example("family-winter"), "tanks.grey", "stay.days >= 9 days")
    assert told.size is None and told.smaller is None and told.overlay is None
    assert told.best is not None and told.best.name == "grey tank 90 L"
    text = told.sentence.text().replace("\N{NO-BREAK SPACE}", " ")
    assert "Nothing that is sold for grey tank does" in text and "the best, grey tank 90 L, gives 2.5 days" in text


def test_where_larger_is_not_better_that_is_told() -> None:
    """A narrow pipe gives less flow and a wide one more: a flow of at most so much is lost again."""
    told = smallest(example("family-winter"), "pumps.pump", "outlet.shower.flow <= 7 L/min")
    assert told.monotone and told.lost_again == ("large diaphragm pump",)
    assert "Larger is not always better here: not with large diaphragm pump." in told.sentence.text()


@over(NAMES)
def test_a_stay_never_gets_shorter_with_a_larger_tank(name: str) -> None:
    plan = example(name)
    for tank in plan.tanks:
        told = smallest(plan, f"tanks.{tank}", "stay.days >= 1 day")
        assert told.monotone and told.lost_again == ()


def test_the_table_and_the_frame_hold_every_size() -> None:
    told = smallest(example("family-winter"), "tanks.grey", "stay.days >= 2 days")
    assert [row[0] for row in told.table.rows] == [each.name for each in told.tried]
    assert told.table.text().splitlines()[-1].endswith("yes")
    frame = told.frame()
    assert frame.loc["grey tank 90 L", "size [L]"] == pytest.approx(90.0)
    assert frame["meets it"].tolist() == [False, False, False, True]
    assert told.frame(si=True).loc["grey tank 90 L", "size [m³]"] == pytest.approx(0.09)
    assert "size [gal]" in told.frame(us=True)
    assert repr(told).startswith("<grey tank 90 L is the smallest") and "<table" in told._repr_html_()
