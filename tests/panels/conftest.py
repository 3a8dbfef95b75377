"""Panels under test: a callback that fails by mistake raises; plans lie in a folder of their own."""

from __future__ import annotations

import shutil
from dataclasses import replace
from functools import lru_cache
from pathlib import Path

import pytest

from vanwater.panels import guard
from vanwater.plan.file import PlanFile, read
from vanwater.plan.tables import resource

EXAMPLES = tuple(sorted(path.stem for path in resource("data", "plans").glob("*.toml")))


@pytest.fixture(autouse=True)
def strict(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(guard, "STRICT", True)


@lru_cache
def _as_read(name: str) -> PlanFile:
    return read(resource("data", "plans", f"{name}.toml"))


def example_file(name: str) -> PlanFile:
    """An example that is read once for all tests, and nothing worked out of its plan yet."""
    file = _as_read(name)
    return replace(file, plan=file.plan.twin())


@pytest.fixture
def family() -> PlanFile:
    return example_file("family-winter")


@pytest.fixture(params=EXAMPLES)
def example(request: pytest.FixtureRequest) -> PlanFile:
    return example_file(request.param)


@pytest.fixture
def own_file(tmp_path: Path) -> PlanFile:
    """A copy that may be written into."""
    path = tmp_path / "van.toml"
    shutil.copyfile(resource("data", "plans", "family-winter.toml"), path)
    return read(path)
