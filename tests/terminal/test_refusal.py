from __future__ import annotations

import io

from tests.terminal.made import HOSTILE
from vanwater.plan.problems import PlanError, Problem
from vanwater.terminal.refusal import complaint, problems


def test_problems_stand_one_a_line_with_their_count() -> None:
    first = Problem("tanks.fresh.capacity", '"7,5 L" has a comma.', "a volume", 'Write "7.5 L".', "van.toml", 12)
    second = Problem("van.colour", '"colour" is not known here.', file="van.toml", line=3)
    assert problems(PlanError([first, second])) == [
        'van.toml:3 van.colour: "colour" is not known here.',
        'van.toml:12 tanks.fresh.capacity: "7,5 L" has a comma. Expected a volume. Write "7.5 L".',
        "2 problems; nothing was computed.",
    ]
    assert problems(PlanError([first]))[-1] == "1 problem; nothing was computed."


def test_a_long_problem_stays_on_its_line() -> None:
    assert complaint(["word " * 100], io.StringIO()).count("\n") == 1


def test_hostile_values_stay_text_in_any_encoding() -> None:
    for encoding in ("utf-8", "ascii", "cp1252"):
        stream = io.TextIOWrapper(io.BytesIO(), encoding=encoding, newline="\n")
        told = complaint([f"van.toml: {HOSTILE}", "  listed"], stream)
        first, second, rest = told.encode(encoding).decode(encoding).split("\n")
        assert first.startswith("van.toml: [red]$x_1$<b>=1+1 [31mmoc")
        assert not [letter for letter in first if ord(letter) < 32]
        assert (second, rest) == ("  listed", "")


def test_of_very_many_problems_the_first_are_told_and_all_are_counted() -> None:
    error = PlanError(Problem(f"tanks.{place:05}", "There is no such place.") for place in range(80_000))
    lines = problems(error)
    assert lines[-1] == "80000 problems, the first 50 of them told; nothing was computed."
    assert len(lines) == 51 and lines[49].startswith("tanks.00049")
