from __future__ import annotations

from tests.examples import example
from vanwater.answers.core.cautions import SCALD
from vanwater.answers.core.unsure import (
    BORES,
    CHARGING,
    FITTINGS,
    LOADS,
    OUTLETS,
    PUMPS,
    RUN_OFF,
    assumed,
    habits,
    rows_of,
)
from vanwater.system.batch import Batch, low_and_high

ALL = (OUTLETS, PUMPS, FITTINGS, BORES, RUN_OFF, LOADS, CHARGING)


def test_each_has_a_range_about_one_something_to_measure_and_a_source() -> None:
    for one in ALL:
        assert one.low < 1 < one.high
        assert one.measure
        assert one.source
    assert len({one.key for one in ALL}) == len(ALL)


def test_habits_follow_the_plan() -> None:
    plan = example("family-winter")
    assert (habits(plan).low, habits(plan).high) == (0.75, 1.25)
    sure = plan.changed({"household.unsure": 0.0})
    assert assumed([habits(sure)]) == ()
    assert "25" in assumed([habits(plan)])[0].statement.text()


def test_rows_are_where_the_batch_has_them() -> None:
    batch = Batch(example("family-winter"), low_and_high(ALL))
    for place, rows in enumerate(rows_of(batch, ALL)):
        assert (rows.low, rows.high) == (1 + 2 * place, 2 + 2 * place)


def test_scald_is_grave() -> None:
    assert SCALD.grave
