from __future__ import annotations

import pytest

from vanwater.panels.hand import Hand
from vanwater.panels.history import State
from vanwater.plan.file import PlanFile
from vanwater.plan.problems import PlanError


def hand_with(file: PlanFile, state: State) -> Hand:
    hand = Hand(file)
    hand.history.push(state, "")
    return hand


def test_what_the_plan_says_anyway_is_not_set(family: PlanFile) -> None:
    hand = Hand(family)
    assert hand.with_value("household.people", 4) == State()
    assert hand.with_value("household.people", 5) == State("", {"household.people": 5})
    hand = hand_with(family, State("", {"household.habits": "home-like"}))
    followed = hand.plan.at("uses.teeth.volume")
    assert "uses.teeth.volume" not in hand.with_value("uses.teeth.volume", followed).values
    assert "uses.teeth.volume" in hand.with_value("uses.teeth.volume", family.plan.at("uses.teeth.volume")).values


def test_a_text_with_its_unit_is_read(family: PlanFile) -> None:
    assert Hand(family).with_value("tanks.fresh.length", "90 cm").values["tanks.fresh.length"] == pytest.approx(0.9)
    with pytest.raises(PlanError, match="gal"):
        Hand(family).with_value("tanks.fresh.length", "3 gal")


def test_changes_are_told_in_words_and_as_the_file_holds_them(family: PlanFile) -> None:
    hand = hand_with(family, State("", {"household.people": 3, "uses.shower.duration": 60.0}))
    assert hand.changes == (
        "household, people who live in the van: 4 → 3",
        "shower (use), time the tap is open: 80\N{NO-BREAK SPACE}s → 60\N{NO-BREAK SPACE}s",
    )
    assert hand.written == {"household.people": 3, "uses.shower.duration": "60 s"}
    overlay = hand.overlay("fewer of us")
    laid = overlay.plan(family.plan)
    assert (overlay.name, laid.household.people, laid.at("uses.shower.duration")) == ("fewer of us", 3, 60.0)


def test_an_overlay_of_a_picked_part_is_the_plan_as_it_stands(family: PlanFile) -> None:
    hand = hand_with(family, State("", {"pumps.pump.stock": "medium diaphragm pump"}))
    assert hand.overlay("B").plan(family.plan).own == hand.plan.own


def test_a_situation_is_written_nowhere(own_file: PlanFile) -> None:
    hand = hand_with(own_file, State("ski week", {"household.people": 3}))
    with pytest.raises(PlanError, match="ski week"):
        hand.revised()
    with pytest.raises(PlanError, match="not read from a file"):
        Hand(own_file.plan).revised()


def test_units_are_the_plans_own_or_the_ones_asked_for(example: PlanFile) -> None:
    assert Hand(example).us is (example.plan.van.units == "us")
    for us in (False, True):
        hand = Hand(example, us)
        assert hand.us is hand.plan.us is us


def test_a_control_stands_on_what_is_set_else_on_the_plan(family: PlanFile) -> None:
    hand = hand_with(family, State("ski week", {"household.people": 3}))
    assert hand.value("household.people") == 3
    assert hand.value("site.altitude") == 1400.0
    assert hand.field("site.altitude").saved == 1400.0
    assert hand.value("pumps.second.volts") is None
