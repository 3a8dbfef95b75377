"""The physics by one door: every public name, imported when it is first used, looking at its arguments."""

from __future__ import annotations

import ast
import importlib
import inspect
import pickle
import subprocess
import sys
import warnings
from pathlib import Path

import pytest

import vanwater
from tests.net.plans import raw_plans
from tests.over import over
from tests.physics import stub
from vanwater import physics
from vanwater.answers.questions import answers_to
from vanwater.plan.model import Plan
from vanwater.quantities.believable import OutOfRangeWarning

NAMES = [(module, name) for module, names in stub.names().items() for name in names]


def run(code: str) -> str:
    return subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True, timeout=60).stdout


def test_the_list_is_that_of_the_modules() -> None:
    assert stub.FILE.read_text(encoding="utf-8") == stub.text(), "run: python -m tests.physics.stub"
    assert len(NAMES) > 200


def test_a_name_means_one_thing() -> None:
    things: dict[str, list[object]] = {}
    for module in stub.MODULES:
        home = importlib.import_module(f"vanwater.physics.{module}")
        for name in home.__all__:
            things.setdefault(name, []).append(getattr(home, name))
    assert [name for name, each in things.items() if any(thing is not each[0] for thing in each)] == []


@over(NAMES, ".".join)
def test_every_public_name_is_there_and_completes(module: str, name: str) -> None:
    thing, own = getattr(physics, name), getattr(importlib.import_module(f"vanwater.physics.{module}"), name)
    assert name in dir(physics)
    assert getattr(thing, "__wrapped__", thing) is own
    assert inspect.isfunction(own) == hasattr(thing, "__wrapped__")
    assert pickle.loads(pickle.dumps(thing)) == thing


@pytest.mark.parametrize("module", stub.MODULES)
def test_a_module_keeps_its_name(module: str) -> None:
    assert getattr(physics, module) is importlib.import_module(f"vanwater.physics.{module}")
    assert module in dir(physics)


def test_a_name_that_is_none_of_them() -> None:
    with pytest.raises(AttributeError, match=r"module 'vanwater\.physics' has no attribute 'frictionloss'"):
        physics.frictionloss  # type: ignore[attr-defined]  # noqa: B018
    with pytest.raises(ImportError, match="cannot import name 'frictionloss'"):
        exec("from vanwater.physics import frictionloss")


def test_nothing_is_imported_before_it_is_used() -> None:
    loaded = "print(sorted(n for n in sys.modules if n.startswith('vanwater') or n == 'numpy'))"
    assert run(f"import sys, vanwater.physics; {loaded}").strip() == "['vanwater', 'vanwater.physics']"
    after = run(f"import sys, vanwater; vanwater.physics.vapour_pressure; {loaded}")
    assert "vanwater.physics.water" in after
    assert "vanwater.physics.friction" not in after
    assert "vanwater.plan" not in after


def test_pydoc_shows_the_contents_page_and_no_function() -> None:
    page = subprocess.run(
        [sys.executable, "-m", "pydoc", "vanwater.physics"], capture_output=True, text=True, check=True, timeout=60
    ).stdout
    assert "friction         velocity, Reynolds number, friction factor" in page
    assert "friction_loss(" not in page
    assert page.count("\n") < 200


def test_a_slip_is_told_by_this_door_and_not_by_the_module() -> None:
    with pytest.raises(OutOfRangeWarning, match=r"velocity: bore = 12 m .* Did you mean 12 mm, which is 0\.012 m\?"):
        physics.velocity(1e-4, 12)
    assert physics.friction.velocity(1e-4, 12) > 0
    assert physics.joukowsky(1000.0, 1200.0, 1.0) > 0, "no wave is too fast"


def test_the_floors_above_take_a_formula_from_its_module() -> None:
    files = sorted(Path(vanwater.__file__).parent.rglob("*.py"))
    nodes = [(file, node) for file in files for node in ast.walk(ast.parse(file.read_text(encoding="utf-8")))]
    taken = [
        (file.name, alias.name)
        for file, node in nodes
        if isinstance(node, ast.ImportFrom) and node.module == "vanwater.physics"
        for alias in node.names
    ]
    assert len(taken) > 5
    assert [pair for pair in taken if pair[1] not in stub.MODULES and not pair[1].startswith("_")] == []


def test_the_example_vans_stay_within_what_is_believable(monkeypatch: pytest.MonkeyPatch) -> None:
    faces = {face.__wrapped__: face for _, name in NAMES if hasattr(face := getattr(physics, name), "__wrapped__")}
    plans = [Plan.of(raw, file=True) for raw in list(raw_plans().values())[:10]]
    places = [vars(module) for name, module in list(sys.modules.items()) if name.startswith("vanwater.")]
    count = 0
    for place in places:
        for name, thing in list(place.items()):
            if inspect.isfunction(thing) and thing in faces:
                monkeypatch.setitem(place, name, faces[thing])
                count += 1
    assert count > 200
    with warnings.catch_warnings(record=True) as told:
        warnings.simplefilter("always")
        for plan in plans:
            answers_to(plan)
    functions = {str(warning.message).partition(":")[0] for warning in told}
    assert functions == {"k_from_loss"}, "asked at 1 m³/s by the system, to make a K of any loss"
