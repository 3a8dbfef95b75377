import pytest
from hypothesis import given
from hypothesis import strategies as st

from vanwater.physics.centrifugal import affinity_flow, affinity_power, affinity_rise, centrifugal_rise
from vanwater.physics.pump_power import hydraulic_power


@given(st.floats(1e-5, 1e-3), st.floats(1e4, 1e5), st.floats(0.3, 1.2))
def test_affinity_keeps_the_efficiency(flow, rise, ratio):
    power = float(affinity_power(hydraulic_power(flow, rise), ratio))
    assert power == pytest.approx(float(hydraulic_power(affinity_flow(flow, ratio), affinity_rise(rise, ratio))))


@given(st.floats(0.3, 1.2))
def test_affinity_there_and_back(ratio):
    assert float(affinity_rise(affinity_rise(5e4, ratio), 1.0 / ratio)) == pytest.approx(5e4)


def test_the_one_point_parabola_meets_its_point_and_its_ends():
    assert float(centrifugal_rise(1e-4, 1e-4, 6e4)) == pytest.approx(6e4)
    assert float(centrifugal_rise(0.0, 1e-4, 6e4)) == pytest.approx(8e4)
    assert float(centrifugal_rise(2e-4, 1e-4, 6e4)) == pytest.approx(0.0, abs=1e-9)
