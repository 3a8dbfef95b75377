from __future__ import annotations

import html
import shutil
from pathlib import Path

import pytest

from vanwater.answers.core.finding import Verdict
from vanwater.answers.questions import answers_to
from vanwater.panels.bench import Bench
from vanwater.panels.hand_on import HandOn, mail_line
from vanwater.plan.file import PlanFile, read
from vanwater.plan.model import Plan

PAPERS = {"van customer.html", "van workshop.html", "van.html"}


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
    assert "as it is written" in handing.collapsible.text.value
    handing.write.click()
    assert lies(folder) == {"van.toml", "van handed on.toml", *PAPERS}
    assert read(own_file.path).text == own_file.text
    copy = read(folder / "van handed on.toml").plan
    assert copy.own == own_file.plan.changed({"household.people": 6}).own  # the situation aside
    for name in (*PAPERS, "van handed on.toml"):
        assert name in handing.collapsible.text.value
    text = (folder / "van.html").read_text(encoding="utf-8")
    days = Bench(copy).ask("stay").numbers["stay.days"].amount.text(False)
    assert days.replace("\N{NO-BREAK SPACE}", "&nbsp;") in text or days in text
    bench.set("household.people", 5)
    handing.write.click()  # its own earlier ones are written anew
    assert read(folder / "van handed on.toml").plan.household.people == 5


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
