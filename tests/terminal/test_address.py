from __future__ import annotations

from pathlib import Path

import pytest
from rich.cells import cell_len

from tests.asked_addresses import asked_addresses
from tests.examples import NAMES, PLANS, example_answers
from tests.terminal.made import piped
from vanwater.answers.questions import Answers, answers_to
from vanwater.plan.file import PlanFile, read
from vanwater.terminal.address import addresses, explained, stands
from vanwater.terminal.screen import WIDTH


@pytest.fixture(scope="module")
def family() -> tuple[PlanFile, Answers]:
    file = read(PLANS / "family-winter.toml")
    return file, answers_to(file.plan)


def told(family: tuple[PlanFile, Answers], address: str, us: bool = False) -> list[str]:
    return explained(address, *family, piped(us=us))


def test_value_meaning_and_line(family: tuple[PlanFile, Answers]) -> None:
    head, meaning, origin, believable, *_ = told(family, "tanks.grey.overflow")
    assert head == "tanks.grey.overflow = 0.205 m"
    assert meaning == "  Height of the overflow or vent above the tank's floor; the top if not said."
    assert believable == "  Believable here: 0 m to 4 m."
    text = family[0].text.split("\n")
    line = int(origin.rpartition(" ")[2].rstrip("."))
    assert origin.startswith('  Written as "205 mm", family-winter.toml, line ')
    assert text[line - 1] == 'overflow = "205 mm"'
    assert "[tanks.grey]" in text[:line] and "[pumps.pump]" not in text[:line]


def test_us_units_on_request(family: tuple[PlanFile, Answers]) -> None:
    assert told(family, "heaters.heater.set_point", us=True)[0] == "heaters.heater.set_point = 140 °F"


def test_the_numbers_about_it_are_listed(family: tuple[PlanFile, Answers]) -> None:
    lines = told(family, "tanks.grey.overflow")[6:]
    listed = [line.split()[0] for line in lines if "." in line.split()[0]]  # not where a long key goes on
    assert {"tank.grey.days", "tank.grey.usable", "tank.grey.a_day", "stay.emptied_once.grey"} <= set(listed)
    assert all("grey" in key for key in listed)
    assert any("battery.days" in line for line in told(family, "battery.charge"))


def test_what_ready_habits_bring_is_said_so(family: tuple[PlanFile, Answers]) -> None:
    head, _, origin, *_ = told(family, "uses.teeth.volume")
    assert head == "uses.teeth.volume = 0.3 L"
    assert origin.startswith('  From the ready habits "moderate", common practice')


def test_what_is_taken_and_what_is_open_are_told_apart(family: tuple[PlanFile, Answers]) -> None:
    assert told(family, "site.roll")[0] == "site.roll = 0°"
    assert told(family, "site.roll")[2] == "  The plan does not say it; this is taken."
    assert told(family, "tanks.grey.capacity")[0] == "tanks.grey.capacity = not decided"
    assert told(family, "tanks.grey.capacity")[2] == "  The plan does not say it yet."


def test_findings_that_point_there_are_shown(family: tuple[PlanFile, Answers]) -> None:
    assert any(line.startswith("  ✕ fails") for line in told(family, "tanks.grey.capacity"))
    assert not any(line.startswith("  ✕ fails") for line in told(family, "tanks.grey.overflow"))


@pytest.mark.parametrize(
    ("address", "line"),
    [
        ("van.units", "  One of: metric, us."),
        ("household.people", "  A whole number from 1 to 12."),
        ("pumps.pump.curve", "pumps.pump.curve = 5 points"),
        ("outlets.shower.regulated", "outlets.shower.regulated = no"),
        ("uses.shower.hot", "uses.shower.hot = yes"),
        ("runs.suction.fittings.strainer", "runs.suction.fittings.strainer = 1"),
    ],
)
def test_choices_counts_and_others(family: tuple[PlanFile, Answers], address: str, line: str) -> None:
    assert line in told(family, address)


def test_a_table_shows_what_is_in_it(family: tuple[PlanFile, Answers]) -> None:
    lines = told(family, "tanks.grey")
    assert lines[0] == "tanks.grey"
    assert any(
        " ".join(line.split()) == "length 0.8 m inside length along the van, of a lying cylinder along its"
        for line in lines
    )
    assert not any("capacity" in line for line in lines[:14])
    assert any(line.split() == ["strainer", "1"] for line in told(family, "runs.suction.fittings"))


def test_an_empty_table_says_so(family: tuple[PlanFile, Answers]) -> None:
    assert told(family, "fittings")[1] == "  Nothing is decided here yet."


@pytest.mark.parametrize("name", NAMES)
def test_every_address_of_every_example_is_explained(name: str) -> None:
    file, answers = read(PLANS / f"{name}.toml"), example_answers(name)
    every = list(addresses(file.plan))
    assert len(every) == len(set(every)) > 100
    assert all(stands(file.plan, address) for address in every)
    for address in asked_addresses(file.plan, every):
        lines = explained(address, file, answers, piped())
        assert lines[0].startswith(address)
        assert all(cell_len(line) <= WIDTH for line in lines)


def test_what_is_no_address_is_none(family: tuple[PlanFile, Answers], tmp_path: Path) -> None:
    for wrong in ("tanks.gray", "tanks.grey.colour", "tank.grey.days", "", "."):
        assert not stands(family[0].plan, wrong)
