import pytest
from hypothesis import given
from hypothesis import strategies as st

from vanwater.physics.instant import instant_flow, instant_power, instant_rise

POWER, COLD, RISE = st.floats(300.0, 3e4), st.floats(273.15, 300.0), st.floats(0.5, 60.0)


@given(POWER, COLD, RISE)
def test_flow_rise_and_power_are_one_law(power, cold, rise):
    flow = instant_flow(power, cold, cold + rise)
    assert float(instant_rise(power, flow)) == pytest.approx(rise, rel=1e-9)
    assert float(instant_power(flow, cold, cold + rise)) == pytest.approx(power, rel=1e-9)


def test_a_batterys_power_hardly_warms_a_shower():
    assert float(instant_rise(1500.0, 5e-3 / 60)) == pytest.approx(4.3, abs=0.01)
    assert float(instant_power(5e-3 / 60, 285.15, 312.15)) > 9000.0


@pytest.mark.parametrize(
    ("call", "message"),
    [(lambda: instant_rise(1500.0, 0.0), "flow"), (lambda: instant_flow(1500.0, 300.0, 300.0), "warm")],
)
def test_the_impossible_is_refused_by_name(call, message):
    with pytest.raises(ValueError, match=message):
        call()
