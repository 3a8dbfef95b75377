from __future__ import annotations

import pytest

from vanwater.plan.household import Household, Site, Use
from vanwater.plan.model import Plan
from vanwater.plan.problems import PlanError
from vanwater.plan.tables import HABITS

PLAN = {"van": {"name": "x"}, "household": {"people": 2}}


def use(**said: object) -> Use:
    return Plan.of({**PLAN, "uses": {"wash": {"a_day": "1 a day", **said}}}).uses["wash"]


def complaint(**said: object) -> tuple[str, str]:
    with pytest.raises(PlanError) as caught:
        use(**said)
    (problem,) = caught.value.problems
    return problem.address.removeprefix("uses.wash."), problem.message


def test_a_use_says_its_volume_in_one_of_two_ways() -> None:
    assert use(volume="8 L").each_time == pytest.approx(8e-3)
    assert use(flow="6 L/min", duration="90 s").each_time == pytest.approx(9e-3)
    assert use(volume="0 L", adds="0.35 L").each_time == 0.0


@pytest.mark.parametrize(
    ("said", "field", "words"),
    [
        ({}, "volume", "no volume"),
        ({"flow": "6 L/min"}, "duration", "no duration"),
        ({"duration": "60 s"}, "flow", "no flow"),
        ({"volume": "8 L", "flow": "6 L/min"}, "volume", "either a volume or a flow"),
        ({"volume": "8 L", "duration": "60 s"}, "volume", "either a volume or a flow"),
        ({"volume": "8 L", "flow": "6 L/min", "duration": "60 s"}, "volume", "either a volume or a flow"),
        ({"volume": "8"}, "volume", "no unit"),
        ({"flow": "6", "duration": "60 s"}, "flow", "no unit"),
        ({"flow": "6 L/min", "duration": "60"}, "duration", "no unit"),
    ],
)
def test_one_thing_is_said_of_a_use_that_is_not_whole(said: dict[str, object], field: str, words: str) -> None:
    address, message = complaint(**said)
    assert address == field
    assert words in message


def test_habits_are_those_of_the_table() -> None:
    for habit in HABITS:
        assert Household(people=1, habits=habit).habits == habit


def test_defaults_are_those_of_a_mild_day_on_flat_ground() -> None:
    site = Site()
    assert (site.altitude, site.pitch, site.roll) == (0.0, 0.0, 0.0)
    assert site.cold_water == pytest.approx(273.15 + 12)
    assert Use(a_day=1 / 86400, volume=1e-3).per == "person"
