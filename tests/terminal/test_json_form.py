from __future__ import annotations

import json
import math
import re
from collections.abc import Iterator
from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from jsonschema import Draft202012Validator

from tests.examples import NAMES, example_answers
from tests.terminal.made import HOSTILE, answer, made, number, rich_answer
from vanwater.answers.core.key import key_text
from vanwater.answers.core.number import PLAN_ONLY
from vanwater.answers.core.statement import Amount, Range, say
from vanwater.answers.core.table import Column, Table
from vanwater.answers.core.working import step
from vanwater.answers.questions import Answers
from vanwater.quantities import QUANTITIES, VOLUME, Array, Pressure
from vanwater.terminal import json_form as form
from vanwater.terminal.json_form import SCHEMA, json_text
from vanwater.terminal.json_schema import json_schema

NUMBER = {"key", "value", "low", "high", "unit", "quantity"}
STATES = {"state", "low_state", "high_state", "text"}
FINDING = {"key", "verdict", "text", "value", "limit", "bound", "margin", "change", "gain", "address", "source"}
ANSWER = {"title", "verdict", "decided", "numbers", "tables", "findings", "assumptions", "cautions"}
TOP = {"schema", "vanwater", "plan", "units", "failing", "missing", "numbers", "answers", "situations"}


def strict(text: str) -> Any:
    """Read JSON as a reader does that knows neither NaN nor double keys."""

    def refuse(word: str) -> float:
        raise AssertionError(f"{word} is no JSON")

    def once(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
        assert len({key for key, _ in pairs}) == len(pairs)
        return dict(pairs)

    return json.loads(text, parse_constant=refuse, object_pairs_hook=once)


def read_back(answers: Answers, encoding: str = "utf-8") -> Any:
    return strict(json_text(answers, "1.2.3", encoding))


@pytest.fixture(params=NAMES)
def real(request: pytest.FixtureRequest) -> Answers:
    return example_answers(request.param)


def numbers_in(told: Any) -> Iterator[dict[str, Any]]:
    if isinstance(told, dict):
        if set(told) >= NUMBER:
            yield told
        for below in told.values():
            yield from numbers_in(below)
    elif isinstance(told, list):
        for below in told:
            yield from numbers_in(below)


def same(told: dict[str, Any], said: Amount | Range) -> None:
    own = said.number
    ranged = own.range if own is not None and isinstance(said, Amount) and said.value == own.likely else None
    ends = (said.likely, said.low, said.high) if isinstance(said, Range) else (said.value, *(ranged or (None, None)))
    for key, value in zip(("value", "low", "high"), ends, strict=True):
        assert told[key] == (value if value is not None and math.isfinite(value) else None)
    assert (told["unit"], told["quantity"]) == (said.quantity.si, said.quantity.name)
    assert told["key"] == (key_text(own.key) if own is not None and own.key else None)


def test_the_numbers_are_those_of_the_library(real: Answers) -> None:
    told = read_back(real)
    assert list(told["answers"]) == [one.key for one in real.values()]
    for one in real.values():
        found = told["answers"][one.key]
        assert found["numbers"] == list(one.numbers)
        for key, own in one.numbers.items():
            assert isinstance(own.result, Amount | Range)
            same(told["numbers"][key], real.numbers[key].result)
            value = told["numbers"][key]["value"]
            assert value is None or value == pytest.approx(own.value, rel=1e-9, abs=1e-12)


def test_findings_and_tables_hold_the_same_numbers(real: Answers) -> None:
    told = read_back(real)
    for one in real.values():
        found = told["answers"][one.key]
        for shown, meant in zip(found["findings"], one.findings, strict=True):
            assert (shown["key"], shown["verdict"], shown["text"]) == (
                meant.key,
                meant.verdict.word,
                meant.statement.text(),
            )
            for part in ("value", "limit", "margin"):
                said = getattr(meant, part)
                assert (shown[part] is None) == (said is None)
                if said is not None:
                    same(shown[part], said)
        for shown, table in zip(found["tables"], one.tables, strict=True):
            for shown_row, row in zip(shown["rows"], table.rows, strict=True):
                for cell, said in zip(shown_row, row, strict=True):
                    if isinstance(said, Amount | Range):
                        same(cell, said)
                    else:
                        assert cell is None or isinstance(cell, str)


def test_the_shape_is_as_the_schema_says(real: Answers) -> None:
    told = read_back(real)
    Draft202012Validator(json_schema()).validate(told)
    assert set(told) == TOP and told["schema"] == SCHEMA and told["units"] == "SI" and told["vanwater"] == "1.2.3"
    assert told["plan"] == {"name": real.plan.van.name, "revision": real.plan.van.revision, "situation": ""}
    assert told["failing"] is real.failing
    assert list(told["situations"]) == list(real.plan.situations)
    for name, there in told["situations"].items():
        alone = read_back(real.situations[name])
        assert alone["plan"]["situation"] == name
        assert there == {key: alone[key] for key in ("failing", "missing", "numbers", "answers")}
    for part in (told, *told["situations"].values()):
        the_numbers_are_whole({key: part[key] for key in ("answers", "numbers")})


def the_numbers_are_whole(told: dict[str, Any]) -> None:
    units = {(quantity.name, quantity.si) for quantity in QUANTITIES}
    for each in told["answers"].values():
        assert set(each) == ANSWER and set(each["numbers"]) <= set(told["numbers"])
        for table in each["tables"]:
            assert all(len(row) == len(table["columns"]) for row in table["rows"])
    for each in numbers_in(told):
        assert each["unit"] is None or (each["quantity"], each["unit"]) in units
        assert (each["value"] is None) == ("state" in each)
        assert each["key"] is None or each["key"] in told["numbers"] or "name" not in each
    for each in told["numbers"].values():
        assert ("unranged" in each) == (each["low"] is None and each["high"] is None and "low_state" not in each)


@pytest.mark.parametrize("slip", ["a key more", "a key less", "a text for a number", "another schema"])
def test_the_schema_refuses_what_is_not_of_its_shape(slip: str) -> None:
    told = read_back(made(rich_answer()))
    validator = Draft202012Validator(json_schema())
    validator.check_schema(json_schema())
    validator.validate(told)
    if slip == "a key more":
        told["answers"]["stay"]["more"] = 1
    elif slip == "a key less":
        del told["answers"]["stay"]["findings"][0]["limit"]
    elif slip == "a text for a number":
        next(iter(told["numbers"].values()))["low"] = "1"
    else:
        told["schema"] += 1
    assert not validator.is_valid(told)


def test_every_key_is_written_down() -> None:
    documented = set(re.findall(r"^    (\w+(?:, \w+)*)  +\S", form.__doc__ or "", re.MULTILINE))
    names = {name for entry in documented for name in entry.split(", ")}
    assert names >= TOP | ANSWER | NUMBER | STATES
    quoted = set(re.findall(r'"(\w+)"', form.__doc__ or ""))
    assert quoted >= FINDING | {
        "measure",
        "grave",
        "heading",
        "columns",
        "rows",
        "caption",
        "name",
        "meaning",
        "source",
        "unranged",
    }


@given(st.lists(st.floats(allow_nan=False), min_size=3, max_size=3).map(sorted) | st.just([math.nan] * 3))
def test_no_number_is_lost_and_none_is_no_number(ends: list[float]) -> None:
    low, likely, high = ends
    own = number("n", Range(low, likely, high, VOLUME))
    table = Table("t", say("c"), (Column("x", VOLUME),), ((own.shown,), (Amount(likely, VOLUME),)))
    whole = read_back(made(answer(numbers={"k": own}, tables=(table,))))
    told = whole["numbers"]["k"]
    for end, state, value in (("low", "low_state", low), ("value", "state", likely), ("high", "high_state", high)):
        if math.isfinite(value):
            assert told[end] == value and state not in told
        else:
            assert told[end] is None and told[state] == ("not known" if math.isnan(value) else "unlimited")
    ((cell,), (plain,)) = whole["answers"]["stay"]["tables"][0]["rows"]
    assert cell["value"] == plain["value"] == told["value"]
    assert plain["low"] is None and "low_state" not in plain


def test_words_in_place_of_a_number_are_kept() -> None:
    step_ = step("n", held_ends, pressures=np.array([]))
    told = read_back(made(answer(numbers={"k": step_})))["numbers"]["k"]
    assert told["value"] is None and told["state"] == "words" and told["text"] == "none"


def held_ends(pressures: Pressure[Array]) -> Pressure[Array]:
    """What is held.

    Parameters
    ----------
    pressures : array
        Pressures [Pa].

    Returns
    -------
    array
        The same [Pa].
    """
    return pressures


def test_a_gain_is_a_number_or_a_text() -> None:
    (told, *_) = read_back(made(rich_answer()))["answers"]["stay"]["findings"]
    assert told["gain"]["value"] == 86400.0 and told["change"] == "Take a larger one."


@pytest.mark.parametrize("encoding", ["utf-8", "UTF8", "ascii", "cp1252"])
def test_any_stream_can_write_it(encoding: str) -> None:
    answers = made(rich_answer(name=HOSTILE), name=HOSTILE)
    text = json_text(answers, "1.2.3", encoding)
    assert strict(text.encode(encoding).decode(encoding)) == read_back(answers)
    assert not [letter for letter in text if ord(letter) < 32 and letter != "\n"]


def test_a_hostile_name_is_a_text_without_control_codes() -> None:
    told = read_back(made(rich_answer(name=HOSTILE), name=HOSTILE))
    assert told["plan"]["name"].startswith("[red]$x_1$<b>=1+1 [31m")
    assert "\x1b" not in told["plan"]["name"] and "\u202e" not in told["plan"]["name"]


def test_keys_do_not_change_with_the_units() -> None:
    assert read_back(made(rich_answer(), units="us")) == read_back(made(rich_answer(), units="metric"))


def test_a_number_has_its_name_and_meaning() -> None:
    found = number("grey", Amount(0.09, VOLUME))
    shown = read_back(made(answer(numbers={"a.grey": found})))["numbers"]["a.grey"]
    assert shown == {
        "name": "grey",
        "meaning": "What grey is.",
        "source": "common practice",
        "unranged": PLAN_ONLY,
        "key": None,
        "value": 0.09,
        "low": None,
        "high": None,
        "unit": "m³",
        "quantity": "volume",
    }
