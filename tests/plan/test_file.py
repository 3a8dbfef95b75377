from __future__ import annotations

import os
import random
import signal
import stat
import subprocess
import sys
import time
from collections.abc import Sequence
from pathlib import Path

import pytest

from tests.examples import NAMES, PLANS
from vanwater.plan.file import LARGEST, PlanFile, read
from vanwater.plan.problems import PlanError, Problem

BASE = """\
# A van for two.
[van]
name = "Otter"          # its name

[household]
people = 2
habits = "moderate"

[tanks.fresh]
holds = "fresh"
capacity = "90 L"

[tanks.grey]
holds = "grey"
capacity = "60 L"

[pumps.pump]
curve = [
    ["0 L/min", "2.9 bar"],  # shut
    ["11 L/min", "0 bar"],
]
curve_volts = "13.6 V"
cut_in = "1.4 bar"
cut_out = "2.8 bar"

[outlets.shower]
type = "handset"

[runs.suction]
from = "fresh"
to = "pump"
size = "pvc hose 12 mm"
fittings = { "barb elbow" = 2, strainer = 1 }

[runs."to the shower"]
from = "pump"
to = "shower"
bore = "10 mm"

[site]
altitude = "300 m"
"""


def written(folder: Path, text: str | bytes) -> Path:
    path = folder / "van.toml"
    path.write_bytes(text if isinstance(text, bytes) else text.encode())
    return path


def edited(*changes: tuple[str, str]) -> str:
    text = BASE
    for before, after in changes:
        assert before in text
        text = text.replace(before, after, 1)
    return text


def problems(path: Path | str) -> Sequence[Problem]:
    with pytest.raises(PlanError) as caught:
        read(path)
    assert str(caught.value) == "\n".join(str(problem) for problem in caught.value.problems)
    return caught.value.problems


def beside(folder: Path) -> list[str]:
    return sorted(path.name for path in folder.iterdir())


def test_the_base_of_these_tests_is_a_plan(tmp_path: Path) -> None:
    assert read(written(tmp_path, BASE)).plan.at("tanks.fresh.capacity") == pytest.approx(0.09)


FRESH = 'capacity = "90 L"'
NO_UNIT = 'a volume such as "75 L"'
TANK_KEYS = "one of stock, why, holds, count, capacity,"

