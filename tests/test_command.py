"""The command as it is typed: what it prints where, and how it ends."""

from __future__ import annotations

import json
import os
import re
import shlex
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

import vanwater
from tests.examples import NAMES, PLANS
from vanwater import answering, command
from vanwater.command import main
from vanwater.plan.file import read
from vanwater.terminal import command_line, lab
from vanwater.terminal.overview import MOST_LINES

FAMILY = str(PLANS / "family-winter.toml")
CANS = str(PLANS / "weekend-cans.toml")
BROKEN = """
[van]
name = "x"
colour = "red"
[household]
people = 2
[tanks.fresh]
holds = "fresh"
capacity = "7,5 L"
"""


def run(*words: str, env: dict[str, str] | None = None, cwd: Path | None = None) -> subprocess.CompletedProcess[bytes]:
    return subprocess.run(
        [sys.executable, "-m", "vanwater", *words],
        capture_output=True,
        check=False,
        timeout=60,
        cwd=cwd,
        env={**os.environ, **(env or {})},
    )


@pytest.fixture
def broken(tmp_path: Path) -> Path:
    path = tmp_path / "broken.toml"
    path.write_text(BROKEN)
    return path


# --- as a process of its own ---------------------------------------------------------------------------------


def test_check_as_a_process_is_plain_utf_8() -> None:
    done = run("check", FAMILY, env={"FORCE_COLOR": "1", "PYTHONIOENCODING": "utf-8"})
    assert (done.returncode, done.stderr) == (0, b"")
    lines = done.stdout.decode().split("\n")
    assert lines[0].startswith("The grey tank is full first, after ")
    assert len(lines) <= MOST_LINES + 1 + 12 * len(read(Path(FAMILY)).plan.situations) and max(map(len, lines)) <= 80
    assert b"\x1b" not in done.stdout and not re.search("[\u2500-\u257f]", done.stdout.decode())


@pytest.mark.parametrize(
    ("typed", "code"),
    [
        ("check {van} > /dev/full", 74),
        ("check {van} --json > /dev/full", 74),
        ("check {van} >&-", 0),
        ("check {van} --strict >&- 2>&-", 1),
        ("check nothing.toml 2> /dev/full", 2),
        ("check nothing.toml 2>&-", 2),
        ("check {long}.toml", 2),
        ("new {long}m.toml", 2),
        ("document {van} -o {long}m.html", 2),
        ("--help > /dev/full", 74),
    ],
)
def test_full_and_closed_streams_and_endless_names_end_with_their_code(tmp_path: Path, typed: str, code: int) -> None:
    words = typed.format(van=shlex.quote(FAMILY), long="x" * 250)
    line = f"{shlex.quote(sys.executable)} -m vanwater {words}"
    done = subprocess.run(["sh", "-c", line], capture_output=True, check=False, timeout=60, cwd=tmp_path)
    assert done.returncode == code
    assert b"Traceback" not in done.stderr
    if code == 74:
        assert done.stderr == b"The output cannot be written: No space left on device.\n"
    assert list(tmp_path.iterdir()) == []


def test_names_of_files_are_only_ever_text(tmp_path: Path) -> None:
    name = os.fsdecode(b"[red]\x1b[31m\xff\xc3\xa9.toml")
    for words in (
        ["new", name],
        ["check", name],
        ["new", name],
        ["document", name, "-o", name],
        ["check", "no" + name],
    ):
        done = run(*words, env={"PYTHONIOENCODING": "ascii"}, cwd=tmp_path)
        told = (done.stdout + done.stderr).decode("ascii")
        assert done.returncode in (0, 2) and "Traceback" not in told
        assert "\x1b" not in told
    assert (tmp_path / name).exists()


@pytest.mark.parametrize("encoding", ["ascii", "cp1252"])
def test_an_encoding_without_the_marks_gets_words(encoding: str) -> None:
    done = run("check", FAMILY, "--all", env={"PYTHONIOENCODING": encoding})
    assert (done.returncode, done.stderr) == (0, b"")
    assert re.search(r"^  fails  The van can stay out", done.stdout.decode(encoding), re.MULTILINE)


