from __future__ import annotations

import numpy as np
import pytest

from tests.examples import example
from vanwater.answers.hot_water.answer import hot_water
from vanwater.answers.stay.answer import stay
from vanwater.plan.model import Plan
from vanwater.system.batch import Batch
from vanwater.system.hot_line import brought_to, return_runs, rings, run_back_runs
from vanwater.system.hot_pipe import brought_pipe, hot_pipe
from vanwater.system.network import open_together
from vanwater.system.stores import brought_content, hot_content, moved
from vanwater.system.ways import way_to

FAMILY = example("family-winter")
SMALL = {
    "kind": "diaphragm",
    "curve": [[0.0, 0.5e5], [5e-5, 0.0]],
    "curve_volts": 12.0,
    "z": 0.2,
}
BACK = FAMILY.changed(
    {
        "runs.run-back line": {
            "from": "hot tee",
            "to": "fresh",
            "size": "pex 12 mm",
            "length": "1.5 m",
            "run_back": True,
        },
    }
)


def ringed() -> Plan:
    """The family's van with a ring: from the end of the hot line through a small pump back to the heater's feed."""
    return FAMILY.changed(
        {
            "pumps.small pump": SMALL,
            "tees.feed tee": {"z": 0.2},
            "tees.far tee": {"z": 1.0},
            "runs.heater feed.to": "feed tee",
            "runs.feed end": {"from": "feed tee", "to": "heater", "size": "pex 12 mm", "length": 0.1},
            "runs.hot shower line.to": "far tee",
            "runs.last piece": {"from": "far tee", "to": "shower mixer", "size": "pex 12 mm", "length": 0.3},
            "runs.return": {"from": "far tee", "to": "small pump", "size": "pex 12 mm", "length": 2.5},
            "runs.return end": {
                "from": "small pump",
                "to": "feed tee",
                "size": "pex 12 mm",
                "length": 0.5,
                "fittings": {"spring check valve": 1},
            },
        },
        si=True,
    )


RING = ringed()


def test_a_plain_van_brings_hot_water_nowhere() -> None:
    assert run_back_runs(FAMILY) == rings(FAMILY) == ()
    assert return_runs(FAMILY) == brought_to(FAMILY) == frozenset()
    assert brought_pipe(FAMILY, "shower") == ()
    assert hot_pipe(FAMILY, "shower") == ("hot trunk", "hot shower line")


def test_run_back_line_leaves_what_is_behind_it_to_run_off() -> None:
    assert run_back_runs(BACK) == ("run-back line",)
    assert brought_to(BACK) == {"hot tee"}
    assert brought_pipe(BACK, "shower") == ("hot trunk",)
    assert hot_pipe(BACK, "shower") == ("hot shower line",)
    before, after = Batch(FAMILY), Batch(BACK)
    whole = hot_content(before, "shower")
    assert brought_content(before, "shower") == 0
    assert 0 < hot_content(after, "shower") < whole
    assert hot_content(after, "shower") + brought_content(after, "shower") == pytest.approx(whole)
    assert brought_content(after, "hands") == 0  # nobody waits for hot


def test_run_back_line_is_shut_while_outlets_run() -> None:
    assert way_to(BACK, "shower") == way_to(FAMILY, "shower")
    assert way_to(BACK, "basin tap") == way_to(FAMILY, "basin tap")
    flow = [open_together(Batch(plan), [("shower", "galley tap")]).flow for plan in (FAMILY, BACK)]
    assert np.array_equal(*flow)


def test_days_grow_by_what_no_longer_runs_off_and_the_heat_stays() -> None:
    before, after = (moved(Batch(plan)) for plan in (FAMILY, BACK))
    uses = {name: (move.hot_content - after[name].hot_content) * move.waiting for name, move in before.items()}
    saved = sum(float((uses[name] * move.events * move.persons)[0]) for name, move in before.items())
    assert saved > 0
    for store in ("fresh", "grey"):
        took, takes = (
            float(next(one for one in stay(plan).stores if one.holds == store).a_day.value) for plan in (FAMILY, BACK)
        )
        assert took - takes == pytest.approx(saved)
    heat = [hot_water(plan).numbers["use.shower.battery_energy.heater"].likely for plan in (FAMILY, BACK)]
    assert heat[1] == pytest.approx(heat[0])
    battery = [next(one for one in stay(plan).stores if one.holds == "battery") for plan in (FAMILY, BACK)]
    assert battery[1].a_day.value == pytest.approx(battery[0].a_day.value)


def test_ring_is_found_with_its_back() -> None:
    (ring,) = rings(RING)
    assert (ring.pump, ring.heater) == ("small pump", "heater")
    assert ring.runs == ("return end", "feed end", "hot trunk", "hot shower line", "return")
    assert ring.back == ("return end", "return")
    assert ring.hot(RING) == ("hot trunk", "hot shower line")
    assert return_runs(RING) == {"return end", "return"}
    assert brought_to(RING) == {"hot tee", "far tee"}
    assert hot_pipe(RING, "shower") == ("last piece",)
    assert brought_pipe(RING, "shower") == ("hot trunk", "hot shower line")
    assert hot_pipe(RING, "galley tap") == ("hot galley line",)


def test_ring_stands_still_while_outlets_run() -> None:
    way = way_to(RING, "shower")
    assert not way.broken
    assert (way.pump, way.heater) == ("pump", "heater")
    assert way.hot == ("heater feed", "feed end", "hot trunk", "hot shower line", "last piece")
    flow = [open_together(Batch(plan), [("shower",)]).flow[0, 0, 0] for plan in (FAMILY, RING)]
    assert flow[1] == pytest.approx(flow[0], rel=0.02)


def test_a_second_pump_behind_a_tank_is_no_ring() -> None:
    plan = FAMILY.changed(
        {
            "pumps.small pump": SMALL,
            "tees.drawn from": {},
            "runs.suction.to": "drawn from",
            "runs.on": {"from": "drawn from", "to": "pump", "size": "pex 12 mm", "length": 0.1},
            "runs.side": {"from": "drawn from", "to": "small pump", "size": "pex 12 mm", "length": 0.1},
        },
        si=True,
    )
    assert rings(plan) == ()
