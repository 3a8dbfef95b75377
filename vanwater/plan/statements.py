"""A TOML text as a list of statements, so that an address has a line and one value can be patched.

Only what ends a statement is known here: strings, comments, brackets, line feeds. What a statement says is read
by the standard library, one statement at a time.
"""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from vanwater.plan.problems import joined

__all__ = [
    "KEY",
    "LITERALS",
    "TOKEN",
    "Statement",
    "Way",
    "key_at",
    "lines_by_address",
    "lines_of",
    "nearest_line",
    "statements",
]

Way = tuple[str, ...]
"""Names, and positions in arrays, that lead to a value."""

_STRINGS = (
    (r'"""(?:[^"\\]|\\.|"{1,2}(?!"))*+', r'"{3,5}'),
    (r"'''(?:[^']|'{1,2}(?!'))*+", r"'{3,5}"),
    (r'"(?:[^"\\\n]|\\[^\n])*+', r'"'),
    (r"'[^'\n]*+", r"'"),
)
"""How each kind of string begins and goes on, and its end."""

LITERALS = "|".join(f"{start}{end}" for start, end in _STRINGS)
"""A pattern of whole strings."""

KEY = rf"(?:[\w-]++|{_STRINGS[2][0]}\"|{_STRINGS[3][0]}')"
"""A pattern of one name of a key."""

TOKEN = re.compile("|".join(f"{start}(?:{end})?" for start, end in _STRINGS) + r"|#[^\n]*+|[\[\]{}\n]", re.DOTALL)
"""Strings, whole or without their end, comments, brackets, line feeds: so that no text takes long to search."""

_KEYS = re.compile(rf"[ \t]*+({KEY}(?:[ \t]*+\.[ \t]*+{KEY})*+)[ \t]*+=")


@dataclass(frozen=True, slots=True)
class Statement:
    """One statement: a table's header or a key with its value.

    Parameters
    ----------
    first, last : int
        Its lines, counted from 0, last one included.
    table : tuple of str
        The table in which it stands; for a header the table that it opens.
    key : tuple of str
        The key before the equals sign as a way from the outermost table; for a header the table itself.
    ways : tuple of tuple
        All that it sets, from the outermost table: tables, values, places of arrays.
    header : bool
        Whether it is a table's header.
    """

    first: int
    last: int
    table: Way
    key: Way
    ways: tuple[Way, ...]
    header: bool


def statements(text: str) -> tuple[Statement, ...]:
    """The statements of a TOML text.

    Parameters
    ----------
    text : str
        The whole text. What is no statement by itself is left out.

    Returns
    -------
    tuple of Statement
        In the order of the text.
    """
    listed: list[Statement] = []
    table: Way = ()
    entries: dict[Way, int] = {}
    lines = lines_of(text)
    for first, last in _spans(text):
        piece = "".join(lines[first : last + 1])
        got = _parsed(piece)
        if not got:
            continue
        if piece.lstrip().startswith("["):
            table = _opened(got, piece.lstrip().startswith("[["), entries)
            listed.append(Statement(first, last, table, table, (table,), True))
        else:
            ways = tuple((*table, *way) for way in _ways(got, ()))
            key = key_at(piece, 0)
            listed.append(Statement(first, last, table, (*table, *(key[0] if key else ())), ways, False))
    return tuple(listed)


def lines_by_address(index: tuple[Statement, ...]) -> Mapping[str, int]:
    """The line of everything that a text says, counted from 1.

    Parameters
    ----------
    index : tuple of Statement
        From :func:`statements`.

    Returns
    -------
    mapping of str to int
        Line by address; of a table that has no header, the first line that sets something in it.
    """
    lines: dict[str, int] = {}
    above: dict[str, int] = {}
    for statement in index:
        for way in statement.ways:
            lines.setdefault(joined(way), statement.first + 1)
        for depth in range(1, len(statement.key)):
            above.setdefault(joined(statement.key[:depth]), statement.first + 1)
    return above | lines


def nearest_line(lines: Mapping[str, int], address: str) -> int | None:
    """The line of an address; of the nearest table above it where it is not written.

    Parameters
    ----------
    lines : mapping of str to int
        From :func:`lines_by_address`.
    address : str
        Names joined by dots.

    Returns
    -------
    int or None
        Counted from 1; None when not even its outermost table is in the text.
    """
    while address:
        if address in lines:
            return lines[address]
        address = address.rpartition(".")[0]
    return None


def lines_of(text: str) -> list[str]:
    """The lines of a text with their ends; only a line feed ends a line in TOML."""
    lines = [f"{line}\n" for line in text.split("\n")]
    lines[-1] = lines[-1][:-1]
    return lines if lines[-1] else lines[:-1]


def _spans(text: str) -> Iterator[tuple[int, int]]:
    """First and last line of each piece that ends outside of brackets and strings."""
    first = line = depth = 0
    for match in TOKEN.finditer(text):
        token = match[0]
        if token == "\n":
            line += 1
            if depth <= 0:
                yield first, line - 1
                first, depth = line, 0
        elif token in "[{":
            depth += 1
        elif token in "]}":
            depth -= 1
        else:
            line += token.count("\n")
    yield first, line


def _parsed(piece: str) -> Mapping[str, Any] | None:
    try:
        return tomllib.loads(piece)
    except ValueError:
        return None


def key_at(text: str, at: int) -> tuple[Way, int] | None:
    """The key that begins at a place of a text, and where its value's side begins.

    Parameters
    ----------
    text : str
        A TOML text.
    at : int
        Place in it.

    Returns
    -------
    tuple or None
        Names of the key and the place behind its equals sign; None where no key stands.
    """
    match = _KEYS.match(text, at)
    got: Any = _parsed(f"{match[1]} = 0") if match else None
    names: list[str] = []
    while isinstance(got, Mapping):
        ((name, got),) = got.items()
        names.append(name)
    return (tuple(names), match.end()) if match else None


def _opened(got: Mapping[str, Any], entry: bool, entries: dict[Way, int]) -> Way:
    """The table that a header opens; in an array of tables it is the array's last entry so far."""
    way: Way = ()
    here: Any = got
    while isinstance(here, Mapping) and here:
        ((name, here),) = here.items()
        way = (*way, name)
        if entry and isinstance(here, list):
            entries[way] = entries.get(way, -1) + 1
            return (*way, str(entries[way]))
        if way in entries:
            way = (*way, str(entries[way]))
    return way


def _ways(here: Any, way: Way) -> Iterator[Way]:
    if way:
        yield way
    if isinstance(here, Mapping):
        for name, value in here.items():
            yield from _ways(value, (*way, name))
    elif isinstance(here, list):
        for place, value in enumerate(here):
            yield from _ways(value, (*way, str(place)))
