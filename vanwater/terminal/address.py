"""One address of the plan: what is planned there, what it means, where it stands in the file, what is told of it."""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping
from typing import TYPE_CHECKING, Any

from pydantic import BaseModel
from rich.text import Text

from vanwater.answers.core.statement import Amount, Say, say
from vanwater.answers.core.table import Column, Table
from vanwater.plan.address import FieldNote, known_keys, note, value_at
from vanwater.plan.checks import PLACES
from vanwater.plan.file import PlanFile
from vanwater.plan.model import Plan
from vanwater.plan.problems import joined
from vanwater.plan.statements import lines_by_address, statements
from vanwater.plan.stock import SINGLE, STOCKED, StockPart
from vanwater.plan.tables import habits
from vanwater.terminal.paragraphs import finding_lines
from vanwater.terminal.screen import Screen
from vanwater.terminal.tables import Strip, set_in_columns, strips
from vanwater.terminal.unfold import numbers_of

if TYPE_CHECKING:
    from vanwater.answers.questions import Answers

__all__ = ["addresses", "explained", "stands"]

INDENT = 2
NAMED = ("uses", *PLACES, "runs", "fittings")
"""Tables whose entries have names of the builder's own."""


def stands(plan: Plan, address: str) -> bool:
    """Whether a plan has an address, be it decided or not."""
    try:
        plan.at(address)
    except KeyError:
        return False
    return True


def addresses(part: Any, above: str = "") -> Iterator[str]:
    """Every address of a plan that leads to a value or to a table of values.

    Parameters
    ----------
    part : Plan
        Where to start.
    above : str
        Its own address.

    Yields
    ------
    str
        The addresses, tables before what stands in them.
    """
    if above:
        yield above
    names: Mapping[str, Any] = {}
    if isinstance(part, BaseModel):
        names = {key: value_at(part, key) for key in known_keys(type(part))}
    elif isinstance(part, Mapping):
        names = part
    for name, below in names.items():
        yield from addresses(below, f"{above}.{name}" if above else name)


def explained(address: str, file: PlanFile, answers: Answers, screen: Screen) -> list[str]:
    """What the plan says at an address.

    Parameters
    ----------
    address : str
        An address that the plan has.
    file : PlanFile
        The plan with the text it was read from.
    answers : Answers
        All answers to it.
    screen : Screen
        Width, units and letters.

    Returns
    -------
    list of str
        The value first, then its meaning, its line, and what the answers tell of it.
    """
    value = file.plan.at(address)
    if isinstance(value, BaseModel | Mapping):
        lines = [*_line(screen, address, "bold", 0), *_inside(value, address, screen)]
    else:
        lines = _field(address, value, file, screen)
    findings = [
        finding
        for answer in answers.values()
        for finding in answer.findings
        if f"{finding.address}.".startswith(f"{address}.")
    ]
    for finding in findings:
        lines += ["", *finding_lines(finding, screen)]
    return [*lines, *_numbers(address, answers, screen)]


def _field(address: str, value: Any, file: PlanFile, screen: Screen) -> list[str]:
    about = _about(address)
    head = say("{address} = {value}", address=address, value=_shown(value, about))
    lines = _line(screen, head, "bold", 0)
    if about is not None and about.description:
        described = about.said(screen.us)
        lines += _line(screen, f"{described[:1].upper()}{described[1:]}.")
    lines += _line(screen, _origin(address, value, file))
    if about is not None and about.quantity is not None:
        ends = [Amount(end, about.quantity) for end in (about.quantity.low, about.quantity.high)]
        lines += _line(screen, say("Believable here: {low} to {high}.", low=ends[0], high=ends[1]), "dim")
    elif about is not None and about.choices:
        lines += _line(screen, say("One of: {choices}.", choices=", ".join(about.choices)), "dim")
    elif about is not None and about.whole is not None:
        low, high = about.whole
        lines += _line(screen, say("A whole number from {low} to {high}.", low=low, high=high), "dim")
    return lines


