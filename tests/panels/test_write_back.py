from __future__ import annotations

from pathlib import Path

import pytest

from vanwater.panels.write_back import changed_lines, folder_of, is_example, new_file, revised
from vanwater.plan.file import PlanFile, read
from vanwater.plan.problems import PlanError


def test_only_the_changed_lines_differ_and_comments_stay(own_file: PlanFile) -> None:
    after = revised(own_file, {"household.people": 3, "uses.shower.duration": "60 s"})
    assert changed_lines(own_file, after) == (
        ("-", "people = 4"),
        ("+", "people = 3"),
        ("-", 'duration = "80 s"        # water off while soaping'),
        ("+", 'duration = "60 s"        # water off while soaping'),
    )
    assert own_file.path.read_text(encoding="utf-8") == own_file.text


def test_an_order_is_found_in_which_every_step_is_possible(own_file: PlanFile) -> None:
    values = {"pumps.pump.cut_in": "3 bar", "pumps.pump.cut_out": "4 bar"}  # 3 bar alone lies above the old cut-out
    with pytest.raises(PlanError):
        own_file.revised("pumps.pump.cut_in", "3 bar")
    after = revised(own_file, values)
    assert after.plan.at("pumps.pump.cut_in") == pytest.approx(3e5)
    assert after.plan.at("pumps.pump.cut_out") == pytest.approx(4e5)


def test_what_is_impossible_in_every_order_is_refused(own_file: PlanFile) -> None:
    with pytest.raises(PlanError, match="below cut_out"):
        revised(own_file, {"pumps.pump.cut_in": "5 bar", "household.people": 2})


def test_new_files_go_beside_the_plan_but_an_examples_into_the_folder_of_the_notebook(
    family: PlanFile, own_file: PlanFile
) -> None:
    assert folder_of(own_file) == own_file.path.parent
    assert folder_of(family) == folder_of(None) == Path()


def test_examples_of_the_package_are_known(family: PlanFile, own_file: PlanFile) -> None:
    assert is_example(family)
    assert not is_example(own_file)


def test_a_part_that_the_file_lacks_is_added_whole_at_its_end(own_file: PlanFile) -> None:
    file = read_text(own_file, own_file.text.replace("[accumulators.accumulator]", "[accumulators.other]"))
    fields = {"at": "tee", "volume": "1.5 L", "precharge": "0.9 bar"}
    values = {f"accumulators.large one.{key}": value for key, value in fields.items()}
    after = revised(file, {**values, "household.people": 3})
    assert after.plan.accumulators["large one"].volume == pytest.approx(1.5e-3)
    assert after.text.endswith('\n\n[accumulators."large one"]\nat = "tee"\nvolume = "1.5 L"\nprecharge = "0.9 bar"\n')
    assert [line for mark, line in changed_lines(file, after) if mark == "-"] == ["people = 4"]


def test_a_part_that_is_not_whole_is_refused(own_file: PlanFile) -> None:
    with pytest.raises(PlanError, match="volume"):
        revised(own_file, {"accumulators.other.at": "tee"})


def test_line_ends_stay_as_they_are(own_file: PlanFile) -> None:
    file = read_text(own_file, own_file.text.replace("\n", "\r\n"))
    after = revised(file, {"pads.new.tank": "fresh", "pads.new.power": "30 W"})
    assert after.text.endswith('\r\n\r\n[pads.new]\r\ntank = "fresh"\r\npower = "30 W"\r\n')
    assert "\n" not in after.text.replace("\r\n", "")


def read_text(file: PlanFile, text: str) -> PlanFile:
    file.path.write_bytes(text.encode())
    return read(file.path)


def test_a_picked_part_takes_its_place_and_what_the_stock_says_leaves_the_file(own_file: PlanFile) -> None:
    after = revised(own_file, {"pumps.pump.stock": "medium diaphragm pump", "pumps.pump.volts": "12.5 V"})
    lines = changed_lines(own_file, after)
    assert ("+", 'stock = "medium diaphragm pump"') in lines
    assert ("-", 'cut_in = "1.4 bar"') in lines
    assert ("+", 'volts = "12.5 V"') in lines
    assert not any("z = " in line or "# A family" in line for _, line in lines)
    assert after.plan.at("pumps.pump.cut_in") == pytest.approx(1.7e5)
    assert after.plan.at("pumps.pump.z") == own_file.plan.at("pumps.pump.z")


def test_a_new_file_holds_the_plan_and_never_takes_another_ones_place(own_file: PlanFile) -> None:
    after = revised(own_file, {"household.people": 3})
    path = own_file.path.with_name("for three.toml")
    saved = new_file(after, path)
    assert (saved.path, saved.plan.household.people) == (path, 3)
    assert read(own_file.path).text == own_file.text
    held = path.read_bytes()
    with pytest.raises(PlanError, match="such a file already"):
        new_file(own_file, path)
    assert path.read_bytes() == held


@pytest.mark.parametrize("name", ["", "van", "van.txt", ".toml", "no/such/folder/van.toml", "a\0b.toml"])
def test_a_name_that_is_none_is_refused(own_file: PlanFile, name: str) -> None:
    with pytest.raises(PlanError):
        new_file(own_file, own_file.path.parent / name)


def test_a_plan_with_a_shelf_stays_beside_it(own_file: PlanFile, tmp_path: Path) -> None:
    (tmp_path / "parts.toml").write_text('[pumps.mine]\nvolts = "12 V"\n', encoding="utf-8")
    file = read_text(own_file, f'shelf = "parts.toml"\n{own_file.text}')
    other = tmp_path / "elsewhere"
    other.mkdir()
    with pytest.raises(PlanError, match="shelf"):
        new_file(file, other / "van.toml")
    assert new_file(file, tmp_path / "second.toml").plan.own["shelf"] == "parts.toml"
