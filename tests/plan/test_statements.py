from __future__ import annotations

import tomllib

import pytest
from hypothesis import given

from tests.drawn import WHOLE_FILES
from tests.examples import NAMES, PLANS
from tests.plan.documents import Document, documents
from vanwater.plan.statements import key_at, lines_by_address, lines_of, nearest_line, statements


@WHOLE_FILES
@given(document=documents())
def test_documents_say_what_they_were_made_to_say(document: Document) -> None:
    assert tomllib.loads(document.text) == document.data


@WHOLE_FILES
@given(document=documents())
def test_everything_said_has_its_line(document: Document) -> None:
    found = {way: one.first + 1 for one in reversed(statements(document.text)) for way in one.ways}
    for way, line in document.lines.items():
        assert found.get(way, line) == line, way
    assert set(document.spans) <= set(found)
    for statement in statements(document.text):
        assert statement.first <= statement.last < len(lines_of(document.text))


@WHOLE_FILES
@given(document=documents())
def test_statements_cover_every_line_that_is_no_comment(document: Document) -> None:
    index = statements(document.text)
    covered = {line for one in index for line in range(one.first, one.last + 1)}
    for number, line in enumerate(lines_of(document.text)):
        if number not in covered:
            assert not line.strip() or line.strip().startswith("#")
    assert len(covered) == sum(one.last - one.first + 1 for one in index)


TEXT = """# top
title = "x"   # a title
[van]
name = 'a [b] # c'

[tanks."my tank"]
note = \"\"\"
[not.a.table]
capacity = "1 L"
\"\"\"
capacity = "2 L"
sides = [ # open ]
  { a = "]" }, # first
  2,
]
pump.curve = 1

[[x]]
y = 1
[[x]]
y = 2
  [x.z]
  y = 3
"""


@pytest.mark.parametrize(
    ("address", "line"),
    [
        ("title", 2),
        ("van", 3),
        ("van.name", 4),
        ("tanks", 6),
        ("tanks.my tank", 6),
        ("tanks.my tank.note", 7),
        ("tanks.my tank.capacity", 11),
        ("tanks.my tank.sides.0.a", 12),
        ("tanks.my tank.sides.1", 12),
        ("tanks.my tank.pump", 16),
        ("tanks.my tank.pump.curve", 16),
        ("tanks.my tank.holds", 6),
        ("tanks.my tank.pump.volts", 16),
        ("tanks.other.holds", 6),
        ("x.0.y", 19),
        ("x.1.y", 21),
        ("x.1.z.y", 23),
        ("nothing.here", None),
        ("", None),
    ],
)
def test_line_of_an_address_or_of_what_lies_above(address: str, line: int | None) -> None:
    assert nearest_line(lines_by_address(statements(TEXT)), address) == line
    assert nearest_line(lines_by_address(statements(TEXT.replace("\n", "\r\n"))), address) == line


def test_only_a_line_feed_ends_a_line() -> None:
    text = "# a\u2028b\x85c\x0bd\x0c\u2029\na = 1  # \u2028\nb = 2"
    assert lines_of(text) == ["# a\u2028b\x85c\x0bd\x0c\u2029\n", "a = 1  # \u2028\n", "b = 2"]
    assert "".join(lines_of(TEXT)) == TEXT
    assert lines_of("") == []
    assert lines_of("\n") == ["\n"]


def test_key_of_a_statement() -> None:
    assert key_at(" a . \"b.c\" . 'd'= 1", 0) == (("a", "b.c", "d"), 17)
    assert key_at("= 1", 0) is None
    assert key_at("a 1", 0) is None


@pytest.mark.parametrize("name", NAMES)
def test_every_value_of_an_example_is_found_where_a_reader_finds_it(name: str) -> None:
    text = (PLANS / f"{name}.toml").read_text(encoding="utf-8")
    lines = lines_of(text)
    for address, line in lines_by_address(statements(text)).items():
        key = address.split(".")[-1]
        assert key.isdecimal() or key in lines[line - 1] or lines[line - 1].startswith("["), address


@pytest.mark.parametrize(
    "text", ['"', "'", '"""', "'''", '"""\\', "[" * 9, "]" * 9, "a = [", "{", "\\", "a\r", '"\\', ""]
)
def test_text_that_is_no_toml_gives_no_statement_and_no_error(text: str) -> None:
    assert statements(text) == ()
