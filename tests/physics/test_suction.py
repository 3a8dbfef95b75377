import pytest
from hypothesis import given
from hypothesis import strategies as st

from vanwater.physics.statics import column_pressure
from vanwater.physics.suction import npsh_available, permissible_lift, priming_margin

LIFTS = st.floats(-1.0, 5.0)
LOSSES = st.floats(0.0, 5e4)


@given(LIFTS, LOSSES, st.floats(7e4, 1.02e5), st.floats(600.0, 2e4))
def test_lifting_as_high_as_permitted_leaves_just_the_head_required(required, loss, air, vapour):
    lift = permissible_lift(air, vapour, 998.0, loss, required)
    assert float(npsh_available(air, vapour, 998.0, -lift, loss)) == pytest.approx(required, abs=1e-9)


@given(LIFTS, LOSSES, st.floats(0.0, 3000.0))
def test_a_metre_more_lift_is_a_metre_less_margin(lift, loss, altitude):
    here = float(priming_margin(3.0, lift, loss, 998.0, altitude))
    assert float(priming_margin(3.0, lift + 1.0, loss, 998.0, altitude)) == pytest.approx(here - 1.0)
    assert float(priming_margin(3.0, lift, loss + column_pressure(1.0, 998.0), 998.0, altitude)) == pytest.approx(
        here - 1.0
    )


@given(LIFTS, LOSSES, st.floats(0.0, 2000.0))
def test_a_kilometre_up_costs_the_stated_lift(lift, loss, altitude):
    here = float(priming_margin(3.0, lift, loss, 998.0, altitude))
    assert float(priming_margin(3.0, lift, loss, 998.0, altitude + 1000.0)) == pytest.approx(here - 1.2)


@given(LOSSES, st.floats(7e4, 1.02e5))
def test_a_tank_above_the_pump_helps(loss, air):
    above = npsh_available(air, 1403.0, 999.5, 0.5, loss)
    below = npsh_available(air, 1403.0, 999.5, -0.5, loss)
    assert float(above - below) == pytest.approx(1.0)
