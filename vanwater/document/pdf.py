"""The papers as PDF: a page printed by a browser that is on the computer, without a window and without the net."""

from __future__ import annotations

import datetime as dt
import os
import re
import shutil
import signal
import subprocess
import sys
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path

from filelock import FileLock

from vanwater.document.output_file import PDF, NotWrittenError

__all__ = ["browser", "printed"]

PATIENCE = 180.0
"""Seconds that a browser may take for a paper."""

_NAMES = (
    *("chromium", "chromium-browser", "google-chrome", "google-chrome-stable", "chrome"),
    *("microsoft-edge", "microsoft-edge-stable", "msedge"),
)
_PLACES = (
    "/Applications/Chromium.app/Contents/MacOS/Chromium",
    "/Applications/Google Chrome.app/Contents/MacOS/Google Chrome",
    "/Applications/Microsoft Edge.app/Contents/MacOS/Microsoft Edge",
    r"C:\Program Files\Google\Chrome\Application\chrome.exe",
    r"C:\Program Files (x86)\Google\Chrome\Application\chrome.exe",
    r"C:\Program Files (x86)\Microsoft\Edge\Application\msedge.exe",
)
_QUIET = (
    *("--headless", "--disable-gpu", "--no-first-run", "--no-pdf-header-footer", "--disable-extensions"),
    *("--disable-background-networking", "--disable-component-update", "--disable-sync", "--disable-quic"),
    "--host-resolver-rules=MAP * ~NOTFOUND",
)
_DATES = re.compile(rb"/(CreationDate|ModDate) \(D:\d{14}([^)]*)\)")
_NODES = re.compile(rb"\bnode(\d{8})\b")
"""Names of a PDF's tags, which the browser counts from wherever it stands; as many letters, so that no place moves."""

NO_BROWSER = (
    "A PDF is printed by a browser, and none was found here. Nothing was written.\n"
    "Install Chromium, Chrome or Edge; or write it as a web page (van.html) and print that."
)


def browser() -> Path:
    """A browser of this computer that prints without a window.

    Returns
    -------
    Path
        The first one of Chromium, Chrome, Edge and their like.

    Raises
    ------
    NotWrittenError
        When there is none, with what to install.
    """
    named = (shutil.which(name) for name in _NAMES)
    place = next((each for each in (*named, *_PLACES) if each and Path(each).is_file()), None)
    if place is None:
        raise NotWrittenError(NO_BROWSER)
    return Path(place)


def printed(page: str, date: dt.date) -> bytes:
    """A paper as PDF.

    Parameters
    ----------
    page : str
        The paper as a page.
    date : datetime.date
        The day on it: the file says that it was made then, so that the same paper is the same file.

    Returns
    -------
    bytes
        The PDF, which says at its end by what it was written.

    Raises
    ------
    NotWrittenError
        When there is no browser, or it prints nothing.
    """
    program = browser()
    with _room() as room:
        source, result = room / "paper.html", room / "paper.pdf"
        source.write_text(page, encoding="utf-8")
        line = [str(program), *_QUIET, f"--user-data-dir={room / 'profile'}", f"--print-to-pdf={result}"]
        if getattr(os, "geteuid", lambda: 1)() == 0:
            line.append("--no-sandbox")  # which root cannot have; the page holds no script and asks for nothing
        said = _run([*line, source.as_uri()])
        data = result.read_bytes() if result.is_file() else b""
    if not data.startswith(b"%PDF-") or b"%%EOF" not in data[-64:]:
        raise NotWrittenError(f"{program} printed no PDF. Nothing was written.\n{said}".rstrip())
    return _settled(data, date).rstrip() + PDF.written_by


def _settled(data: bytes, date: dt.date) -> bytes:
    """What a browser printed, with the day in the place of the second, and its tags counted from none."""
    day = f"{date:%Y%m%d}000000".encode("ascii")
    dated = _DATES.sub(lambda told: b"/%s (D:%s%s)" % (told[1], day, told[2]), data)
    first = min((int(told[1]) for told in _NODES.finditer(dated)), default=0)
    return _NODES.sub(lambda told: b"node%08d" % (int(told[1]) - first), dated)


def _run(line: list[str]) -> str:
    """Let the browser print; it and what it started ends when this program does not wait any longer."""
    quiet = subprocess.DEVNULL
    with subprocess.Popen(line, stdin=quiet, stdout=quiet, stderr=subprocess.PIPE, start_new_session=True) as run:
        try:
            _, told = run.communicate(timeout=PATIENCE)
        except BaseException as stopped:
            with suppress(OSError):
                if sys.platform == "win32":
                    run.kill()
                else:
                    os.killpg(run.pid, signal.SIGKILL)
            if isinstance(stopped, subprocess.TimeoutExpired):
                return f"It took more than {PATIENCE:.0f} s."
            raise
    return told.decode("utf-8", "replace").strip()[-300:]


@contextmanager
def _room() -> Iterator[Path]:
    """The one folder of a user for printing: what a run that was killed left there is taken away first."""
    room = Path(tempfile.gettempdir()) / f"vanwater-{getattr(os, 'getuid', lambda: 'me')()}.print"
    with FileLock(room.with_suffix(".lock"), timeout=PATIENCE, mode=0o600):
        shutil.rmtree(room, ignore_errors=True)
        room.mkdir(mode=0o700)
        try:
            yield room
        finally:
            shutil.rmtree(room, ignore_errors=True)
