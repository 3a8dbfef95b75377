"""The package's own names: few, sorted, imported when they are first used."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest

import vanwater
from tests.examples import PLANS
from vanwater.system.batch import PLAN_ROW, Batch


def test_names_are_sorted_and_there() -> None:
    assert vanwater.__all__ == sorted(vanwater.__all__)
    for name in vanwater.__all__:
        assert getattr(vanwater, name) is not None
        assert name in dir(vanwater)


def test_a_name_that_is_none() -> None:
    with pytest.raises(AttributeError, match="module 'vanwater' has no attribute 'colour'"):
        vanwater.colour  # noqa: B018


def test_check_is_read_and_answers_to() -> None:
    path = PLANS / "weekend-cans.toml"
    assert vanwater.check(path).headline == vanwater.answers_to(vanwater.read(path).plan).headline
    with pytest.raises(vanwater.PlanError):
        vanwater.check(Path("nowhere.toml"))


def test_importing_the_package_imports_nothing_else() -> None:
    code = "import sys, vanwater; print(sorted(name for name in sys.modules if 'vanwater' in name or name == 'numpy'))"
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True, timeout=60)
    assert done.stdout.strip() == "['vanwater']"


def test_check_imports_neither_charts_nor_templates_nor_notebooks() -> None:
    code = (
        "import sys; from vanwater.command import main; main(['check', sys.argv[1]]); "
        "print([n for n in ('jinja2', 'plotly', 'ipywidgets', 'pandas', 'scipy', 'tomlkit', 'pint') "
        "if n in sys.modules])"
    )
    plan = str(PLANS / "family-winter.toml")
    done = subprocess.run([sys.executable, "-c", code, plan], capture_output=True, text=True, check=True, timeout=60)
    assert done.stdout.strip().split("\n")[-1] == "[]"


def test_what_a_cell_ends_in_is_shown_in_one_line() -> None:
    file = vanwater.read(PLANS / "family-winter.toml")
    plan = "Plan(name='Family van, winter use', revision='4', tanks=2, pumps=1, heaters=1, outlets=3, runs=12)"
    assert repr(file.plan) == plan
    assert str(file.plan).startswith("name='Family van, winter use' revision='4' tanks=2 pumps=1")
    assert len(str(file.plan)) < len(plan)
    assert repr(file) == f"PlanFile('family-winter.toml', {plan})"
    assert repr(Batch(file.plan, [PLAN_ROW] * 3)) == f"Batch({plan}, rows=4)"
    assert "\x1b" not in repr(file.plan.changed({"van.name": "\x1b[2J"}))
