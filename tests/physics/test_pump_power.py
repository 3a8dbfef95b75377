import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from vanwater.physics.pump import PumpCurve
from vanwater.physics.pump_power import current_at_rise, current_drawn, electric_power, hydraulic_power

CURVE = PumpCurve(np.array([0.0, 8e-5, 2e-4]), np.array([2.8e5, 1.8e5, 0.0]), 12.0, 12.0)
AMPS = np.array([8.0, 6.5, 3.0])


@given(st.floats(1e-5, 3e-4), st.floats(1e4, 4e5), st.floats(0.1, 1.0), st.floats(9.0, 30.0))
def test_power_taken_is_power_in_the_water_and_what_is_lost(flow, rise, efficiency, voltage):
    taken = float(current_drawn(flow, rise, efficiency, voltage)) * voltage
    assert taken == pytest.approx(float(electric_power(flow, rise, efficiency)))
    assert taken * efficiency == pytest.approx(float(hydraulic_power(flow, rise)))


def test_measured_currents_are_met_and_joined():
    np.testing.assert_allclose(current_at_rise(CURVE.rise, CURVE, AMPS), AMPS, rtol=1e-12)
    between = np.array([2.3e5, 0.5e5])
    judge = np.interp(between, CURVE.rise[::-1], AMPS[::-1])
    np.testing.assert_allclose(current_at_rise(between, CURVE, AMPS), judge, rtol=1e-12)


@pytest.mark.parametrize("efficiency", [0.0, 1.2, -0.3, float("nan")])
def test_an_impossible_efficiency_is_refused(efficiency):
    with pytest.raises(ValueError, match="efficiency"):
        electric_power(1e-4, 1e5, efficiency)


def test_a_missing_voltage_or_current_is_refused():
    with pytest.raises(ValueError, match="voltage"):
        current_drawn(1e-4, 1e5, 0.4, 0.0)
    with pytest.raises(ValueError, match="currents"):
        current_at_rise(1e5, CURVE, AMPS[:2])
