from __future__ import annotations

import pytest

from vanwater.panels.control_group import ControlGroup
from vanwater.plan.file import PlanFile
from vanwater.plan.problems import PlanError

SIGHT = ("household.people", "tanks.fresh.length")


def test_only_what_a_hand_changed_is_handed_on(family: PlanFile) -> None:
    group = ControlGroup(family.plan, SIGHT, ("battery.charge",))
    assert (group.values, group.written, group.changes) == ({}, {}, ())
    group.controls["household.people"].turn(3)
    assert group.values == {"household.people": 3}
    assert group.written == {"household.people": 3}
    assert group.changes == ("household, people who live in the van: 4 → 3",)


def test_more_than_seven_in_sight_are_too_many(family: PlanFile) -> None:
    many = [f"uses.{name}.a_day" for name in family.plan.uses]
    assert len(many) > 7
    with pytest.raises(ValueError, match="at most 7"):
        ControlGroup(family.plan, many)


def test_a_control_beyond_belief_is_refused_by_its_name(family: PlanFile) -> None:
    group = ControlGroup(family.plan, SIGHT)
    group.check()
    group.controls["tanks.fresh.length"].turn(99.0)
    with pytest.raises(PlanError, match="not believable") as caught:
        group.check()
    assert (
        group.name(caught.value.problems[0].address)
        == "fresh tank, inside length along the van, of a lying cylinder along its axis"
    )
    assert group.name("site.roll") == ""


def test_no_controls_no_way_back(family: PlanFile) -> None:
    assert ControlGroup(family.plan, ()).widget.children == ()
    assert len(ControlGroup(family.plan, SIGHT).widget.children) > 2


def test_the_way_back_is_offered_only_where_there_is_one(family: PlanFile) -> None:
    group = ControlGroup(family.plan, SIGHT)
    group.tell_changed()
    assert group.home.disabled
    group.controls["household.people"].turn(1)
    group.tell_changed()
    assert not group.home.disabled
