from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.integrate import solve_ivp

from vanwater.physics.pressure_switch import draw_flow, flow_held, supply_flow, switched_flow
from vanwater.physics.pump import PumpCurve
from vanwater.physics.series import COLD, COMMON, HOT, SeriesPath, series_flow
from vanwater.physics.switching import ElasticStorage

L_MIN = 1e-3 / 60
CURVE = PumpCurve(np.array([0.0, 4.0, 8.0, 10.5, 12.0]) * L_MIN, np.array([2.9, 2.4, 1.7, 0.9, 0.0]) * 1e5, 12.0, 12.0)
CUT_IN, CUT_OUT = 1.2e5, 2.0e5
AIR = 98945.0
HOSES = ElasticStorage(compliance=1e-10)
VESSEL = ElasticStorage(1e-3, 0.9e5, AIR)
FULL = ElasticStorage(0.6e-3, 1.6e5, AIR, 2e-10, 1.3)  # its pre-charge lies between the switch pressures


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


def switched(path, cut_in=CUT_IN, cut_out=CUT_OUT, storage=HOSES):
    return switched_flow(path, series_flow(path), cut_in, cut_out, storage)


def by_marching(path, storage):
    """A second method: the store's pressure marched through one cycle in time, litres counted on the way."""

    def store(pressure):  # m³/Pa
        p0, p, n = storage.precharge + AIR, pressure + AIR, storage.exponent
        gas = storage.volume / (n * p) * (p0 / p) ** (1 / n) if p > p0 else 0.0
        return gas + storage.compliance

    def march(running, start, end):
        def rate(_, state):
            draw = float(draw_flow(path, state[0]))
            supply = float(supply_flow(path, state[0])) if running else 0.0
            return [(supply - draw) / store(state[0]), draw]

        def arrived(_, state):
            return state[0] - end

        arrived.terminal = True
        found = solve_ivp(rate, (0.0, 1e4), [start, 0.0], events=arrived, rtol=1e-8, atol=[1e-3, 1e-12], max_step=0.1)
        return found.t_events[0][0], found.y_events[0][0][1]

    on, given_on = march(True, CUT_IN, CUT_OUT)
    off, given_off = march(False, CUT_OUT, CUT_IN)
    return (given_on + given_off) / (on + off), on, off


@pytest.mark.parametrize("storage", [HOSES, VESSEL, FULL])
@pytest.mark.parametrize("litres_at_a_bar", [1.5, 3.0, 4.2])
def test_the_mean_of_a_cycle_is_that_of_a_march_through_time(litres_at_a_bar, storage):
    path = a_path(outlet_constant=litres_at_a_bar * L_MIN / np.sqrt(1e5))
    found = switched(path, storage=storage)
    mean, on, off = by_marching(path, storage)
    assert found.cycles
    assert float(found.mean_flow) == pytest.approx(mean, rel=2e-4)
    assert float(found.running_share) == pytest.approx(on / (on + off), abs=1e-3)
    assert float(found.on) == pytest.approx(on, rel=5e-3)
    assert float(found.off) == pytest.approx(off, rel=1e-3)


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
    assert np.isinf(found.off) and found.on == 0.0


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


def test_a_thermostatic_valve_takes_its_share_while_the_pump_cycles():
    path = a_path(mixer_constant=4.0 * L_MIN / np.sqrt(1e5))
    steady = series_flow(path)
    assert float(steady.flow) < 0.95 * float(series_flow(a_path()).flow)
    assert float(draw_flow(path, steady.discharge_pressure)) == pytest.approx(float(steady.flow), rel=1e-9)


@pytest.mark.parametrize("changes", [{}, {"mixer_constant": 20.0 * L_MIN / np.sqrt(1e5)}])
def test_the_moment_of_a_flow_stands_on_both_curves(changes):
    """Pump and suction side at what the pump brings, the rest at what the outlet takes: all pressures add up."""
    path = a_path(outlet_constant=np.array([3.0, 9.0]) * L_MIN / np.sqrt(1e5), **changes)
    steady = series_flow(path)
    swing = switched(path)
    moment = flow_held(path, steady, swing.cycles, swing.mean_flow, 0.5 * (CUT_IN + CUT_OUT))
    assert swing.cycles.tolist() == [True, False]
    for name in ("flow", "pump_flow", "pump_rise", "outlet_pressure", "residual"):
        assert getattr(moment, name)[1] == getattr(steady, name)[1]
    assert CUT_IN < moment.discharge_pressure[0] < CUT_OUT
    assert draw_flow(path, moment.discharge_pressure)[0] == pytest.approx(swing.mean_flow[0], rel=1e-9)
    assert supply_flow(path, moment.discharge_pressure)[0] == pytest.approx(moment.pump_flow[0], rel=1e-9)
    assert CURVE.rise_and_slope(moment.pump_flow)[0][0] == pytest.approx(moment.pump_rise[0], abs=1e-3)
    lost = moment.losses[0]
    taken = lost[0] + lost[1] + max(lost[2], lost[3]) + moment.valve_loss[0] + lost[4] + moment.outlet_pressure[0]
    lifted = 999.5 * 9.80665 * (1.75 + 0.1)
    assert moment.pump_rise[0] == pytest.approx(taken + lifted, abs=1e-3)


def test_the_moment_of_a_regulated_flow_lies_where_it_is_said():
    path = a_path(regulated_flow=1.5 * L_MIN)
    moment = flow_held(path, series_flow(path), np.array(True), 1.5 * L_MIN, 1.5e5)
    assert float(moment.discharge_pressure) == pytest.approx(1.5e5)
    assert float(moment.flow) == pytest.approx(1.5 * L_MIN)


def test_a_dry_outlet_has_no_moment():
    path = a_path(outlet_height=14.0)
    moment = flow_held(path, series_flow(path), np.array(True), 0.0, 1.5e5)
    assert not moment.reaches and moment.flow == 0.0 and not moment.losses.any()


def test_nothing_that_yields_is_refused():
    with pytest.raises(ValueError, match="neither accumulator nor line"):
        switched(a_path(), storage=ElasticStorage())
