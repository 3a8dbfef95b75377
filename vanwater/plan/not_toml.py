"""What is wrong with a text that is not TOML, in a builder's words."""

from __future__ import annotations

import ast
import re
from collections.abc import Mapping

from vanwater.plan.problems import Problem, joined, shown
from vanwater.plan.statements import KEY, LITERALS, TOKEN, lines_of, statements
from vanwater.quantities import VOLUME

__all__ = ["not_toml", "too_deep"]

DEEPEST = 40
"""Brackets within brackets, or names in one key, that a file may have; a plan needs five."""

_WHOLE = re.compile(LITERALS, re.DOTALL)
_LONG_NUMBER = re.compile(r"[\d_]{4000,}")
_LONG_KEY = re.compile(rf"(?:^|[\[{{,])[ \t]*+(?:{KEY}[ \t]*+\.[ \t]*+){{{DEEPEST}}}", re.MULTILINE)

QUOTES = 'Texts stand in quotes: capacity = "{volume}".'
NAMES = "Names with spaces or letters beyond a to z stand in quotes."
EXAMPLE = 'a line such as capacity = "{volume}"'

_TOLD: Mapping[str, tuple[str, str, str]] = {
    "Invalid statement": ("{line} does not begin with a key or a table's name.", EXAMPLE, NAMES),
    "Expected '=' after a key": ('{line} has no "=" behind its key.', EXAMPLE, NAMES),
    "Invalid initial character for a key part": ("{line} has a key that cannot be read.", EXAMPLE, NAMES),
    "Invalid value": ("{line} has a value that cannot be read.", EXAMPLE, QUOTES),
    "Expected newline or end of document": ("{line} goes on behind its end.", "one key and value a line", QUOTES),
    "Expected ']' at the end of a table": ("{line} is a table's name without its end.", "[tanks.fresh]", NAMES),
    "Expected ']]' at the end of an array": ("{line} is a table's name without its end.", "[tanks.fresh]", NAMES),
    "Unescaped": ("{line} has a backslash in a text.", r"\\ for a backslash", ""),
    "Illegal character '\\n'": ("{line} opens a quotation mark that is not closed.", "a text between two quotes", ""),
    "Illegal character": ("{line} has a control character in it.", "plain letters", "Is it another kind of file?"),
    "Found invalid character": ("{line} has a control character.", "plain letters", "Is it another kind of file?"),
    "Unclosed inline table": ("{line} has a bracket that is not closed.", "a }} behind the last entry", ""),
    "Duplicate inline table key": ("{line} says a key twice.", "each key once", ""),
}
"""How the parser's words are told; the first that the parser's begin with."""

_OPEN = ("Unterminated string", "Expected \"'", "Expected '\"", "Invalid value", "Unclosed")
_TWICE = ("Cannot overwrite a value", "Cannot declare", "Cannot mutate")


def too_deep(text: str) -> Problem | None:
    """The problem of a text that is nested deeper than any plan, or None.

    Parameters
    ----------
    text : str
        Any text.

    Returns
    -------
    Problem or None
        With its line; a parser could run for hours on such a text, or out of stack.
    """
    depth = line = 0
    begin = end = -1
    for match in TOKEN.finditer(text):
        if match[0] in ("[", "{"):
            depth += 1
            if depth > DEEPEST:
                begin, end = match.span()
                break
        elif match[0] in ("]", "}"):
            depth = max(depth - 1, 0)
    long = _LONG_KEY.search(text)
    if long is not None and (begin < 0 or long.start() < begin):
        begin, end = long.span()
    if begin < 0:
        return None
    line = text.count("\n", 0, end) + 1
    return Problem("", "The file is nested too deeply.", f"at most {DEEPEST} steps; a plan needs five", line=line)


def not_toml(text: str, told: str) -> Problem:
    """The problem of a text that the TOML parser refused.

    Parameters
    ----------
    text : str
        The whole text.
    told : str
        The parser's own words.

    Returns
    -------
    Problem
        With its line, and for something said twice with its address.
    """
    if told.startswith(_TWICE):
        return _twice(text, told)
    long = _LONG_NUMBER.search(text) if told.startswith("Exceeds the limit") else None
    if long is not None:
        line = text.count("\n", 0, long.start()) + 1
        return Problem("", "Here stands a number of thousands of digits.", "a believable number", line=line)
    lines = lines_of(text)
    place = re.search(r"\(at line (\d+)", told)
    line = int(place[1]) if place else max(len(lines), 1)
    opened = _left_open("".join(lines[: line - 1]) if place else text) if told.startswith(_OPEN) else None
    if opened is not None:
        mark, line = opened
        name = "quotation mark" if mark in "\"'" else "bracket"
        return Problem("", f"The {name} {mark} is not closed.", "its other half", line=line)
    here = lines[line - 1] if lines else ""
    written = shown(here.strip())
    volume = VOLUME.told("75 L")
    for start, (message, expected, slip) in _TOLD.items():
        if told.startswith(start):
            mend = _slip(here) or slip.format(volume=volume)
            return Problem("", message.format(line=written), expected.format(volume=volume), mend, line=line)
    return Problem("", f"{written} is not TOML.", EXAMPLE.format(volume=volume), _slip(here), line=line)


def _slip(line: str) -> str:
    """What the look of a line tells of the likely slip."""
    if "\r" in line.removesuffix("\r\n"):
        return "Save the file with ordinary line ends; some are a bare carriage return."
    if any(mark in line for mark in "“”„‟«»‘’"):
        return f'Quotes are straight ones: "{VOLUME.told("75 L")}".'
    if "{" in line and "}" not in line:
        return "What stands in { } stands on one line."
    return ""


def _twice(text: str, told: str) -> Problem:
    """What the parser found said twice: named by itself, or looked for among the statements."""
    named = re.search(r"\(['\"].*['\"],?\)", told)
    table: tuple[str, ...] = tuple(ast.literal_eval(named[0])) if named else ()
    seen: dict[tuple[str, ...], int] = {}
    for statement in statements(text):
        ways = [way for way in statement.ways if len(way) >= len(statement.key)]
        for way in ways:
            if way in seen and statement.header == bool(table) and table in (way, ()):
                name = f"[{joined(way)}]" if statement.header else joined(way)
                message = f"{name} stands twice: first in line {seen[way]}."
                slip = "Give one of the two another name." if statement.header else "Take one of the two out."
                return Problem(joined(way), message, "each name once", slip, line=statement.first + 1)
        for way in (*ways, *(statement.key[:depth] for depth in range(len(statement.table) + 1, len(statement.key)))):
            seen.setdefault(way, statement.first + 1)
    place = re.search(r"\(at line (\d+)", told)
    line = int(place[1]) if place else max(len(lines_of(text)), 1)
    message = f"[{joined(table)}] cannot be added to what is said before." if table else "Something is said twice."
    return Problem(joined(table), message, "each name once", line=line)


def _left_open(text: str) -> tuple[str, int] | None:
    """The quotation mark or bracket that is never closed, and its line."""
    opened: list[tuple[str, int]] = []
    line = 1
    for match in TOKEN.finditer(text):
        token = match[0]
        if token[0] in "'\"" and not _WHOLE.fullmatch(token):
            return token[0], line
        if token in ("[", "{"):
            opened.append((token, line))
        elif token in ("]", "}") and opened:
            opened.pop()
        line += token.count("\n")
    return opened[0] if opened else None