BAD = [
    # what is changed, line, address, said, expected, slip
    ((FRESH, 'capacity = "7,5 L"'), 11, "tanks.fresh.capacity", '"7,5 L"', NO_UNIT, '"7.5 L"'),
    ((FRESH, 'capacity = "75"'), 11, "tanks.fresh.capacity", '"75" has no unit', NO_UNIT, '"75 L"'),
    ((FRESH, "capacity = 75"), 11, "tanks.fresh.capacity", "75 has no unit", NO_UNIT, '"75 L"'),
    ((FRESH, 'capacity = "75 kg"'), 11, "tanks.fresh.capacity", '"kg" is not a unit of volume', NO_UNIT, "mass"),
    ((FRESH, 'capacity = "3 barrels"'), 11, "tanks.fresh.capacity", '"3 barrels"', NO_UNIT, ""),
    ((FRESH, 'capacity = "-5 L"'), 11, "tanks.fresh.capacity", '"-5 L" is not believable', "0.5 L to", ""),
    ((FRESH, 'capacity = "0 L"'), 11, "tanks.fresh.capacity", '"0 L" is not believable', "0.5 L to", ""),
    ((FRESH, 'capacity = "nan L"'), 11, "tanks.fresh.capacity", '"nan L" does not start with', NO_UNIT, ""),
    ((FRESH, "capacity = nan"), 11, "tanks.fresh.capacity", "nan is not a finite number", NO_UNIT, ""),
    ((FRESH, "capacity = -inf"), 11, "tanks.fresh.capacity", "-inf is not a finite number", NO_UNIT, ""),
    ((FRESH, 'capacity = "1e999 L"'), 11, "tanks.fresh.capacity", '"1e999 L"', NO_UNIT, ""),
    ((FRESH, 'capacity = "9**9**9 L"'), 11, "tanks.fresh.capacity", '"9**9**9 L"', NO_UNIT, "one number"),
    ((FRESH, f"capacity = {'9' * 400}"), 11, "tanks.fresh.capacity", "not a finite number", NO_UNIT, ""),
    ((FRESH, f"capacity = 0x{'f' * 9000}"), 11, "tanks.fresh.capacity", "not a finite number", NO_UNIT, ""),
    ((FRESH, "capacity = true"), 11, "tanks.fresh.capacity", "true stands where a text", NO_UNIT, ""),
    ((FRESH, "capacity = [75]"), 11, "tanks.fresh.capacity", "A list stands where a text", NO_UNIT, ""),
    ((FRESH, "capacity = { L = 75 }"), 11, "tanks.fresh.capacity", "A table stands where a text", NO_UNIT, ""),
    ((FRESH, "capacity = 1979-05-27"), 11, "tanks.fresh.capacity", "1979-05-27 is no text", NO_UNIT, ""),
    ((FRESH, 'capcity = "90 L"'), 11, "tanks.fresh.capcity", '"capcity" is not known', TANK_KEYS, '"capacity"'),
    ((FRESH, f'{FRESH}\n"\\u001b[2J" = 1'), 12, "tanks.fresh.?[2J", '"?[2J" is not known', TANK_KEYS, ""),
    (("[tanks.grey]", "[tank.grey]"), 13, "tank", '"tank" is not known', "one of van, household,", '"tanks"'),
    (("[van]", "zonk = 1\n[van]"), 2, "zonk", '"zonk" is not known', "one of van, household,", ""),
    ((FRESH, ""), 9, "tanks.fresh.capacity", "neither its capacity nor its sides", 'capacity = "75 L"', ""),
    ((FRESH, 'length = "1 m"'), 9, "tanks.fresh.width", "no width and no height", "length, width and height", ""),
    ((FRESH, f'{FRESH}\nrefills = "fresh"'), 12, "tanks.fresh.refills", "refills itself", "another tank", ""),
    ((FRESH, f'{FRESH}\nrefills = "frsh"'), 12, "tanks.fresh.refills", '"frsh"', "fresh, grey", '"fresh"'),
    (('holds = "fresh"\n', ""), 9, "tanks.fresh.holds", '[tanks.fresh] says no "holds"', '"fresh" or "grey"', ""),
    (('holds = "fresh"', "holds = 3"), 10, "tanks.fresh.holds", "3 is not one of", '"fresh" or "grey"', ""),
    (('"Otter"', "7"), 3, "van.name", "7 stands where a text", "a text in quotes", 'name = "7"'),
    (('"Otter"', "true"), 3, "van.name", "true stands where a text", "a text in quotes", ""),
    (('"Otter"', "[]"), 3, "van.name", "A list stands where a text", "a text in quotes", ""),
    (('"Otter"', "{}"), 3, "van.name", "A table stands where a text", "a text in quotes", ""),
    (('"Otter"', '""'), 3, "van.name", "The text is empty", "name of the van", ""),
    (('"Otter"', f'"{"x" * 99}"'), 3, "van.name", "is too long", "80 letters", ""),
    (("people = 2", 'people = "2"'), 6, "household.people", '"2" is not a whole', "from 1 to 12", "people = 2"),
    (("people = 2", "people = 0"), 6, "household.people", "0 is too few", "from 1 to 12", ""),
    (("people = 2", "people = 13"), 6, "household.people", "13 is too many", "from 1 to 12", ""),
    (("people = 2", "people = 2.5"), 6, "household.people", "2.5 is not a whole", "from 1 to 12", ""),
    (("people = 2", "people = nan"), 6, "household.people", "nan is not a whole", "from 1 to 12", ""),
    (("people = 2", "people = true"), 6, "household.people", "true is not a whole", "from 1 to 12", ""),
    (('"moderate"', '"modest"'), 7, "household.habits", '"modest" is not one', '"careful" or', '"moderate"'),
    (('curve_volts = "13.6 V"\n', ""), 17, "pumps.pump.curve_volts", "no volts", 'curve_volts = "13.6 V"', ""),
    (('"2.9 bar"', "2.9"), 18, "pumps.pump.curve.0.1", "2.9 has no unit", 'such as "2.4 bar"', '"2.9 bar"'),
    (('["11 L/min", "0 bar"]', '["11 L/min"]'), 18, "pumps.pump.curve.1.1", "fewer than two", "points of two", ""),
    (('"2.9 bar"]', '"2.9 bar", 1]'), 18, "pumps.pump.curve.0", "more than two", "points of two", ""),
    (('"1.4 bar"', '"2.9 bar"'), 23, "pumps.pump.cut_in", "at or above", "cut_in below cut_out", "swapped"),
    (('to = "shower"', 'to = "showr"'), 37, "runs.to the shower.to", '"showr"', "fresh, grey, pump", '"shower"'),
    (('from = "pump"', "from = 5"), 36, "runs.to the shower.from", "5 stands where", "a text", 'from = "5"'),
    (('from = "pump"\n', ""), 35, "runs.to the shower.from", 'says no "from"', "piece where it begins", ""),
    (('bore = "10 mm"', 'bore = "12 m"'), 38, "runs.to the shower.bore", '"12 m"', "2 mm to 100 mm", '"12 mm"'),
    (('"pvc hose 12 mm"', '"pvc hose 12mm"'), 32, "runs.suction.size", "12mm", "table of pipes", '"pvc hose 12 mm"'),
    (("strainer = 1", "strayner = 1"), 33, "runs.suction.fittings.strayner", "strayner", "table", '"strainer"'),
    (("strainer = 1", 'strainer = "1"'), 33, "runs.suction.fittings.strainer", '"1"', "0 to 60", "strainer = 1"),
    (("strainer = 1", "strainer = -1"), 33, "runs.suction.fittings.strainer", "-1 is too few", "0 to 60", ""),
    (("[site]", "[pumps.fresh]\n[site]"), 40, "pumps.fresh", "[tanks.fresh] and [pumps.fresh]", "name of its own", ""),
    (("[site]", "[tanks.fresh]\n[site]"), 40, "tanks.fresh", "stands twice: first in line 9", "once", "another name"),
    ((FRESH, f"{FRESH}\n{FRESH}"), 12, "tanks.fresh.capacity", "twice: first in line 11", "once", "out"),
    (("[tanks.grey]", '[tanks."a.b"]'), 13, "tanks.a.b", '"a.b" cannot be a name', "letters, digits", ""),
    (("[tanks.grey]", '[tanks."a\\u0007"]'), 13, "tanks.a?", '"a?" cannot be a name', "letters, digits", ""),
    (("[tanks.grey]", "[[tanks.grey]]"), 13, "tanks.grey", "A list stands where a table", "[tanks.grey]", "single"),
    (('altitude = "300 m"', 'cold_water = "20 C"'), 41, "site.cold_water", '"20 C"', "°C", '"°C"'),
    (('altitude = "300 m"', 'altitude = "300 mm H"'), 41, "site.altitude", '"mm H"', "800 m", ""),
    (("[site]", "[uses.car]\n[site]"), 40, "uses.car.a_day", 'says no "a_day"', "2 a day", ""),
    (
        ("[site]", '[uses.car]\na_day = "1 a day"\nvolume = "2 L"\nflow = "1 L/min"\n[site]'),
        42,
        "uses.car.volume",
        "either a volume or a flow",
        "one of the two",
        "",
    ),
]


