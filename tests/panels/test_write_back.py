from __future__ import annotations

from pathlib import Path

import pytest

from vanwater.panels.control_group import ControlGroup
from vanwater.panels.write_back import WriteBack, changed_lines, is_example, revised
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


def test_examples_of_the_package_are_known(family: PlanFile, own_file: PlanFile) -> None:
    assert is_example(family)
    assert not is_example(own_file)


def written(file: PlanFile | None, plan: PlanFile) -> tuple[WriteBack, ControlGroup, list[PlanFile]]:
    group = ControlGroup(plan.plan, ("household.people",))
    told: list[PlanFile] = []
    back = WriteBack(file, group, told.append)
    back.collapsible.button.value = True
    return back, group, told


def test_nothing_is_written_before_the_button_is_pressed(own_file: PlanFile) -> None:
    back, group, told = written(own_file, own_file)
    assert back.button.disabled
    assert "Nothing is changed" in back.collapsible.text.value
    group.controls["household.people"].turn(2)
    back.collapsible.refresh()
    assert "- people = 4\n+ people = 2" in back.collapsible.text.value
    assert read(own_file.path).text == own_file.text
    assert not back.button.disabled
    back.button.click()
    assert [file.plan.household.people for file in told] == [2]
    assert read(own_file.path).plan.household.people == 2
    assert "# A family of four" in read(own_file.path).text


def test_a_file_that_somebody_else_changed_is_left_alone(own_file: PlanFile) -> None:
    back, group, told = written(own_file, own_file)
    group.controls["household.people"].turn(2)
    back.collapsible.refresh()
    own_file.path.write_text(own_file.text + "# mine\n", encoding="utf-8")
    back.button.click()
    assert told == []
    assert own_file.path.read_text(encoding="utf-8").endswith("# mine\n")
    assert 'role="alert"' in back.collapsible.text.value
    assert "changed by somebody else" in back.collapsible.text.value


def test_an_example_is_shown_and_never_written(family: PlanFile) -> None:
    before = family.path.read_bytes()
    back, group, told = written(family, family)
    group.controls["household.people"].turn(2)
    back.collapsible.refresh()
    assert "+ people = 2" in back.collapsible.text.value
    assert "stays as it is" in back.collapsible.text.value
    assert back.button.disabled
    back.button.click()
    assert (told, family.path.read_bytes()) == ([], before)


def test_a_plan_without_a_file_says_so(family: PlanFile) -> None:
    back, _, _ = written(None, family)
    assert "not read from a file" in back.collapsible.text.value


def test_the_name_of_a_file_is_only_text(own_file: PlanFile, tmp_path: Path) -> None:
    path = tmp_path / "<b>van<b>.toml"
    path.write_bytes(own_file.data)
    back, group, _ = written(read(path), own_file)
    assert "<b>" not in back.collapsible.text.value
    group.controls["household.people"].turn(2)
    back.collapsible.refresh()
    assert "<b>" not in back.collapsible.text.value
    back.button.click()
    assert read(path).plan.household.people == 2


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
