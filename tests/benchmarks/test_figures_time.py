"""How long a chart takes to draw: a slider wants less than 50 ms; run with --benchmark-enable."""

from __future__ import annotations

import importlib.util
from pathlib import Path

import pytest
from pytest_benchmark.fixture import BenchmarkFixture

from vanwater.figures.drawing import drawing
from vanwater.figures.screen import figure

_SPEC = importlib.util.spec_from_file_location(
    "charts_to_draw", Path(__file__).parents[1] / "figures" / "charts_to_draw.py"
)
assert _SPEC is not None
assert _SPEC.loader is not None
SAMPLES = importlib.util.module_from_spec(_SPEC)
_SPEC.loader.exec_module(SAMPLES)


@pytest.mark.parametrize("name", ["levels", "pump", "days"])
def test_redraw(benchmark: BenchmarkFixture, name: str) -> None:
    chart = getattr(SAMPLES, name)()
    assert benchmark(drawing, chart).startswith("<svg")


def test_describe_for_the_screen(benchmark: BenchmarkFixture) -> None:
    assert benchmark(figure, SAMPLES.levels())["data"]
