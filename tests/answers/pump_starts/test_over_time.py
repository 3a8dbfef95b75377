from __future__ import annotations

import numpy as np
import pytest

from tests.examples import NAMES, example
from vanwater.answers.core.statement import Range
from vanwater.answers.pump_starts.over_time import followed, over_time, over_time_numbers
from vanwater.system.over_time import scripts

FAMILY = example("family-winter")
BARE = FAMILY.changed({"accumulators": None})


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
        assert one.highest <= one.cut_out * 1.001
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
    assert one.pressure[kept].min() == one.lowest and one.pressure[kept].max() == one.highest
    assert set(one.starts.round(9)) <= set(one.time[kept].round(9))
    few = over_time(FAMILY, "shower")
    assert few.thinned(few.time.size).size == few.time.size


def test_numbers_have_ranges_from_pump_and_outlets() -> None:
    found = over_time_numbers(FAMILY)
    assert set(found) == {
        f"accumulator.over_time.{name}.{key}"
        for name in ("evening", "shower", "hands")
        for key in ("lowest", "highest", "starts")
    }
    lowest = found["accumulator.over_time.evening.lowest"]
    assert isinstance(lowest.result, Range)
    assert lowest.result.low < lowest.result.likely < lowest.result.high
    alone = over_time(FAMILY, "evening").lowest  # from a network solved at twice as many pressures
    assert lowest.result.likely == pytest.approx(alone, rel=1e-4)
    rows = followed(FAMILY)["evening"]
    assert len(rows) == 5
    assert [one.lowest for one in rows] == pytest.approx(lowest.value)
    assert rows[1].lowest < rows[0].lowest < rows[2].lowest  # a weaker and a stronger pump
    assert rows[4].lowest < rows[0].lowest < rows[3].lowest  # outlets that take more and less


def test_what_cannot_be_followed_says_why_or_is_left_out() -> None:
    with pytest.raises(ValueError, match="evening, shower, hands"):
        over_time(FAMILY, "no such set")
    hot_side = FAMILY.changed({"accumulators.accumulator.at": "hot tee"})
    with pytest.raises(ValueError, match="check valve"):
        over_time(hot_side, "shower")
    assert over_time_numbers(hot_side) == {}
    assert over_time_numbers(FAMILY.changed({"pumps.pump.cut_in": None})) == {}


def test_warm_gas_holds_less_water() -> None:
    first = [over_time(FAMILY, "shower", gas=273.15 + t).starts[0] for t in (-5.0, 20.0, 40.0)]
    assert first[0] != first[1] != first[2]
    assert over_time(FAMILY, "shower", gas=293.15).starts[0] == pytest.approx(over_time(FAMILY, "shower").starts[0])
