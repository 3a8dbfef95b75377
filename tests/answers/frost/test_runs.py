from __future__ import annotations

import math
from typing import Any

import pytest

from tests.answers.frosty import HOUR, frosty
from vanwater.answers.core.number import Number
from vanwater.answers.frost.answer import frost
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


def test_short_times_are_told_in_minutes() -> None:
    assert run().hours["parked"].text().startswith("4.2\N{NO-BREAK SPACE}min (")


def test_a_box_above_freezing_keeps_a_run() -> None:
    answer = frost(frosty(runs__hose__beside="box"))
    assert math.isinf(answer.runs[0].hours["parked"].likely)
    assert answer.first == "fresh tank"
