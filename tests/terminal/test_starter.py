"""The starter plan: complete as it is, every field explained, every unused one right when it is used."""

from __future__ import annotations

import re
import tomllib
import typing
from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import Any

import pytest
from pydantic import BaseModel

from vanwater.answers.core.finding import Verdict
from vanwater.answers.questions import answers_to
from vanwater.plan.address import known_keys, part_of
from vanwater.plan.file import read
from vanwater.plan.model import Plan
from vanwater.plan.problems import PlanError
from vanwater.plan.tables import resource
from vanwater.terminal.refusal import RefusedError
from vanwater.terminal.starter import start

SHORT = resource("data", "starter", "starter.toml").read_text(encoding="utf-8")
TEXT = resource("data", "starter", "full.toml").read_text(encoding="utf-8")
SHELF = """
[runs."my hose"]
bore = "12.5 mm"
outside = "18.5 mm"
price = "3 EUR"
[outlets."my handset"]
flow = "5.5 L/min"
at = "1 bar"
"""
LINES = TEXT.split("\n")
UNUSED = re.compile(r"#(?=\S)")


def used(first: int, last: int) -> str:
    """The text with the unused lines from one to another taken into use."""
    return "\n".join(
        UNUSED.sub("", line, count=1)
        if (first <= number <= last or line.startswith("#shelf")) and line.startswith("#") and line[1:2] != " "
        else line
        for number, line in enumerate(LINES)
    )


def pieces() -> list[tuple[int, int]]:
    """Each unused table with its lines, each other unused field by itself."""
    found: list[tuple[int, int]] = []
    number = 0
    while number < len(LINES):
        end = number
        if LINES[number].startswith("#["):
            while LINES[end + 1].startswith("#") and LINES[end + 1][1] != " ":
                end += 1
        if UNUSED.match(LINES[number]):
            found.append((number, end))
        number = end + 1
    return found


def places(tables: Any, way: tuple[str, ...] = ()) -> Iterator[tuple[str, ...]]:
    """Every place of nested tables."""
    if isinstance(tables, Mapping):
        for name, below in tables.items():
            yield (*way, name)
            yield from places(below, (*way, name))


def fields_told() -> set[tuple[type[BaseModel], str]]:
    """Every kind of part and its field that the text names, used or not."""
    tables = tomllib.loads(used(0, len(LINES)))
    told = {(part_of(Plan, place[:-1]), place[-1]) for place in places(tables)}
    return {(part, name) for part, name in told if part is not None and name in known_keys(part)}


def parts_of(part: type[BaseModel]) -> Iterator[type[BaseModel]]:
    """A kind of part and every kind that may stand in it."""
    yield part
    for key in known_keys(part):
        hint = typing.get_type_hints(part)[names_by_key(part)[key]]
        for below in kinds_in(hint):
            yield from parts_of(below)


def names_by_key(part: type[BaseModel]) -> dict[str, str]:
    return {field.alias or name: name for name, field in part.model_fields.items()}


def kinds_in(hint: Any) -> Iterator[type[BaseModel]]:
    if isinstance(hint, type) and issubclass(hint, BaseModel):
        yield hint
    for inner in typing.get_args(hint):
        yield from kinds_in(inner)


def every_field() -> set[tuple[type[BaseModel], str]]:
    """Every kind of part and its field that a plan knows."""
    return {(part, key) for part in parts_of(Plan) for key in known_keys(part)}


@pytest.fixture
def file(tmp_path: Path) -> Path:
    (tmp_path / "my-shelf.toml").write_text(SHELF, encoding="utf-8")
    return tmp_path / "van.toml"


@pytest.mark.parametrize(("full", "text"), [(False, SHORT), (True, TEXT)])
def test_it_answers_every_question_and_nothing_fails(file: Path, full: bool, text: str) -> None:
    start(file, full)
    assert file.read_text(encoding="utf-8") == text
    answers = answers_to(read(file).plan)
    assert all(answer.decided for answer in answers.values())
    verdicts = {finding.verdict for answer in answers.values() for finding in answer.findings}
    assert verdicts <= {Verdict.FINE, Verdict.WATCH}


def test_the_short_one_is_short_with_a_line_for_each_run() -> None:
    lines = SHORT.splitlines()
    assert len(lines) <= 90
    assert max(map(len, lines)) <= 120
    runs = tomllib.loads(SHORT)["runs"]
    assert len(runs) >= 8
    assert sum(" from = " in line and " to = " in line for line in lines) == len(runs)
    assert "vanwater stock" in SHORT
    assert "vanwater new --full" in SHORT


def test_a_value_in_a_line_of_the_short_one_can_be_changed_and_is_named_by_its_line(file: Path) -> None:
    start(file)
    revised = read(file).revised("runs.hot.length", "2.6 m")
    assert revised.plan.runs["hot"].length == pytest.approx(2.6)
    assert revised.text == SHORT.replace('length = "2.3 m"', 'length = "2.6 m"')
    file.write_text(SHORT.replace('length = "2.3 m"', 'length = "2.3"'), encoding="utf-8")
    with pytest.raises(PlanError) as caught:
        read(file)
    (problem,) = caught.value.problems
    assert problem.line == SHORT[: SHORT.index("hot = {")].count("\n") + 1


def test_it_names_every_field_of_a_plan() -> None:
    assert {f"{part.__name__}.{key}" for part, key in every_field() - fields_told()} == set()
    assert len(every_field()) > 90


@pytest.mark.parametrize("piece", pieces(), ids=lambda piece: LINES[piece[0]].split("=")[0].strip("# "))
def test_an_unused_field_is_right_when_it_is_used(file: Path, piece: tuple[int, int]) -> None:
    file.write_text(used(*piece), encoding="utf-8")
    plan = read(file).plan
    assert LINES[piece[0]].startswith("#shelf") or tomllib.loads(used(*piece)) != tomllib.loads(used(-1, -1))
    assert all(answer.decided for answer in answers_to(plan).values())


def test_all_of_them_are_right_together(file: Path) -> None:
    file.write_text(used(0, len(LINES)), encoding="utf-8")
    assert all(answer.decided for answer in answers_to(read(file).plan).values())
    assert len(pieces()) > 15


def test_each_of_its_comments_fits_the_screen() -> None:
    assert max(map(len, LINES)) <= 120


@pytest.mark.parametrize("held", [b"", b"[van]\n"])
def test_nothing_is_written_over(file: Path, held: bytes) -> None:
    file.write_bytes(held)
    with pytest.raises(RefusedError, match="is there already; nothing was written"):
        start(file)
    assert file.read_bytes() == held


def test_a_folder_that_is_missing_is_told(tmp_path: Path) -> None:
    with pytest.raises(RefusedError, match="is no folder; nothing was written"):
        start(tmp_path / "missing" / "van.toml")
    with pytest.raises(RefusedError, match="is there already"):
        start(tmp_path)
    with pytest.raises(RefusedError, match="cannot be written"):
        start(tmp_path / ("x" * 300))
