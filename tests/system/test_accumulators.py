from __future__ import annotations

import itertools

from tests.examples import example
from vanwater.plan.model import Plan
from vanwater.system.accumulators import (
    accumulators_behind,
    accumulators_of,
    behind,
    cut_off,
    decided,
    fed_from,
    serving,
)

FAMILY = example("family-winter")
LONG = example("long-stay-dry-toilet")


def test_everything_behind_the_pump_is_found() -> None:
    assert "suction" not in behind(FAMILY, "pump")
    assert behind(FAMILY, "pump") == frozenset(FAMILY.runs) - {"suction"}
    assert behind(FAMILY, "heater") == {
        "hot trunk",
        "hot shower line",
        "hot galley line",
        "handset hose",
        "galley spout",
    }


def test_accumulator_is_that_of_its_pump() -> None:
    assert accumulators_of(FAMILY, "pump") == ("accumulator",)
    assert accumulators_of(LONG, "pump") == ()


def at(place: str, *open_runs: str, **valves: str) -> Plan:
    """The family's van with its accumulator elsewhere, check valves taken out of runs and put into others."""
    fittings = {f"runs.{run}.fittings": {"push-fit elbow": 1} for run in open_runs}
    fittings |= {f"runs.{run.replace('_', ' ')}.fittings": {valve: 1} for run, valve in valves.items()}
    return FAMILY.changed({"accumulators.accumulator.at": place} | fittings)


def test_an_accumulator_behind_a_check_valve_serves_what_lies_beyond_it() -> None:
    assert fed_from(FAMILY, "tee") >= {"pump", "heater", "cold tee", "hot tee", "shower", "basin tap"}
    hot_side = at("hot tee")
    assert accumulators_behind(hot_side, "pump") == ("accumulator",)
    assert accumulators_of(hot_side, "pump") == ()
    assert fed_from(hot_side, "hot tee") == {"hot tee", "heater"}  # a mixing tap is fed from both sides only
    assert [serving(hot_side, "pump", outlet) for outlet in hot_side.outlets] == [(), (), ()]
    assert accumulators_of(at("hot tee", "heater feed"), "pump") == ("accumulator",)
    cold_side = at("cold tee", cold_trunk="spring check valve")
    assert accumulators_of(cold_side, "pump") == ()
    assert [outlet for outlet in cold_side.outlets if serving(cold_side, "pump", outlet)] == ["basin tap"]


def test_a_check_valve_before_all_taps_parts_none_of_them_from_the_accumulator() -> None:
    trunk = at("tee", trunk="swing check valve")
    assert "pump" not in fed_from(trunk, "tee")
    assert accumulators_of(trunk, "pump") == ("accumulator",)


def test_an_accumulator_behind_a_tap_holds_no_pressure() -> None:
    for place in ("shower mixer", "basin tap"):
        assert fed_from(FAMILY, place) == frozenset()
        assert accumulators_of(at(place), "pump") == ()


def test_several_accumulators_act_together_the_decided_and_larger_ones_first_in_any_order() -> None:
    vessels = {
        "small": {"at": "tee", "volume": "0.5 L", "precharge": "1.1 bar"},
        "large": {"at": "tee", "volume": "2 L", "precharge": "1.1 bar"},
        "largest": {"at": "cold tee", "volume": "5 L"},
    }
    for order in itertools.permutations(vessels):
        plan = FAMILY.changed({"accumulators": {name: vessels[name] for name in order}})
        assert accumulators_behind(plan, "pump") == ("large", "small", "largest")
        assert accumulators_of(plan, "pump") == ("large", "small", "largest")
        assert decided(plan, accumulators_of(plan, "pump")) == ("large", "small")
        assert serving(plan, "pump", "basin tap") == ("large", "small")


def test_check_valve_before_the_heater_cuts_it_off() -> None:
    assert cut_off(FAMILY, "heater") == "heater feed"
    open_way = FAMILY.changed({"runs.heater feed.fittings": {"push-fit elbow": 1}})
    assert cut_off(open_way, "heater") == ""
