from __future__ import annotations

import numpy as np
import pytest

from tests.evening import EVENING, FAMILY, evening
from vanwater.answers.simultaneous.pump import IDLE, middle, pump_points
from vanwater.physics.pump import pump_flow
from vanwater.system.pump import pump_curve
from vanwater.system.stores import outlet_of

LOW_SWITCH = {
    "pumps.pump.cut_out": "1.05 bar",
    "pumps.pump.cut_in": "0.7 bar",
    "accumulators.accumulator.precharge": "0.5 bar",
}


def test_the_point_lies_on_the_pumps_curve_and_carries_all_that_leaves() -> None:
    point = pump_points(EVENING.rows)["pump"]
    assert point.flow.likely == pytest.approx(sum(flow.likely for flow in EVENING.flow.values()), rel=1e-9)
    on_curve = pump_flow(point.rise.likely, pump_curve(EVENING.rows.batch, "pump"))[0]
    assert point.flow.likely == pytest.approx(float(on_curve), rel=1e-9)


def test_it_cycles_where_the_pressure_behind_it_reaches_the_cut_out() -> None:
    point = EVENING.pumps["pump"]
    assert point.cycles is False
    low = evening(LOW_SWITCH)
    assert low.pumps["pump"].cycles is (low.pumps["pump"].crossing.likely > 1.05e5) is True


def test_the_current_is_a_straight_line_of_the_pressure() -> None:
    point = EVENING.pumps["pump"]
    pump = FAMILY.pumps["pump"]
    half_way = 0.5 * (pump.cut_in + pump.cut_out)  # type: ignore[operator]
    assert middle(EVENING.rows.batch, "pump")[0] == half_way
    by_hand = pump.current * (IDLE + (1 - IDLE) * point.rise.likely / half_way)  # type: ignore[operator]
    assert point.current.likely == pytest.approx(by_hand, rel=0.02)  # type: ignore[union-attr]
    low, high = point.current.range  # type: ignore[misc, union-attr]
    assert low < point.current.likely < high  # type: ignore[union-attr]
    without = [rows for rows in point.current.pairs if rows.name != "current against no pressure"]  # type: ignore[union-attr]
    narrow = point.current.keyed(*point.current.key, pairs=without).range  # type: ignore[union-attr]
    assert narrow is not None and low < narrow[0] and narrow[1] < high


def test_the_day_is_the_water_of_its_outlets() -> None:
    point = EVENING.pumps["pump"]
    used = sum(
        use.a_day
        * 86400.0
        * (FAMILY.household.people if use.per == "person" else 1)
        * (use.volume or use.flow * use.duration)
        for name, use in FAMILY.uses.items()
        if outlet_of(FAMILY, name) in EVENING.outlets
    )
    assert used < point.drawn[0] < 1.3 * used  # what runs off while waiting for hot comes on top
    assert point.running == pytest.approx(point.drawn / point.flow.values)
    assert point.charge.likely == pytest.approx(point.running[0] * point.current.likely)  # type: ignore[union-attr]


def test_without_a_current_nothing_is_told_of_it() -> None:
    point = evening({"pumps.pump.current": None}).pumps["pump"]
    assert point.current is None
    assert point.charge is None
    assert np.all(np.isfinite(point.running))
