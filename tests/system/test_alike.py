from __future__ import annotations

import numpy as np
import pytest

from tests.examples import example
from vanwater.quantities import Array
from vanwater.system import hot_water_day as followed
from vanwater.system.alike import followed_once
from vanwater.system.batch import Batch, Row

CALLS: list[tuple[int, ...]] = []
COLUMNS = np.array([[1.0, 3.0, 1.0, 1.0, np.nan, np.nan], [2.0, 4.0, 2.0, 5.0, 6.0, 6.0]])


def summed(columns: Array, factor: float) -> Array:
    CALLS.append(columns.shape)
    return factor * columns.sum(axis=0)


def test_rows_that_are_alike_are_followed_once_and_told_each() -> None:
    CALLS.clear()
    for factor in (2.0, 2.0, 3.0):
        sums, back = followed_once(summed, COLUMNS, factor)
        assert sums[back] == pytest.approx(factor * COLUMNS.sum(axis=0), rel=0, nan_ok=True)
    assert CALLS == [(2, 4), (2, 4)]  # one for each factor; not known is like not known
    more, back = followed_once(summed, COLUMNS[:, :1], 2.0)
    assert (more[back].tolist(), CALLS[-1]) == ([6.0], (2, 1))


def test_what_is_followed_cannot_write_into_what_is_kept() -> None:
    def longer(columns: Array) -> Array:
        columns[0] += 1.0
        return columns[0]

    first, _ = followed_once(longer, COLUMNS[:, :2])
    again, _ = followed_once(longer, COLUMNS[:, :2])
    assert first is again and COLUMNS[0, 0] == 1.0


def test_a_day_is_followed_anew_only_where_it_draws_otherwise(monkeypatch: pytest.MonkeyPatch) -> None:
    plan, runs = example("family-winter"), []
    (heater,) = plan.heaters
    day = followed.hot_water_day(Batch(plan), heater)

    def counted(*given: object) -> object:
        runs.append(given)
        return real(*given)  # type: ignore[arg-type]

    real = followed.heater_run
    monkeypatch.setattr(followed, "heater_run", counted)
    longer = followed.hot_water_day(Batch(plan.changed({"tanks.grey.length": "1.1 m"})), heater)
    assert day is not None and longer is not None and not runs
    assert longer.heated.tobytes() == day.heated.tobytes()
    warmer = followed.hot_water_day(Batch(plan, [Row("hot", {f"heaters.{heater}.set_point": 345.0})]), heater)
    assert runs and warmer is not None and warmer.heated[1] > warmer.heated[0] == day.heated[0]
