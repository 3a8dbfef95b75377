from __future__ import annotations

import stat
import subprocess
import sys
from pathlib import Path

import pytest

from vanwater.plan import saving
from vanwater.plan.saving import create, replace_file, replace_files, swept

COUNTS = """
import sys
from pathlib import Path
from vanwater.plan import saving
path, count, written = Path(sys.argv[1]), [], saving._written
saving._written = lambda target, data, rights: written(target, str(count[-1]).encode(), rights)
for _ in range(40):
    saving.replace_file(path, b"", lambda: count.append(int(path.read_text()) + 1))
"""
"""Counts a file up, one at a time."""


def test_two_who_save_one_file_lose_nothing(tmp_path: Path) -> None:
    path = tmp_path / "count"
    path.write_text("0")
    both = [subprocess.Popen([sys.executable, "-c", COUNTS, str(path)]) for _ in range(2)]
    assert [each.wait(120) for each in both] == [0, 0]
    assert path.read_text() == "80"
    assert [each.name for each in tmp_path.iterdir()] == ["count"]


def test_what_a_killed_one_left_goes_with_the_next_save(tmp_path: Path) -> None:
    path = tmp_path / "van.toml"
    code = (
        "import os, signal, sys\nfrom pathlib import Path\nfrom vanwater.plan.saving import replace_file\n"
        "os.fsync = lambda _: os.kill(os.getpid(), signal.SIGKILL)\nreplace_file(Path(sys.argv[1]), b'new')\n"
    )
    for _ in range(2):
        assert subprocess.run([sys.executable, "-c", code, str(path)], check=False).returncode == -9
        (left,) = tmp_path.iterdir()  # one at most, and hidden
        assert left.name.startswith(".vanwater-")
    replace_file(path, b"whole")
    assert [each.name for each in tmp_path.iterdir()] == ["van.toml"]


def test_a_name_as_long_as_a_folder_takes_can_be_saved(tmp_path: Path) -> None:
    for name in ("x" * 250 + ".toml", "é" * 125 + ".toml"):
        path = tmp_path / name
        create(path, b"first")
        replace_file(path, b"second")
        assert path.read_bytes() == b"second"


def test_where_something_lies_nothing_is_created(tmp_path: Path) -> None:
    path = tmp_path / "van.toml"
    path.symlink_to(tmp_path / "nowhere")
    with pytest.raises(FileExistsError):
        create(path, b"mine")
    assert path.is_symlink() and [each.name for each in tmp_path.iterdir()] == ["van.toml"]


def test_a_file_is_readable_by_all_and_an_earlier_one_keeps_its_rights(tmp_path: Path) -> None:
    path = tmp_path / "van.html"
    replace_file(path, b"new")
    assert stat.S_IMODE(path.stat().st_mode) == 0o644
    path.chmod(0o600)
    replace_file(path, b"newer")
    assert stat.S_IMODE(path.stat().st_mode) == 0o600
    assert path.read_bytes() == b"newer" and list(tmp_path.iterdir()) == [path]


@pytest.mark.parametrize("failing", ["os.fsync", "pathlib.Path.replace"])
def test_what_goes_wrong_leaves_the_old_file_whole(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, failing: str
) -> None:
    def fail(*_: object) -> None:
        raise OSError(28, "the disk is full")

    path = tmp_path / "van.html"
    path.write_bytes(b"old")
    monkeypatch.setattr(failing, fail)
    with pytest.raises(OSError, match="full"):
        replace_file(path, b"new")
    assert path.read_bytes() == b"old" and list(tmp_path.iterdir()) == [path]


def test_of_files_that_belong_together_all_or_none_is_put_in_place(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    papers = {tmp_path / name: name.encode() for name in ("c", "a", "b")}
    for path in papers:
        path.write_bytes(b"old")
    synced = []

    def full(handle: int) -> None:
        synced.append(handle)
        if len(synced) == len(papers):
            raise OSError(28, "the disk is full")

    with monkeypatch.context() as patched:
        patched.setattr("os.fsync", full)
        with pytest.raises(OSError, match="full") as error:
            replace_files(papers)
    assert error.value.filename == str(tmp_path / "b")
    assert {path: path.read_bytes() for path in tmp_path.iterdir()} == dict.fromkeys(papers, b"old")
    replace_files(papers)
    assert {path: path.read_bytes() for path in tmp_path.iterdir()} == papers


def test_that_somebody_else_saves_it_is_told_in_words(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(saving, "PATIENCE", 0.0)
    path = tmp_path / "van.toml"
    with pytest.raises(OSError, match="somebody else") as error:
        replace_file(path, b"mine", lambda: replace_file(path, b"theirs"))
    assert error.value.strerror == "somebody else saves it" and not path.exists()


def test_a_link_to_a_file_stays_a_link(tmp_path: Path) -> None:
    real, link = tmp_path / "real.html", tmp_path / "link.html"
    real.write_bytes(b"old")
    link.symlink_to(real)
    replace_file(link, b"new")
    assert link.is_symlink() and real.read_bytes() == b"new"


def test_a_full_disk_leaves_no_empty_file_that_blocks_the_next_try(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def full(_: int) -> None:
        raise OSError(28, "No space left on device")

    path = tmp_path / "van.toml"
    with monkeypatch.context() as patched:
        patched.setattr("os.fsync", full)
        with pytest.raises(OSError, match="No space left"):
            create(path, b"mine")
    assert list(tmp_path.iterdir()) == []
    create(path, b"mine")
    assert path.read_bytes() == b"mine"


def test_what_must_not_be_written_is_not(tmp_path: Path) -> None:
    path = tmp_path / "van.toml"
    path.write_bytes(b"theirs")

    def changed() -> None:
        raise ValueError("changed")

    with pytest.raises(ValueError, match="changed"):
        replace_file(path, b"mine", changed)
    assert path.read_bytes() == b"theirs"
    replace_file(path, b"mine")
    assert path.read_bytes() == b"mine"


def test_what_was_left_of_other_files_goes_too_but_not_what_somebody_saves_right_now(tmp_path: Path) -> None:
    left, busy = (tmp_path / name for name in ("left.toml", "busy.toml"))
    for path in (left, busy):
        saving._part(path.resolve()).write_bytes(b"half")
    with saving._alone(busy.resolve()):
        replace_file(tmp_path / "van.toml", b"whole")
    assert {each.name for each in tmp_path.iterdir()} == {"van.toml", saving._part(busy.resolve()).name}


def test_what_a_killed_one_left_can_be_swept_without_a_save(tmp_path: Path) -> None:
    path = tmp_path / "van.toml"
    path.write_bytes(b"old")
    part = saving._part(path.resolve())
    part.write_bytes(b"half")
    swept(path)
    swept(tmp_path / "never.toml")
    assert [left.name for left in tmp_path.iterdir()] == ["van.toml"]
    assert path.read_bytes() == b"old"
