"""How long a chart takes to draw: a slider wants less than 50 ms; run with --benchmark-enable."""

from __future__ import annotations

import importlib.util
from pathlib import Path

import pytest
from pytest_benchmark.fixture import BenchmarkFixture

from vanwater.figures.paper import svg
from vanwater.figures.screen import figure, update, widget

_SPEC = importlib.util.spec_from_file_location(
    "charts_to_draw", Path(__file__).parents[1] / "figures" / "charts_to_draw.py"
)
assert _SPEC is not None
assert _SPEC.loader is not None
SAMPLES = importlib.util.module_from_spec(_SPEC)
_SPEC.loader.exec_module(SAMPLES)


@pytest.mark.parametrize("name", ["levels", "pump", "days"])
def test_redraw_on_paper(benchmark: BenchmarkFixture, name: str) -> None:
    chart = getattr(SAMPLES, name)()
    assert benchmark(svg, chart).startswith("<svg")


def test_describe_for_the_screen(benchmark: BenchmarkFixture) -> None:
    assert benchmark(figure, SAMPLES.levels())["data"]


def test_update_of_a_widget(benchmark: BenchmarkFixture) -> None:
    shown = widget(SAMPLES.levels())
    benchmark(update, shown, SAMPLES.levels())
    assert len(shown.data) == len(figure(SAMPLES.levels())["data"])
