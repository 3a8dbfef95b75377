from __future__ import annotations

import html
import os
import shutil
from errno import EACCES, ENOSPC, EROFS
from pathlib import Path

import pytest

from tests.panels.following import Watcher
from vanwater.answers.core.finding import Verdict
from vanwater.answers.questions import answers_to
from vanwater.document.output_file import PAPERS
from vanwater.document.writings import WRITINGS
from vanwater.panels.bench import Bench
from vanwater.panels.hand_on import HandOn, mail_line
from vanwater.plan.file import PlanFile, read
from vanwater.plan.model import Plan

WRITTEN = {"van ski week customer.html", "van ski week workshop.html", "van ski week.html"}


class Follows(Watcher):
    """Lets a fold be shown anew, as its panel does."""

    def __init__(self, handing: HandOn) -> None:
        super().__init__()
        self.handing = handing

    def refresh(self) -> None:
        self.handing.collapsible.refresh()


def opened(bench: Bench) -> HandOn:
    handing = HandOn(bench)
    handing.collapsible.button.value = True
    return handing


def lies(folder: Path) -> set[str]:
    return {path.name for path in folder.iterdir()}


def test_papers_and_plan_lie_beside_the_file_as_the_bench_stands(own_file: PlanFile) -> None:
    folder, bench = own_file.path.parent, Bench(own_file)
    bench.choose("ski week")
    bench.set("household.people", 6)
    handing = opened(bench)
    assert lies(folder) == {"van.toml"}  # nothing before the button is pressed
    assert "in the situation ski week" in handing.collapsible.text.value
    handing.write.click()
    assert lies(folder) == {"van.toml", "van handed on.toml", *WRITTEN}
    assert read(own_file.path).text == own_file.text
    copy = read(folder / "van handed on.toml").plan
    assert copy.own == own_file.plan.changed({"household.people": 6}).own  # with its situations
    for name in (*WRITTEN, "van handed on.toml"):
        assert name in handing.collapsible.text.value
    text = (folder / "van ski week.html").read_text(encoding="utf-8")
    days = bench.ask("stay").numbers["stay.days"].amount.text(False)
    assert days.replace("\N{NO-BREAK SPACE}", "&nbsp;") in text or days in text
    assert copy.in_situation("ski week").at("household.people") == 6
    bench.set("household.people", 5)
    handing.what.value = (("tags",), "")
    handing.write.click()  # its own earlier copy is written anew
    assert read(folder / "van handed on.toml").plan.household.people == 5


def test_whatever_is_chosen_is_written_and_only_papers_have_a_form(own_file: PlanFile) -> None:
    folder, bench = own_file.path.parent, Bench(own_file)
    handing = opened(bench)
    assert [name for name, _ in handing.what.options.items()][1:] == [
        writing.about for key, writing in WRITINGS.items() if key != "change"
    ]
    for keys, disabled, name in (
        (("card",), False, "van card.md"),
        (("parts",), True, "van parts.csv"),
        (("schematic",), True, "van.svg"),
        (("scale",), True, "van scale.svg"),
    ):
        handing.what.value, handing.form.value = (keys, ""), "md"
        assert handing.form.disabled is disabled
        handing.write.click()
        assert f"Written: {name}." in handing.collapsible.text.value and (folder / name).exists()


def test_a_change_order_is_offered_since_each_plan_that_is_another(own_file: PlanFile) -> None:
    bench = Bench(own_file)
    handing = opened(bench)
    bench.follow(Follows(handing))

    def since() -> list[str]:
        return [letter for keys, letter in handing.what.options.values() if keys == ("change",)]

    assert since() == []
    bench.set("household.people", 2)
    bench.keep("<b>two</b>")
    assert since() == ["A"]  # B is what stands there
    bench.set("household.people", 3)
    assert since() == ["A", "B"]
    handing.what.value = (("change",), "B")
    bench.set("household.days_wanted", "6 days")
    assert handing.what.value == (("change",), "B")  # a move leaves what was chosen
    handing.write.click()
    text = (own_file.path.parent / "van change.html").read_text(encoding="utf-8")
    assert "from B, &lt;b>two&lt;/b> to" in text or "from B, &lt;b&gt;two&lt;/b&gt; to" in text
    bench.drop("B")
    assert since() == ["A"] and handing.what.value == (PAPERS, "")


@pytest.mark.parametrize(
    ("number", "why", "do"),
    [
        (ENOSPC, "No space left on device", "Make room on the disk"),
        (EROFS, "Read-only file system", "choose a folder that you may write into"),
        (EACCES, "Permission denied", "Close it where it is open, or choose a folder that you may write into"),
    ],
)
def test_what_a_disk_refuses_is_told_with_what_to_do_and_the_earlier_file_is_kept(
    own_file: PlanFile, monkeypatch: pytest.MonkeyPatch, number: int, why: str, do: str
) -> None:
    def refused(*_: object) -> int:
        raise OSError(number, why)

    bench = Bench(own_file)
    (place,) = bench.hand_on("parts")
    before = place.read_bytes()
    handing = opened(bench)
    handing.what.value = (("parts",), "")
    monkeypatch.setattr(os, "open", refused)
    handing.write.click()
    told = handing.collapsible.text.value
    assert f"van parts.csv cannot be written: {why}." in told and do in told and "what lay there before is kept" in told
    assert 'role="alert"' in told and place.read_bytes() == before


