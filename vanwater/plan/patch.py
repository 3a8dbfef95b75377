"""One value of a TOML text set in place; every other character stays."""

from __future__ import annotations

import re

from vanwater.plan.statements import LITERALS, Statement, Way, key_at, lines_of, statements

__all__ = ["spliced"]

Span = tuple[int, int]

_GAP = re.compile(r"(?:[ \t\r\n]|#[^\n]*+)*+")
_SIMPLE = re.compile(rf"{LITERALS}|\d{{4}}-\d\d-\d\d \d\d:[^\s,\]}}#]*+|[^\s,\]}}\[{{#]++", re.DOTALL)


def spliced(text: str, way: Way, value: str | int | float | bool) -> str:
    """The text with one value set.

    Parameters
    ----------
    text : str
        A valid TOML text.
    way : tuple of str
        Names, and positions in arrays, that lead to the value.
    value : str, int, float or bool
        The new value.

    Returns
    -------
    str
        The new text; the caller proves that it says what was wanted.
    """
    import tomlkit

    index = statements(text)
    lines = lines_of(text)
    new = tomlkit.item(value).as_string()
    for statement in index:
        if not statement.header and way in statement.ways:
            piece = "".join(lines[statement.first : statement.last + 1])
            span = _values(piece, statement).get(way)
            if span is not None:
                return _joined(lines, statement, f"{piece[: span[0]]}{new}{piece[span[1] :]}")
    return _in_section(lines, index, way, new) or _in_line(lines, index, way, new) or _at_end(text, way, new)


def _in_section(lines: list[str], index: tuple[Statement, ...], way: Way, new: str) -> str | None:
    """A new line behind the last one of its table, if the table has a header or is the outermost."""
    home = way[:-1]
    section = [statement for statement in index if statement.table == home]
    if not section and home:
        section = [
            statement
            for statement in index
            if len(statement.table) < len(home) < len(statement.key) and statement.key[: len(home)] == home
        ]
    if section:
        return _behind(lines, section[-1], f"{_named(way[len(section[-1].table) :])} = {new}")
    return None if home else f"{_named(way)} = {new}{_ending(lines)}{''.join(lines)}"


def _in_line(lines: list[str], index: tuple[Statement, ...], way: Way, new: str) -> str | None:
    """A new entry in the inline table that is nearest above it."""
    for depth in range(len(way) - 1, 0, -1):
        for statement in index:
            if statement.header or way[:depth] not in statement.ways:
                continue
            piece = "".join(lines[statement.first : statement.last + 1])
            spans = _values(piece, statement)
            first, last = spans.get(way[:depth], (0, 0))
            if piece[first : first + 1] != "{":
                continue
            entry = f"{_named(way[depth:])} = {new}"
            ends = [end for other, (_, end) in spans.items() if other[:depth] == way[:depth] and end < last]
            if ends:
                return _joined(lines, statement, f"{piece[: max(ends)]}, {entry}{piece[max(ends) :]}")
            return _joined(lines, statement, f"{piece[: first + 1]} {entry} {piece[last - 1 :]}")
    return None


def _at_end(text: str, way: Way, new: str) -> str:
    """A table of its own behind everything else."""
    ending = _ending(lines_of(text))
    gap = "" if not text else ending if text.endswith("\n") else 2 * ending
    return f"{text}{gap}[{_named(way[:-1])}]{ending}{_named(way[-1:])} = {new}{ending}"


def _behind(lines: list[str], statement: Statement, entry: str) -> str:
    before, after = lines[: statement.last + 1], lines[statement.last + 1 :]
    ending = _ending(before[-1:]) if before[-1].endswith("\n") else _ending(lines)
    if not before[-1].endswith("\n"):
        before[-1] += ending
    first = lines[statement.first]
    indent = first[: len(first) - len(first.lstrip(" \t"))]
    return "".join((*before, indent, entry, ending, *after))


def _joined(lines: list[str], statement: Statement, piece: str) -> str:
    return "".join((*lines[: statement.first], piece, *lines[statement.last + 1 :]))


def _ending(lines: list[str]) -> str:
    return "\r\n" if lines and lines[0].endswith("\r\n") else "\n"


def _named(way: Way) -> str:
    import tomlkit

    return ".".join(tomlkit.key(name).as_string() for name in way)


def _values(piece: str, statement: Statement) -> dict[Way, Span]:
    """Where each value of a statement stands in its text, the values inside of arrays and inline tables too."""
    spans: dict[Way, Span] = {}
    key = key_at(piece, 0)
    if key is not None:
        _walk(piece, _gap(piece, key[1]), statement.key, spans)
    return spans


def _walk(piece: str, at: int, way: Way, spans: dict[Way, Span]) -> int:
    start = at
    if piece[at] in "[{":
        closing = "]" if piece[at] == "[" else "}"
        at = _gap(piece, at + 1)
        place = 0
        while piece[at] != closing:
            inside: Way = (str(place),)
            if closing == "}":
                key = key_at(piece, at)
                assert key is not None, "an inline table of a valid text"
                inside, at = key[0], _gap(piece, key[1])
            at = _gap(piece, _walk(piece, at, (*way, *inside), spans))
            if piece[at] == ",":
                at = _gap(piece, at + 1)
            place += 1
        at += 1
    else:
        match = _SIMPLE.match(piece, at)
        assert match is not None, "a value of a valid text"
        at = match.end()
    spans[way] = (start, at)
    return at


def _gap(piece: str, at: int) -> int:
    match = _GAP.match(piece, at)
    return match.end() if match else at
