import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from vanwater.physics.cable import cable_efficiency, cable_resistance, most_power, voltage_at_load, voltage_drop


def test_resistance_of_common_sections():
    """IEC 60228, class 5, prints at most 7.98, 3.30 and 1.21 Ω/km for 2.5, 6 and 16 mm² (from memory)."""
    there_and_back = cable_resistance(1000.0, np.array([2.5e-6, 6e-6, 16e-6])) / 2.0
    allowed = np.array([7.98, 3.30, 1.21])
    assert np.all(there_and_back <= allowed)
    np.testing.assert_allclose(there_and_back, allowed, rtol=0.16)


def test_warm_copper_resists_more():
    cold, warm = cable_resistance(5.0, 2.5e-6, np.array([293.15, 333.15]))
    assert float(warm / cold) == pytest.approx(1.157, abs=1e-3)


@given(st.floats(1.0, 3000.0), st.floats(10.0, 30.0), st.floats(1e-4, 0.05))
def test_a_load_of_constant_power_is_in_balance(power, source, resistance):
    if power * resistance > 0.24 * source**2:
        return
    there = float(voltage_at_load(power, source, resistance))
    current = power / there
    assert source - float(voltage_drop(current, resistance)) == pytest.approx(there, rel=1e-9)
    assert source / 2 <= there <= source
    share = float(cable_efficiency(voltage_drop(current, resistance), source))
    assert share == pytest.approx(power / (source * current), rel=1e-9)


@pytest.mark.parametrize(
    ("call", "message"),
    [
        (lambda: cable_resistance(-1.0, 2.5e-6), "length"),
        (lambda: cable_resistance(1.0, 0.0), "section"),
        (lambda: voltage_at_load(3000.0, 12.0, 0.05), "power"),
        (lambda: cable_efficiency(0.4, 0.0), "source"),
    ],
)
def test_the_impossible_is_refused_by_name(call, message):
    with pytest.raises(ValueError, match=message):
        call()


@given(st.floats(1.0, 60.0), st.floats(1e-4, 1.0))
def test_the_most_that_a_cable_brings_comes_at_half_the_voltage(source, resistance):
    most = float(most_power(source, resistance))
    assert float(voltage_at_load(most * (1 - 1e-9), source, resistance)) == pytest.approx(source / 2, rel=1e-4)
    assert float(voltage_at_load(most, source, resistance)) == pytest.approx(source / 2, rel=1e-6)
    with pytest.raises(ValueError, match="more than the cable can carry"):
        voltage_at_load(most * (1 + 1e-9), source, resistance)
