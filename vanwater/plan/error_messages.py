"""From a validator's report to a problem that a builder can mend."""

from __future__ import annotations

import datetime as dt
import re
from collections.abc import Callable, Mapping
from contextlib import suppress
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from vanwater.plan.address import FieldNote, known_keys, nearest, note, part_of
from vanwater.plan.problems import Problem, joined, shown
from vanwater.plan.pump import curve_example
from vanwater.plan.tables import listed_by
from vanwater.quantities import in_us

if TYPE_CHECKING:
    from pydantic import BaseModel
    from pydantic_core import ErrorDetails

__all__ = ["Place", "place_of", "problem_of", "unknown_key"]

Place = tuple[str | int, ...]
"""Names and list positions that lead to a value."""

Told = tuple[str, str, str]
"""Message, what was expected, the likely slip."""

NAME = "letters, digits, spaces and hyphens, at most 40, the first a letter or digit"


def _points() -> str:
    return f"points of two values, as in {curve_example()}"


def place_of(detail: ErrorDetails) -> Place:
    """Where a report points, without the validator's own marks."""
    return tuple(name for name in detail["loc"] if name != "[key]")


def problem_of(model: type[BaseModel], detail: ErrorDetails) -> Problem:
    """The problem that a validator's report means.

    Parameters
    ----------
    model : type of Part
        The plan's model.
    detail : dict
        One report of the validator, other than of a clash within a part.

    Returns
    -------
    Problem
        Without its place in a file.
    """
    report = _Report(model, place_of(detail), detail.get("input"), dict(detail.get("ctx") or {}))
    told = _unnamed if "[key]" in detail["loc"] else _KINDS.get(detail["type"], _unfit)
    return Problem(joined(report.place), *told(report))


def unknown_key(model: type[BaseModel], place: Place) -> tuple[str, tuple[str, ...]]:
    """The known key that a misspelt one is most like, or an empty text, and all that are known there."""
    known = known_keys(part_of(model, place[:-1]) or model)
    return nearest(str(place[-1]), known), known


@dataclass(frozen=True, slots=True)
class _Report:
    model: type[BaseModel]
    place: Place
    value: object
    context: Mapping[str, Any]

    @property
    def name(self) -> str:
        return joined(self.place[-1:])

    @property
    def said(self) -> str:
        return shown(self.value)

    @property
    def note(self) -> FieldNote | None:
        with suppress(KeyError):
            return note(self.model, ".".join(str(name) for name in self.place))
        return None

    @property
    def wanted(self) -> str:
        """What may stand here, as the file would hold it."""
        known = self.note
        if known is None:
            return f"a value for {self.name}"
        if known.quantity is not None:
            return f'{self.name} = "{known.quantity.told_example}"'
        if known.whole is not None:
            return f"a whole number from {known.whole[0]} to {known.whole[1]}"
        if known.choices:
            return f"{self.name} = " + " or ".join(f'"{choice}"' for choice in known.choices)
        return f'{self.name} = "...", the {known.said(in_us())}'


def _unfit(report: _Report) -> Told:
    return f"{report.said} does not fit here.", report.wanted, ""


def _unnamed(report: _Report) -> Told:
    name = str(report.place[-1])
    if "expected" not in report.context:
        return f"{shown(name)} cannot be a name.", NAME, ""
    choices = tuple(re.findall(r"'([^']*)'", report.context["expected"]))
    close = nearest(name, choices)
    slip = f'Did you mean "{close}"?' if close else ""
    return f"{shown(name)} is not known here.", f"one of {', '.join(choices)}", slip


_ELSEWHERE = {("frost", "hours_driving"): "driving in [day]", ("pads", "counted"): "fed"}
"""Fields that earlier plans have, by table and field, and what says the same now."""