@pytest.mark.parametrize(("change", "line", "address", "said", "expected", "slip"), BAD, ids=[b[2] for b in BAD])
def test_bad_value_is_told_with_place_value_expectation_and_slip(
    change: tuple[str, str], line: int, address: str, said: str, expected: str, slip: str, tmp_path: Path
) -> None:
    path = written(tmp_path, edited(change))
    found = [problem for problem in problems(path) if problem.address == address]
    assert len(found) == 1, problems(path)
    (problem,) = found
    assert (problem.file, problem.line) == ("van.toml", line)
    assert said in problem.message
    assert expected in problem.expected.replace("\N{NO-BREAK SPACE}", " ")
    assert (slip in problem.slip) if slip else problem.slip == ""
    others = {p.address for p in problems(path)} - {address}
    assert all(other.startswith("uses.car") for other in others), others
    assert str(problem).startswith(f"van.toml:{line} {address}: {problem.message} Expected ")
    assert beside(tmp_path) == ["van.toml"]
    assert path.read_text(encoding="utf-8") == edited(change)


def test_messages_speak_plainly(tmp_path: Path) -> None:
    """No word of the validator's, no name of the program's own, one line each."""
    jargon = ("valid", "Input", "input", "str", "dict", "NoneType", "tuple", " int ", "float", "parse", "Extra", "'")
    for change, *_ in BAD:
        for problem in problems(written(tmp_path, edited(change))):
            told = f"{problem.message} {problem.expected} {problem.slip}".replace("stra", "").replace("showr", "")
            told = told.replace("doesn't", "").replace("tank's", "").replace("curve's", "").replace("pump's", "")
            assert not [word for word in jargon if word in told], told
            assert "\n" not in str(problem)
            assert len(str(problem)) < 420


