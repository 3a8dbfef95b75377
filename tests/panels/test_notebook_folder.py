"""A folder of notebooks: every case of what may lie there and what may happen meanwhile, with one small notebook."""

from __future__ import annotations

import errno
import os
import shutil
import stat
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest

from vanwater.panels.execute import Interpreter
from vanwater.panels.notebook_folder import NotebookFolder
from vanwater.panels.notebook_format import nbformat, written_out
from vanwater.panels.plan_banner import START, fingerprint
from vanwater.plan import saving
from vanwater.plan.tables import resource

DAYS = "01_days_off_grid.ipynb"
Make = Callable[..., NotebookFolder]


SMALL = "from vanwater.panels import Bench, plan_in_hand\n\nBench(plan_in_hand()).page('stay').verdict()"


@pytest.fixture(autouse=True)
def own_key(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("JUPYTER_DATA_DIR", str(tmp_path / "data"))


@pytest.fixture(autouse=True)
def shipped(tmp_path_factory: pytest.TempPathFactory, monkeypatch: pytest.MonkeyPatch) -> None:
    """One notebook ships, and it is small."""
    new, folder = nbformat().v4, tmp_path_factory.mktemp("shipped")
    cells = [
        new.new_markdown_cell("# Days?\n\n*This page shows an example.*\n\nSo many.", id="a"),
        new.new_code_cell(SMALL, id="b"),
    ]
    (folder / DAYS).write_text(written_out(new.new_notebook(cells=cells)), encoding="utf-8")

    def instead(*parts: str) -> Path:
        return folder.joinpath(*parts[1:]) if parts[0] == "notebooks" else resource(*parts)

    for module in ("notebook_folder", "start_page"):
        monkeypatch.setattr(f"vanwater.panels.{module}.resource", instead)


@pytest.fixture
def plan(tmp_path: Path) -> Path:
    path = tmp_path / "van.toml"
    shutil.copyfile(resource("data", "plans", "weekend-cans.toml"), path)
    return path


@pytest.fixture(scope="module")
def interpreter() -> Iterator[Interpreter]:
    with Interpreter() as interpreter:
        yield interpreter


@pytest.fixture
def make(tmp_path: Path, plan: Path, interpreter: Interpreter) -> Make:
    return lambda **more: NotebookFolder(
        **{"folder": tmp_path / "notebooks", "interpreter": interpreter, "plan": plan, **more}
    )


def lies(tmp_path: Path, name: str = DAYS) -> Any:
    return nbformat().read(tmp_path / "notebooks" / name, as_version=4)


def shown(tmp_path: Path, name: str = DAYS) -> str:
    cells = lies(tmp_path, name).cells
    return "\n".join(str(out.get("data", out)) for cell in cells for out in cell.get("outputs", []))


def first_line(tmp_path: Path) -> str:
    (out,) = lies(tmp_path).cells[0].outputs
    return str(out["data"]["text/plain"])


def changed(tmp_path: Path, name: str = DAYS) -> bytes:
    path = tmp_path / "notebooks" / name
    notebook = nbformat().read(path, as_version=4)
    notebook.cells.append(nbformat().v4.new_markdown_cell("mine", id="mine"))
    path.write_text(written_out(notebook), encoding="utf-8")
    return path.read_bytes()


def test_first_the_start_page_then_the_rest_and_no_number_of_another_van(
    make: Make, tmp_path: Path, plan: Path
) -> None:
    notebooks = make()
    notebooks.begin()
    assert "Fresh water runs out first" in shown(tmp_path, START)
    assert first_line(tmp_path).startswith("Not worked out yet for Weekender with cans, revision")
    assert [cell for cell in lies(tmp_path).cells if cell.get("outputs")] == lies(tmp_path).cells[:1]
    assert notebooks.finish() == "1 notebook is worked out for this plan."
    assert first_line(tmp_path).startswith("Weekender with cans, revision")
    assert fingerprint(plan) in first_line(tmp_path)
    assert "Fresh water runs out first" in shown(tmp_path)
    assert {path.name for path in (tmp_path / "notebooks").iterdir()} == {DAYS, START}


def test_the_words_of_a_notebook_name_the_plan_that_it_shows(make: Make, tmp_path: Path, plan: Path) -> None:
    notebooks = make()
    notebooks.begin()
    words = "# Days?\n\n*This page shows Weekender with cans, revision 2, of `van.toml`.*\n\nSo many."
    assert lies(tmp_path).cells[1].source == words
    notebooks.finish()
    assert lies(tmp_path).cells[1].source == words
    text = plan.read_text(encoding="utf-8").replace("Weekender with cans", "Two * cans")
    plan.write_text(text, encoding="utf-8")
    notebooks.begin()
    assert "*This page shows Two &#42; cans, revision" in lies(tmp_path).cells[1].source


def test_what_it_writes_is_trusted_with_the_users_own_key(make: Make, tmp_path: Path) -> None:
    from nbformat.sign import NotebookNotary

    notebooks = make()
    notebooks.begin()
    notebooks.finish()
    notary = NotebookNotary(data_dir=str(tmp_path / "data"))
    for name in (DAYS, START):
        assert notary.check_signature(lies(tmp_path, name))
    changed(tmp_path)
    assert not notary.check_signature(lies(tmp_path))
    notary.store.close()


def test_where_nothing_can_be_signed_it_is_said(make: Make, tmp_path: Path) -> None:
    (tmp_path / "data").touch()
    notebooks = make()
    notebooks.begin()
    assert any("cannot be signed" in note for note in notebooks.notes())
    assert "Fresh water runs out first" in shown(tmp_path, START)


def test_again_nothing_is_written_that_is_the_same(make: Make, tmp_path: Path) -> None:
    for _ in range(2):
        notebooks = make()
        notebooks.begin()
        waiting = first_line(tmp_path)
        notebooks.finish()
        times = {path.name: path.stat().st_mtime_ns for path in (tmp_path / "notebooks").iterdir()}
    assert not waiting.startswith("Not worked out")
    notebooks.begin()
    notebooks.finish()
    assert {path.name: path.stat().st_mtime_ns for path in (tmp_path / "notebooks").iterdir()} == times


def test_a_plan_that_changed_is_worked_out_anew(make: Make, tmp_path: Path, plan: Path) -> None:
    make().begin()
    plan.write_text(plan.read_text(encoding="utf-8").replace("Weekender", "Other van"), encoding="utf-8")
    notebooks = make()
    notebooks.begin()
    assert first_line(tmp_path).startswith("Not worked out yet for Other van")
    notebooks.finish()
    assert first_line(tmp_path).startswith("Other van with cans")
    assert fingerprint(plan) in first_line(tmp_path)


def test_what_somebody_only_ran_is_refreshed(make: Make, tmp_path: Path) -> None:
    notebooks = make()
    notebooks.begin()
    notebook = lies(tmp_path)
    notebook.cells[2].outputs = [nbformat().v4.new_output("stream", text="of a moved slider")]
    (tmp_path / "notebooks" / DAYS).write_text(written_out(notebook), encoding="utf-8")
    again = make()
    again.begin()
    assert again.kept == ()
    again.finish()
    assert "of a moved slider" not in shown(tmp_path)


@pytest.mark.parametrize("name", [DAYS, START])
def test_what_somebody_changed_is_left_and_named(make: Make, tmp_path: Path, name: str) -> None:
    make().begin()
    own = changed(tmp_path, name)
    notebooks = make()
    notebooks.begin()
    assert notebooks.kept == (name,)
    assert any(note.startswith(f"{name} was changed by you") for note in notebooks.notes())
    notebooks.finish()
    assert (tmp_path / "notebooks" / name).read_bytes() == own


def test_what_somebody_changed_is_replaced_where_that_is_asked_for(make: Make, tmp_path: Path) -> None:
    make().begin()
    changed(tmp_path)
    notebooks = make(fresh=True)
    notebooks.begin()
    assert notebooks.kept == ()
    notebooks.finish()
    assert "mine" not in [cell.source for cell in lies(tmp_path).cells]


def test_other_files_stay_and_a_foreign_notebook_of_that_name_too(make: Make, tmp_path: Path) -> None:
    folder = tmp_path / "notebooks"
    folder.mkdir()
    for name in (DAYS, "notes.txt"):
        (folder / name).write_text("mine", encoding="utf-8")
    notebooks = make()
    notebooks.begin()
    notebooks.finish()
    assert notebooks.kept == (DAYS,)
    assert {(folder / name).read_text(encoding="utf-8") for name in (DAYS, "notes.txt")} == {"mine"}


def test_what_is_saved_while_it_is_worked_out_is_left(make: Make, tmp_path: Path) -> None:
    notebooks = make()
    notebooks.begin()
    own = changed(tmp_path)
    notebooks.finish()
    assert (tmp_path / "notebooks" / DAYS).read_bytes() == own


def test_a_plan_that_changes_meanwhile_is_followed(make: Make, tmp_path: Path, plan: Path) -> None:
    notebooks = make()
    notebooks.begin()
    plan.write_text(plan.read_text(encoding="utf-8").replace("Weekender", "Other van"), encoding="utf-8")
    assert notebooks.finish() == "1 notebook is worked out for this plan."
    assert first_line(tmp_path).startswith("Other van with cans")
    assert "Other van with cans" in shown(tmp_path, START)


def test_two_at_once_end_with_what_one_would_have_written(make: Make, tmp_path: Path, plan: Path) -> None:
    one, other = make(), make()
    one.begin()
    other.begin()
    one.finish()
    other.finish()
    assert fingerprint(plan) in first_line(tmp_path)
    assert {path.name for path in (tmp_path / "notebooks").iterdir()} == {DAYS, START}


def test_a_plan_with_problems_is_told_and_no_old_number_stays(make: Make, tmp_path: Path, plan: Path) -> None:
    notebooks = make()
    notebooks.begin()
    notebooks.finish()
    plan.write_text("[van]\n", encoding="utf-8")
    before = plan.read_bytes()
    notebooks = make()
    notebooks.begin()
    assert "van.toml cannot be used yet" in shown(tmp_path, START)
    assert first_line(tmp_path) == "Nothing is worked out here: van.toml cannot be used as it is."
    assert "Fresh water" not in shown(tmp_path)
    assert notebooks.finish().startswith("Nothing is worked out")
    assert any("cannot be used as it is" in note for note in notebooks.notes())
    assert plan.read_bytes() == before


def test_a_cell_that_stops_is_named(make: Make, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def broken(*_: object) -> None:
        raise ValueError("a fault")

    monkeypatch.setattr("vanwater.panels.page.Page.verdict", broken)
    notebooks = make()
    notebooks.begin()
    assert notebooks.finish().endswith(f"A cell stopped in {DAYS}; it shows why.")
    assert "a fault" in shown(tmp_path)


def test_a_full_disk_leaves_nothing_half_written(make: Make, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    notebooks = make()
    notebooks.begin()
    before = (tmp_path / "notebooks" / DAYS).read_bytes()
    sync = os.fsync

    def full(handle: int) -> None:
        if stat.S_ISREG(os.fstat(handle).st_mode):
            raise OSError(errno.ENOSPC, "No space left on device")
        sync(handle)

    monkeypatch.setattr(os, "fsync", full)
    assert notebooks.finish() == f"Not all notebooks could be written to {notebooks.folder}: No space left on device."
    with pytest.raises(OSError, match="No space left"):
        NotebookFolder(folder=tmp_path / "second", interpreter=notebooks.interpreter).begin()
    assert (tmp_path / "notebooks" / DAYS).read_bytes() == before
    assert {path.name for path in (tmp_path / "notebooks").iterdir()} == {DAYS, START}


def test_what_a_killed_one_left_goes_with_the_next(make: Make, tmp_path: Path) -> None:
    make().begin()
    own = changed(tmp_path)  # it is not written again, and what lies beside it goes even so
    part = saving._part((tmp_path / "notebooks" / DAYS).resolve())
    part.write_text("half a note", encoding="utf-8")
    make().begin()
    assert not part.exists()
    assert (tmp_path / "notebooks" / DAYS).read_bytes() == own


def test_the_environment_is_as_before(make: Make, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("VANWATER_PLAN", "other.toml")
    make().begin()
    assert os.environ["VANWATER_PLAN"] == "other.toml"
    monkeypatch.delenv("VANWATER_PLAN")
    make().begin()
    assert "VANWATER_PLAN" not in os.environ
