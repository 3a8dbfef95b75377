"""Long, right-to-left and emoji names, places that take nothing, a full disk, runs that were killed."""

from __future__ import annotations

import csv
import io
import os
import signal
import subprocess
import sys
import time
from pathlib import Path
from types import ModuleType

import pytest

from tests.examples import PLANS, example
from vanwater.answers.questions import answers_to
from vanwater.command import main
from vanwater.document.markdown import markdown
from vanwater.document.output_file import DRAWING, PAGE, PAPERS
from vanwater.document.papers import paper
from vanwater.figures.schematic.drawing import schematic
from vanwater.plan.saving import replace_file

CANS = str(PLANS / "weekend-cans.toml")
EARLIER = b"<!DOCTYPE html>" + PAGE.written_by + b"earlier"
NAMES = (
    "W" * 80,
    "רכב המים שלנו, גרסה 2",
    "\N{MINIBUS}\N{SHOWER}\N{ZERO WIDTH JOINER}\N{DROPLET} van",
    "\u202egnp.nav\u202c x",
)


@pytest.mark.parametrize("name", NAMES)
def test_names_of_every_script_stand_in_every_medium(name: str, reader: ModuleType) -> None:
    plan = example("weekend-cans").changed({"van.name": name, "van.customer": name, "van.note": name})
    asked = answers_to(plan)
    shown = " ".join("".join(letter for letter in name if letter not in "\u202e\u202c").split())
    for who in PAPERS:
        page = paper(who, asked)
        assert reader.page(page).all("h1")[0].text == shown
        assert shown in markdown(page) and not set(page + markdown(page)) & set("\u202e\u202c")
    assert shown in schematic(asked)