def test_all_problems_of_a_file_come_in_one_go_in_its_order(tmp_path: Path) -> None:
    changes = [
        ('name = "Otter"', 'nmae = "Otter"'),
        ("people = 2", "people = 0"),
        (FRESH, 'capacity = "7,5 L"\nrefills = "grei"'),
        ('["11 L/min", "0 bar"]', '["0 L/min", "0 bar"]'),
        ('curve_volts = "13.6 V"\n', ""),
        ('cut_in = "1.4 bar"', 'cut_in = "3 bar"'),
        ('type = "handset"', 'type = "hanset"'),
        ('from = "fresh"\n', ""),
        ('to = "pump"', 'to = "pmup"'),
        ("strainer = 1", "strayner = 1"),
        ('altitude = "300 m"', 'altitude = "300"\nwind = "3 kn"'),
    ]
    found = problems(written(tmp_path, edited(*changes)))
    assert [problem.address for problem in found] == [
        "van.nmae",
        "household.people",
        "tanks.fresh.capacity",
        "tanks.fresh.refills",
        "pumps.pump.curve_volts",
        "pumps.pump.curve",
        "pumps.pump.cut_in",
        "outlets.shower.type",
        "runs.suction.from",
        "runs.suction.to",
        "runs.suction.fittings.strayner",
        "site.altitude",
        "site.wind",
    ]
    lines = [problem.line for problem in found]
    assert lines == sorted(lines, key=lambda line: line or 0)
    assert all(problem.file == "van.toml" for problem in found)


def test_missing_tables_are_told_beside_the_rest(tmp_path: Path) -> None:
    text = edited((BASE[BASE.index("[van]") : BASE.index("[tanks.fresh]")], ""), ('cut_in = "1.4', 'cut_in = "3.4'))
    found = problems(written(tmp_path, text))
    assert [problem.address for problem in found] == ["pumps.pump.cut_in", "household", "van"]
    assert [problem.line for problem in found] == [text[: text.index("cut_in")].count("\n") + 1, None, None]


@pytest.mark.parametrize(
    ("text", "line", "said"),
    [
        ("", None, "The file is empty."),
        ("\ufeff", None, "The file is empty."),
        (" \n\n", None, "The file is empty."),
        ("# only\n# comments\n", None, "The file holds only comments."),
        ("[van]\nname 'x'\n", 2, "name 'x'"),
        (BASE.encode("utf-16"), 1, "not UTF-8"),
        (b"[van]\nname = 'x'\n# caf\xe9\n", 3, "not UTF-8"),
        ("x = " + "[" * 200 + "]" * 200, 1, "nested too deeply"),
        ("[van]\n" + "a." * 200 + "a = 1", 2, "nested too deeply"),
        ("x = {a = " * 200 + "1" + "}" * 200, 1, "nested too deeply"),
        ("[van]\nx = " + "9" * 5000, 2, "thousands of digits"),
        ("#" * (LARGEST + 1), None, "larger than 1 MB"),
    ],
)
def test_text_that_is_no_plan(text: str | bytes, line: int | None, said: str, tmp_path: Path) -> None:
    (problem,) = problems(written(tmp_path, text))
    assert (problem.file, problem.line, problem.address) == ("van.toml", line, "")
    assert said in problem.message
    assert problem.expected


def test_a_file_of_just_the_greatest_size_is_read(tmp_path: Path) -> None:
    path = written(tmp_path, BASE + "#" * (LARGEST - len(BASE)))
    assert path.stat().st_size == LARGEST
    assert read(path).plan.van.name == "Otter"


def test_folder_missing_file_pipe_and_names_that_cannot_be(tmp_path: Path) -> None:
    written(tmp_path, BASE)
    pipe = tmp_path / "pipe.toml"
    os.mkfifo(pipe)
    (tmp_path / "loop").symlink_to(tmp_path / "loop")
    for path, said, slip in (
        (tmp_path, "This is a folder.", ""),
        (tmp_path / "vam.toml", "There is no such file.", 'Did you mean "van.toml"?'),
        (tmp_path / "nowhere" / "van.toml", "There is no such file.", ""),
        (tmp_path / "van.toml" / "van.toml", "There is no such file.", ""),
        (pipe, "This is no ordinary file.", ""),
        (Path("/dev/zero"), "This is no ordinary file.", ""),
        (tmp_path / "loop", "The file cannot be read", ""),
        (tmp_path / ("x" * 300), "The file cannot be read", ""),
        (f"{tmp_path}/a\0b", "This cannot be the name of a file.", ""),
    ):
        (problem,) = problems(path)
        assert problem.message.startswith(said)
        assert problem.slip == slip
        assert problem.expected
        assert str(problem).isprintable()


