"""Ready habits fill the gaps of the builder's own uses, and only those."""

from __future__ import annotations

from vanwater.plan.address import known_keys
from vanwater.plan.habits import meant, with_habits
from vanwater.plan.model import Plan

KNOWN = known_keys(Plan)


def test_own_uses_go_before_ready_ones_and_the_gaps_are_filled() -> None:
    raw = {
        "household": {"people": 2, "habits": "moderate"},
        "uses": {"hands": {"a_day": "9 a day"}, "dog": {"volume": "3 L"}},
    }
    uses = with_habits(raw, KNOWN)["uses"]
    assert uses["hands"]["a_day"] == "9 a day" and len(uses["hands"]) > 1
    assert list(uses)[-1] == "dog" and len(uses) > 3
    assert raw["uses"] == {"hands": {"a_day": "9 a day"}, "dog": {"volume": "3 L"}}


def test_a_volume_of_ones_own_goes_before_a_ready_flow() -> None:
    raw = {"household": {"habits": "moderate"}, "uses": {"shower": {"volume": "9 L"}}}
    shower = with_habits(raw, KNOWN)["uses"]["shower"]
    assert shower["volume"] == "9 L" and "flow" not in shower and "duration" not in shower


def test_without_habits_nothing_is_filled() -> None:
    raw = {"household": {"people": 2}}
    assert with_habits(raw, KNOWN) == raw


def test_a_toilet_that_the_van_lacks_is_not_used() -> None:
    raw = {"household": {"habits": "moderate"}, "tanks": {"fresh": {"holds": "fresh"}}}
    assert all(use.get("to") not in ("urine", "cassette") for use in with_habits(raw, KNOWN)["uses"].values())


def test_a_misspelt_key_is_still_meant() -> None:
    assert meant({"houshold": {"people": 2}}, "household", KNOWN) == {"people": 2}
    assert meant({"household": 1, "houshold": 2}, "household", KNOWN) == 1
    assert meant({"tanks": {}}, "household", KNOWN) is None