def _unknown(report: _Report) -> Told:
    close, known = unknown_key(report.model, report.place)
    now = _ELSEWHERE.get((str(report.place[0]), str(report.place[-1])))
    if now is not None:
        return f"{shown(str(report.place[-1]))} is not known here any more.", f"{now} instead", ""
    if report.place[-1] == "shelf":
        return '"shelf" is not known here.', "it at the top of the file, above the first table", ""
    slip = f'Did you mean "{close}"?' if close else ""
    return f"{shown(str(report.place[-1]))} is not known here.", f"one of {', '.join(known)}", slip


def _missing(report: _Report) -> Told:
    if isinstance(report.place[-1], int):
        return "A point has fewer than two values.", _points(), ""
    if len(report.place) == 1:
        return f"The plan has no table [{report.name}].", f"[{report.name}] with its values", ""
    return f'[{joined(report.place[:-1])}] says no "{report.name}".', report.wanted, ""


def _quantity(report: _Report) -> Told:
    expected = report.context["expected"]
    if isinstance(report.value, bool | Mapping | list | tuple):
        bank = report.place[0] == "battery" and isinstance(report.value, list)
        slip = (
            "One of them: equal batteries are counted by series and parallel; unlike ones make no bank." if bank else ""
        )
        return f"{report.said} stands where a text with a unit was expected.", expected, slip
    if not isinstance(report.value, str | int | float):
        return f"{report.said} is no text with a unit.", expected, ""
    return report.context["message"], expected, report.context["slip"]


def _choice(report: _Report) -> Told:
    choices = report.note.choices if report.note else ()
    close = nearest(report.value, choices) if isinstance(report.value, str) else ""
    slip = f'Did you mean "{close}"?' if close else ""
    if report.place == ("household", "habits"):
        slip = f"{slip} {listed_by('habits')}".strip()
    return f"{report.said} is not one of the choices.", " or ".join(f'"{choice}"' for choice in choices), slip


def _whole(report: _Report) -> Told:
    digits = isinstance(report.value, str) and report.value.isdecimal()
    slip = f"Write it without quotes: {report.name} = {report.said[1:-1]}." if digits else ""
    return f"{report.said} is not a whole number.", report.wanted, slip


def _bounds(report: _Report) -> Told:
    return f"{report.said} is too {'few' if 'ge' in report.context else 'many'}.", report.wanted, ""


def _yes_or_no(report: _Report) -> Told:
    expected = f"{report.name} = true or {report.name} = false, without quotes"
    return f"{report.said} is neither true nor false.", expected, ""


def _text(report: _Report) -> Told:
    plain = isinstance(report.value, int | float | dt.date) and not isinstance(report.value, bool)
    slip = f'Did you mean {report.name} = "{report.said}"?' if plain else ""
    return f"{report.said} stands where a text was expected.", "a text in quotes", slip


def _short(report: _Report) -> Told:
    return "The text is empty.", report.wanted, ""


def _long(report: _Report) -> Told:
    return f"{report.said} is too long.", f"at most {report.context['max_length']} letters", ""


def _table(report: _Report) -> Told:
    address = joined(report.place)
    doubled = isinstance(report.value, list | tuple) and part_of(report.model, report.place) is not None
    slip = f"Write [{address}] with single brackets, not [[{address}]]." if doubled else ""
    return f"{report.said} stands where a table was expected.", f"a table [{address}]", slip


def _point(report: _Report) -> Told:
    if isinstance(report.value, list | tuple):
        return "A point has more than two values.", _points(), ""
    return f"{report.said} stands where a list was expected.", _points(), ""


_KINDS: Mapping[str, Callable[[_Report], Told]] = {
    "extra_forbidden": _unknown,
    "missing": _missing,
    "quantity": _quantity,
    "literal_error": _choice,
    **dict.fromkeys(("int_type", "int_parsing", "int_from_float", "int_parsing_size", "finite_number"), _whole),
    **dict.fromkeys(("greater_than_equal", "less_than_equal"), _bounds),
    "bool_type": _yes_or_no,
    "string_type": _text,
    "string_too_short": _short,
    "string_too_long": _long,
    **dict.fromkeys(("model_type", "dict_type"), _table),
    **dict.fromkeys(("tuple_type", "too_long"), _point),
}
"""How each kind of report is told."""