def test_problems_go_to_the_error_stream_in_its_encoding(broken: Path) -> None:
    done = run("check", str(broken), "--json", env={"PYTHONIOENCODING": "ascii"})
    assert (done.returncode, done.stdout) == (2, b"")
    first, second, last = done.stderr.decode("ascii").strip().split("\n")
    assert first.startswith('broken.toml:4 van.colour: "colour" is not known here. Expected one of name')
    assert second.startswith('broken.toml:9 tanks.fresh.capacity: "7,5 L" has a comma') and '"7.5 L"' in second
    assert last.strip() == "2 problems; nothing was computed."


def test_a_reader_that_goes_away_is_no_error() -> None:
    with subprocess.Popen(
        [sys.executable, "-m", "vanwater", "check", FAMILY, "--all"], stdout=subprocess.PIPE, stderr=subprocess.PIPE
    ) as process:
        assert process.stdout is not None and process.stderr is not None
        process.stdout.close()
        assert process.stderr.read() == b""
        assert process.wait(60) == 0


def test_ctrl_c_is_quiet(tmp_path: Path) -> None:
    pipe = tmp_path / "slow.py"
    pipe.write_text(
        "import sys, time\n"
        "import vanwater.plan.file as file\n"
        "def read(path):\n"
        "    print('reading', flush=True)\n"
        "    time.sleep(60)\n"
        "file.read = read\n"
        "from vanwater.command import main\n"
        "sys.exit(main(['check', 'x.toml']))\n"
    )
    with subprocess.Popen([sys.executable, str(pipe)], stdout=subprocess.PIPE, stderr=subprocess.PIPE) as process:
        assert process.stdout is not None and process.stderr is not None
        assert process.stdout.readline().strip() == b"reading"
        time.sleep(0.1)
        process.send_signal(signal.SIGINT)
        assert process.wait(60) == 130
        assert process.stderr.read() == b""


# --- within this process -------------------------------------------------------------------------------------


@pytest.mark.parametrize("plan", NAMES)
def test_check_prints_the_headline_first(plan: str, capsys: pytest.CaptureFixture[str]) -> None:
    path = PLANS / f"{plan}.toml"
    assert main(["check", str(path)]) == 0
    out, err = capsys.readouterr()
    assert err == ""
    headline = " ".join(vanwater.check(path).headline.text(vanwater.read(path).plan.us).split())
    assert " ".join(out.split()).startswith(headline)


def test_the_plans_own_units_unless_asked(capsys: pytest.CaptureFixture[str]) -> None:
    for plan, words, unit in (
        (CANS, [], "gal/min"),
        (CANS, ["--units", "metric"], "L/min"),
        (FAMILY, [], "L/min"),
        (FAMILY, ["--units", "us"], "gal/min"),
    ):
        assert main(["check", plan, *words]) == 0
        out = capsys.readouterr().out
        other = {"gal/min": "L/min", "L/min": "gal/min"}[unit]
        assert unit in out and other not in out


