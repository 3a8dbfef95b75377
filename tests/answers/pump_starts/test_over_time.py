from __future__ import annotations

import numpy as np
import pytest

from tests.examples import NAMES, example
from vanwater.answers.pump_starts.over_time import OverTime, minutes
from vanwater.physics.transient import follow
from vanwater.plan.model import Plan
from vanwater.system.batch import Batch
from vanwater.system.over_time import circuits, scripts

FAMILY = example("family-winter")
BARE = FAMILY.changed({"accumulators": None})


def over_time(plan: Plan, name: str) -> OverTime:
    return minutes(plan)[name].planned


@pytest.mark.parametrize("name", NAMES)
def test_every_script_is_followed_to_its_end(name: str) -> None:
    plan = example(name)
    for key, script in scripts(plan).items():
        one = over_time(plan, key)
        assert one.time[0] == 0.0 and one.time[-1] == pytest.approx(script.until)
        shapes = {one.time.shape, one.pressure.shape, one.pump_flow.shape, one.running.shape, one.outlet_flow[0].shape}
        assert len(shapes) == 1
        assert one.outlet_flow.shape == one.open.shape == (len(script.outlets), one.time.size)
        assert np.all(one.outlet_flow[~one.open] == 0.0)
        assert np.all(one.pump_flow[~one.running] == 0.0)
        assert one.pressure.max() <= one.cut_out * 1.001
        for outlet in one.outlets:
            low, high = one.flow_of(outlet)
            assert 0.0 < low <= high


def test_points_show_openings_and_switchings_as_jumps() -> None:
    one = over_time(FAMILY, "evening")
    shower = one.outlet_flow[0]
    at = np.flatnonzero(one.time == 2.0)
    assert at.size >= 2 and shower[at[0]] == 0.0 and shower[at[-1]] > 0.0
    began = np.flatnonzero(one.time == one.starts[0])
    assert one.pump_flow[began[0]] == 0.0 and one.pump_flow[began[-1]] > 0.0
    assert one.pressure[began[0]] == pytest.approx(one.pressure[began[-1]])
    litres = np.trapezoid(one.outlet_flow, one.time, axis=-1)
    assert litres == pytest.approx(one.drawn, rel=1e-3)


def test_a_small_draw_cycles_and_a_large_one_runs_on() -> None:
    slow = FAMILY.changed({"outlets.shower.flow": 1.2e-3 / 60}, si=True)
    assert over_time(slow, "shower").cycles
    assert not over_time(FAMILY, "evening").cycles
    assert over_time(slow, "shower").starts.size > over_time(FAMILY, "shower").starts.size


def test_chatter_keeps_every_start_and_can_be_thinned_for_drawing() -> None:
    one = over_time(BARE.changed({"outlets.shower.flow": 1.2e-3 / 60}, si=True), "shower")
    assert one.starts.size > 100
    kept = one.thinned(400)
    assert kept.size < one.time.size / 4 and kept[0] == 0 and kept[-1] == one.time.size - 1
    assert np.all(np.diff(kept) > 0)
    assert one.pressure[kept].min() == one.pressure.min() and one.pressure[kept].max() == one.pressure.max()
    assert set(one.starts.round(9)) <= set(one.time[kept].round(9))
    few = over_time(FAMILY, "shower")
    assert few.thinned(few.time.size).size == few.time.size


def test_numbers_have_ranges_from_pump_and_outlets() -> None:
    assert list(minutes(FAMILY)) == ["evening", "shower", "hands"]
    minute = minutes(FAMILY)["evening"]
    assert minute is minutes(FAMILY)["evening"]
    lowest = minute.lowest
    assert lowest.range is not None and lowest.range[0] < lowest.likely < lowest.range[1]
    assert lowest.key == ("minute", "evening", "pressure", "lowest")
    assert [row.pressure.min() for row in minute.rows] == lowest.values.tolist() and len(minute.rows) == 5
    planned, weak, strong, less, more = lowest.values
    assert weak < planned < strong and more < planned < less  # pump; outlets that take less and more
    assert minute.starts.likely == minute.planned.starts.size
    low, high = minute.flows["shower"]
    assert (low.likely, high.likely) == minute.planned.flow_of("shower")


def test_twice_as_many_pressures_make_no_difference() -> None:
    script = scripts(FAMILY)["evening"]
    fine = circuits(Batch(FAMILY), script.pump, script.opened, points=33)[0]
    sets = [fine.sets.index(outlets) for outlets in script.opened]
    pressure = follow(fine.circuit, script.begin, sets, script.until).pressure
    assert minutes(FAMILY)["evening"].lowest.likely == pytest.approx(pressure.min(), rel=1e-4)


def test_what_cannot_be_followed_is_left_out() -> None:
    assert minutes(FAMILY.changed({"accumulators.accumulator.at": "hot tee"})) == {}
    assert minutes(FAMILY.changed({"pumps.pump.cut_in": None})) == {}
