from __future__ import annotations

from vanwater.answers.autonomy import autonomy
from vanwater.answers.supply import supply
from vanwater.panels.choice import IN_SIGHT, knobs_for
from vanwater.panels.knob import knob
from vanwater.plan.file import PlanFile
from vanwater.plan.model import Plan

BARE = Plan.of({"van": {"name": "empty"}, "household": {"people": 2}})


def test_every_example_gets_knobs_that_exist_for_each_question(example: PlanFile) -> None:
    for answer in (autonomy(example.plan), supply(example.plan)):
        sight, rest = knobs_for(example.plan, answer)
        assert 1 <= len(sight) <= IN_SIGHT
        assert len({*sight, *rest}) == len(sight) + len(rest)
        for address in (*sight, *rest):
            knob(example.plan, address)


def test_people_tanks_and_the_largest_use_come_first(family: PlanFile) -> None:
    sight, _ = knobs_for(family.plan, autonomy(family.plan))
    assert sight[:6] == (
        "household.people",
        "household.habits",
        "tanks.fresh.length",
        "tanks.grey.length",
        "uses.shower.a_day",
        "uses.shower.duration",
    )


def test_the_way_to_the_main_outlet_has_its_knobs(family: PlanFile) -> None:
    sight, rest = knobs_for(family.plan, supply(family.plan))
    assert sight[0] == "outlets.shower.flow"
    assert "pumps.pump.volts" in sight
    assert "runs.handset hose.size" in (*sight, *rest)


def test_a_plan_with_nothing_in_it_still_has_its_people() -> None:
    sight, rest = knobs_for(BARE, autonomy(BARE))
    assert sight[:2] == ("household.people", "household.habits")
    assert not any(address.startswith("battery") for address in (*sight, *rest))
    assert knobs_for(BARE, supply(BARE)) == ((), ())
