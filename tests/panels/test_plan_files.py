from __future__ import annotations

import errno
import os
from pathlib import Path

import pytest

from vanwater.panels.bench import Bench
from vanwater.panels.plan_files import PlanFiles
from vanwater.plan.file import PlanFile, read


def files_of(plan: PlanFile) -> tuple[Bench, PlanFiles]:
    bench = Bench(plan)
    files = PlanFiles(bench)
    files.collapsible.button.value = True
    return bench, files


def test_nothing_is_written_before_the_button_is_pressed(own_file: PlanFile) -> None:
    bench, files = files_of(own_file)
    assert files.save.disabled
    assert "Nothing is changed" in files.collapsible.text.value
    bench.set("household.people", 2)
    files.collapsible.refresh()
    assert "- people = 4\n+ people = 2" in files.collapsible.text.value
    assert read(own_file.path).text == own_file.text
    files.save.click()
    assert read(own_file.path).plan.household.people == 2
    assert "# A family of four" in read(own_file.path).text
    assert "Written into van.toml" in files.collapsible.text.value
    assert files.save.disabled


def test_a_file_that_somebody_else_changed_is_left_alone(own_file: PlanFile) -> None:
    bench, files = files_of(own_file)
    bench.set("household.people", 2)
    files.collapsible.refresh()
    own_file.path.write_text(own_file.text + "# mine\n", encoding="utf-8")
    files.save.click()
    assert own_file.path.read_text(encoding="utf-8").endswith("# mine\n")
    assert 'role="alert"' in files.collapsible.text.value
    assert "changed by somebody else" in files.collapsible.text.value
    assert bench.values == {"household.people": 2}


def test_where_the_disk_is_full_the_file_stays_and_the_bench_keeps_what_is_set(
    own_file: PlanFile, monkeypatch: pytest.MonkeyPatch
) -> None:
    bench, files = files_of(own_file)
    bench.set("household.people", 2)
    files.collapsible.refresh()

    def full(_: int) -> None:
        raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))

    monkeypatch.setattr(os, "fsync", full)
    files.save.click()
    assert "It cannot be written: No space left on device. The file is as it was." in files.collapsible.text.value
    assert read(own_file.path).text == own_file.text and bench.values == {"household.people": 2}
    assert [each.name for each in own_file.path.parent.iterdir()] == ["van.toml"]


def test_an_example_is_shown_and_never_written_but_saved_as_a_new_plan(
    family: PlanFile, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    before = family.path.read_bytes()
    bench, files = files_of(family)
    bench.set("household.people", 2)
    files.collapsible.refresh()
    assert "+ people = 2" in files.collapsible.text.value
    assert "stays as it is" in files.collapsible.text.value
    assert files.save.disabled
    files.save.click()
    files.new_name.value = "mine.toml"
    files.save_as.click()
    assert family.path.read_bytes() == before
    assert read(tmp_path / "mine.toml").plan.household.people == 2
    assert "new file mine.toml" in files.collapsible.text.value
    files.new_name.value = "mine.toml"
    files.save_as.click()
    assert "such a file already" in files.collapsible.text.value


def test_a_new_plan_lies_beside_the_old_one(own_file: PlanFile) -> None:
    bench, files = files_of(own_file)
    files.new_name.value = "second.toml"
    files.save_as.click()
    assert (own_file.path.parent / "second.toml").exists()
    assert bench.file is not None and bench.file.path.name == "second.toml"


def test_another_plan_is_loaded_and_a_refused_one_is_told(own_file: PlanFile, family: PlanFile, tmp_path: Path) -> None:
    bench, files = files_of(own_file)
    bench.set("household.people", 2)
    (tmp_path / "broken.toml").write_text('[van]\nname = "v"\n[household]\npeople = 99\n', encoding="utf-8")
    for name in ("broken.toml", "none.toml"):
        files.other_name.value = str(tmp_path / name)
        files.load.click()
        assert 'role="alert"' in files.collapsible.text.value
        assert bench.values == {"household.people": 2}
    files.other_name.value = str(family.path.with_name("weekend-cans.toml"))
    files.load.click()
    assert bench.us
    assert "weekend-cans.toml is the plan from now on" in files.collapsible.text.value


def test_a_plan_without_a_file_says_so(family: PlanFile) -> None:
    files = PlanFiles(Bench(family.plan))
    files.collapsible.button.value = True
    assert "not read from a file" in files.collapsible.text.value
    assert files.save.disabled and files.save_as.disabled


def test_a_situation_cannot_be_saved(own_file: PlanFile) -> None:
    bench, files = files_of(own_file)
    bench.choose("ski week")
    bench.set("household.people", 2)
    files.collapsible.refresh()
    assert "Choose it above, then save" in files.collapsible.text.value
    assert files.save.disabled and files.save_as.disabled


def test_the_name_of_a_file_is_only_text(own_file: PlanFile, tmp_path: Path) -> None:
    path = tmp_path / "<b>van<b>.toml"
    path.write_bytes(own_file.data)
    bench, files = files_of(read(path))
    assert "<b>" not in files.collapsible.text.value
    bench.set("household.people", 2)
    files.collapsible.refresh()
    assert "<b>" not in files.collapsible.text.value
    files.save.click()
    assert read(path).plan.household.people == 2
    assert "<b>" not in files.collapsible.text.value