def test_without_a_browser_or_the_folder_it_says_what_to_do(
    own_file: PlanFile, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("vanwater.document.pdf._PLACES", ())
    monkeypatch.setenv("PATH", "")
    handing = opened(Bench(own_file))
    handing.what.value, handing.form.value = (("customer",), ""), "pdf"
    handing.write.click()
    assert "Install Chromium, Chrome or Edge; or write it as a web page" in handing.collapsible.text.value
    handing.what.value = (("parts",), "")
    for folder in ("", str(own_file.path.parent / "gone")):
        handing.folder.value = folder
        shutil.rmtree(own_file.path.parent, ignore_errors=True)
        handing.write.click()
        assert f"{folder} is no folder. Nothing was written." in handing.collapsible.text.value
        assert "Make the folder first." in handing.collapsible.text.value


def test_it_goes_into_a_folder_that_is_typed(own_file: PlanFile, tmp_path: Path) -> None:
    folder = tmp_path / "for the workshop"
    folder.mkdir()
    handing = opened(Bench(own_file))
    assert "goes beside van.toml" in handing.collapsible.text.value
    handing.what.value, handing.folder.value = (("tags",), ""), f" {folder} "
    assert "goes into for the workshop" in handing.collapsible.text.value
    handing.write.click()
    assert lies(folder) == {"van tags.csv", "van handed on.toml"}  # the plan's own file does not lie there


def test_nothing_is_written_over_what_is_not_vanwaters(own_file: PlanFile) -> None:
    folder = own_file.path.parent
    (folder / "van workshop.html").write_text("my notes", encoding="utf-8")
    handing = opened(Bench(own_file))
    handing.write.click()
    assert "van workshop.html holds something that vanwater did not write" in handing.collapsible.text.value
    assert lies(folder) == {"van.toml", "van workshop.html"}
    assert (folder / "van workshop.html").read_text(encoding="utf-8") == "my notes"


def test_an_example_is_handed_on_beside_the_notebook(
    family: PlanFile, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    before = lies(family.path.parent)
    handing = opened(Bench(family))
    handing.write.click()
    stem = "family-winter"
    assert lies(tmp_path) == {
        f"{stem} customer.html",
        f"{stem} workshop.html",
        f"{stem}.html",
        f"{stem} handed on.toml",
    }
    assert lies(family.path.parent) == before
    shutil.copyfile(family.path, tmp_path / family.path.name)
    own = opened(Bench(read(tmp_path / family.path.name)))
    own.what.value = (("tags",), "")
    own.write.click()
    assert "as it lies there" in own.collapsible.text.value  # nothing is changed, so no copy


def test_the_line_stands_in_a_box_that_a_keyboard_reaches(family: PlanFile) -> None:
    bench = Bench(family)
    text = opened(bench).collapsible.text.value
    assert f"<textarea readonly rows=4>{html.escape(mail_line(bench))}</textarea>" in text
    assert "e-mail" in text.partition("<textarea")[0].rpartition("<label")[2]


def test_what_is_impossible_or_has_no_file_is_not_handed_on(family: PlanFile) -> None:
    bench = Bench(family)
    bench.set("tanks.grey.height", "10 cm")
    handing = opened(bench)
    assert handing.write.disabled and "not possible" in handing.collapsible.text.value
    bare = opened(Bench(Plan.of({"van": {"name": "<b>bare</b>"}, "household": {"people": 2}})))
    assert bare.write.disabled and "not read from a file" in bare.collapsible.text.value
    assert "<b>bare" not in bare.collapsible.text.value


def test_it_tells_the_van_what_ends_the_stay_the_numbers_and_the_changes(family: PlanFile) -> None:
    bench = Bench(family)
    saved = mail_line(bench)
    numbers = answers_to(bench.plan).numbers
    assert saved.startswith("Family van, winter use: The grey tank is full first, after 2.5")
    for key in ("outlet.shower.flow", "heater.heater.charge.likely", "tank.fresh.lowest_cold.parked", "van.payload"):
        assert numbers[key].shown.text(False) in saved, key
    assert "Changed" not in saved
    bench.choose("ski week")
    bench.set("household.people", 6)
    moved = mail_line(bench)
    assert moved.startswith("Family van, winter use, ski week: ")
    assert moved.endswith("Changed against the saved plan: household, people who live in the van: 4 → 6.")
    assert bench.ask("stay").numbers["stay.days"].shown.text(False) in moved


def test_it_hides_no_failure(example: PlanFile) -> None:
    bench = Bench(example)
    fails = sum(finding.verdict is Verdict.FAILS for finding in answers_to(bench.plan).findings)
    assert (f"{fails} thing" in mail_line(bench)) == (fails > 0)


def test_of_an_empty_plan_it_says_what_is_known() -> None:
    from vanwater.plan.model import Plan

    line = mail_line(Bench(Plan.of({"van": {"name": "bare"}, "household": {"people": 2}})))
    assert line.startswith("bare: ") and "not decided" in line
