"""Draining: water falls toward open ends, drains and tanks, and nowhere else."""

from __future__ import annotations

from typing import Any

import pytest

from tests.examples import example
from vanwater.plan.model import Plan
from vanwater.system.draining import Draining, draining

RUNS = {
    "suction": {"from": "fresh", "to": "pump"},
    "trunk": {"from": "pump", "to": "tee"},
    "feed": {"from": "tee", "to": "heater"},
    "hot": {"from": "heater", "to": "mixer"},
    "cold": {"from": "tee", "to": "mixer"},
    "riser": {"from": "mixer", "to": "tap"},
}


def state(**changes: Any) -> Draining:
    """A small van: the pump lowest, the heater above it, the tap above all; other values by address."""
    runs = {name: {**run, "bore": "10 mm", "length": "1 m"} for name, run in RUNS.items()}
    plan = Plan.of(
        {
            "van": {"name": "drained"},
            "household": {"people": 2},
            "tanks": {"fresh": {"holds": "fresh", "capacity": "60 L", "z": "0.3 m"}},
            "pumps": {"pump": {"z": "0.1 m"}},
            "heaters": {"heater": {"volume": "6 L", "z": "0.4 m"}},
            "tees": {"tee": {"z": "0.2 m"}},
            "mixers": {"mixer": {"z": "0.9 m"}},
            "outlets": {"tap": {"type": "galley tap", "z": "1.1 m"}},
            "runs": runs,
            "water": {"drained": True},
        }
    )
    return draining(plan.changed({address.replace("__", "."): value for address, value in changes.items()}))


PRESSED = ("trunk", "feed", "hot", "cold", "riser")


def test_open_taps_above_empty_nothing_below_them() -> None:
    kept = state()
    assert set(kept.kept) == set(PRESSED)
    assert [pool.lowest for pool in kept.pools] == ["trunk"]
    assert kept.heaters == ("heater",)
    assert "suction" not in kept.kept  # the pump sucks it empty


def test_one_drain_at_the_lowest_point_empties_all_above_it() -> None:
    kept = state(runs__trunk__fittings={"drain cock": 1})
    assert (kept.kept, kept.heaters, kept.unsaid) == ((), (), ())


def test_a_drain_higher_up_leaves_what_lies_below_it() -> None:
    kept = state(runs__feed__fittings={"ball drain": 1})
    assert kept.kept == ("trunk",)
    assert kept.heaters == ()


def test_a_check_valve_keeps_the_heater_full() -> None:
    kept = state(runs__trunk__fittings={"drain cock": 1}, runs__feed__fittings={"spring check valve": 1})
    assert kept.heaters == ("heater",)
    assert set(kept.kept) == {"feed", "hot"}
    assert [pool.lowest for pool in kept.pools] == ["heater"]
    assert "check valve" in kept.pieces


def test_a_hot_line_that_falls_away_does_not_empty_the_heater() -> None:
    kept = state(
        heaters__heater__z="0.8 m",
        mixers__mixer__z="0.5 m",
        outlets__tap__z="0.3 m",
        runs__feed__fittings={"spring check valve": 1},
    )
    assert kept.heaters == ("heater",)
    assert "hot" not in kept.kept
    assert "riser" not in kept.kept


def test_a_low_tap_empties_what_falls_toward_it() -> None:
    kept = state(outlets__tap__z="0 m", mixers__mixer__z="0.05 m", pumps__pump__z="0.1 m")
    assert (kept.kept, kept.heaters) == (("trunk",), ())  # the pump lies below its tee


def test_a_sag_keeps_its_water_and_a_hump_needs_both_ends() -> None:
    drain = {"runs__trunk__fittings": {"drain cock": 1}}
    assert state(**drain, runs__cold__lowest="0.1 m").sags == ("cold",)
    assert state(**drain, runs__cold__lowest="0.1 m", runs__cold__fittings={"drain cock": 1}).sags == ()
    hump = state(**drain, runs__riser__highest="1.4 m")
    assert hump.kept == ()
    assert state(runs__riser__highest="1.4 m").kept == PRESSED


def test_a_height_that_is_not_said_leaves_it_open() -> None:
    kept = state(runs__trunk__fittings={"drain cock": 1}, mixers__mixer__z=None)
    assert set(kept.unsaid) == {"hot", "cold", "riser"}
    assert kept.kept == ()


def test_a_submersible_pump_lets_its_line_run_back_into_the_tank() -> None:
    pump = {"kind": "submersible", "tank": "fresh"}
    back = state(pumps__pump=pump, tanks__fresh__z="-0.3 m", runs__suction=None)
    assert (back.kept, back.heaters) == ((), ())
    valve = state(
        pumps__pump=pump, tanks__fresh__z="-0.3 m", runs__suction=None, runs__trunk__fittings={"foot valve": 1}
    )
    assert "trunk" in valve.kept


def test_traps_and_waste_runs_that_lie_level_keep_water() -> None:
    waste = {"from": "tap", "to": "grey", "size": "corrugated waste hose 25 mm"}
    grey = {"tanks__grey": {"holds": "grey", "capacity": "40 L"}}
    assert state(**grey, runs__drain={**waste, "trap": True}).traps == ("drain",)
    assert state(**grey, runs__drain={**waste, "slope": "0.5 %"}).sags == ("drain",)
    assert state(**grey, runs__drain={**waste, "slope": "3 %"}).sags == ()


@pytest.mark.parametrize("name", ["family-winter", "weekend-cans"])
def test_the_examples_that_are_laid_up_keep_no_more_than_they_hold(name: str) -> None:
    plan = example(name).in_situation("laid up")
    kept = draining(plan)
    assert set(kept.kept) | set(kept.sags) | set(kept.unsaid) <= set(plan.runs)
    assert len({*kept.kept, *kept.unsaid}) == len(kept.kept) + len(kept.unsaid)
