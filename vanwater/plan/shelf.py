"""The builder's own shelf: a TOML or CSV file of parts beside the plan, used by their names like the stock."""

from __future__ import annotations

import csv
import re
import tomllib
from collections.abc import Iterator, Mapping
from dataclasses import replace
from pathlib import Path
from typing import Any

from vanwater.plan.address import nearest, part_of, stand_in
from vanwater.plan.model import Plan
from vanwater.plan.not_toml import not_toml, too_deep
from vanwater.plan.problems import PlanError, Problem, joined, shown
from vanwater.plan.raw import copied
from vanwater.plan.statements import lines_by_address, nearest_line, statements
from vanwater.plan.stock import SINGLE, STOCKED, Notes, Parts, Shelf, StockPart, generic, stock_part
from vanwater.plan.tables import fittings
from vanwater.plan.validation import validated

__all__ = ["no_shelf", "shelf_of"]

BASIS = "the builder's own shelf"


def no_shelf(name: str, folder: Path) -> Problem | None:
    """The problem of a shelf that is not there.

    Parameters
    ----------
    name : str
        The file as the plan names it.
    folder : Path
        Folder of the plan.

    Returns
    -------
    Problem or None
        At the plan's "shelf"; None where there is such a file.
    """
    if name.strip() and (folder / name).exists():
        return None
    beside = nearest(name, tuple(other.name for kind in ("*.toml", "*.csv") for other in folder.glob(kind)))
    slip = f"Did you mean {shown(beside)}?" if beside else ""
    expected = 'a TOML or CSV file beside the plan, as in shelf = "my-shelf.toml"'
    return Problem("shelf", f"There is no file {shown(name)}.", expected, slip)


def shelf_of(name: str, written: str) -> Shelf:
    """The parts that a shelf's file holds.

    Parameters
    ----------
    name : str
        The file as the plan names it; one that ends in ".csv" has a line for each part, with its "table", its "name"
        and a column for each field.
    written : str
        Its text.

    Returns
    -------
    Shelf
        Its parts.

    Raises
    ------
    PlanError
        With every problem, its file and line.
    """
    file = Path(name).name
    raw, lines = _from_csv(written, file) if file.lower().endswith(".csv") else _from_toml(written, file)
    parts, problems = _parts(raw)
    problems += _shadowing(raw)
    problems += _currencies(raw)
    if problems:
        raise PlanError(problem.at(file, nearest_line(lines, problem.address)) for problem in problems)
    return Shelf(name, parts)


_CURRENCIES = {"€": "EUR", "EUR": "EUR", "$": "USD", "USD": "USD"}


def _currencies(raw: Mapping[str, Any]) -> Iterator[Problem]:
    """Prices in another currency than the first that is named: together they would be no sum."""
    first = ""
    for table, entries in raw.items():
        for name, part in entries.items() if isinstance(entries, Mapping) else ():
            said = str(part.get("price", "")) if isinstance(part, Mapping) else ""
            named = next((code for sign, code in _CURRENCIES.items() if said.strip().endswith(sign)), "")
            first = first or named
            if named and named != first:
                message = f"{shown(said)} and a price in {first} cannot be added up."
                yield Problem(joined((table, name, "price")), message, f"all prices of a shelf in {first}")


def _from_toml(written: str, name: str) -> tuple[dict[str, Any], Mapping[str, int]]:
    deep = too_deep(written)
    if deep is not None:
        raise PlanError([deep.at(name, deep.line)])
    try:
        raw = tomllib.loads(written)
    except ValueError as error:
        problem = not_toml(written, str(error))
        raise PlanError([problem.at(name, problem.line)]) from None
    return raw, lines_by_address(statements(written))


COLUMNS = ("table", "name")
_WHOLE = re.compile(r"[+-]?\d{1,9}")


