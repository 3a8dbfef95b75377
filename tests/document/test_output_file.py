from __future__ import annotations

from pathlib import Path

import pytest

from tests.examples import example_answers
from vanwater.document.output_file import DRAWING, MARKDOWN, PAGE, PDF, Kind, NotWrittenError, form_of, target
from vanwater.document.papers import in_form, paper
from vanwater.figures.schematic.drawing import schematic


@pytest.fixture
def plan(tmp_path: Path) -> Path:
    path = tmp_path / "van.toml"
    path.write_text("[van]")
    return path


@pytest.mark.parametrize("name", ["van.html", "van.HTM"])
def test_a_new_page_may_be_written(tmp_path: Path, plan: Path, name: str) -> None:
    assert target(tmp_path / name, plan, PAGE) == tmp_path / name


@pytest.mark.parametrize(("name", "form"), [("van.HTM", PAGE), ("van.Md", MARKDOWN), ("van.PDF", PDF)])
def test_an_ending_in_capitals_asks_for_the_same_form(name: str, form: Kind) -> None:
    assert form_of(Path(name)) is form


def test_an_earlier_document_may_be_written_over(tmp_path: Path, plan: Path) -> None:
    page = tmp_path / "van.html"
    page.touch()
    assert target(page, plan, PAGE) == page
    page.write_bytes(in_form(paper("file", example_answers("weekend-cans")), PAGE))
    assert target(page, plan, PAGE) == page


def test_an_earlier_drawing_too_and_no_other(tmp_path: Path, plan: Path) -> None:
    drawing = tmp_path / "van.svg"
    drawing.write_text(schematic(example_answers("weekend-cans")), encoding="utf-8")
    assert target(drawing, plan, DRAWING) == drawing
    drawing.write_text("<svg/>", encoding="utf-8")
    with pytest.raises(NotWrittenError, match="that vanwater did not write"):
        target(drawing, plan, DRAWING)
    with pytest.raises(NotWrittenError, match="no name of a drawing"):
        target(tmp_path / "van.html", plan, DRAWING)


@pytest.mark.parametrize("begins", ["<!DOCTYPE html>\n<html>", "\ufeff\n <html lang=en>", "<p>vanwater</p>"])
def test_a_page_of_somebody_else_is_left_alone(tmp_path: Path, plan: Path, begins: str) -> None:
    page = tmp_path / "van.html"
    page.write_text(begins, encoding="utf-8")
    with pytest.raises(NotWrittenError, match="that vanwater did not write"):
        target(page, plan, PAGE)
    assert page.read_text(encoding="utf-8") == begins


@pytest.mark.parametrize(
    ("name", "told"),
    [
        ("van.toml", "is no name of a web page"),
        ("van", "is no name of a web page"),
        ("van.pdf", "is no name of a web page"),
        ("missing/van.html", "is no folder"),
        (".", "is a folder"),
        ("other.html", "holds something that vanwater did not write"),
        ("folder.html", "is a folder"),
        ("plan.html", "is the plan itself"),
    ],
)
def test_nothing_else_is(tmp_path: Path, plan: Path, name: str, told: str) -> None:
    (tmp_path / "other.html").write_text("my notes")
    (tmp_path / "folder.html").mkdir()
    (tmp_path / "plan.html").hardlink_to(plan)
    with pytest.raises(NotWrittenError, match=told) as error:
        target(tmp_path / name, plan, PAGE)
    assert "Nothing was written." in str(error.value)
