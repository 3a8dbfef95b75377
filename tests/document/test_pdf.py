"""A paper as PDF: printed by a browser of the computer, whole or not at all."""

from __future__ import annotations

import datetime as dt
import os
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

from tests.conftest import chromium_path
from tests.examples import PLANS, example_answers
from vanwater.command import main
from vanwater.document import pdf
from vanwater.document.output_file import PDF, NotWrittenError
from vanwater.document.pdf import _settled, browser, printed
from vanwater.document.short import render_for

DAY = dt.date(2026, 11, 25)
CANS = str(PLANS / "weekend-cans.toml")
needs_browser = pytest.mark.skipif(chromium_path() is None and not os.environ.get("CI"), reason="no Chromium here")


@pytest.fixture(autouse=True)
def own_room(tmp_path_factory: pytest.TempPathFactory, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A place of its own for what is temporary, so that what is left there is seen."""
    room = tmp_path_factory.mktemp("room")
    monkeypatch.setenv("TMPDIR", str(room))
    monkeypatch.setattr("tempfile.tempdir", str(room))
    return room


def standing_in(folder: Path, script: str) -> Path:
    """A program that stands in for the browser; it gets the browser's words."""
    program = folder / "chromium"
    program.write_text(f"#!{sys.executable}\nimport sys, time\nwords = sys.argv[1:]\n{script}\n")
    program.chmod(0o755)
    return program


@pytest.mark.browser
@needs_browser
def test_the_same_paper_is_the_same_pdf_and_is_known_again(tmp_path: Path, own_room: Path) -> None:
    page = render_for("customer", example_answers("weekend-cans"), date=DAY)
    first = printed(page, DAY)
    assert first == printed(page, DAY)
    assert first.startswith(b"%PDF-") and first.endswith(PDF.written_by) and b"D:20261125000000" in first
    assert [each.suffix for each in own_room.iterdir() if each.name.startswith("vanwater")] == [".lock"]
    (tmp_path / "van.pdf").write_bytes(first)
    assert main(["document", CANS, "--for", "customer", "-o", str(tmp_path / "van.pdf")]) == 0
    assert [each.name for each in tmp_path.iterdir()] == ["van.pdf"]
    assert (tmp_path / "van.pdf").read_bytes().endswith(PDF.written_by)


def test_without_a_browser_it_says_what_to_install_and_writes_nothing(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setenv("PATH", str(tmp_path))
    monkeypatch.setattr(pdf, "_PLACES", ())
    with pytest.raises(NotWrittenError, match="Install Chromium, Chrome or Edge"):
        browser()
    assert main(["document", CANS, "-o", str(tmp_path / "van.pdf")]) == 2
    assert "Nothing was written." in capsys.readouterr().err and not list(tmp_path.iterdir())


@pytest.mark.parametrize(
    ("script", "told"),
    [
        ("sys.stderr.write('no display'); sys.exit(1)", "no display"),
        (
            "open(next(w for w in words if 'pdf=' in w).partition('=')[2], 'wb').write(b'%PDF-1.4 half')",
            "printed no PDF",
        ),
        ("time.sleep(60)", "It took more than 1 s."),
    ],
)
def test_a_browser_that_fails_leaves_the_earlier_paper(
    script: str,
    told: str,
    tmp_path: Path,
    own_room: Path,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
) -> None:
    monkeypatch.setattr(pdf, "_NAMES", (str(standing_in(own_room, script)),))
    monkeypatch.setattr(pdf, "PATIENCE", 1.0 if "sleep" in script else 60.0)
    earlier = tmp_path / "van.pdf"
    earlier.write_bytes(b"%PDF-1.4 earlier" + PDF.written_by)
    assert main(["document", CANS, "--for", "customer", "-o", str(earlier)]) == 2
    assert told in capsys.readouterr().err
    assert earlier.read_bytes().startswith(b"%PDF-1.4 earlier") and len(list(tmp_path.iterdir())) == 1
    assert not list(own_room.glob("*.print"))


def test_a_run_killed_while_the_browser_prints_keeps_the_earlier_paper_and_the_next_clears_its_room(
    tmp_path: Path, own_room: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    waiting = own_room / "waiting"
    program = standing_in(own_room, f"open({str(waiting)!r}, 'w').close(); time.sleep(5)")
    earlier = tmp_path / "van.pdf"
    earlier.write_bytes(b"%PDF-1.4 earlier" + PDF.written_by)
    line = [sys.executable, "-m", "vanwater", "document", CANS, "--for", "customer", "-o", str(earlier)]
    path = os.pathsep.join([str(program.parent), os.environ["PATH"]])
    with subprocess.Popen(line, env={**os.environ, "PATH": path}, stdout=subprocess.DEVNULL) as run:
        until = time.monotonic() + 120
        while not waiting.exists() and time.monotonic() < until:
            time.sleep(0.05)
        run.send_signal(signal.SIGKILL)
    assert waiting.exists()
    assert earlier.read_bytes().startswith(b"%PDF-1.4 earlier") and len(list(tmp_path.iterdir())) == 1
    assert len(list(own_room.glob("*.print"))) == 1
    monkeypatch.setattr(pdf, "_NAMES", (str(standing_in(own_room, "sys.exit(1)")),))
    with pytest.raises(NotWrittenError):
        printed("<!DOCTYPE html>", DAY)
    assert not list(own_room.glob("*.print"))


def test_what_two_browsers_count_and_date_otherwise_is_settled_in_as_many_letters() -> None:
    one = b"/CreationDate (D:20261128051000+00'00') /ID (node00000055) /K (node00000057)"
    other = b"/CreationDate (D:20261128051003+00'00') /ID (node00000054) /K (node00000056)"
    settled = _settled(one, DAY)
    assert settled == _settled(other, DAY) and len(settled) == len(one)
    assert b"node00000000" in settled and b"node00000002" in settled
