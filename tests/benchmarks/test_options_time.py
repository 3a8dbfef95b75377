"""How long a comparison, a tornado and the smallest size take: figures, no verdict."""

from __future__ import annotations

from typing import Any

import pytest

from tests.examples import example
from vanwater.options.smallest import smallest
from vanwater.options.tornado import tornado
from vanwater.options.variants import compare
from vanwater.plan.model import Plan
from vanwater.plan.overlay import Overlay

OVERLAYS = [
    Overlay("longer", {"tanks.grey.length": "1.1 m"}),
    Overlay("no accumulator", {"accumulators.accumulator": None}),
    Overlay("diesel", {"heaters.heater.source": "diesel", "heaters.heater.volts": None}),
    Overlay("foam", {"tanks.fresh.foam": "40 mm"}),
]


def fresh() -> Plan:
    """A plan that was never asked."""
    return Plan.of(example("family-winter").own)


def test_four_variants_beside_a_plan(benchmark: Any) -> None:
    asked = benchmark.pedantic(lambda plan: compare(plan, OVERLAYS).lines, setup=lambda: ((fresh(),), {}), rounds=10)
    assert any(line.headline for line in asked)


@pytest.mark.parametrize("key", ["stay.days", "outlet.shower.flow", "tank.fresh.lowest_cold.parked"])
def test_a_tornado(benchmark: Any, key: str) -> None:
    assert benchmark.pedantic(tornado, setup=lambda: ((fresh(), key), {}), rounds=10).bars


@pytest.mark.parametrize("address", ["tanks.grey", "tanks.fresh.foam", "pumps.pump"])
def test_the_smallest_size(benchmark: Any, address: str) -> None:
    assert benchmark.pedantic(smallest, setup=lambda: ((fresh(), address), {}), rounds=10).tried
