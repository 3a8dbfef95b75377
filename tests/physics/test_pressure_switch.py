from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.integrate import solve_ivp

from vanwater.physics.pressure_switch import draw_flow, supply_flow, switched_flow
from vanwater.physics.pump import PumpCurve
from vanwater.physics.series import COLD, COMMON, HOT, SeriesPath, series_flow

L_MIN = 1e-3 / 60
CURVE = PumpCurve(np.array([0.0, 4.0, 8.0, 10.5, 12.0]) * L_MIN, np.array([2.9, 2.4, 1.7, 0.9, 0.0]) * 1e5, 12.0, 12.0)
CUT_IN, CUT_OUT = 1.2e5, 2.0e5
AIR = 98945.0


def a_path(**changes):
    path = SeriesPath(
        bore=np.array([0.0125, 0.010, 0.010, 0.010, 0.008]),
        length=np.array([1.3, 0.6, 3.4, 2.2, 1.5]),
        k=np.array([7.5, 3.5, 13.0, 9.0, 1.5]),
        roughness=1.5e-6,
        density=np.array([999.5, 999.5, 982.1, 999.5, 992.6]),
        viscosity=np.array([1.234e-3, 1.234e-3, 4.52e-4, 1.234e-3, 6.65e-4]),
        role=(COMMON, COMMON, HOT, COLD, COMMON),
        suction=(True, False, False, False, False),
        hot_share=0.54,
        surface_height=-0.1,
        pump_height=0.1,
        outlet_height=1.75,
        outlet_constant=3.0 * L_MIN / np.sqrt(1e5),
        pump=CURVE,
    )
    return replace(path, **changes)


def switched(path, cut_in=CUT_IN, cut_out=CUT_OUT, atmosphere=None):
    return switched_flow(path, series_flow(path), cut_in, cut_out, atmosphere)


def by_marching(path, atmosphere):
    """A second method: the store's pressure marched through one cycle in time, litres counted on the way."""

    def store(pressure):  # m³/Pa, any amount will do
        return 1e-10 if atmosphere is None else 1e-3 * AIR / (pressure + AIR) ** 2

    def march(running, start, end):
        def rate(_, state):
            draw = float(draw_flow(path, state[0]))
            supply = float(supply_flow(path, state[0])) if running else 0.0
            return [(supply - draw) / store(state[0]), draw]

        def arrived(_, state):
            return state[0] - end

        arrived.terminal = True
        found = solve_ivp(rate, (0.0, 1e4), [start, 0.0], events=arrived, rtol=1e-8, atol=[1e-3, 1e-12])
        return found.t_events[0][0], found.y_events[0][0][1]

    on, given_on = march(True, CUT_IN, CUT_OUT)
    off, given_off = march(False, CUT_OUT, CUT_IN)
    return (given_on + given_off) / (on + off), on / (on + off)


@pytest.mark.parametrize("atmosphere", [None, AIR])
@pytest.mark.parametrize("litres_at_a_bar", [1.5, 3.0, 4.2])
def test_the_mean_of_a_cycle_is_that_of_a_march_through_time(litres_at_a_bar, atmosphere):
    path = a_path(outlet_constant=litres_at_a_bar * L_MIN / np.sqrt(1e5))
    found = switched(path, atmosphere=atmosphere)
    mean, running = by_marching(path, atmosphere)
    assert found.cycles
    assert float(found.mean_flow) == pytest.approx(mean, rel=2e-4)
    assert float(found.running_share) == pytest.approx(running, abs=1e-3)


def test_the_crossing_is_where_supply_meets_draw():
    found = series_flow(a_path())
    assert float(draw_flow(a_path(), found.discharge_pressure)) == pytest.approx(float(found.flow), rel=1e-9)
    assert float(supply_flow(a_path(), found.discharge_pressure)) == pytest.approx(float(found.flow), rel=1e-9)


@settings(max_examples=60, deadline=None)
@given(st.floats(0.5e5, 1.5e5), st.floats(0.05e5, 1.2e5), st.floats(0.3, 12.0))
def test_the_mean_lies_between_the_switch_flows(cut_in, band, litres_at_a_bar):
    path = a_path(outlet_constant=litres_at_a_bar * L_MIN / np.sqrt(1e5))
    found = switched(path, cut_in, cut_in + band)
    if found.cycles:
        assert found.flow_at_cut_in <= found.mean_flow <= found.flow_at_cut_out
        assert 0.0 < found.running_share < 1.0
    else:
        assert found.mean_flow == series_flow(path).flow
        assert found.running_share == 1.0


def test_water_in_is_water_out():
    """Over a whole cycle the pump brings what the outlet took: running share × mean supply = mean flow."""
    found = switched(a_path(), CUT_OUT - 10.0, CUT_OUT)  # a narrow band: the supply hardly changes within it
    supply = float(supply_flow(a_path(), CUT_OUT - 5.0))
    assert float(found.running_share) * supply == pytest.approx(float(found.mean_flow), rel=1e-5)


def test_the_nearer_the_cut_out_to_the_crossing_the_less_the_pump_rests():
    steady = series_flow(a_path())
    short_of = np.array([5e4, 5e3, 5e2, 50.0, 5.0, 0.5])
    path = a_path(outlet_height=np.full(short_of.shape, 1.75))
    found = switched(path, CUT_IN, float(steady.discharge_pressure) - short_of)
    assert found.cycles.all()
    assert (np.diff(found.running_share) > 0.0).all() and (np.diff(found.mean_flow) > 0.0).all()
    assert found.running_share[-1] > 0.8 and float(steady.flow) * 0.95 < found.mean_flow[-1] < float(steady.flow)


def test_rows_that_cycle_stand_beside_rows_that_do_not():
    path = a_path(outlet_constant=np.array([3.0, 9.0]) * L_MIN / np.sqrt(1e5))
    found = switched(path)
    assert found.cycles.tolist() == [True, False]
    alone = switched(a_path())
    assert float(found.mean_flow[0]) == pytest.approx(float(alone.mean_flow), rel=1e-9)
    assert found.mean_flow[1] == series_flow(path).flow[1]


def test_an_outlet_that_runs_dry_above_the_cut_in_stays_dry():
    found = switched(a_path(outlet_height=14.0), 1.0e5, 1.7e5)
    assert found.cycles and found.flow_at_cut_out > 0.0
    assert found.flow_at_cut_in == 0.0 and found.mean_flow == 0.0 and found.running_share == 0.0


def test_an_outlet_out_of_reach_does_not_cycle():
    found = switched(a_path(outlet_height=40.0))
    assert not found.cycles and found.mean_flow == 0.0


def test_a_regulator_is_steady_while_the_pump_cycles():
    found = switched(a_path(regulated_flow=1.5 * L_MIN))
    assert found.cycles
    assert float(found.flow_at_cut_in) == float(found.flow_at_cut_out) == pytest.approx(1.5 * L_MIN)
    assert float(found.mean_flow) == pytest.approx(1.5 * L_MIN)


def test_a_switch_needs_a_band_and_a_pump():
    with pytest.raises(ValueError, match="cut_out"):
        switched(a_path(), 2e5, 2e5)
    with pytest.raises(ValueError, match="no pump"):
        switched(a_path(pump=None))
    with pytest.raises(ValueError, match="no pump"):
        supply_flow(a_path(pump=None), 1e5)
