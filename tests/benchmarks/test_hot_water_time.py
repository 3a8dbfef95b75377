"""How long a day of hot water takes, one plan and two hundred in a batch: figures, no verdict."""

from __future__ import annotations

from typing import Any

import pytest

from tests.examples import example
from vanwater.system.batch import Batch, Row
from vanwater.system.hot_water_day import hot_water_day


@pytest.mark.parametrize("rows", [1, 200])
def test_a_day_of_hot_water(benchmark: Any, rows: int) -> None:
    plan, step = example("family-winter"), 5e-3 / rows
    designs = [Row(f"{place}", {"heaters.heater.volume": 5e-3 + step * place}) for place in range(rows - 1)]
    day = benchmark(lambda: hot_water_day(Batch(plan, designs), "heater"))
    assert day.heated.shape == (rows,)
