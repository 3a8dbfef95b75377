"""Published values beside the physics' own: rows of ``data/validation/*.csv``, each with its source."""

from __future__ import annotations

import csv
import importlib
import inspect
import json
import typing
from collections.abc import Mapping
from dataclasses import replace
from typing import Any

import numpy as np

from vanwater.answers.core.cell import Cell
from vanwater.answers.core.statement import Amount, say
from vanwater.answers.core.table import Column, Table
from vanwater.panels import markup
from vanwater.panels.pieces import Shown
from vanwater.plan.tables import resource
from vanwater.quantities import RATIO, SHARE, Quantity, Unit

__all__ = ["agrees", "published", "reckoned", "rows_of"]

Row = Mapping[str, str]

_AS_PRINTED = 1e-6
_OTHER_UNITS = {"N (g = 9.81 m/s²)": 1 / 9.81}
"""Units of sources that no quantity knows, in its SI unit: loads printed as forces."""


def published(subject: str, *ids: str) -> Shown:
    """Published values and the same from the physics, side by side.

    Parameters
    ----------
    subject : str
        Which file of ``data/validation``: "accumulator".
    *ids : str
        Which of its rows; all without one.

    Returns
    -------
    Shown
        A table.
    """
    columns = ("number", "published", "here", "may differ by", "", "source")
    table = Table(
        "published",
        say("Published values, in the units of their sources."),
        tuple(Column(heading) for heading in columns),
        tuple(_cells(row) for row in rows_of(subject, *ids)),
    )
    return Shown(table.html(), table.text())


def rows_of(subject: str, *ids: str) -> tuple[Row, ...]:
    """Rows of published values.

    Parameters
    ----------
    subject : str
        Which file of ``data/validation``.
    *ids : str
        Which of its rows; all without one.

    Returns
    -------
    tuple of mapping
        In the order of the ids.

    Raises
    ------
    KeyError
        When there is no such row.
    """
    text = resource("data", "validation", f"{subject}.csv").read_text(encoding="utf-8")
    known = {row["id"]: row for row in csv.DictReader(text.splitlines(), strict=True)}
    missing = [name for name in ids if name not in known]
    if missing:
        raise KeyError(f"{subject}.csv has no row {', '.join(missing)}; it has {', '.join(known)}.")
    return tuple(known[name] for name in ids or known)


def reckoned(row: Row) -> float:
    """The physics' own value of a row, in the row's unit.

    Parameters
    ----------
    row : mapping
        One of :func:`rows_of`.

    Returns
    -------
    float
        Value in the unit that the source prints.
    """
    value, kind = _computed(row["function"], json.loads(row["inputs"]))
    single, unit = float(np.asarray(value)), row["unit"]
    if unit in _OTHER_UNITS:
        return single / _OTHER_UNITS[unit]
    return single if kind is None or not unit else float(kind.spellings[unit].from_si(single))


def agrees(row: Row, here: float) -> bool:
    """Whether a value lies as near to the published one as the row asks."""
    low, high = _ends(row)
    return low <= here <= high


def _ends(row: Row) -> tuple[float, float]:
    if row["tolerance_kind"] == "inside":
        low, high = map(float, row["expected"].split(" to "))
        return low, high
    expected, within = float(row["expected"]), float(row["tolerance"])
    margin = within * (abs(expected) if row["tolerance_kind"] == "rel" else 1.0)
    return expected - margin, expected + margin


def _cells(row: Row) -> tuple[Cell, ...]:
    here, unit = reckoned(row), row["unit"]
    ends = [_printed(float(end), unit) for end in row["expected"].split(" to ")]
    expected = ends[0] if len(ends) == 1 else say("{low} to {high}", low=ends[0], high=ends[1])
    what = f"{row['title']}: {row['quantity']}"
    return (what, expected, _printed(here, unit), _margin(row), markup.agreement(agrees(row, here)), _source(row))


def _printed(value: float, unit: str) -> Amount:
    """A number in the unit that its source prints, whatever we show such numbers in."""
    return Amount(value, replace(RATIO, metric=unit, us=unit, spellings={unit: Unit(1.0)}))


def _source(row: Row) -> str:
    """Where a value comes from, and how it was read where nobody saw it printed."""
    basis = row["value_basis"]
    return row["source"] if basis.startswith("seen") else f"{row['source']} ({basis})"


def _margin(row: Row) -> Amount | None:
    """How far a value may lie off: nothing is said where it must lie inside, or be as printed."""
    within = float(row["tolerance"] or 0.0)
    if row["tolerance_kind"] == "inside" or within <= _AS_PRINTED:
        return None
    return Amount(within, SHARE) if row["tolerance_kind"] == "rel" else _printed(within, row["unit"])


def _computed(function: str, inputs: Mapping[str, Any]) -> tuple[Any, Quantity | None]:
    """What the physics gives by a dotted name, and what kind of number it is.

    The name is that of a constant, of a function, or of a function and a field of the record that it returns.
    """
    dotted, _, field = function.partition(":")
    module_name, _, name = dotted.rpartition(".")
    module = importlib.import_module(f"vanwater.physics.{module_name}")
    member = getattr(module, name)
    if not callable(member):
        return member, _kind(typing.get_type_hints(module, include_extras=True)[name])
    hints = typing.get_type_hints(member, include_extras=True)
    result = member(**{key: _given(value, hints.get(key)) for key, value in inputs.items()})
    if field:
        record = typing.get_type_hints(type(result), include_extras=True)
        return getattr(result, field), _kind(record[field])
    return result, None if inspect.isclass(member) else _kind(hints["return"])


def _given(value: Any, annotation: Any) -> Any:
    """An input as the function takes it: SI, a number with a unit, a list, or a step worked out first."""
    if isinstance(value, Mapping):
        return _computed(value["function"], value["inputs"])[0]
    if isinstance(value, list):
        parts = [_given(part, annotation) for part in value]
        return np.array(parts) if all(isinstance(part, int | float | np.number) for part in parts) else parts
    kind = _kind(annotation)
    if isinstance(value, str) and kind is not None:
        amount, _, unit = value.partition(" ")
        return kind.spellings[unit].to_si(float(amount))
    return float(value) if isinstance(value, int) and not isinstance(value, bool) else value


def _kind(annotation: Any) -> Quantity | None:
    """The quantity that an annotation carries, also inside a union."""
    quantities = (part for part in getattr(annotation, "__metadata__", ()) if isinstance(part, Quantity))
    return next(quantities, None) or next(filter(None, map(_kind, typing.get_args(annotation))), None)
