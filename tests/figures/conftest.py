from __future__ import annotations

import importlib.util
from pathlib import Path
from types import ModuleType

import pytest

from vanwater.answers.core.chart import Chart


def _samples() -> ModuleType:
    spec = importlib.util.spec_from_file_location("charts_to_draw", Path(__file__).with_name("charts_to_draw.py"))
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


SAMPLES = _samples()


@pytest.fixture(params=SAMPLES.ALL, ids=lambda make: make.__name__)
def chart(request: pytest.FixtureRequest) -> Chart:
    """A chart of each kind."""
    made: Chart = request.param()
    return made


@pytest.fixture
def samples() -> ModuleType:
    """The makers of the charts, one by one."""
    return SAMPLES
