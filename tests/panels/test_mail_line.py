from __future__ import annotations

from vanwater.answers.core.finding import Verdict
from vanwater.answers.questions import answers_to
from vanwater.panels.bench import Bench
from vanwater.panels.mail_line import mail_line
from vanwater.plan.file import PlanFile


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
