from __future__ import annotations

import math
from typing import Any

import pytest

from tests.answers.frosty import HOUR, frosty
from vanwater.answers.core.number import Number
from vanwater.answers.frost.answer import Frost, frost
from vanwater.answers.frost.runs import RunFrost


def run(**changes: Any) -> RunFrost:
    return frost(frosty(**changes)).runs[0]


def test_a_run_by_hand_with_its_wall_counted() -> None:
    one = run()
    hours = one.hours["parked"]
    assert one.wall.likely / one.heat.water[0] == pytest.approx(1.25 * 1.2 / 4.186)
    given = {piece.name: piece.value for piece in hours.given}
    mass = given["mass"]
    assert isinstance(mass, Number)
    water = math.pi / 4 * 0.01**2 * 2 * 1000
    assert mass.likely == pytest.approx(water + one.wall.likely)
    through = given["conductance"].value  # type: ignore[union-attr]
    assert hours.likely == pytest.approx(mass.likely * 4186 / through * math.log(18 / 10))
    assert hours.likely < HOUR
    assert one.hours["driving"].likely < hours.likely


def test_a_runs_length_does_not_matter() -> None:
    short, long = (run(runs__hose__length=length).hours["parked"].likely for length in ("0.5 m", "5 m"))
    assert short == pytest.approx(long)


def test_its_three_times_by_hand_and_in_order() -> None:
    one = run()
    through, water, wall = one.conductance[0][0], one.heat.water[0], one.heat.wall[0]
    cools = (water + wall) * 4186 / through * math.log(18 / 10)
    assert one.blocked.likely == pytest.approx(cools + 0.07 * water * 334e3 / (through * 10))
    assert one.burst.likely == pytest.approx(cools + 0.92 * water * 334e3 / (through * 10))  # soft hose, nearly solid
    copper = run(runs__hose__size="copper 12 mm")
    assert copper.hours["parked"].likely < copper.blocked.likely < copper.burst.likely
    assert copper.burst.likely < 1.5 * copper.blocked.likely
    assert one.blocked.range is not None and one.blocked.range[0] < one.blocked.likely < one.blocked.range[1]


def test_short_times_are_told_in_minutes() -> None:
    assert run().hours["parked"].text().startswith("4.2\N{NO-BREAK SPACE}min (")


GREY = {"holds": "grey", "length": "0.6 m", "width": "0.5 m", "height": "0.25 m", "z": "-0.3 m"}
WASTE = {"from": "tap", "to": "grey", "size": "corrugated waste hose 25 mm", "length": "2 m", "beside": "outside"}


def wasting(**said: Any) -> Frost:
    return frosty_answer(runs__hose__beside="room", tanks__grey=GREY, runs__waste=WASTE | said)


def frosty_answer(**changes: Any) -> Frost:
    return frost(frosty(**changes))


def told(answer: Frost) -> list[str]:
    return [finding.statement.text() for finding in answer.findings]


def test_a_waste_run_that_drains_is_never_what_freezes_first() -> None:
    drained = wasting()
    assert drained.runs == ()
    assert drained.first == "grey tank"
    assert not any("waste" in words and "freezes first" in words for words in told(drained))
    assert [one.key for one in drained.assumptions].count("waste runs") == 1
    assert "waste runs" not in [one.key for one in wasting(slope="2 %").assumptions]


def test_a_trap_in_it_is_named() -> None:
    trapped = wasting(slope="2 %", trap=True)
    assert trapped.first == "trap in waste"
    assert any("the trap in waste, no pad on it, freezes first" in words for words in told(trapped))


def test_one_that_is_too_flat_stands_full_and_is_told_to_fall() -> None:
    flat = wasting(slope="1 %")
    assert flat.first == "waste"
    change = next(finding.change for finding in flat.findings if finding.key == "frost.waste.freezes")
    assert change is not None
    assert change.text().startswith("Let it fall 2\N{NO-BREAK SPACE}% all the way")


def test_a_wall_of_which_nothing_is_said_is_told() -> None:
    hose = {"from": "fresh", "to": "tap", "bore": "10 mm", "length": "2 m", "beside": "outside"}
    keys = [one.key for one in frosty_answer(runs__hose=hose).assumptions]
    assert "run materials" in keys
    assert "run materials" not in [one.key for one in frosty_answer(runs__hose=hose | {"material": "pex"}).assumptions]


def test_a_box_above_freezing_keeps_a_run() -> None:
    answer = frost(frosty(runs__hose__beside="box"))
    assert math.isinf(answer.runs[0].hours["parked"].likely)
    assert answer.first == "fresh tank"
