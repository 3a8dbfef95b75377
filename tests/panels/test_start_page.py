from __future__ import annotations

import re
import shutil
from pathlib import Path

import pytest

from vanwater.answers.questions import QUESTIONS, answers_to
from vanwater.panels.initial_plan import PLAN_VARIABLE
from vanwater.panels.start_page import ASKED, start_notebook, start_page
from vanwater.plan.file import PlanFile, read
from vanwater.plan.tables import resource

SHIPPED = sorted(resource("notebooks").glob("*.ipynb"))


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    folder = tmp_path / "notebooks"
    folder.mkdir()
    for notebook in SHIPPED:
        shutil.copyfile(notebook, folder / notebook.name)
    return folder


def test_every_question_it_names_exists_and_its_notebook_too() -> None:
    names = {re.sub(r"^\d+_", "", path.stem) for path in SHIPPED}
    assert set(ASKED) <= names
    assert set(ASKED.values()) <= set(QUESTIONS)


def test_it_tells_the_van_the_verdict_what_fails_and_the_way_into_each_notebook(
    example: PlanFile, folder: Path
) -> None:
    shown = start_page(folder, {PLAN_VARIABLE: str(example.path)})
    answers = answers_to(example.plan)
    us = example.plan.us
    for told in (
        f"{example.plan.van.name}, revision {example.plan.van.revision}",
        example.path.name,
        answers.headline.text(us),
        *(finding.statement.text(us) for finding in answers.findings if finding.urgent),
        *(answers[key].verdict.text(us) for key in ASKED.values() if key in answers),
    ):
        assert told in shown.text
    assert re.findall(r'<a href="([^"]+)"', shown.html) == [path.name for path in SHIPPED]
    assert '<svg xmlns="http://www.w3.org/2000/svg"' in shown.html
    assert "How many days can we stay out?" in shown.html
    assert "A larger tank, another heater" in shown.html and "How long it lasts" in shown.html
    assert "This page shows" not in shown.html
    for answer in answers.values():
        assert answer.key in ASKED.values() or f"<b>{answer.label}</b>" in shown.html
    for caution in (caution for answer in answers.values() for caution in answer.cautions if caution.grave):
        assert "Take care" in shown.html, caution


def test_without_a_plan_it_says_that_it_is_the_example(folder: Path) -> None:
    shown = start_page(folder, {})
    assert shown.text.startswith("Example: Family van, winter use, revision 4\nfamily-winter.toml\n")
    assert "vanwater new van.toml" in shown.html


def test_only_notebooks_that_lie_there_are_named_and_a_builders_own_is_called_so(
    folder: Path, own_file: PlanFile
) -> None:
    for notebook in SHIPPED[1:]:
        (folder / notebook.name).unlink()
    shown = start_page(folder, {PLAN_VARIABLE: str(own_file.path)})
    assert re.findall(r'<a href="([^"]+)"', shown.html) == [SHIPPED[0].name]
    assert "Changed by you, and left as it is" in shown.html


def test_half_a_plan_names_what_is_missing(tmp_path: Path, folder: Path) -> None:
    path = tmp_path / "half.toml"
    path.write_text('[van]\nname = "half"\n[household]\npeople = 2\n', encoding="utf-8")
    answers = answers_to(read(path).plan)
    assert answers.headline.text() in start_page(folder, {PLAN_VARIABLE: str(path)}).text


def test_problems_are_told_with_their_lines_and_what_to_do(tmp_path: Path, folder: Path) -> None:
    path = tmp_path / "van.toml"
    path.write_text('[van]\nname = "<b>v"\ncolour = "red"\n[household]\npeople = 99\n', encoding="utf-8")
    shown = start_page(folder, {PLAN_VARIABLE: str(path)})
    assert "van.toml cannot be used yet: 2 problems." in shown.text
    assert "<b>Line 3, van.colour</b>: &quot;colour&quot; is not known here." in shown.html
    assert "<b>Line 5, household.people</b>: 99" in shown.html
    assert "of a newer vanwater than this one" in shown.html
    assert str(path) in shown.text
    assert 'role="alert"' in shown.html
    assert "<svg" not in shown.html


@pytest.mark.parametrize("held", [None, b"", b"\xff", b"a = = 1"])
def test_whatever_the_file_holds_the_page_comes(tmp_path: Path, folder: Path, held: bytes | None) -> None:
    path = tmp_path / "van.toml"
    if held is not None:
        path.write_bytes(held)
    shown = start_page(folder, {PLAN_VARIABLE: str(path)})
    assert "van.toml cannot be used yet: 1 problem." in shown.text
    assert "newer vanwater" not in shown.text


def test_its_code_is_hidden() -> None:
    (cell,) = start_notebook().cells
    assert cell.metadata == {"jupyter": {"source_hidden": True}}
    assert "start_page()" in cell.source
