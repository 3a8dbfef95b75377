"""Random legal TOML texts, with what they say and where each value stands, known by construction."""

from __future__ import annotations

import datetime as dt
from collections.abc import Callable
from dataclasses import dataclass, field
from typing import Any

from hypothesis import strategies as st

from tests.strategies import toml_text
from vanwater.plan.statements import Way

Draw = Callable[[st.SearchStrategy[Any]], Any]


@dataclass
class Document:
    """A text as it grows.

    ``spans`` are the places of the values that can be set, ``lines`` those of all that is said, counted from 1;
    ``homes`` are the tables that take a new key.
    """

    ending: str = "\n"
    text: str = ""
    data: dict[str, Any] = field(default_factory=dict)
    spans: dict[Way, tuple[int, int]] = field(default_factory=dict)
    lines: dict[Way, int] = field(default_factory=dict)
    homes: list[Way] = field(default_factory=list)

    @property
    def line(self) -> int:
        return self.text.count("\n") + 1

    def holds(self, way: Way) -> Any:
        here: Any = self.data
        for name in way:
            here = here[int(name)] if isinstance(here, list) else here[name]
        return here


NASTY = ("#", "]", "[x]", "{", "}", "=", "'", '"', "\\", "a = 1", "é", "\u2028", "\x85", "🚰", ".", ",", "  ", "\t")
NAMES = st.sampled_from(
    ("capacity", "a", "b-c", "d_e", "1", "x y", "a.b", "#", "é", "水", "", "[t]", "=", '"', "\\", "'")
)
BLANKS = st.sampled_from(("", " ", "  ", "\t"))
COMMENTS = st.lists(st.sampled_from(("#", " x", *NASTY)), max_size=4).map(lambda bits: "#" + "".join(bits))


@st.composite
def key_texts(draw: Draw, name: str) -> str:
    """A name as a key: bare, or in one of two kinds of quotes."""
    ways = [toml_text(name)]
    if name and all(letter.isascii() and (letter.isalnum() or letter in "-_") for letter in name):
        ways.append(name)
    if "'" not in name:
        ways.append(f"'{name}'")
    return draw(st.sampled_from(ways))


@st.composite
def scalars(draw: Draw, ending: str) -> tuple[str, Any]:
    """The text of a simple value, and the value."""
    kind = draw(st.sampled_from(("basic", "literal", "long basic", "long literal", "number", "word", "date")))
    if kind == "number":
        value = draw(st.integers(-(10**20), 10**20) | st.floats(-1e6, 1e6))
        return str(value), value
    if kind == "word":
        return draw(st.sampled_from((("true", True), ("false", False), ("0x1F", 31), ("1_000", 1000), ("1e3", 1e3))))
    if kind == "date":
        return draw(
            st.sampled_from(
                (
                    ("1979-05-27 07:32:00", dt.datetime(1979, 5, 27, 7, 32)),
                    ("1979-05-27T07:32:00", dt.datetime(1979, 5, 27, 7, 32)),
                    ("1979-05-27", dt.date(1979, 5, 27)),
                    ("07:32:00", dt.time(7, 32)),
                )
            )
        )
    bits = draw(st.lists(st.sampled_from((*NASTY, "75 L", "x")), max_size=4))
    value = "".join(bits)
    if kind == "basic":
        return toml_text(value), value
    if kind == "literal":
        value = value.replace("'", "")
        return f"'{value}'", value
    lines = draw(st.lists(st.sampled_from((*NASTY, "x", '""' if kind == "long basic" else "''")), max_size=3))
    if kind == "long literal":
        lines = [line.replace("'''", "") for line in lines]
        said = ending.join(lines).replace("'''", "").strip("'")
        return f"'''{ending}{said}'''", said.replace("\r\n", "\n")
    said = ending.join(line.replace("\\", "\\\\") for line in lines).replace('"""', "").strip('"')
    return f'"""{ending}{said}"""', said.replace("\r\n", "\n").replace("\\\\", "\\")


