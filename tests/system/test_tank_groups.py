from __future__ import annotations

import itertools
from typing import Any

import pytest

from tests.pumped import pumped, two_tanks
from vanwater.answers.stay.answer import stay
from vanwater.plan.model import Plan
from vanwater.system.batch import Batch
from vanwater.system.stores import moved, stores
from vanwater.system.tank_groups import feeding_tank, runs_behind, tank_groups


def fresh(raw: dict[str, Any]) -> list[tuple[str, ...]]:
    return [group.tanks for group in tank_groups(Plan.of(raw)) if group.holds == "fresh"]


def test_tanks_that_runs_join_are_one_store_that_gives_what_both_hold() -> None:
    raw = two_tanks("diaphragm")
    assert fresh(raw) == [("fresh", "second")]
    (store,) = stores(Batch(Plan.of(raw)))
    assert store.usable[0] == pytest.approx(0.95 * (0.040 + 0.030))
    one = stay(Plan.of(pumped("diaphragm"))).numbers
    both = stay(Plan.of(raw)).numbers
    days = [
        next(step for key, step in found.items() if key.endswith("fresh") or "second" in key) for found in (one, both)
    ]
    assert float(days[1].value) > 1.7 * float(days[0].value)


def test_a_use_that_names_one_of_joined_tanks_draws_from_both() -> None:
    raw = two_tanks("diaphragm")
    raw["uses"] = {"drinking": {"tank": "second"}}
    assert fresh(raw) == [("fresh", "second")]
    assert moved(Batch(Plan.of(raw)))["drinking"].source == "fresh + second"


def apart() -> dict[str, Any]:
    """Two tanks, each with a pump and an outlet of its own."""
    raw = pumped("diaphragm")
    raw["tanks"]["drinking"] = {"holds": "fresh", "capacity": "10 L", "z": "60 cm"}
    raw["pumps"]["foot pump"] = {
        "kind": "foot",
        "stroke": "0.1 L",
        "strokes": "30 a minute",
        "stall": "1 bar",
        "z": "0 m",
    }
    raw["outlets"]["spout"] = {"flow": "3 L/min", "at": "0.2 bar", "z": "1 m"}
    raw["runs"]["spout suction"] = {"from": "drinking", "to": "foot pump", "bore": "10 mm", "length": "1 m"}
    raw["runs"]["spout hose"] = {"from": "foot pump", "to": "spout", "bore": "10 mm", "length": "1 m"}
    raw["uses"] = {"drinking": {"outlet": "spout"}}
    return raw


def test_tanks_that_feed_other_outlets_are_stores_of_their_own() -> None:
    raw = apart()
    assert fresh(raw) == [("fresh",), ("drinking",)]
    plan = Plan.of(raw)
    assert feeding_tank(plan, "spout") == "drinking"
    assert feeding_tank(plan, "") is None
    moves = moved(Batch(plan))
    assert moves["drinking"].source == "drinking"
    assert moves["dishes"].source == "fresh"  # it feeds two outlets, the other one
    assert [round(float(store.usable[0]) * 1e3, 3) for store in stores(Batch(plan))] == [38.0, 9.5]


def alike() -> dict[str, Any]:
    """The same with one outlet each, so that either may be the main one."""
    raw = apart()
    del raw["outlets"]["rinse"], raw["runs"]["rinse hose"], raw["together"]
    return raw


@pytest.mark.parametrize("turned", [False, True])
def test_of_tanks_that_feed_alike_none_is_taken_by_the_order_of_the_file(turned: bool) -> None:
    raw = alike()
    if turned:
        raw["tanks"] = dict(reversed(raw["tanks"].items()))
    moves = moved(Batch(Plan.of(raw)))
    assert (moves["drinking"].source, moves["drinking"].unsaid) == ("drinking", set())
    assert (moves["dishes"].source, moves["dishes"].unsaid) == ("", {"fresh"})
    raw["uses"]["drinking"]["tank"] = "drinking"  # then the other one is the main one
    said = moved(Batch(Plan.of(raw)))
    assert (said["dishes"].source, said["dishes"].unsaid) == ("fresh", set())


@pytest.mark.parametrize("turned", [False, True])
def test_a_tank_that_feeds_nothing_and_that_no_use_names_counts_with_the_main_one(turned: bool) -> None:
    more = {"can": {"holds": "fresh", "capacity": "10 L"}}
    more["spare"] = {"holds": "fresh", "capacity": "5 L", "refills": "drinking"}

    def stores_of(raw: dict[str, Any]) -> set[frozenset[str]]:
        tanks = raw["tanks"] | more
        return set(map(frozenset, fresh(raw | {"tanks": dict(reversed(tanks.items())) if turned else tanks})))

    assert stores_of(apart()) == {frozenset({"fresh", "can"}), frozenset({"drinking", "spare"})}
    assert stores_of(alike()) == {frozenset({"fresh"}), frozenset({"can"}), frozenset({"drinking", "spare"})}


def test_stores_without_a_main_one_stand_in_the_order_of_their_first_tanks() -> None:
    raw = alike()
    del raw["uses"]
    cans = {name: {"holds": "fresh", "capacity": "10 L"} for name in ("can", "other can")}
    tanks = raw["tanks"] | cans
    for order in itertools.permutations(("can", "fresh", "other can", "drinking")):
        told = fresh(raw | {"tanks": {name: tanks[name] for name in order}})
        assert [store[0] for store in told] == [name for name in order if name in {store[0] for store in told}]
        assert set(map(frozenset, told)) == {frozenset(cans), frozenset({"fresh"}), frozenset({"drinking"})}


def test_runs_behind_a_tank_end_at_the_outlets_and_at_other_tanks() -> None:
    run = {"bore": "10 mm", "length": "1 m"}
    plan = Plan.of(
        {
            "van": {"name": "Van"},
            "household": {"people": 1},
            "tanks": {name: {"holds": "fresh", "capacity": "50 L"} for name in ("upper", "lower")}
            | {"grey": {"holds": "grey", "capacity": "50 L"}},
            "pumps": {"transfer": {"kind": "diaphragm"}},
            "outlets": {"tap": {"type": "galley tap"}, "hose": {"type": "galley tap"}},
            "runs": {
                "lift": {"from": "lower", "to": "transfer", **run},
                "to hose": {"from": "transfer", "to": "hose", **run},
                "down": {"from": "upper", "to": "tap", **run},
                "drain": {"from": "tap", "to": "grey", **run},
            },
        }
    )
    assert runs_behind(plan, ("lower",)) == ("lift", "to hose")
    assert runs_behind(plan, ("upper",)) == ("down",)
    assert runs_behind(plan, ("upper", "lower")) == ("lift", "to hose", "down")
    assert runs_behind(plan, ("grey",)) == ()
