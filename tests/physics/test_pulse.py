import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import solve_ivp
from scipy.optimize import brentq

from tests.physics.pulse import pulse, steady_pressure
from vanwater.physics.pressure_switch import switched_flow
from vanwater.physics.pump import PumpCurve, pump_flow
from vanwater.physics.series import COMMON, SeriesPath, series_flow
from vanwater.physics.switching import ElasticStorage, Switch, volume_between

L_MIN = 1e-3 / 60
CURVE = PumpCurve(np.array([0.0, 4.0, 8.0, 10.5, 12.0]) * L_MIN, np.array([2.9, 2.4, 1.7, 0.9, 0.0]) * 1e5, 12.0, 12.0)
SWITCH = Switch(1.2e5, 2.1e5, CURVE)
LIFT = 0.18e5
SMALL = 3.0 * L_MIN / np.sqrt(1e5)  # cycles
LARGE = 6.0 * L_MIN / np.sqrt(1e5)  # runs on


def marched(outlet, lift, storage, running, switch=SWITCH):
    """A second method: one half of the cycle marched in time, litres at the outlet counted on the way."""
    p0 = storage.precharge + storage.atmosphere
    start, end = (switch.cut_in, switch.cut_out) if running else (switch.cut_out, switch.cut_in)

    def rate(_, state):
        absolute = state[0] + storage.atmosphere
        n = storage.exponent
        gas = storage.volume / (n * absolute) * (p0 / absolute) ** (1 / n) if absolute >= p0 else 0.0
        draw = outlet * np.sqrt(max(state[0] - lift, 0.0))
        supply = float(pump_flow(state[0], switch.curve)) if running else 0.0
        return [(supply - draw) / (gas + storage.compliance), draw]

    def arrived(_, state):
        return state[0] - end

    arrived.terminal = True
    found = solve_ivp(rate, (0.0, 1e4), [start, 0.0], events=arrived, rtol=1e-10, atol=[1e-3, 1e-13], max_step=0.05)
    return found.t_events[0][0], found.y_events[0][0][1]


@pytest.mark.parametrize(
    "storage",
    [
        ElasticStorage(1e-3, 1.1e5, 98945.0, 1e-11),
        ElasticStorage(1e-3, 1.1e5, 98945.0, 1e-11, 1.4),
        ElasticStorage(compliance=1e-9),
        ElasticStorage(0.5e-3, 1.5e5, 101325.0, 1e-11),  # pre-charge above cut-in
    ],
)
@pytest.mark.parametrize("outlet", [SMALL, 0.3 * SMALL])
def test_times_and_litres_agree_with_marching_in_time(storage, outlet):
    swing = pulse(outlet, LIFT, SWITCH, storage)
    (on, used_on), (off, used_off) = (marched(outlet, LIFT, storage, running) for running in (True, False))
    assert bool(swing.cycles)
    assert float(swing.on) == pytest.approx(on, rel=1e-5)
    assert float(swing.off) == pytest.approx(off, rel=1e-5)
    assert float(swing.mean) == pytest.approx((used_on + used_off) / (on + off), rel=1e-5)
    assert used_off == pytest.approx(float(volume_between(SWITCH, storage)), rel=1e-6)


def test_the_band_is_that_of_the_switch():
    swing = pulse(SMALL, LIFT, SWITCH, ElasticStorage(1e-3, 1.1e5))
    assert (float(swing.low), float(swing.high)) == (1.2e5, 2.1e5)
    assert float(swing.flow_low) == pytest.approx(SMALL * np.sqrt(1.2e5 - LIFT))
    assert float(swing.flow_low) < float(swing.mean) < float(swing.flow_high)


def test_a_large_outlet_keeps_the_pump_running_at_the_crossing():
    swing = pulse(LARGE, LIFT, SWITCH, ElasticStorage(1e-3, 1.1e5))
    judged = brentq(lambda p: float(pump_flow(p, CURVE)) - LARGE * np.sqrt(p - LIFT), LIFT, 2.9e5, xtol=1e-6)
    assert not swing.cycles
    assert np.isinf(swing.on) and float(swing.off) == 0.0
    assert float(swing.low) == float(swing.high) == pytest.approx(judged, rel=1e-9)
    assert float(swing.mean) == pytest.approx(float(pump_flow(judged, CURVE)), rel=1e-9)