@st.composite
def add_value(draw: Draw, document: Document, way: Way, depth: int = 0) -> Any:
    """Write a value at the end of the text; what it says."""
    start, line = len(document.text), document.lines[way]
    kind = draw(st.sampled_from(("simple", "simple", "array", "table"))) if depth < 3 else "simple"
    value: Any
    if kind == "simple":
        text, value = draw(scalars(document.ending))
        document.text += text
    elif kind == "array":
        value = []
        document.text += "["
        for place in range(draw(st.integers(0, 3))):
            document.text += draw(gaps(document.ending))
            inside = (*way, str(place))
            document.lines[inside] = line
            value.append(draw(add_value(document, inside, depth + 1)))
            document.text += draw(gaps(document.ending)) + ","
        if value and draw(st.booleans()):
            document.text = document.text.removesuffix(",")
        document.text += draw(gaps(document.ending)) + "]"
    else:
        value = {}
        document.text += "{"
        for number, name in enumerate(draw(st.lists(NAMES, max_size=3, unique=True))):
            names = (name, draw(NAMES)) if draw(st.integers(0, 4)) == 0 else (name,)
            document.text += ("," if number else "") + draw(BLANKS)
            document.text += draw(BLANKS).join((*draw(dotted(names)), "=")) + draw(BLANKS)
            inside = (*way, *names)
            document.lines[inside] = document.lines[inside[: len(way) + 1]] = line
            told = draw(add_value(document, inside, depth + 1))
            value[name] = {names[1]: told} if len(names) == 2 else told
            document.text += draw(BLANKS)
        document.text += "}"
        if "." not in "".join(way):
            document.homes.append(way)
    document.spans[way] = (start, len(document.text))
    return value


@st.composite
def dotted(draw: Draw, names: Way) -> tuple[str]:
    return (draw(BLANKS).join(f"{'.' if place else ''}{draw(key_texts(name))}" for place, name in enumerate(names)),)


@st.composite
def gaps(draw: Draw, ending: str) -> str:
    """What may stand between the values of an array: blanks, comments, line ends."""
    return draw(BLANKS) + draw(st.just("") | COMMENTS.map(lambda comment: comment + ending) | st.just(ending))


@st.composite
def add_statements(draw: Draw, document: Document, table: Way, home: dict[str, Any]) -> None:
    """Write some keys with their values into a table."""
    for name in draw(st.lists(NAMES, max_size=4, unique=True)):
        if name in home:
            continue
        for _ in range(draw(st.integers(0, 2))):
            document.text += draw(BLANKS) + draw(st.just("") | COMMENTS) + document.ending
        below = (
            [()] if draw(st.integers(0, 3)) else [(tail,) for tail in draw(st.lists(NAMES, max_size=2, unique=True))]
        )
        for tail in below:
            way = (*table, name, *tail)
            for depth in range(len(table) + 1, len(way) + 1):
                document.lines.setdefault(way[:depth], document.line)
            document.text += draw(BLANKS) + draw(dotted((name, *tail)))[0] + draw(BLANKS) + "=" + draw(BLANKS)
            value = draw(add_value(document, way))
            if tail:
                home.setdefault(name, {})[tail[0]] = value
            else:
                home[name] = value
            document.text += draw(BLANKS) + draw(st.just("") | COMMENTS) + document.ending
        if below and below[0]:
            document.homes.append((*table, name))


@st.composite
def add_table(draw: Draw, document: Document, names: Way, entry: str, home: dict[str, Any]) -> None:
    """Write a header and what stands below it."""
    way = (*names, entry) if entry else names
    document.lines[way] = document.line
    document.lines.setdefault(names[:1], document.line)
    head = draw(BLANKS) + draw(dotted(names))[0] + draw(BLANKS)
    document.text += draw(BLANKS) + (f"[[{head}]]" if entry else f"[{head}]")
    document.text += draw(BLANKS) + draw(st.just("") | COMMENTS) + document.ending
    document.homes.append(way)
    draw(add_statements(document, way, home))


@st.composite
def documents(draw: Draw) -> Document:
    """A legal text of any layout: headers, arrays of tables, dotted keys, quoted keys, comments everywhere."""
    document = Document(draw(st.sampled_from(("\n", "\r\n"))))
    draw(add_statements(document, (), document.data))
    document.homes.append(())
    for name in draw(st.lists(NAMES, max_size=4, unique=True)):
        if name in document.data:
            continue
        kind = draw(st.sampled_from(("table", "tables below", "both", "array of tables")))
        if kind == "array of tables":
            document.data[name] = []
            for entry in range(draw(st.integers(1, 2))):
                document.data[name].append({})
                draw(add_table(document, (name,), str(entry), document.data[name][entry]))
            continue
        home = document.data.setdefault(name, {})
        if kind != "tables below":
            draw(add_table(document, (name,), "", home))
        for below in draw(st.lists(NAMES, max_size=2, unique=True)) if kind != "table" else ():
            if below not in home:
                document.homes.append((name,))
                draw(add_table(document, (name, below), "", home.setdefault(below, {})))
        if not home and (name,) not in document.lines:
            del document.data[name]
    if draw(st.booleans()):
        document.text = document.text.removesuffix(document.ending)
    return document
