from __future__ import annotations

import copy
import tomllib
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.drawn import WHOLE_FILES
from tests.plan.documents import Document, documents
from vanwater.plan.patch import spliced
from vanwater.plan.statements import Way

VALUES = st.sampled_from(("80 L", "", 'a "b" \\ # ]', "é\u2028🚰", "a\nb\x00\x7f", 7, -1, 2.5, True, False))


def with_value(data: Any, way: Way, value: object) -> Any:
    """The data with one value set, done in another way than the program does it."""
    if not way:
        return value
    changed = copy.deepcopy(data)
    here = changed
    for name in way[:-1]:
        here = here[int(name)] if isinstance(here, list) else here.setdefault(name, {})
    if isinstance(here, list):
        here[int(way[-1])] = value
    else:
        here[way[-1]] = value
    return changed


@WHOLE_FILES
@given(document=documents(), data=st.data())
def test_a_value_is_set_and_every_other_character_stays(document: Document, data: st.DataObject) -> None:
    if not document.spans:
        return
    way = data.draw(st.sampled_from(sorted(document.spans)))
    value = data.draw(VALUES)
    new = spliced(document.text, way, value)
    start, end = document.spans[way]
    assert new.startswith(document.text[:start])
    assert new.endswith(document.text[end:])
    assert tomllib.loads(f"x = {new[start : len(new) - len(document.text) + end]}") == {"x": value}
    assert tomllib.loads(new) == with_value(document.data, way, value)


@WHOLE_FILES
@given(document=documents(), data=st.data())
def test_a_new_key_is_added_and_every_other_character_stays(document: Document, data: st.DataObject) -> None:
    way = (*data.draw(st.sampled_from(sorted(document.homes))), data.draw(st.sampled_from(("new", "new one", "né.w"))))
    value = data.draw(VALUES)
    new = spliced(document.text, way, value)
    assert tomllib.loads(new) == with_value(document.data, way, value)
    common = next((n for n in range(len(document.text)) if document.text[n] != new[n]), len(document.text))
    tail = document.text[common:]
    assert new.endswith(tail) or new.removesuffix(document.ending).endswith(tail)


@WHOLE_FILES
@given(document=documents(), value=VALUES)
def test_a_table_that_is_missing_is_added_at_the_end(document: Document, value: object) -> None:
    way = ("a new", "table", "key")
    new = spliced(document.text, way, value)
    assert new.startswith(document.text)
    assert tomllib.loads(new) == with_value(document.data, way, value)


@pytest.mark.parametrize(
    ("before", "way", "value", "after"),
    [
        ('a="1 L"  # x', ("a",), "2 L", 'a="2 L"  # x'),
        ("[t]\na = 1\n\n# about u\n[u]\n", ("t", "b"), 2, "[t]\na = 1\nb = 2\n\n# about u\n[u]\n"),
        ("[t]\n  a = 1\n", ("t", "b"), 2, "[t]\n  a = 1\n  b = 2\n"),
        ("[t]\r\na = 1\r\n[u]\r\n", ("t", "b"), 2, "[t]\r\na = 1\r\nb = 2\r\n[u]\r\n"),
        ("[t]", ("t", "b"), 2, "[t]\nb = 2\n"),
        ("[t] # x\n# y\n", ("t", "b"), 2, "[t] # x\nb = 2\n# y\n"),
        ("t = {}\n", ("t", "b"), 2, "t = { b = 2 }\n"),
        ("t = {a = 1}\n", ("t", "b"), 2, "t = {a = 1, b = 2}\n"),
        ("t = { a = 1 } # }\n", ("t", "b"), 2, "t = { a = 1, b = 2 } # }\n"),
        ("t = {a = 1}\n", ("t", "b", "c"), 2, "t = {a = 1, b.c = 2}\n"),
        ("[t]\nu = { v = {} }\n", ("t", "u", "v", "w"), 2, "[t]\nu = { v = { w = 2 } }\n"),
        ("t.a = 1\nu = 1\n", ("t", "b"), 2, "t.a = 1\nt.b = 2\nu = 1\n"),
        ("[t]\nu.a = 1\n[v]\n", ("t", "u", "b"), 2, "[t]\nu.a = 1\nu.b = 2\n[v]\n"),
        ("# hello\n[t]\n", ("a",), 2, "a = 2\n# hello\n[t]\n"),
        ("# hello\nb = 1\n\n[t]\n", ("a",), 2, "# hello\nb = 1\na = 2\n\n[t]\n"),
        ("", ("t", "a b"), "x", '[t]\n"a b" = "x"\n'),
        ("a = 1", ("t", "b"), 2, "a = 1\n\n[t]\nb = 2\n"),
        ("[t.u]\na = 1\n", ("t", "b"), 2, "[t.u]\na = 1\n\n[t]\nb = 2\n"),
        ('c = [["0 L", "1 bar"],  # shut\n ["2 L", "0 bar"]]\n', ("c", "1", "0"), "3 L", None),
        ("c = [[1, 2], [3, 4]]\n", ("c", "1"), 5, "c = [[1, 2], 5]\n"),
        ("[[t]]\na = 1\n[[t]]\na = 1\n", ("t", "1", "a"), 2, "[[t]]\na = 1\n[[t]]\na = 2\n"),
        ("a = 1979-05-27 07:32:00 # x\n", ("a",), 2, "a = 2 # x\n"),
        ('a = """x""""" # y\n', ("a",), 2, "a = 2 # y\n"),
        ("a = 'x#' # y\n", ("a",), 2, "a = 2 # y\n"),
    ],
)
def test_layout_is_kept(before: str, way: Way, value: str | int, after: str | None) -> None:
    new = spliced(before, way, value)
    assert new == (after or before.replace('"2 L"', '"3 L"'))
    assert tomllib.loads(new) == with_value(tomllib.loads(before), way, value)