@given(st.floats(0.2, 12.0), st.floats(-0.1e5, 2.5e5), st.floats(10.0, 14.0))
def test_the_crossing_agrees_with_a_root_finder(litres, lift, volts):
    curve = PumpCurve(CURVE.flow, CURVE.rise, volts, 12.0)
    outlet = litres * L_MIN / np.sqrt(1e5)
    found = float(steady_pressure(outlet, lift, Switch(1.2e5, 2.1e5, curve)))
    if float(curve.flow_at(np.asarray(lift))) <= 0:
        assert found == lift
        return
    judged = brentq(lambda p: float(curve.flow_at(np.asarray(p))) - outlet * np.sqrt(max(p - lift, 0)), lift, 6e5)
    assert found == pytest.approx(judged, rel=1e-9, abs=1e-6)


def test_the_times_stay_finite_and_exact_beside_the_change_to_steady_running():
    """A hair below the outlet that keeps the pump running the time on is long, by the logarithm of that hair."""
    edge = float(pump_flow(2.1e5, CURVE)) / np.sqrt(2.1e5 - LIFT)
    storage = ElasticStorage(1e-3, 1.1e5, 98945.0)
    on = [float(pulse(edge * (1 - gap), LIFT, SWITCH, storage).on) for gap in (1e-4, 1e-6, 1e-8)]
    assert on[1] - on[0] == pytest.approx(on[2] - on[1], rel=2e-3)
    assert on[0] == pytest.approx(marched(edge * (1 - 1e-4), LIFT, storage, True)[0], rel=1e-4)
    assert np.isinf(pulse(edge * (1 + 1e-8), LIFT, SWITCH, storage).on)


def test_a_lift_above_cut_in_leaves_the_pump_asleep():
    swing = pulse(SMALL, 1.5e5, SWITCH, ElasticStorage(1e-3, 1.1e5))
    assert np.isinf(swing.off) and float(swing.mean) == 0.0


def test_the_swinging_outlet_of_a_whole_path_has_the_same_mean():
    """An independent module: a path that is nothing but its outlet, solved with its runs and heights."""
    path = SeriesPath(
        bore=np.array([0.05]),
        length=np.array([0.01]),
        k=np.array([0.0]),
        roughness=1.5e-6,
        density=np.array([999.5]),
        viscosity=np.array([1.234e-3]),
        role=(COMMON,),
        suction=(False,),
        hot_share=0.0,
        surface_height=0.0,
        pump_height=0.0,
        outlet_height=LIFT / (999.5 * 9.80665),
        outlet_constant=SMALL,
        pump=CURVE,
    )
    storage = ElasticStorage(1e-3, 1.1e5, 98945.0)
    judged = switched_flow(path, series_flow(path), 1.2e5, 2.1e5, storage)
    swing = pulse(SMALL, LIFT, SWITCH, storage)
    assert bool(judged.cycles.all())
    assert float(swing.mean) == pytest.approx(float(judged.mean_flow.item()), rel=2e-3)
    assert float(swing.on / (swing.on + swing.off)) == pytest.approx(float(judged.running_share.item()), rel=5e-3)
    assert float(swing.on) == pytest.approx(float(judged.on.item()), rel=5e-3)
    assert float(swing.off) == pytest.approx(float(judged.off.item()), rel=5e-3)


def test_rows_mix_cycling_and_running_on():
    outlets = np.array([SMALL, LARGE, 0.5 * SMALL])
    rows = pulse(outlets, LIFT, SWITCH, ElasticStorage(1e-3, 1.1e5, 98945.0, 1e-11))
    assert rows.cycles.tolist() == [True, False, True]
    for row, outlet in enumerate(outlets):
        alone = pulse(float(outlet), LIFT, SWITCH, ElasticStorage(1e-3, 1.1e5, 98945.0, 1e-11))
        for name in ("on", "off", "low", "high", "mean"):
            assert float(getattr(rows, name)[row]) == pytest.approx(float(getattr(alone, name)), rel=1e-12)


def test_an_outlet_that_lets_nothing_out_leaves_the_pump_asleep():
    rows = pulse(np.array([0.0, SMALL]), np.array([LIFT, 4e5]), SWITCH, ElasticStorage(1e-3, 1.1e5))
    assert np.isinf(rows.off).all() and not rows.mean.any() and not rows.flow_high.any()
    assert float(steady_pressure(0.0, LIFT, SWITCH)) == pytest.approx(2.9e5)
    assert float(steady_pressure(0.0, 4e5, SWITCH)) == 4e5
    with pytest.raises(ValueError, match="outlet"):
        pulse(-1e-7, LIFT, SWITCH, ElasticStorage(1e-3, 1.1e5))
