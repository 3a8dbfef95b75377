"""Long records are made by keyword, nothing hands back five values without names, and names say what they hold."""

from __future__ import annotations

import ast
import importlib
from dataclasses import fields, is_dataclass
from pathlib import Path

import pytest

from tests.over import over
from tests.test_floors import FILES, MODULES, PACKAGE, name_of

LONG = 7
"""Fields from which on a record is made by keyword only."""

WIDE = 5
"""Values from which on a bare tuple is a record."""

BY_PLACE = {"figures.sheet.Word", "panels.worked.Worked", "quantities.quantity.Quantity"}
"""Records that may still be made by place; none may join them. A quantity is a row of the vocabulary's table."""

EMPTY = {"one", "found", "made"}
"""What no local is called on the floors of which this is held."""

NAMED = ("quantities", "physics", "system")

FREE = ("answers",)
"""Floors whose records may still be made by place."""


def records(file: Path) -> dict[str, type]:
    """The dataclasses that a module makes, by their name below the package."""
    module = importlib.import_module(name_of(file))
    own = {name: kind for name, kind in vars(module).items() if getattr(kind, "__module__", "") == module.__name__}
    return {
        f"{module.__name__.removeprefix('vanwater.')}.{name}": kind
        for name, kind in own.items()
        if isinstance(kind, type) and is_dataclass(kind)
    }


RECORDS = {name: kind for file in MODULES for name, kind in records(file).items()}
LONG_ONES = [
    name
    for name, kind in RECORDS.items()
    if name.partition(".")[0] not in FREE and sum(field.init for field in fields(kind)) >= LONG
]


def by_keyword(record: type) -> bool:
    return all(field.kw_only for field in fields(record) if field.init)


def test_the_walk_finds_the_records() -> None:
    assert len(RECORDS) > 100 and len(LONG_ONES) > 30
    assert {"system.ways.Way", "physics.pipe_loss.Pipe", "plan.tables.PipeRow"} <= set(LONG_ONES)


@pytest.mark.parametrize("name", LONG_ONES)
def test_a_long_record_is_made_by_keyword(name: str) -> None:
    assert by_keyword(RECORDS[name]) != (name in BY_PLACE), "by place, or an exception that is none any more"


def test_exceptions_are_real() -> None:
    assert set(LONG_ONES) >= BY_PLACE


@over(FILES)
def test_no_function_hands_back_many_values_without_names(file: Path) -> None:
    tree = ast.parse((PACKAGE / file).read_text(encoding="utf-8"))
    told = [(node.name, node.returns) for node in ast.walk(tree) if isinstance(node, ast.FunctionDef) and node.returns]
    wide = [
        f"{name} -> {ast.unparse(part)}"
        for name, returns in told
        for part in ast.walk(returns)
        if isinstance(part, ast.Subscript) and ast.unparse(part.value) == "tuple"
        if isinstance(part.slice, ast.Tuple) and len(part.slice.elts) >= WIDE
    ]
    assert wide == []


@over(file for file in FILES if file.parts[0] in NAMED)
def test_locals_say_what_they_hold(file: Path) -> None:
    tree = ast.parse((PACKAGE / file).read_text(encoding="utf-8"))
    stored = {node.id for node in ast.walk(tree) if isinstance(node, ast.Name) and isinstance(node.ctx, ast.Store)}
    assert not EMPTY & (stored | {node.arg for node in ast.walk(tree) if isinstance(node, ast.arg)})
