from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from vanwater.physics.pump import PumpCurve, free_flow, pump_flow, pump_rise, shut_off_pressure
from vanwater.physics.pump_kinds import centrifugal_curve, fixed_flow_curve, held_curve, stroke_flow

FLOW = np.array([0.0, 5e-5, 1.2e-4, 2.0e-4])
RISE = np.array([4.0e5, 3.2e5, 2.0e5, 0.0])
FLOWS = np.linspace(0.0, 3e-4, 61)


def full(volts: float | np.ndarray = 12.0) -> PumpCurve:
    return PumpCurve(FLOW, RISE, volts, 12.0)


@pytest.mark.parametrize("holds", [0.1e5, 1.0e5, 1.9999e5, 2.0e5, 2.0001e5, 3.0e5, 3.999e5, 5.0e5])
def test_the_control_gives_the_lesser_of_the_pressure_held_and_the_full_speed(holds: float) -> None:
    made = pump_rise(FLOWS, held_curve(full(), holds))
    np.testing.assert_allclose(made, np.minimum(holds, pump_rise(FLOWS, full())), rtol=0, atol=1.0)
    assert np.all(made <= holds)


@settings(max_examples=80, deadline=None)
@given(st.floats(0.05e5, 6e5), st.floats(6.0, 15.0), st.floats(0.85, 1.15))
def test_never_above_the_pressure_held_at_any_volts(holds: float, volts: float, strength: float) -> None:
    curve = PumpCurve(FLOW, RISE * strength, volts, 12.0)
    held = held_curve(curve, holds)
    assert np.all(pump_rise(FLOWS, held) <= holds)
    assert float(shut_off_pressure(held)) <= holds
    assert np.all(np.diff(pump_rise(FLOWS, held)) < 0.0)  # it has one flow at each pressure
    assert float(free_flow(held)) == pytest.approx(float(free_flow(curve)), rel=1e-9)


def test_rows_are_what_each_alone_would_be() -> None:
    volts = np.array([12.0, 9.0, 6.5, 14.0])
    rows = held_curve(full(volts), 2.4e5)
    for row, volt in enumerate(volts):
        alone = held_curve(full(float(volt)), 2.4e5)
        np.testing.assert_allclose(rows.flow[row], alone.flow, rtol=1e-12)
        np.testing.assert_allclose(rows.rise[row], alone.rise, rtol=1e-12)


def test_nothing_is_held_at_no_pressure() -> None:
    with pytest.raises(ValueError, match="holds"):
        held_curve(full(), 0.0)


def test_centrifugal_follows_the_affinity_laws() -> None:
    half = centrifugal_curve(FLOW, RISE, 6.0, 12.0)
    np.testing.assert_allclose(pump_rise(FLOW / 2, half), RISE / 4, atol=1e-9)
    assert float(shut_off_pressure(half)) == pytest.approx(1e5)
    assert float(free_flow(half)) == pytest.approx(1e-4)
    rows = centrifugal_curve(FLOW, RISE, np.array([12.0, 6.0]), np.array([12.0, 12.0]))
    np.testing.assert_allclose(rows.rise, [RISE, RISE / 4])


@given(st.floats(5.0, 14.0), st.floats(0.01, 3.0))
def test_less_volts_never_lift_the_curve_of_a_centrifugal_pump(volts: float, more: float) -> None:
    weak, strong = (centrifugal_curve(FLOW, RISE, one, 12.0) for one in (volts, volts + more))
    flows = FLOWS[float(free_flow(strong)) >= FLOWS]
    assert np.all(pump_rise(flows, weak) <= pump_rise(flows, strong) + 1e-6)


@given(st.floats(1e-5, 3e-4), st.floats(0.3e5, 2e5), st.floats(0.0, 0.999))
def test_strokes_give_one_flow_below_the_stall(flow: float, stall: float, share: float) -> None:
    curve = fixed_flow_curve(flow, stall)
    assert float(pump_flow(share * stall, curve)) == pytest.approx(flow, rel=2e-6)
    assert float(pump_flow(1.01 * stall, curve)) == 0.0
    assert float(shut_off_pressure(curve)) == pytest.approx(stall)


def test_a_stroke_a_second_gives_its_volume_a_second() -> None:
    assert float(stroke_flow(0.2e-3, 1.0)) == 0.2e-3
    with pytest.raises(ValueError, match="flow"):
        fixed_flow_curve(0.0, 1e5)
