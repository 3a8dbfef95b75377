"""The system curve meets the pump's where the series solve finds the flow, and stands alone against fluids."""

from __future__ import annotations

from dataclasses import replace

import fluids
import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from vanwater.physics.pump import PumpCurve, pump_rise
from vanwater.physics.series import COLD, COMMON, HOT, SeriesPath, series_flow
from vanwater.physics.system_curve import inlet_pressure, needed_rise

L_MIN = 1e-3 / 60
GRAVITY = 9.80665
PUMP = PumpCurve(np.array([0.0, 7.0, 12.0]) * L_MIN, np.array([3.0, 2.0, 0.0]) * 1e5, 12.0, 12.0)


def a_path(**changed):
    given = {
        "bore": np.array([0.0125, 0.010, 0.009, 0.009, 0.008]),
        "length": np.array([1.4, 0.7, 4.0, 2.4, 1.5]),
        "k": np.array([8.0, 2.0, 14.0, 6.0, 1.0]),
        "roughness": 1.5e-6,
        "density": np.array([999.7, 999.7, 983.2, 999.7, 993.0]),
        "viscosity": np.array([1.306, 1.306, 0.466, 1.306, 0.678]) * 1e-3,
        "role": (COMMON, COMMON, HOT, COLD, COMMON),
        "suction": (True, False, False, False, False),
        "hot_share": 0.56,
        "surface_height": -0.2,
        "pump_height": 0.05,
        "outlet_height": 1.8,
        "outlet_constant": 6.2 * L_MIN / np.sqrt(1e5),
        "pump": PUMP,
    }
    return SeriesPath(**(given | changed))


@given(
    st.floats(4.0, 12.0),
    st.floats(0.006, 0.013),
    st.floats(0.0, 30.0),
    st.floats(-0.5, 2.0),
    st.floats(0.0, 1.0),
)
@settings(max_examples=60, deadline=None)
def test_it_meets_the_pumps_curve_where_the_series_solve_finds_the_flow(litres, bore, k, height, share):
    path = a_path(bore=bore, k=k, outlet_height=height, hot_share=share, outlet_constant=litres * L_MIN / np.sqrt(1e5))
    solved = series_flow(path)
    if not solved.reaches:
        assert needed_rise(path, 0.0) >= pump_rise(0.0, PUMP)
        return
    assert float(needed_rise(path, solved.flow)) == pytest.approx(float(solved.pump_rise), abs=1e-5)
    assert float(inlet_pressure(path, solved.flow)) == pytest.approx(float(solved.pump_inlet_pressure), abs=1e-6)


def test_at_no_flow_it_is_the_static_lift_and_from_there_it_climbs():
    flow = np.linspace(0.0, 12.0, 200) * L_MIN
    needed = needed_rise(a_path(), flow)
    assert needed[0] == pytest.approx(999.7 * GRAVITY * 2.0)
    assert np.all(np.diff(needed) > 0)
    assert inlet_pressure(a_path(), 0.0) == pytest.approx(-999.7 * GRAVITY * 0.25)
    assert np.all(np.diff(inlet_pressure(a_path(), flow)) < 0)


@pytest.mark.parametrize("litres", [0.6, 3.0, 9.0])
def test_fluids_agrees_on_a_plain_run(litres):
    """Darcy-Weisbach with Colebrook by another program, one run without legs."""
    path = SeriesPath(
        bore=0.010,
        length=3.0,
        k=7.0,
        roughness=1.5e-6,
        density=998.2,
        viscosity=1.002e-3,
        role=(COMMON,),
        suction=(True,),
        hot_share=0.0,
        surface_height=0.1,
        pump_height=0.4,
        outlet_height=1.5,
        outlet_constant=4e-7,
    )
    flow = litres * L_MIN
    speed = flow / (np.pi / 4 * 0.010**2)
    factor = fluids.friction_factor(Re=998.2 * speed * 0.010 / 1.002e-3, eD=1.5e-4, Method="Colebrook")
    lost = (factor * 3.0 / 0.010 + 7.0) * 998.2 * speed**2 / 2
    rise = lost + (flow / 4e-7) ** 2 + 998.2 * GRAVITY * 1.4
    assert float(needed_rise(path, flow)) == pytest.approx(rise, rel=1e-3)
    assert float(inlet_pressure(path, flow)) == pytest.approx(-998.2 * GRAVITY * 0.3 - lost, rel=1e-3)


def test_a_regulator_lets_no_more_through_whatever_the_rise():
    path = a_path(regulated_flow=5.0 * L_MIN)
    assert np.isfinite(needed_rise(path, 5.0 * L_MIN))
    assert needed_rise(path, 5.01 * L_MIN) == np.inf
    assert float(needed_rise(path, 4.0 * L_MIN)) == float(needed_rise(a_path(), 4.0 * L_MIN))


def test_rows_and_flows_broadcast():
    rows = a_path(k=np.array([[1.0, 0, 0, 0, 0], [9.0, 0, 0, 0, 0]]))
    flow = np.array([4.0, 5.0]) * L_MIN
    each = [needed_rise(replace(a_path(), k=rows.k[row]), flow[row]) for row in (0, 1)]
    np.testing.assert_allclose(needed_rise(rows, flow), each)


@pytest.mark.parametrize("wrong", [-1e-6, np.nan, np.inf])
def test_an_impossible_flow_is_refused_by_name(wrong):
    with pytest.raises(ValueError, match=r"flow: .* must be finite and not negative"):
        needed_rise(a_path(), wrong)
    with pytest.raises(ValueError, match=r"flow: .* must be finite and not negative"):
        inlet_pressure(a_path(), [1e-5, wrong])