def _from_csv(written: str, name: str) -> tuple[dict[str, Any], Mapping[str, int]]:
    first = written.partition("\n")[0]
    rows = csv.reader(written.splitlines(), delimiter=";" if first.count(";") > first.count(",") else ",", strict=True)
    raw: dict[str, Any] = {}
    lines: dict[str, int] = {}
    problems: list[Problem] = []
    heads: list[str] = []
    line = 1
    try:
        for row in rows:
            cells = [cell.strip() for cell in row]
            line, here = rows.line_num + 1, line
            if not any(cells) or cells[0].startswith("#"):
                continue
            if not heads:
                heads = cells
                missing = [head for head in COLUMNS if head not in heads]
                if missing:
                    message = f"The first line names no column {shown(missing[0])}."
                    slip = "A field of the part stands in each other column: volume, power, price, mass."
                    problems.append(Problem("", message, "table,name and the fields", slip).at(name, here))
                    break
                continue
            if len(cells) > len(heads):
                message = f"The line has {len(cells)} cells under {len(heads)} headings."
                slip = "A text with a comma stands in double quotes."
                problems.append(Problem("", message, "a cell for each heading", slip).at(name, here))
                continue
            said = {head: _cell(cell) for head, cell in zip(heads, cells, strict=False) if cell and head}
            kind, part = str(said.pop("table", "")), str(said.pop("name", ""))
            place = joined((kind, part))
            if not kind or not part:
                empty = COLUMNS[0] if not kind else COLUMNS[1]
                problems.append(Problem("", f"The line says no {empty}.", "table and name of a part").at(name, here))
            elif place in lines:
                message = f"[{place}] stands twice: first in line {lines[place]}."
                slip = "Give one of the two another name."
                problems.append(Problem(place, message, "each name once", slip).at(name, here))
            else:
                lines[place] = here
                lines.setdefault(kind, here)
                raw.setdefault(kind, {})[part] = said
    except csv.Error as error:
        problems.append(Problem("", f"The line cannot be read as CSV: {error}.", "cells with commas").at(name, line))
    if problems:
        raise PlanError(problems)
    return raw, lines


def _cell(cell: str) -> object:
    """What a cell says: true, false, a whole number, a pump's points, or a text."""
    if cell in ("true", "false"):
        return cell == "true"
    if _WHOLE.fullmatch(cell):
        return int(cell)
    points = [point.split(" at ") for point in cell.split(";")]
    if len(points) > 1 and all(len(point) == 2 for point in points):
        return [[flow.strip(), rise.strip()] for flow, rise in points]
    return cell


def _parts(raw: Mapping[str, Any]) -> tuple[Parts, list[Problem]]:
    """The parts of a shelf's tables, and every problem in them, without their places in a file."""
    problems: list[Problem] = []
    parts: dict[str, dict[str, StockPart]] = {}
    for kind, held in raw.items():
        if kind not in STOCKED:
            close = nearest(str(kind), STOCKED)
            slip = f"Did you mean {shown(close)}?" if close else ""
            expected = f"one of {', '.join(STOCKED)}"
            problems.append(Problem(joined((kind,)), f"{shown(str(kind))} is no table of a shelf.", expected, slip))
            continue
        if not isinstance(held, Mapping):
            message = f"{shown(held)} stands where parts by name were expected."
            problems.append(Problem(joined((kind,)), message, f'[{kind}."my part"]'))
            continue
        for name, said in held.items():
            if not isinstance(said, Mapping):
                message = f"{shown(said)} stands where a part was expected."
                problems.append(Problem(joined((kind, name)), message, f"a table [{joined((kind, name))}]"))
                continue
            problems += _wrong(kind, str(name), said)
            parts.setdefault(kind, {})[str(name)] = stock_part(kind, str(name), said, BASIS)
    return parts, problems


def _wrong(kind: str, name: str, said: Mapping[str, Any]) -> Iterator[Problem]:
    """What is wrong with one part: its fields as a plan would refuse them, then its notes."""
    notes = {key: value for key, value in said.items() if key in Notes.model_fields}
    fields = {key: copied(value) for key, value in said.items() if key not in notes}
    if fields.pop("stock", None) is not None:
        message = "A part of the shelf is taken from no other stock."
        yield Problem(joined((kind, name, "stock")), message, "its own values")
    place: tuple[str, ...] = (kind,) if kind in SINGLE else (kind, name)
    part = part_of(Plan, place)
    assert part is not None
    for field, rule in part.model_fields.items():
        key = rule.alias or field
        if rule.is_required() and key not in fields:  # the plan says it where the part is used
            value = stand_in(Plan, (*place, key))
            fields[key] = key if value == "?" else value
    tables: dict[str, Any] = {"van": {"name": "shelf"}, "household": {"people": 1}}
    tables[kind] = fields if kind in SINGLE else {name: fields}
    _, problems = validated(Plan, tables, lambda: Plan.model_validate(tables, context={"file": True}))
    for problem in problems:
        below = problem.address[len(kind) + 1 :]
        yield replace(problem, address=joined((kind, name, below)) if kind in SINGLE else problem.address)
    _, problems = validated(Notes, notes, lambda: Notes.model_validate(notes, context={"file": True}))
    for problem in problems:
        yield replace(problem, address=joined((kind, name, problem.address)))


def _shadowing(raw: Mapping[str, Any]) -> Iterator[Problem]:
    """Parts of a shelf that are called like something of the stock."""
    for kind, held in raw.items():
        known = fittings() if kind == "fittings" else generic().get(kind, {})
        for name in held if isinstance(held, Mapping) else ():
            if name in known:
                message = f"{shown(str(name))} is the name of a part of the stock."
                slip = "Its place in a plan would not tell which of the two is meant."
                yield Problem(joined((kind, name)), message, "a name of your own", slip)