def test_a_table_file_holds_no_formula(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    text, place = Path(CANS).read_text(encoding="utf-8"), tmp_path / "van.toml"
    place.write_text(text.replace("tap hose", "@SUM(A1)"), encoding="utf-8")
    assert main(["parts", str(place), "--csv"]) == 2  # no piece of a plan is called so
    assert "cannot be a name" in capsys.readouterr().err
    shelf = '[tanks."=1+1"]\nholds = "fresh"\ncapacity = "5 gal"\n'
    (tmp_path / "shelf.toml").write_text(shelf, encoding="utf-8")
    place.write_text(f'shelf = "shelf.toml"\n{text}', encoding="utf-8")
    assert main(["parts", str(place), "--csv"]) == 2  # nor a part of a shelf
    assert "cannot be a name" in capsys.readouterr().err
    assert main(["parts", CANS, "--csv"]) == 0
    cells = [cell for row in csv.reader(io.StringIO(capsys.readouterr().out)) for cell in row]
    assert len(cells) > 20 and [cell for cell in cells if cell[:1] in set("=+-@\t\r") and cell] == []


def test_prices_in_two_currencies_are_refused_and_a_missing_one_is_not(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    place = tmp_path / "van.toml"
    place.write_text('shelf = "shelf.toml"\n' + Path(CANS).read_text(encoding="utf-8"), encoding="utf-8")
    for prices, code in (
        (("120 EUR", "90 $"), 2),
        (("120 €", "90 EUR"), 0),
        (("120", "90 USD"), 0),
        (("90 USD", ""), 0),
    ):
        rows = [
            f'[tanks.t{n}]\nholds = "fresh"\ncapacity = "9 L"\n' + (f'price = "{price}"\n' if price else "")
            for n, price in enumerate(prices)
        ]
        (tmp_path / "shelf.toml").write_text("".join(rows), encoding="utf-8")
        assert main(["parts", str(place), "--csv"]) == code, prices
        err = " ".join(capsys.readouterr().err.split())
        assert ("tanks.t1.price" in err and "cannot be added up" in err) is (code == 2)


@pytest.mark.parametrize("ending", ["html", "md", "pdf"])
def test_a_missing_folder_is_told_before_anything_is_worked_out(
    ending: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["document", CANS, "-o", str(tmp_path / "none" / f"van.{ending}")]) == 2
    assert "is no folder. Nothing was written." in " ".join(capsys.readouterr().err.split())


@pytest.mark.parametrize(
    ("line", "name"),
    [
        (["document", CANS, "--for", "customer"], "van.html"),
        (["document", CANS, "--for", "customer"], "van.md"),
        (["draw", CANS], "van.svg"),
        (["card", CANS], "van.html"),
        (["compare", CANS, str(PLANS / "touring-campsites.toml")], "van.html"),
        (["document", CANS, "--for", "all"], "van.html"),
    ],
)
def test_a_disk_that_is_full_keeps_the_earlier_papers(
    line: list[str], name: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """/dev/full refuses every byte as a full disk does; of three papers the last one alone finds no room."""
    opened, earlier, parts = os.open, {tmp_path / name}, []
    if line[-1] == "all":
        earlier |= {tmp_path / "van customer.html", tmp_path / "van workshop.html"}
    for place in earlier:
        place.write_bytes(EARLIER + b"\n[//]: # (written by vanwater)" + DRAWING.written_by)

    def full(path: os.PathLike[str] | str, flags: int, mode: int = 0o777) -> int:
        handle = opened(path, flags, mode)
        if str(path).endswith(".part"):
            parts.append(path)
            if len(parts) == len(earlier):
                os.close(handle)
                return opened("/dev/full", os.O_WRONLY)
        return handle

    monkeypatch.setattr(os, "open", full)
    assert main([*line, "-o", str(tmp_path / name)]) == 2
    told = " ".join(capsys.readouterr().err.split())
    assert told.endswith(
        "cannot be written: No space left on device. Nothing was written. Make room on the disk, then write it again; "
        "what lay there before is kept."
    )
    assert len(parts) == len(earlier) and set(tmp_path.iterdir()) == earlier
    assert all(place.read_bytes().startswith(EARLIER) for place in earlier)


def test_a_refused_place_is_told_whoever_asks(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    def refused(*_: object) -> int:
        raise PermissionError(13, "Permission denied")

    monkeypatch.setattr(os, "open", refused)
    assert main(["document", CANS, "--for", "customer", "-o", str(tmp_path / "van.html")]) == 2
    assert "cannot be written: Permission denied." in " ".join(capsys.readouterr().err.split())
    assert not list(tmp_path.iterdir())


def test_a_killed_run_keeps_the_earlier_paper_and_any_next_one_takes_away_what_it_left(tmp_path: Path) -> None:
    earlier = tmp_path / "van.html"
    earlier.write_bytes(EARLIER)
    code = "import os, signal, sys\nos.fsync = lambda _: os.kill(os.getpid(), signal.SIGKILL)\n" \
           "from vanwater.command import main\nmain(sys.argv[1:])\n"  # fmt: skip
    line = [sys.executable, "-c", code, "document", CANS, "--for", "customer", "-o", str(earlier)]
    assert subprocess.run(line, check=False, capture_output=True).returncode == -signal.SIGKILL
    assert earlier.read_bytes() == EARLIER and len(list(tmp_path.iterdir())) == 2
    assert main(["document", CANS, "--for", "customer", "-o", str(tmp_path / "other.html")]) == 0
    assert sorted(each.name for each in tmp_path.iterdir()) == ["other.html", "van.html"]


def test_what_somebody_saves_right_now_is_not_taken_away(tmp_path: Path) -> None:
    code = (
        "import os, sys, time\nfrom pathlib import Path\nfrom vanwater.plan.saving import replace_file\n"
        "sync = os.fsync\n"
        "def slow(handle):\n    Path(sys.argv[2]).touch()\n    time.sleep(2)\n    sync(handle)\n"
        "os.fsync = slow\nreplace_file(Path(sys.argv[1]), b'slow')\n"
    )
    folder, begun = tmp_path / "papers", tmp_path / "begun"
    folder.mkdir()
    with subprocess.Popen([sys.executable, "-c", code, str(folder / "slow"), str(begun)]) as run:
        while not begun.exists():
            assert run.poll() is None
            time.sleep(0.02)
        replace_file(folder / "quick", b"quick")
        assert run.wait(60) == 0
    assert {each.name: each.read_bytes() for each in folder.iterdir()} == {"slow": b"slow", "quick": b"quick"}