def test_file_that_may_not_be_read(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    path = written(tmp_path, BASE)

    def forbidden(*_: object) -> None:
        raise PermissionError(13, "Permission denied")

    monkeypatch.setattr(Path, "open", forbidden)
    (problem,) = problems(path)
    assert "Permission denied" in problem.message


def test_mark_of_byte_order_is_accepted_and_kept(tmp_path: Path) -> None:
    path = written(tmp_path, "\ufeff" + edited((FRESH, FRESH)))
    found = read(path)
    assert found.mark
    found.revised("household.people", 3).save(before=found)
    assert path.read_bytes() == ("\ufeff" + edited(("people = 2", "people = 3"))).encode()
    (problem,) = problems(written(tmp_path, "\ufeff" + edited(("people = 2", "people = 0"))))
    assert problem.line == 6


def test_line_ends_of_windows_are_kept(tmp_path: Path) -> None:
    path = written(tmp_path, BASE.replace("\n", "\r\n"))
    found = read(path)
    found.revised("tanks.fresh.capacity", "80 L").save(before=found)
    new = edited(("90 L", "80 L"))
    assert path.read_bytes() == new.replace("\n", "\r\n").encode()
    found = read(path)
    found.revised("tanks.fresh.z", "10 cm").save(before=found)
    assert path.read_bytes() == new.replace('"80 L"\n', '"80 L"\nz = "10 cm"\n').replace("\n", "\r\n").encode()
    (problem,) = problems(written(tmp_path, edited(("people = 2", "people = 0")).replace("\n", "\r\n")))
    assert problem.line == 6


def test_separators_in_comments_do_not_count_as_lines(tmp_path: Path) -> None:
    text = edited(("# its name", "# a\u2028b\u2029c\x85d"), ("people = 2", "people = 0"))
    (problem,) = problems(written(tmp_path, text))
    assert problem.line == 6


@pytest.mark.parametrize("name", NAMES)
def test_examples_are_read_and_any_value_of_theirs_is_written_back(name: str, tmp_path: Path) -> None:
    text = (PLANS / f"{name}.toml").read_bytes().decode()
    found = read(written(tmp_path, text))
    assert found.text == text
    new = found.revised("van.note", "changed")
    assert new.plan.at("van.note") == "changed"
    rest = found.plan.changed({"van.note": "changed"})
    assert new.plan == rest
    without = [line for line in new.text.split("\n") if not line.startswith("note = ")]
    assert without == [line for line in text.split("\n") if not line.startswith("note = ")]


def test_value_of_a_ready_habit_is_written_as_an_own_one(tmp_path: Path) -> None:
    found = read(written(tmp_path, BASE))
    new = found.revised("uses.dishes.volume", "4 L")
    assert new.text == BASE + '\n[uses.dishes]\nvolume = "4 L"\n'
    assert new.plan.at("uses.dishes.volume") == pytest.approx(4e-3)
    assert new.plan.at("uses.dishes.a_day") == found.plan.at("uses.dishes.a_day")


def test_revision_that_is_not_possible_is_refused(tmp_path: Path) -> None:
    found = read(written(tmp_path, BASE))
    with pytest.raises(PlanError) as caught:
        found.revised("tanks.fresh.capacity", "80")
    assert (caught.value.problems[0].line, caught.value.problems[0].file) == (11, "van.toml")
    with pytest.raises(PlanError, match=r"van\.toml van\.name\.first: There is no such place in the plan"):
        found.revised("van.name.first", "x")
    with pytest.raises(PlanError, match="There is no such place in the plan"):
        found.revised("pumps.pump.curve.7", "x")
    with pytest.raises(PlanError, match="capcity"):
        found.revised("tanks.fresh.capcity", "80 L")
    with pytest.raises(ValueError, match=r"cannot be changed in van\.toml without changing something else"):
        found.revised("tanks.fresh", "80 L")
    assert found.path.read_text(encoding="utf-8") == BASE


def test_point_of_a_curve_is_written_back(tmp_path: Path) -> None:
    new = read(written(tmp_path, BASE)).revised("pumps.pump.curve.0.1", "3.1 bar")
    assert new.text == edited(('"2.9 bar"', '"3.1 bar"'))
    assert new.plan.at("pumps.pump.curve.0.1") == pytest.approx(3.1e5)


# --- saving --------------------------------------------------------------------------------------------


def test_saved_file_keeps_its_rights_and_leaves_nothing_behind(tmp_path: Path) -> None:
    path = written(tmp_path, BASE)
    path.chmod(0o640)
    found = read(path)
    found.revised("household.people", 3).save(before=found)
    assert stat.S_IMODE(path.stat().st_mode) == 0o640
    assert path.read_text(encoding="utf-8") == edited(("people = 2", "people = 3"))
    assert beside(tmp_path) == ["van.toml"]


def test_new_file_is_saved(tmp_path: Path) -> None:
    found = read(written(tmp_path, BASE))
    copy = PlanFile(tmp_path / "copy.toml", found.text, found.plan)
    copy.save()
    assert read(tmp_path / "copy.toml").plan == found.plan
    assert stat.S_IMODE((tmp_path / "copy.toml").stat().st_mode) == 0o644


def test_link_stays_a_link(tmp_path: Path) -> None:
    (tmp_path / "far").mkdir()
    target = written(tmp_path / "far", BASE)
    link = tmp_path / "van.toml"
    link.symlink_to(target)
    found = read(link)
    found.revised("household.people", 3).save(before=found)
    assert link.is_symlink()
    assert target.read_text(encoding="utf-8") == edited(("people = 2", "people = 3"))
    assert beside(tmp_path) == ["far", "van.toml"]
    assert beside(tmp_path / "far") == ["van.toml"]


def test_file_that_changed_or_went_meanwhile_is_left_alone(tmp_path: Path) -> None:
    path = written(tmp_path, BASE)
    found = read(path)
    new = found.revised("household.people", 3)
    path.write_text(BASE + "# mine\n", encoding="utf-8")
    with pytest.raises(PlanError, match=r"van\.toml: .*changed by somebody else since it was read"):
        new.save(before=found)
    assert path.read_text(encoding="utf-8") == BASE + "# mine\n"
    path.unlink()
    with pytest.raises(PlanError, match="changed by somebody else"):
        new.save(before=found)
    assert beside(tmp_path) == []


def test_failing_disk_leaves_the_old_file_and_nothing_beside(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    path = written(tmp_path, BASE)
    found = read(path)

    def full(_: int) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, "fsync", full)
    with pytest.raises(OSError, match="No space left"):
        found.revised("household.people", 3).save(before=found)
    assert path.read_text(encoding="utf-8") == BASE
    assert beside(tmp_path) == ["van.toml"]


SAVES = """
import os, sys
from vanwater.plan.file import read
file = read(sys.argv[1])
other = file.revised("van.note", "x" * 300)
for _ in sys.stdin:
    child = os.fork()
    while child == 0:
        other.save(before=file)
        file.save(before=other)
    print(child, flush=True)
    os.waitpid(child, 0)
    print("gone", flush=True)
"""
"""Saves the old and the new file in turn until it is killed, and again for each line that it is given."""


def test_killed_at_any_moment_the_file_is_the_old_or_the_new_one_whole(tmp_path: Path) -> None:
    path = written(tmp_path, BASE)
    old = read(path)
    new = old.revised("van.note", "x" * 300)
    neighbour = tmp_path / "van.toml.mine.part"
    neighbour.write_text("not yours", encoding="utf-8")
    moments = random.Random(20260101)
    seen = set()
    saver = subprocess.Popen(
        [sys.executable, "-c", SAVES, str(path)], stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True
    )
    with saver:
        assert saver.stdin is not None
        assert saver.stdout is not None
        for attempt in range(600):
            if attempt >= 30 and len(seen) == 2:  # a busy machine may take more of them
                break
            saver.stdin.write("again\n")
            saver.stdin.flush()
            child = int(saver.stdout.readline())
            time.sleep(moments.uniform(0.0, 0.03))
            os.kill(child, signal.SIGKILL)
            assert saver.stdout.readline() == "gone\n"
            seen.add(path.read_bytes())
            assert neighbour.read_text(encoding="utf-8") == "not yours"
            old.save()
    assert seen == {old.data, new.data}, "whole, and the kills fell on both"
    assert sorted(beside(tmp_path)) == ["van.toml", neighbour.name], "the next save takes away what was left"
