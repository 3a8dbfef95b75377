"""What every public formula holds: each element for itself, and refused exactly beyond what its docstring says.

Each is asked with the arguments of its own example.
"""

from __future__ import annotations

import csv
import dataclasses
import doctest
import inspect
import math
import sys
import warnings
from collections.abc import Callable, Mapping
from functools import cache, partial
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from tests.over import over
from tests.test_docstrings import FUNCTIONS, split

Formula = Callable[..., Any]
Edge = tuple[float, bool]

LIMITS = Path(__file__).parent / "argument_limits.csv"
"""What each argument may be beside the others of the example: [0 1) is from 0, allowed itself, to below 1."""

UNEVEN = {
    "cable.voltage_at_load: power",
    "cable.voltage_at_load: resistance",
    "cable.voltage_at_load: source",
    "pump_kinds.held_curve: holds",
    "switch_cycle.cycle_pressures: crossing",
}
"""Arguments whose limit is no plain number."""
FROM_ZERO = ("negative", "below zero", "outside 0 to 1", "at least 0")
ABOVE_ZERO = (
    "not above",
    "lie above 0",
    "not positive",
    "no mass",
    "no time",
    "no water",
    "no volume",
    "nothing",
    "no chlorine",
    "not below the limit",
)


class _Silent(doctest.DocTestRunner):
    def report_failure(self, *_: object) -> None:
        """Doctests have a run of their own."""


@cache
def examples() -> Mapping[Formula, Mapping[str, Any]]:
    """By formula the arguments of the first call in its example, those that it leaves out too."""
    calls: dict[Formula, Mapping[str, Any]] = {}

    def noted(formula: Formula, *given: Any, **named: Any) -> Any:
        call = inspect.signature(formula).bind(*given, **named)
        call.apply_defaults()
        calls.setdefault(formula, call.arguments)
        return formula(*given, **named)

    for formula in FUNCTIONS:
        module = sys.modules[formula.__module__]
        names = vars(module) | {formula.__name__: partial(noted, formula)}
        test = doctest.DocTestParser().get_doctest(inspect.getdoc(formula) or "", names, formula.__name__, None, 0)
        _Silent(verbose=False).run(test)
    return calls


def asked(formula: Formula, name: str, value: object) -> Any:
    with warnings.catch_warnings(), np.errstate(all="ignore"):
        warnings.simplefilter("ignore")
        return formula(**{**examples()[formula], name: value})


def refused(formula: Formula, name: str, value: object) -> bool:
    try:
        asked(formula, name, value)
    except ValueError:
        return True
    return False


def lone() -> list[tuple[Formula, str, float]]:
    """Those of formulas that take no curve, table, part or faces beside them."""
    plain = int | float | str
    return [
        each
        for each in numbers()
        if all(isinstance(given, plain) for given in examples()[each[0]].values())
        and "last axis" not in (each[0].__doc__ or "")
    ]


@cache
def numbers() -> tuple[tuple[Formula, str, float], ...]:
    """Every argument that may be a number or an array, with its value in the example."""
    return tuple(
        (formula, name, float(value))
        for formula, given in examples().items()
        for name, value in given.items()
        if isinstance(value, int | float) and not isinstance(value, bool)
        and "Real" in str(formula.__annotations__[name])
    )  # fmt: skip


def label(case: tuple[Formula, str, float]) -> str:
    formula, name, _ = case
    return f"{formula.__module__.rpartition('.')[2]}.{formula.__name__}: {name}"


@cache
def limits() -> tuple[tuple[str, str, Edge, Edge], ...]:
    """By formula and argument, its limits and whether they are allowed themselves, as the table holds them."""
    with LIMITS.open(encoding="utf-8", newline="") as file:
        rows = list(csv.reader(file))[1:]
    assert rows == sorted(rows)
    return tuple(
        (where, name, (float(low[1:]), low[0] == "["), (float(high[:-1]), high[-1] == "]"))
        for where, name, (low, high) in ((where, name, between.split()) for where, name, between in rows)
    )


def leaves(value: object) -> list[np.ndarray[Any, Any]]:
    """The arrays of a result, whatever holds them."""
    if dataclasses.is_dataclass(value):
        value = tuple(getattr(value, each.name) for each in dataclasses.fields(value))
    if isinstance(value, tuple | list):
        return [leaf for part in value for leaf in leaves(part)]
    return [np.asarray(value, dtype=np.float64)] if isinstance(value, int | float | np.ndarray | np.generic) else []


def test_nearly_every_formula_is_asked() -> None:
    assert len(examples()) > 0.98 * len(FUNCTIONS)
    assert len(numbers()) > len(lone()) > 500


@over(lone(), label)
def test_an_element_is_what_it_is_alone(formula: Formula, name: str, value: float) -> None:
    other = next((near for near in (1.01 * value, 0.99 * value) if not refused(formula, name, near)), value)
    alone = [leaves(asked(formula, name, each)) for each in (value, other, value)]
    beside = leaves(asked(formula, name, np.array([value, other, value])))
    for place, single in enumerate(alone):
        for whole, own in zip(beside, single, strict=True):
            part = whole[..., place] if own.ndim == 0 and whole.shape == (3,) else own
            assert own.ndim or whole.shape in ((), (3,)), whole.shape
            assert part == pytest.approx(own, rel=1e-9, abs=1e-300, nan_ok=True)


@over(lone(), label)
def test_what_is_refused_alone_is_refused_among_others(formula: Formula, name: str, value: float) -> None:
    nearly = 1e-12 * (abs(value) or 1.0)
    wrong = [each for each in (-1e6 * abs(value), -nearly, 0.0, 1.0 + 1e-9, 1e6) if refused(formula, name, each)]
    for each in wrong:
        assert refused(formula, name, np.array([value, each])), f"not refused: {value:g}, {each:g}"
        assert refused(formula, name, np.array([each, value])), f"not refused: {each:g}, {value:g}"


@over(limits())
def test_an_argument_is_refused_exactly_beyond_its_limits(where: str, name: str, low: Edge, high: Edge) -> None:
    formula, _, value = next(case for case in numbers() if label(case) == f"{where}: {name}")
    for (edge, allowed), outward in ((low, -1.0), (high, 1.0)):
        if math.isfinite(edge):
            step = outward * (1e-9 * abs(edge) or 1e-12 * abs(value) or 1e-12)
            assert refused(formula, name, edge) != allowed, f"at {edge:g}"
            assert refused(formula, name, edge + step), f"beyond {edge:g}"
            assert low[0] == high[0] or not refused(formula, name, edge - step), f"within {edge:g}"


def test_what_has_no_limits_is_never_refused() -> None:
    limited = {f"{where}: {name}" for where, name, _, _ in limits()} | UNEVEN
    free = [each for each in numbers() if label(each) not in limited]
    assert set(map(label, numbers())) >= UNEVEN and len(free) > 200
    wrong = [label(each) for each in free for value in (0.0, -each[2]) if refused(*each[:2], value)]
    assert wrong == []


@over({where for where, *_ in limits()})
def test_what_is_refused_at_zero_is_what_the_docstring_says(where: str) -> None:
    formula = next(each for each in examples() if label((each, "", 0.0)) == f"{where}: ")
    said = split(inspect.getdoc(formula) or "")[1].get("Raises", "")
    lows = {low for each, _, low, _ in limits() if each == where}
    assert ((0.0, False) in lows) <= any(word in said for word in ABOVE_ZERO), f"zero is refused: {said}"
    assert ((0.0, True) in lows) <= any(word in said for word in FROM_ZERO), (
        f"below zero is refused, zero is not: {said}"
    )
