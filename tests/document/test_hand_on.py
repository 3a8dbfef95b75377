from __future__ import annotations

import datetime as dt
import os
from pathlib import Path

import pytest

from tests.examples import example_answers
from vanwater.document.hand_on import copy_of, hand_on
from vanwater.document.output_file import MARKDOWN, PAPERS, PDF, Kind, NotWrittenError
from vanwater.document.papers import in_form
from vanwater.document.writings import WRITINGS, Subject
from vanwater.plan.file import PlanFile, read
from vanwater.plan.tables import resource

DAY = dt.date(2026, 11, 25)
THREE = [WRITINGS[key] for key in PAPERS]
LISTS = [WRITINGS["parts"], WRITINGS["tags"]]


@pytest.fixture(scope="module")
def of() -> Subject:
    return Subject(answers=example_answers("weekend-cans"), us=True, date=DAY)


@pytest.fixture
def own(tmp_path: Path) -> PlanFile:
    path = tmp_path / "van.toml"
    path.write_bytes(resource("data", "plans", "weekend-cans.toml").read_bytes())
    return read(path)


def test_a_copy_is_the_plan_and_is_known_again(own: PlanFile, tmp_path: Path, of: Subject) -> None:
    moved = own.revised("household.people", 3)
    written = hand_on(THREE, of, moved, tmp_path)
    assert [place.name for place in written] == [
        "van customer.html",
        "van workshop.html",
        "van.html",
        "van handed on.toml",
    ]
    copy = written[-1]
    assert copy.read_bytes() == copy_of(moved)
    assert read(copy).plan.own == moved.plan.own
    assert hand_on(THREE[:1], of, moved, tmp_path) == (written[0], copy)
    assert hand_on(THREE[:1], of, own, tmp_path) == written[:1]  # the file says it already


def test_a_copy_that_somebody_changed_stays_and_nothing_else_is_written(
    own: PlanFile, tmp_path: Path, of: Subject, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("vanwater.document.papers.render_for", None)  # no paper is worked out for nothing
    copy = tmp_path / "van handed on.toml"
    moved = own.revised("household.people", 3)
    copy.write_bytes(copy_of(moved).replace(b"people = 3", b"people = 4"))
    kept = copy.read_bytes()
    with pytest.raises(NotWrittenError, match="was changed since"):
        hand_on(THREE, of, moved, tmp_path)
    assert copy.read_bytes() == kept != copy_of(moved)
    copy.write_bytes(own.data)  # a plan of the builder's
    with pytest.raises(NotWrittenError, match="did not write"):
        hand_on(THREE, of, moved, tmp_path)
    assert copy.read_bytes() == own.data
    assert {path.name for path in tmp_path.iterdir()} == {"van.toml", "van handed on.toml"}


def test_what_somebody_puts_there_meanwhile_stays_and_nothing_else_is_written(
    own: PlanFile, tmp_path: Path, of: Subject, monkeypatch: pytest.MonkeyPatch
) -> None:
    def meanwhile(page: str, form: Kind, date: dt.date | None = None) -> bytes:
        (tmp_path / "van.html").write_text("mine")
        return in_form(page, form, date)

    monkeypatch.setattr("vanwater.document.hand_on.in_form", meanwhile)
    with pytest.raises(NotWrittenError, match="did not write"):
        hand_on(THREE, of, own, tmp_path)
    assert {path.name for path in tmp_path.iterdir()} == {"van.toml", "van.html"}
    assert (tmp_path / "van.html").read_text() == "mine"


def test_a_list_into_which_somebody_wrote_stays(own: PlanFile, tmp_path: Path, of: Subject) -> None:
    (place,) = hand_on(LISTS[:1], of, own, tmp_path)
    hand_on(LISTS[:1], of, own, tmp_path)  # its own one is written anew
    priced = place.read_bytes().replace(b"barb tee,", b"barb tee at 1.20,").replace(b"hose or pipe", b"hose")
    place.write_bytes(priced)
    with pytest.raises(NotWrittenError, match="was changed since vanwater wrote it"):
        hand_on(LISTS[:1], of, own, tmp_path)
    assert place.read_bytes() == priced


def test_a_paper_has_the_form_that_is_asked_for_and_all_else_its_own(
    own: PlanFile, tmp_path: Path, of: Subject
) -> None:
    written = hand_on([WRITINGS["customer"], *LISTS, WRITINGS["schematic"]], of, own, tmp_path, MARKDOWN)
    assert [place.name for place in written] == ["van customer.md", "van parts.csv", "van tags.csv", "van.svg"]


def test_a_disk_that_is_full_keeps_all_that_lay_there(
    own: PlanFile, tmp_path: Path, of: Subject, monkeypatch: pytest.MonkeyPatch
) -> None:
    """/dev/full refuses every byte as a full disk does; here from the second file on."""
    before = {place: place.read_bytes() for place in hand_on(LISTS, of, own, tmp_path)}
    opened, parts = os.open, []

    def full(path: os.PathLike[str] | str, flags: int, mode: int = 0o777) -> int:
        if not str(path).endswith(".part"):
            return opened(path, flags, mode)
        parts.append(path)
        handle = opened(path, flags, mode)
        if len(parts) == 1:
            return handle
        os.close(handle)
        return opened("/dev/full", os.O_WRONLY)

    monkeypatch.setattr(os, "open", full)
    with pytest.raises(NotWrittenError) as told:
        hand_on(LISTS, of, own, tmp_path)
    first, second = before
    assert str(told.value) == (
        f"{second} cannot be written: No space left on device. Nothing was written.\n"
        f"Make room on the disk, then write it again; what lay there before is kept."
    )
    assert {place: place.read_bytes() for place in before} == before
    assert {place.name for place in tmp_path.iterdir()} == {"van.toml", first.name, second.name}


def test_without_a_browser_no_pdf_and_nothing_else_is_written(
    own: PlanFile, tmp_path: Path, of: Subject, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("vanwater.document.pdf._PLACES", ())
    monkeypatch.setenv("PATH", "")
    with pytest.raises(NotWrittenError, match="Install Chromium, Chrome or Edge"):
        hand_on([LISTS[0], WRITINGS["customer"]], of, own, tmp_path, PDF)
    assert {place.name for place in tmp_path.iterdir()} == {"van.toml"}


def test_a_plan_is_not_handed_on_without_its_shelf(own: PlanFile, tmp_path: Path, of: Subject) -> None:
    (tmp_path / "shelf.toml").write_text('[pumps."pump of ours"]\nkind = "diaphragm"\n', encoding="utf-8")
    own.path.write_text(f'shelf = "shelf.toml"\n{own.text}', encoding="utf-8")
    plan, other = read(own.path), tmp_path / "other"
    other.mkdir()
    with pytest.raises(NotWrittenError, match=r"lacks shelf\.toml, the shelf.*\nCopy that file there first"):
        hand_on(LISTS, of, plan, other)
    assert not list(other.iterdir())
    (other / "shelf.toml").write_bytes((tmp_path / "shelf.toml").read_bytes())
    assert read(hand_on(LISTS, of, plan, other)[-1]).plan.own == plan.plan.own


def test_without_the_folder_it_says_so(own: PlanFile, tmp_path: Path, of: Subject) -> None:
    with pytest.raises(NotWrittenError, match=r"gone is no folder\. Nothing was written\.\nMake the folder first\."):
        hand_on(LISTS, of, own, tmp_path / "gone")
