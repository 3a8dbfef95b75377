from __future__ import annotations

import tomllib
from typing import Any

import numpy as np
import pytest

from tests.examples import NAMES, PLANS, example
from vanwater.answers.outlets.answer import Outlets, outlets
from vanwater.answers.outlets.system_curve import PumpMeets, pump_meets
from vanwater.plan.model import Plan
from vanwater.system.batch import Batch
from vanwater.system.network import open_together

L_MIN = 1e-3 / 60
FAMILY = example("family-winter")


def meets_of(plan: Plan) -> tuple[Outlets, PumpMeets]:
    answer = outlets(plan)
    return answer, pump_meets(plan, "pump", answer.outlets)


def two_taps(**changed: Any) -> Plan:
    """The van with cans, and a second tap on a hose of its own from the pump."""
    raw = tomllib.loads((PLANS / "weekend-cans.toml").read_text(encoding="utf-8"))
    tap = {"flow": "3 L/min", "at": "1 bar", "z": "0.5 m"} | changed
    raw["outlets"]["outside"] = tap
    raw["runs"]["outside hose"] = {"from": "pump", "to": "outside", "bore": "8 mm", "length": "3 m"}
    raw["together"] = {"both": {"outlets": ["galley tap", "outside"]}}
    return Plan.of(raw)


@pytest.mark.parametrize("name", NAMES)
def test_each_outlet_meets_the_pump_where_the_answer_says(name: str) -> None:
    answer, meets = meets_of(example(name))
    assert [one.name for one in meets.curves[: len(answer.outlets)]] == list(answer.outlets)
    for curve in meets.curves[: len(answer.outlets)]:
        one = answer.outlets[curve.name]
        assert np.interp(one.flow.likely, curve.flow, curve.rise) == pytest.approx(one.rise.likely, rel=2e-3)


@pytest.mark.parametrize("name", NAMES)
def test_the_points_lie_on_both_curves(name: str) -> None:
    plan = example(name)
    _, meets = meets_of(plan)
    suction = plan.pumps["pump"].kind != "submersible"
    for curve in meets.curves:
        for line, point in ((meets.real, curve.point), (meets.rated, curve.rated)):
            assert point is not None
            flow, pressure = point
            assert np.interp(flow, line.flow, line.pressure) == pytest.approx(pressure, rel=2e-3)
            assert np.interp(flow, curve.flow, curve.pressure) == pytest.approx(pressure, rel=3e-3)
        assert np.all(np.diff(curve.flow) > 0)
        assert np.all(np.diff(curve.pressure) > 0)
        taken = np.diff(curve.rise - curve.pressure)  # what the suction side takes grows with the flow
        assert np.all(taken > 0) if suction else taken == pytest.approx(0.0, abs=1e-6)
    assert np.all(np.diff(meets.real.pressure) < 0)


def test_a_set_meets_the_pump_where_the_whole_network_says() -> None:
    _, meets = meets_of(FAMILY)
    (evening,) = (one for one in meets.curves if len(one.outlets) == 2)
    solved = open_together(Batch(FAMILY), [evening.outlets])
    assert evening.point == pytest.approx((solved.flow.sum(), solved.discharge["pump"][0, 0]), rel=1e-9)
    alone = {one.name: one for one in meets.curves}
    assert evening.point[0] > alone["shower"].point[0]
    assert evening.point[1] < alone["shower"].point[1]


def test_branches_that_part_at_the_pump_add_up_at_each_pressure() -> None:
    """Two hoses from one pump share nothing behind it: at any pressure there their flows add."""
    _, meets = meets_of(two_taps())
    tap, outside, both = meets.curves
    assert both.flow[0] == 0
    assert both.pressure[0] == pytest.approx(min(tap.pressure[0], outside.pressure[0]))
    for flow, pressure in zip(both.flow, both.pressure, strict=True):
        parts = [np.interp(pressure, one.pressure, one.flow) for one in (tap, outside)]
        assert sum(parts) == pytest.approx(flow, rel=5e-3, abs=2e-2 * L_MIN)


def test_a_regulated_outlet_asks_for_no_more_flow_whatever_the_pressure() -> None:
    _, meets = meets_of(two_taps(regulated=True, flow="2 L/min"))
    one = next(curve for curve in meets.curves if curve.name == "outside")
    assert one.flow[-1] == one.flow[-2] == pytest.approx(2 * L_MIN)
    assert one.pressure[-1] > one.pressure[-2]
    assert one.point[0] == pytest.approx(2 * L_MIN)


def test_the_volts_move_the_pumps_curve_and_not_the_systems() -> None:
    meets, weak = (meets_of(FAMILY.changed({"pumps.pump.volts": volts}, si=True))[1] for volts in (12.7, 11.5))
    assert weak.real.volts == 11.5
    assert weak.rated.volts == meets.rated.volts == 13.6
    np.testing.assert_allclose(weak.rated.pressure, meets.rated.pressure)
    assert weak.real.flow[-1] < meets.real.flow[-1] < meets.rated.flow[-1] < 12.5 * L_MIN
    assert weak.real.pressure[-1] == 0.0
    for one, other in zip(weak.curves, meets.curves, strict=True):
        assert one.rated == pytest.approx(other.rated)
        assert one.point[0] < other.point[0]
        np.testing.assert_allclose(one.flow, other.flow)


def test_without_volts_of_its_own_the_pump_runs_at_its_rated_ones() -> None:
    _, meets = meets_of(FAMILY.changed({"pumps.pump.volts": None}))
    assert meets.real.volts == meets.rated.volts
    assert all(one.point == pytest.approx(one.rated) for one in meets.curves)


def test_an_outlet_out_of_reach_has_no_curve_and_one_that_only_rated_volts_reach_no_point() -> None:
    low = FAMILY.changed({"pumps.pump.curve": ((0.0, 0.15e5), (10 * L_MIN, 0.0))}, si=True)
    _, meets = meets_of(low)
    assert "shower" not in [one.name for one in meets.curves]
    weak = low.changed({"pumps.pump.volts": 6.8}, si=True)
    basin = next(one for one in meets_of(weak)[1].curves if one.name == "basin tap")
    assert basin.working is None
    assert basin.rated is not None
