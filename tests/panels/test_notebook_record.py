from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from vanwater.panels.notebook_format import nbformat, written_out
from vanwater.panels.notebook_record import right, stamp, untouched, untouched_file


@pytest.fixture
def notebook() -> Any:
    new = nbformat().v4
    output = new.new_output("display_data", {"text/plain": "2.5 days"})
    cells = [new.new_markdown_cell("# Days", id="a"), new.new_code_cell("days()", id="b", outputs=[output])]
    made = new.new_notebook(cells=cells)
    stamp(made, "0f29079d")
    return nbformat().reads(written_out(made), as_version=4)


def test_what_the_program_wrote_is_known(notebook: Any) -> None:
    assert untouched(notebook)
    assert right(notebook, "0f29079d")


def test_other_outputs_are_no_change_of_the_builders_but_not_ours(notebook: Any) -> None:
    notebook.cells[1].outputs = []
    assert untouched(notebook)
    assert not right(notebook, "0f29079d")


@pytest.mark.parametrize("mark", ["ffffffff", ""])
def test_outputs_of_another_plan_are_not_right(notebook: Any, mark: str) -> None:
    assert not right(notebook, mark)


def test_what_was_never_worked_out_is_right_for_no_plan(notebook: Any) -> None:
    stamp(notebook, "")
    assert not right(notebook, "")


def test_every_change_of_a_cell_is_seen(notebook: Any) -> None:
    new = nbformat().v4
    for change in (
        lambda cells: cells.append(new.new_code_cell("", id="c")),
        lambda cells: cells.reverse(),
        lambda cells: cells.pop(),
        lambda cells: cells[0].update(source="# Nights"),
    ):
        other = nbformat().reads(written_out(notebook), as_version=4)
        change(other.cells)
        assert not untouched(other)


@pytest.mark.parametrize(
    "held", [b"", b"{", b"\xff", b"[]", b'{"nbformat": 4, "metadata": {"vanwater": 3}, "cells": []}']
)
def test_what_is_no_notebook_of_ours_is_somebody_elses(tmp_path: Path, held: bytes) -> None:
    (tmp_path / "a.ipynb").write_bytes(held)
    assert not untouched_file(tmp_path / "a.ipynb")
    assert not untouched_file(tmp_path)


def test_a_file_of_ours_is_known(tmp_path: Path, notebook: Any) -> None:
    (tmp_path / "a.ipynb").write_text(written_out(notebook), encoding="utf-8")
    assert untouched_file(tmp_path / "a.ipynb")
