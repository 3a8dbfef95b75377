from __future__ import annotations

import pytest
from rich.cells import cell_len

from tests.examples import NAMES, example_answers
from tests.terminal.made import HOSTILE, answer, made, number, piped, rich_answer
from vanwater.answers.core.statement import Amount
from vanwater.quantities import VOLUME
from vanwater.terminal.screen import WIDTH
from vanwater.terminal.unfold import found, judged_by, keys, numbers_of, unfolded, unknown

KNOWN = (
    "stay.days",
    "tank.fresh.days",
    "tank.grey.days",
    "supply.Shower.flow",
    "supply.shower 2.flow",
    "supply.overflow",
)


@pytest.mark.parametrize("name", NAMES)
@pytest.mark.parametrize("us", [False, True], ids=["metric", "us"])
def test_every_number_of_every_example_unfolds(name: str, us: bool) -> None:
    answers = example_answers(name)
    screen = piped(us=us)
    for key, number_ in numbers_of(answers).items():
        lines = unfolded(key, number_, screen)
        shown = number_.result.text(us).replace("\N{NO-BREAK SPACE}", " ").replace("\u202f", " ")
        assert " ".join(" ".join(lines[:2]).split()).find(f"= {shown}") > 0  # a long name may break the line within it
        assert lines[-1] == f"Key: {key}"
        assert all(cell_len(line) <= WIDTH for line in lines)
        assert number_.source == "" or any("Source:" in line for line in lines)


def test_the_sum_stands_below_its_number() -> None:
    found = number("grey", Amount(0.09, VOLUME))
    assert unfolded("stay.grey", found, piped()) == [
        "grey = 90 L",
        "  What grey is.",
        "  Source: common practice",
        "",
        "Key: stay.grey",
    ]


def test_all_keys_are_listed_with_their_numbers() -> None:
    lines = keys(made(rich_answer(), rich_answer("supply")), piped())
    listed = [line.split("  ")[0] for line in lines[1:5]]
    assert listed == ["stay.days.fresh", "stay.pressure", "supply.days.fresh", "supply.pressure"]
    assert "3.4 days  (2.6 to 4.3)" in lines[1] and lines[2].endswith("1 bar")


def test_nothing_to_unfold_is_said() -> None:
    assert keys(made(answer()), piped()) == ["Nothing is decided yet, so there is no number to unfold."]


def test_a_misspelt_key_names_the_nearest() -> None:
    told = str(unknown("grye.dais", (), (*KNOWN, "tanks.grey.capacity"))).split("\n")
    assert told[0] == 'There is no number and no address "grye.dais". The nearest are:'
    assert told[1] == "  tank.grey.days"


def test_an_unlike_word_names_none() -> None:
    assert str(unknown("zzzzzzzz", (), KNOWN)).split("\n")[0].endswith('"zzzzzzzz".')


def test_a_part_of_many_keys_lists_them() -> None:
    many = tuple(f"a.{place}" for place in range(30))
    told = str(unknown("a", many, many)).split("\n")
    assert told[0] == '"a" may mean 30 keys:' and told[1] == "  a.0"
    assert "  and 18 more" in told and len(told) < 20


def test_hostile_names_stay_text() -> None:
    found = number(HOSTILE, Amount(0.09, VOLUME))
    lines = [*unfolded(f"stay.{HOSTILE}", found, piped()), *keys(made(rich_answer(name=HOSTILE)), piped())]
    assert not [letter for line in lines for letter in line if ord(letter) < 32 or letter in "\u202e\u202c"]


def test_a_findings_key_unfolds_what_it_judges() -> None:
    answers = example_answers("family-winter")
    judged = judged_by(answers)
    lines = found(judged["stay.days"], piped())
    assert lines[0].startswith("✕ fails: The van can stay out 2.5")
    assert any(line.startswith("days off-grid = 2.5") for line in lines)
    assert all(lines.count(line) == 1 for line in lines if line.startswith("Key: "))
    silent = {finding.key for answer in answers.values() for finding in answer.findings} - set(judged)
    assert "stay.days" not in silent
