from __future__ import annotations

import pytest

from vanwater.panels.hand import Hand
from vanwater.plan.file import PlanFile
from vanwater.plan.problems import PlanError

SIGHT = ("household.people", "tanks.fresh.length")


def test_only_what_a_hand_changed_is_handed_on(family: PlanFile) -> None:
    hand = Hand(family.plan, SIGHT, ("battery.charge",))
    assert (hand.values, hand.written, hand.changes) == ({}, {}, ())
    hand.knobs["household.people"].turn(3)
    assert hand.values == {"household.people": 3}
    assert hand.written == {"household.people": 3}
    assert hand.changes == ("household, people who live in the van: 4 → 3",)


def test_more_than_seven_in_sight_are_too_many(family: PlanFile) -> None:
    many = [f"uses.{name}.a_day" for name in family.plan.uses]
    assert len(many) > 7
    with pytest.raises(ValueError, match="at most 7"):
        Hand(family.plan, many)


def test_a_knob_beyond_belief_is_refused_by_its_name(family: PlanFile) -> None:
    hand = Hand(family.plan, SIGHT)
    hand.check()
    hand.knobs["tanks.fresh.length"].turn(99.0)
    with pytest.raises(PlanError, match="not believable") as caught:
        hand.check()
    assert hand.name(caught.value.problems[0].address) == "fresh tank, inside length along the van"
    assert hand.name("site.roll") == ""


def test_no_knobs_no_way_back(family: PlanFile) -> None:
    assert Hand(family.plan, ()).widget.children == ()
    assert len(Hand(family.plan, SIGHT).widget.children) > 2


def test_the_way_back_is_offered_only_where_there_is_one(family: PlanFile) -> None:
    hand = Hand(family.plan, SIGHT)
    hand.tell_changed()
    assert hand.home.disabled
    hand.knobs["household.people"].turn(1)
    hand.tell_changed()
    assert not hand.home.disabled
