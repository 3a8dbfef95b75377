from __future__ import annotations

import datetime as dt
from pathlib import Path

import pytest

from tests.examples import example_answers
from vanwater.document.html import render
from vanwater.document.output_file import PAGE, PAPERS, Kind, NotWrittenError
from vanwater.document.papers import copy_of, hand_on, in_form, paper
from vanwater.document.short import render_for
from vanwater.plan.file import PlanFile, read
from vanwater.plan.tables import resource

DAY = dt.date(2026, 11, 25)


@pytest.fixture
def own(tmp_path: Path) -> PlanFile:
    path = tmp_path / "van.toml"
    path.write_bytes(resource("data", "plans", "weekend-cans.toml").read_bytes())
    return read(path)


def test_each_paper_is_that_of_its_reader() -> None:
    answers = example_answers("weekend-cans")
    assert paper("customer", answers, date=DAY) == render_for("customer", answers, date=DAY)
    assert paper("workshop", answers, date=DAY) == render_for("workshop", answers, date=DAY)
    assert paper("file", answers, date=DAY) == render(answers, date=DAY)


def test_a_copy_is_the_plan_and_is_known_again(own: PlanFile, tmp_path: Path) -> None:
    answers, moved = example_answers("weekend-cans"), own.revised("household.people", 3)
    written = hand_on(answers, moved, tmp_path, date=DAY)
    assert [place.name for place in written] == [
        "van customer.html",
        "van workshop.html",
        "van.html",
        "van handed on.toml",
    ]
    copy = written[-1]
    assert copy.read_bytes() == copy_of(moved)
    assert read(copy).plan.own == moved.plan.own
    assert hand_on(answers, moved, tmp_path, date=DAY) == written
    assert len(hand_on(answers, own, tmp_path, date=DAY)) == 3  # the file says it already


def test_a_copy_that_somebody_changed_stays_and_nothing_else_is_written(
    own: PlanFile, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("vanwater.document.papers.render_for", None)  # no paper is worked out for nothing
    copy = tmp_path / "van handed on.toml"
    moved = own.revised("household.people", 3)
    copy.write_bytes(copy_of(moved).replace(b"people = 3", b"people = 4"))
    kept = copy.read_bytes()
    with pytest.raises(NotWrittenError, match="was changed since"):
        hand_on(example_answers("weekend-cans"), moved, tmp_path, date=DAY)
    assert copy.read_bytes() == kept != copy_of(moved)
    copy.write_bytes(own.data)  # a plan of the builder's
    with pytest.raises(NotWrittenError, match="did not write"):
        hand_on(example_answers("weekend-cans"), moved, tmp_path, date=DAY)
    assert copy.read_bytes() == own.data
    assert {path.name for path in tmp_path.iterdir()} == {"van.toml", "van handed on.toml"}


def test_what_somebody_puts_there_meanwhile_stays_and_nothing_else_is_written(
    own: PlanFile, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def meanwhile(page: str, form: Kind, date: dt.date | None = None) -> bytes:
        (tmp_path / "van.html").write_text("mine")
        return in_form(page, form, date)

    monkeypatch.setattr("vanwater.document.papers.in_form", meanwhile)
    with pytest.raises(NotWrittenError, match="did not write"):
        hand_on(example_answers("weekend-cans"), own, tmp_path, date=DAY)
    assert {path.name for path in tmp_path.iterdir()} == {"van.toml", "van.html"}
    assert (tmp_path / "van.html").read_text() == "mine"


@pytest.mark.parametrize("us", [False, True])
def test_the_three_papers_of_the_largest_example_are_small_enough_to_send(us: bool) -> None:
    pages = {reader: paper(reader, example_answers("family-winter"), us=us, date=DAY) for reader in PAPERS}
    sizes = {reader: len(in_form(page, PAGE)) for reader, page in pages.items()}
    assert sizes["customer"] < 150_000 and sum(sizes.values()) < 400 * 1024, sizes
