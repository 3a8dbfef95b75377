import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from vanwater.physics.pump import PumpCurve, free_flow, pump_flow, pump_rise, shut_off_pressure

L_MIN = 1e-3 / 60
FLOW = np.array([0.0, 4.0, 8.0, 10.5, 12.0]) * L_MIN
RISE = np.array([2.9, 2.4, 1.7, 0.9, 0.0]) * 1e5


def a_pump(voltage=12.0, rated=12.0):
    return PumpCurve(FLOW, RISE, voltage, rated)


@st.composite
def curves(draw):
    count = draw(st.integers(2, 7))
    steps = st.lists(st.floats(0.2, 4.0), min_size=count, max_size=count)
    flow = (np.cumsum(draw(steps)) - draw(st.floats(0.0, 0.2))) * L_MIN
    rise = np.cumsum(draw(steps))[::-1] * 3e4
    return PumpCurve(flow, rise - rise[-1], draw(st.floats(9.0, 15.0)), 12.0)


def test_the_curve_passes_through_its_points_and_between_them_numpy_agrees():
    np.testing.assert_allclose(pump_rise(FLOW, a_pump()), RISE, atol=1e-6)
    np.testing.assert_allclose(pump_flow(RISE, a_pump()), FLOW, atol=1e-15)
    between = np.linspace(0.0, 12.0, 97) * L_MIN
    np.testing.assert_allclose(pump_rise(between, a_pump()), np.interp(between, FLOW, RISE), atol=1e-6)


def test_the_last_line_is_extended():
    assert float(pump_rise(13.5 * L_MIN, a_pump())) == pytest.approx(-0.9e5)
    assert float(pump_flow(-0.9e5, a_pump())) == pytest.approx(13.5 * L_MIN)


def test_the_first_line_is_extended_to_zero_flow():
    curve = PumpCurve(FLOW[1:], RISE[1:], 12.0, 12.0)
    assert float(shut_off_pressure(curve)) == pytest.approx(2.4e5 + 4.0 * 0.7e5 / 4.0)


def test_less_voltage_takes_the_same_flow_off_everywhere():
    weak = a_pump(voltage=10.8)
    taken = 12.0 * L_MIN * 0.1
    pressures = np.array([0.2, 0.9, 1.4, 2.0]) * 1e5
    np.testing.assert_allclose(pump_flow(pressures, weak), pump_flow(pressures, a_pump()) - taken, rtol=1e-12)
    assert float(free_flow(weak)) == pytest.approx(10.8 * L_MIN)
    assert float(shut_off_pressure(weak)) == pytest.approx(2.9e5 - 1.2 / 4.0 * 0.5e5)


def test_no_flow_beyond_the_shut_off_pressure():
    assert float(pump_flow(3.2e5, a_pump())) == 0.0
    assert float(pump_flow(float(shut_off_pressure(a_pump())), a_pump())) == pytest.approx(0.0, abs=1e-18)


@given(curves(), st.floats(0.0, 1.0))
def test_rise_and_flow_are_one_law(curve, share):
    flow = share * float(free_flow(curve))
    assert float(pump_flow(pump_rise(flow, curve), curve)) == pytest.approx(flow, rel=1e-9, abs=1e-15)


@given(curves(), st.floats(0.0, 1.0), st.floats(0.0, 1.0))
def test_more_flow_never_gains_pressure(curve, one, other):
    low, high = sorted([one, other])
    most = float(free_flow(curve))
    assert float(pump_rise(low * most, curve)) >= float(pump_rise(high * most, curve)) - 1e-6


@given(curves(), st.floats(0.0, 3e5), st.floats(0.1, 3.0))
def test_more_voltage_never_moves_less(curve, rise, more):
    stronger = PumpCurve(curve.flow, curve.rise, curve.voltage + more, curve.rated_voltage)
    assert float(pump_flow(rise, stronger)) >= float(pump_flow(rise, curve))


def test_rows_of_curves_meet_rows_of_values():
    scale = np.array([[1.0], [0.9], [1.1]])
    curve = PumpCurve(FLOW, RISE * scale, np.array([12.0, 11.0, 13.0]), 12.0)
    rows = pump_rise(np.array([5.0, 6.0, 7.0]) * L_MIN, curve)
    alone = [
        float(pump_rise(q * L_MIN, PumpCurve(FLOW, RISE * s, v, 12.0)))
        for q, s, v in zip((5.0, 6.0, 7.0), (1.0, 0.9, 1.1), (12.0, 11.0, 13.0), strict=True)
    ]
    np.testing.assert_allclose(rows, alone, rtol=1e-13)


def test_the_slope_is_that_of_the_line():
    flow = np.array([2.0, 6.0, 9.0, 11.0, 20.0]) * L_MIN
    value, slope = a_pump(voltage=11.0).rise_and_slope(flow)
    step = 1e-3 * L_MIN
    ahead, _ = a_pump(voltage=11.0).rise_and_slope(flow + step)
    np.testing.assert_allclose((ahead - value) / step, slope, rtol=1e-6)


@pytest.mark.parametrize(
    ("flow", "rise", "voltage", "message"),
    [
        (FLOW, RISE[::-1], 12.0, "do not fall"),
        (FLOW, np.array([2.9, 2.4, 2.4, 0.9, 0.0]) * 1e5, 12.0, "do not fall"),
        (FLOW[::-1], RISE, 12.0, "do not rise"),
        (FLOW[:1], RISE[:1], 12.0, "two points or more"),
        (FLOW[:3], RISE, 12.0, "two points or more"),
        (FLOW, RISE, 0.0, "above 0 V"),
        (np.array([0.0, np.nan]), RISE[:2], 12.0, "do not rise"),
    ],
)
def test_an_impossible_curve_is_refused(flow, rise, voltage, message):
    with pytest.raises(ValueError, match=message):
        PumpCurve(flow, rise, voltage, 12.0)


def test_a_curve_shows_itself_by_its_points_alone():
    shown = repr(PumpCurve([0.0, 1e-4], [2e5, 0.0], 12.0, 13.0))
    assert "flow=" in shown and "voltage=12.0" in shown
    assert not any(name in shown for name in ("slowing", "_flow_line", "_rise_line"))
