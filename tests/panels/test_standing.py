from __future__ import annotations

import pytest

from vanwater.panels.history import State
from vanwater.panels.standing import Standings, part_fields, with_picks
from vanwater.plan.file import PlanFile, read
from vanwater.plan.problems import PlanError
from vanwater.plan.tables import resource


def test_a_state_has_one_plan_and_each_question_is_asked_once(family: PlanFile) -> None:
    standings = Standings(family.plan, us=False)
    state = State("", {"household.people": 3})
    standing = standings.of(state)
    assert standings.of(State("", {"household.people": 3})) is standing
    assert standing.sure.household.people == 3
    assert standing.answers == {}
    answer = standing.ask("weight")
    assert standing.ask("weight") is answer
    assert list(standing.answers) == ["weight"]


def test_nothing_set_is_the_saved_plan_in_its_situation(family: PlanFile) -> None:
    standings = Standings(family.plan, us=False)
    assert standings.of(State()).sure is family.plan
    there = standings.of(State("ski week"))
    assert there is standings.base("ski week")
    assert there.sure.own == family.plan.in_situation("ski week").own
    both = standings.of(State("ski week", {"household.people": 2})).sure
    assert (both.household.people, both.at("site.altitude")) == (2, 1400.0)
    with pytest.raises(KeyError, match="no situation"):
        standings.of(State("the moon"))


def test_what_is_impossible_has_an_error_and_no_answer(family: PlanFile) -> None:
    standing = Standings(family.plan, us=False).of(State("", {"tanks.grey.height": 0.1}))
    assert standing.plan is None
    with pytest.raises(PlanError, match="overflow"):
        standing.ask("stay")


def test_what_another_value_keeps_from_counting_is_told(family: PlanFile) -> None:
    plan = family.plan.changed({"tanks.fresh.capacity": "130 L"})
    standing = Standings(plan, us=False).of(State("", {"tanks.fresh.length": 1.0}))
    assert standing.plan is not None
    assert len(standing.capped) == 1


def test_answers_of_few_states_are_kept(family: PlanFile) -> None:
    standings = Standings(family.plan, us=False)
    first = standings.of(State("", {"site.wind": 1.0}))
    assert standings.of(State("", {"site.wind": 1.0})) is first
    for step in range(2, 15):
        standings.of(State("", {"site.wind": float(step)}))
    assert standings.of(State("", {"site.wind": 1.0})) is not first


def test_a_part_that_is_lacking_or_picked_goes_in_whole(family: PlanFile) -> None:
    bare = read(resource("data", "plans", "long-stay-dry-toilet.toml")).plan
    fits = {"accumulators.accumulator": {"at": "tee", "volume": "1 L"}}
    fields = part_fields(bare, fits, ("accumulators.accumulator.precharge", "site.wind"))
    assert fields == {"accumulators.accumulator.at": "tee", "accumulators.accumulator.volume": "1 L"}
    assert part_fields(family.plan, fits, ("accumulators.accumulator.precharge",)) == {}
    whole = with_picks(family.plan, {"pumps.pump.stock": "small diaphragm pump", "pumps.pump.volts": 12.0})
    place = {"x": "2.15 m", "y": "-0.55 m", "z": "0.05 m"}
    assert whole == {"pumps.pump": {"stock": "small diaphragm pump", **place}, "pumps.pump.volts": 12.0}