def _about(address: str) -> FieldNote | None:
    try:
        return note(Plan, address)
    except KeyError:
        return None


def _shown(value: Any, about: FieldNote | None) -> Amount | str:
    if value is None:
        return "not decided"
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, float) and about is not None and about.quantity is not None:
        return Amount(value, about.quantity)
    if isinstance(value, tuple):
        return f"{len(value)} points"
    return str(value)


def _origin(address: str, value: Any, file: PlanFile) -> Say:
    """Where a value comes from: a line of the file, the ready habits, or what is taken without being said."""
    try:
        written = value_at(file.plan.own, address)
    except KeyError:
        name = file.plan.household.habits
        place = address.split(".")
        if name and place[0] == "uses" and place[-1] in habits(name).get(place[1], {}):
            return say(
                "From the ready habits {name}, common practice; a line under {table} says it otherwise.",
                name=f'"{name}"',
                table=f"[uses.{_key(place[1])}]",
            )
        taken = _stocked(file.plan, place)
        if taken is not None:
            return say(
                "From the stock {name}, {basis}; a line beside it says it otherwise.",
                name=f'"{taken.name}"',
                basis=taken.basis,
            )
        return say("The plan does not say it yet." if value is None else "The plan does not say it; this is taken.")
    lines = lines_by_address(statements(file.text))
    line = lines.get(joined(("situations", file.plan.situation, address)), lines.get(address))
    return say(
        "Written as {written}, {file}, line {line}.",
        written=json.dumps(written, ensure_ascii=False),
        file=file.path.name,
        line=str(line or "unknown"),
    )


def _stocked(plan: Plan, place: list[str]) -> StockPart | None:
    """The part of the stock that brought a value."""
    table, *way = place
    part = plan.stocked(table, "" if table in SINGLE else way.pop(0)) if table in STOCKED and way else None
    return part if part is not None and way and way[0] in part.fields else None


def _key(name: str) -> str:
    return f'"{name}"' if " " in name else name


def _inside(value: BaseModel | Mapping[str, Any], address: str, screen: Screen) -> list[str]:
    """What is decided in a table: a row for each field, the names of the tables below it."""
    rows: list[tuple[Text, Text, Text]] = []
    for key in known_keys(type(value)) if isinstance(value, BaseModel) else tuple(value):
        below = value_at(value, key)
        about = _about(f"{address}.{key}")
        if isinstance(below, BaseModel):
            rows.append((screen.text(key), Text(""), Text("")))
        elif isinstance(below, Mapping):
            rows.append((screen.text(key), screen.text(", ".join(map(str, below))), Text("")))
        elif below is not None:
            meaning = screen.text(about.said(screen.us) if about else "", "dim")
            rows.append((screen.text(key), screen.text(_shown(below, about)), meaning))
    if not rows:
        return _line(screen, "Nothing is decided here yet.")
    columns = [Strip("", cells) for cells in zip(*rows, strict=True) if any(cell.plain for cell in cells)]
    return set_in_columns(columns, screen, indent=INDENT)


def _numbers(address: str, answers: Answers, screen: Screen) -> list[str]:
    """The numbers whose key names what the address is about."""
    table, *below = address.split(".")
    name = below[0] if below and table in NAMED else table
    numbers = {key: number for key, number in numbers_of(answers).items() if name in (number.key or key.split("."))}
    if not numbers:
        return []
    caption = say("Numbers about {name}; --why KEY unfolds them:", name=name)
    rows = tuple((key, number.result) for key, number in numbers.items())
    listed = Table("numbers", caption, (Column(""), Column("")), rows)
    return ["", *screen.paragraph(caption), *set_in_columns(strips(listed, screen), screen, indent=INDENT)]


def _line(screen: Screen, said: str | Say, style: str = "", indent: int = INDENT) -> list[str]:
    return screen.lines(screen.text(said, style), indent=indent)