def test_strict_ends_with_one_only_when_a_finding_fails(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert vanwater.check(FAMILY).failing
    assert main(["check", FAMILY]) == 0
    assert main(["check", FAMILY, "--strict"]) == 1
    assert main(["check", FAMILY, "--strict", "--json"]) == 1
    starter = tmp_path / "van.toml"
    assert main(["new", str(starter)]) == 0
    assert main(["check", str(starter), "--strict"]) == 0
    capsys.readouterr()


def test_json_is_one_object(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["check", FAMILY, "--json"]) == 0
    out, err = capsys.readouterr()
    told = json.loads(out)
    assert err == "" and told["vanwater"] == vanwater.__version__
    stay = vanwater.check(FAMILY).each["stay"].numbers["stay.days"].result
    assert told["numbers"]["stay.days"]["value"] == stay.likely  # type: ignore[union-attr]


@pytest.mark.parametrize(
    ("words", "first"),
    [
        (["--why", "tank.grey.days"], "days of grey = "),
        (["--why", "days.grey"], "days of grey = "),
        (["--why", "OUTLET.SHOWER.rise"], "pressure rise of the pump for the shower = "),
        (["--why", "tanks.grey.height"], "tanks.grey.height = 0.22 m"),
        (["--why"], "key "),
        (["--all"], "The grey tank is full first"),
    ],
)
def test_why_and_all(words: list[str], first: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["check", FAMILY, *words]) == 0
    assert capsys.readouterr().out.startswith(first)


def test_why_before_the_plan_lists_its_keys(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["check", "--why", FAMILY]) == 0
    before = capsys.readouterr().out
    assert main(["check", FAMILY, "--why"]) == 0
    assert capsys.readouterr().out == before


@pytest.mark.parametrize(
    ("key", "told"),
    [
        ("tank.gery.dais", "tank.grey.days"),
        ("tanks.gray.capacity", "tanks.grey.capacity"),
        ("days", "tank.fresh.days"),
        ("[red]\x1b[31m", "There is no number"),
    ],
)
def test_an_unknown_key_names_the_nearest_and_ends_with_two(
    key: str, told: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["check", FAMILY, "--why", key]) == 2
    out, err = capsys.readouterr()
    assert out == "" and told in err and "\x1b" not in err


@pytest.mark.parametrize(
    "words",
    [
        ["check"],
        ["check", FAMILY, "--json", "--all"],
        ["check", FAMILY, "--json", "--units", "us"],
        ["check", FAMILY, "--units", "imperial"],
        ["check", FAMILY, "--str"],
        ["paint", FAMILY],
        ["document"],
    ],
)
def test_words_that_it_does_not_know_end_with_two(words: list[str], capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit) as ended:
        main(words)
    out, err = capsys.readouterr()
    assert ended.value.code == 2 and out == "" and "usage: vanwater" in err


def test_no_command_shows_the_help(capsys: pytest.CaptureFixture[str]) -> None:
    assert main([]) == 2
    out, err = capsys.readouterr()
    assert out == "" and "vanwater check van.toml" in err


@pytest.mark.parametrize("words", [["--help"], ["check", "--help"], ["new", "--help"], ["lab", "--help"]])
def test_help_fits_the_screen(
    words: list[str], capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("COLUMNS", "80")
    with pytest.raises(SystemExit) as ended:
        main(words)
    out = capsys.readouterr().out
    assert ended.value.code == 0 and out.isascii() and max(map(len, out.split("\n"))) <= 100


def test_version(capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit) as ended:
        main(["--version"])
    assert (ended.value.code, capsys.readouterr().out) == (0, f"vanwater {vanwater.__version__}\n")


@pytest.mark.parametrize("words", [["check"], ["document"]])
@pytest.mark.parametrize("held", [None, b"", b"\xff\xfe", b"not toml", BROKEN.encode()])
def test_bad_input_ends_with_two_and_writes_nothing(
    tmp_path: Path,
    words: list[str],
    held: bytes | None,
    capsys: pytest.CaptureFixture[str],
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.chdir(tmp_path)
    plan = tmp_path / "van.toml"
    if held is not None:
        plan.write_bytes(held)
    before = sorted(tmp_path.iterdir())
    assert main([*words, str(plan)]) == 2
    out, err = capsys.readouterr()
    assert out == "" and err.startswith("van.toml") and "nothing was computed." in err
    assert sorted(tmp_path.iterdir()) == before


def test_new_writes_once(tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    path = tmp_path / "van.toml"
    assert main(["new", "van.toml"]) == 0
    assert capsys.readouterr().out.endswith("then: vanwater check van.toml\n")
    text = path.read_text(encoding="utf-8")
    path.write_text(text + "# mine\n", encoding="utf-8")
    assert main(["new", "van.toml"]) == 2
    assert "is there already" in capsys.readouterr().err
    assert path.read_text(encoding="utf-8") == text + "# mine\n"


def test_document_writes_the_page_and_says_so(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    page = tmp_path / "van.html"
    pages = []
    for units in ("metric", "us"):
        assert main(["document", CANS, "-o", "van.html", "--units", units]) == 0
        pages.append(page.read_text(encoding="utf-8"))
        verdict, written = capsys.readouterr().out.strip().split("\n")
        assert verdict == "Fresh water runs out first, after 3.4 days (2.7 to 4.5)."
        assert written.startswith("van.html is written")
    assert "gal/min" not in pages[0] and "gal/min" in pages[1]
    assert all(text.lstrip().lower().startswith("<!doctype html") for text in pages)
    assert main(["document", CANS]) == 0
    assert sorted(path.name for path in tmp_path.iterdir()) == ["van.html", "weekend-cans.html"]
    assert (tmp_path / "weekend-cans.html").read_text(encoding="utf-8") == pages[1]


def test_draw_writes_the_drawing_and_says_so(
    capsys: pytest.CaptureFixture[str], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    assert main(["draw", FAMILY, "--situation", "ski week"]) == 0
    assert capsys.readouterr().out == "family-winter ski week.svg is written, a drawing for any browser.\n"
    sized = (tmp_path / "family-winter ski week.svg").read_text(encoding="utf-8")
    assert sized.startswith("<svg ") and "R12" in sized
    assert main(["draw", FAMILY, "--shows", "loss", "--outlet", "basin tap", "-o", "van.svg", "--units", "us"]) == 0
    assert "psi</text>" in (tmp_path / "van.svg").read_text(encoding="utf-8")
    capsys.readouterr()
    assert main(["draw", FAMILY, "--shows", "loss", "--outlet", "bath"]) == 2
    said = capsys.readouterr().err
    assert 'no outlet "bath"' in said and "basin tap" in said


def test_draw_shows_the_van_to_scale_too_and_both_are_dark_where_wanted(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.chdir(tmp_path)
    assert main(["draw", FAMILY, "--view", "scale"]) == 0
    assert capsys.readouterr().out == "family-winter scale.svg is written, a drawing for any browser.\n"
    assert main(["draw", FAMILY, "--view", "scale"]) == 0  # its own drawing is written anew
    assert main(["draw", FAMILY]) == 0
    for file, kind in (("family-winter scale.svg", "vw-to-scale"), ("family-winter.svg", "vw-schematic")):
        text = Path(file).read_text(encoding="utf-8")
        assert f'class="{kind}"' in text and "color-scheme:light dark" in text
    with pytest.raises(SystemExit) as ended:
        main(["draw", FAMILY, "--view", "scale", "--outlet", "shower"])
    assert ended.value.code == 2
    assert "--outlet: not allowed with --view scale" in capsys.readouterr().err


@pytest.mark.parametrize("output", ["van.toml", "notes.html", "missing/van.html", "."])
def test_document_never_writes_over_anything_else(
    tmp_path: Path, output: str, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    (tmp_path / "van.toml").write_bytes(Path(CANS).read_bytes())
    (tmp_path / "notes.html").write_text("my notes")
    assert main(["document", "van.toml", "-o", output]) == 2
    out, err = capsys.readouterr()
    assert out == "" and "Nothing was written." in err
    assert (tmp_path / "van.toml").read_bytes() == Path(CANS).read_bytes()
    assert (tmp_path / "notes.html").read_text() == "my notes"
    assert len(list(tmp_path.iterdir())) == 2


def test_document_tells_what_the_disk_refuses(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    def full(*_: object, **__: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("vanwater.plan.saving.replace_files", full)
    assert main(["document", CANS, "-o", str(tmp_path / "van.html")]) == 2
    out, err = capsys.readouterr()
    assert out == "" and "cannot be written: No space left on device." in err


@pytest.fixture
def opened(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> list[tuple[Path, Path | None]]:
    """What JupyterLab would have been opened with: a folder, and a plan."""
    opened: list[tuple[Path, Path | None]] = []

    def open_lab(folder: Path, plan: Path | None, meanwhile: object) -> int:
        opened.append((folder, plan))
        return 0

    monkeypatch.setattr(lab, "open_lab", open_lab)
    monkeypatch.setenv("JUPYTER_DATA_DIR", str(tmp_path / "data"))
    monkeypatch.chdir(tmp_path)
    return opened


def test_lab_hands_over_the_plan(
    opened: list[tuple[Path, Path | None]], tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["lab", FAMILY]) == 0
    assert main(["lab"]) == 0
    base = Path(lab.FOLDER)
    assert opened == [(base / "family-winter", Path(FAMILY)), (base / "example", None)]
    assert all((folder / "start.ipynb").exists() for folder, _ in opened)
    out, err = capsys.readouterr()
    assert f"The notebooks lie in {base / 'family-winter'}." in out and "Ctrl+C" in out and err == ""


@pytest.mark.parametrize("held", [b"", b"\xff\xfe", b"not toml", BROKEN.encode()])
def test_lab_opens_for_a_plan_with_problems_too_and_leaves_it_as_it_is(
    opened: list[tuple[Path, Path | None]], tmp_path: Path, held: bytes, capsys: pytest.CaptureFixture[str]
) -> None:
    plan = tmp_path / "van.toml"
    plan.write_bytes(held)
    assert main(["lab", "van.toml"]) == 0
    assert opened == [(Path(lab.FOLDER) / "van", Path("van.toml"))]
    assert "van.toml cannot be used as it is: the start page tells what to mend." in capsys.readouterr().out
    assert plan.read_bytes() == held


@pytest.mark.parametrize("words", [["gone.toml"], ["."], ["van.toml/x"]])
def test_lab_without_such_a_plan_writes_nothing(
    opened: list[tuple[Path, Path | None]], tmp_path: Path, words: list[str], capsys: pytest.CaptureFixture[str]
) -> None:
    (tmp_path / "van.toml").write_text(BROKEN)
    before = sorted(tmp_path.iterdir())
    assert main(["lab", *words]) == 2
    assert opened == [] and sorted(tmp_path.iterdir()) == before
    assert capsys.readouterr().out == ""


def test_lab_without_the_extra_says_how_to_install_it(
    capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(lab, "NEEDED", ("jupyterlab", "no_such_part_of_the_lab"))
    assert main(["lab", FAMILY]) == 2
    out, err = capsys.readouterr()
    assert out == "" and 'pip install "vanwater[lab]"' in err and "no_such_part_of_the_lab" in err


def test_a_fault_of_the_program_is_told_and_is_no_failing_plan(
    capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    def broken(*_: object) -> None:
        raise ZeroDivisionError("in the middle")

    monkeypatch.setattr(answering, "answered", broken)
    assert main(["check", FAMILY, "--strict"]) == command.FAULT == 70
    out, err = capsys.readouterr()
    assert out == ""
    assert "ZeroDivisionError: in the middle" in err and err.endswith("no answer was given.\n")
    assert str(command.FAULT) in command_line.ENDS
    assert command.FAULT not in (command.COMPUTED, command.FAILING, command.BAD_INPUT, command.INTERRUPTED)


# --- situations ----------------------------------------------------------------------------------------------


def test_a_situation_is_told_in_full(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["check", FAMILY, "--situation", "ski week"]) == 0
    told = capsys.readouterr().out
    assert told.startswith("The battery is empty first, after ") and ": ski week" in told.splitlines()[1]
    assert "summer lake" not in told
    assert main(["check", FAMILY, "--situation", "ski week", "--why", "frost.design_cold"]) == 0
    assert "−14 °C" in capsys.readouterr().out


def test_a_situation_that_the_plan_lacks_is_named_with_those_it_has(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["check", FAMILY, "--situation", "ski"]) == 2
    told = capsys.readouterr().err
    assert 'no situation "ski"' in told and '"ski week"' in told


def test_strict_asks_every_situation(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    van = tmp_path / "van.toml"
    van.write_text(
        '[van]\nname = "Small"\n[household]\npeople = 1\nhabits = "careful"\ndays_wanted = "1 day"\n'
        '[tanks.fresh]\nholds = "fresh"\ncapacity = "90 L"\n[situations.long.household]\ndays_wanted = "90 days"\n'
    )
    assert main(["check", str(van)]) == 0
    assert main(["check", str(van), "--strict"]) == 1
    assert "90 days are wanted" in re.sub(r"\s+", " ", capsys.readouterr().out)


def test_the_page_of_a_situation_has_a_name_of_its_own(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    assert main(["document", FAMILY, "--situation", "ski week"]) == 0
    assert [path.name for path in tmp_path.iterdir()] == ["family-winter ski week.html"]


def test_a_card_is_written_and_its_tags_are_a_table(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.chdir(tmp_path)
    assert main(["card", FAMILY]) == 0
    assert "family-winter card.html is written" in capsys.readouterr().out
    assert "Tags, to cut out" in (tmp_path / "family-winter card.html").read_text(encoding="utf-8")
    assert main(["card", FAMILY, "--csv"]) == 0
    assert capsys.readouterr().out.startswith("tag,what,where\n1,fresh tank,fresh\n")
    (tmp_path / "mine.html").write_text("<p>mine</p>", encoding="utf-8")
    assert main(["card", FAMILY, "-o", "mine.html"]) == 2
    assert (tmp_path / "mine.html").read_text(encoding="utf-8") == "<p>mine</p>"


def test_what_was_measured_is_in_the_json_and_beside_its_number(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["check", FAMILY, "--json"]) == 0
    told = json.loads(capsys.readouterr().out)
    assert told["numbers"]['measured."pump stops"']["value"] == pytest.approx(2.65e5)
    assert {each["verdict"] for each in told["answers"]["measured"]["findings"]} == {"fine"}
    assert main(["check", FAMILY, "--why", "pumps.pump.cut_out"]) == 0
    assert "measured on 14 March 2026: 2.65 bar" in " ".join(capsys.readouterr().out.split())
