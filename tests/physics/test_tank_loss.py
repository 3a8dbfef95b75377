import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from vanwater.physics.tank_loss import cold_conductance, conductance, equilibrium_temperature, net_loss

SIX = st.lists(st.floats(0.01, 3.0), min_size=6, max_size=6).map(np.array)
BESIDE = st.lists(st.floats(238.15, 303.15), min_size=6, max_size=6).map(np.array)


@given(SIX, SIX, BESIDE, st.floats(273.15, 300.0))
def test_conductance_and_rest_stand_for_all_neighbours(area, u, beside, inside):
    rest = float(equilibrium_temperature(area, u, beside))
    whole = float(conductance(area, u))
    assert float(net_loss(area, u, inside, beside)) == pytest.approx(whole * (inside - rest), rel=1e-9, abs=1e-9)
    assert float(net_loss(area, u, rest, beside)) == pytest.approx(0.0, abs=1e-9)
    assert beside.min() - 1e-9 <= rest <= beside.max() + 1e-9


@given(SIX, SIX, BESIDE, st.floats(0.0, 100.0))
def test_a_pad_lifts_the_rest_by_its_heat_over_the_conductance(area, u, beside, power):
    lifted = float(equilibrium_temperature(area, u, beside, power)) - float(equilibrium_temperature(area, u, beside))
    assert lifted == pytest.approx(power / float(conductance(area, u)), rel=1e-9, abs=1e-9)


@given(SIX, SIX, BESIDE, st.floats(250.0, 300.0))
def test_warm_and_cold_faces_are_all_faces(area, u, beside, inside):
    cold = float(cold_conductance(area, u, inside, beside))
    warm = float(np.sum((area * u)[beside >= inside]))
    assert cold + warm == pytest.approx(float(conductance(area, u)))


@given(SIX, SIX, BESIDE, st.integers(0, 5), st.floats(0.0, 40.0))
def test_a_colder_neighbour_never_draws_less(area, u, beside, which, colder):
    other = beside.copy()
    other[which] -= colder
    assert float(net_loss(area, u, 277.15, other)) >= float(net_loss(area, u, 277.15, beside)) - 1e-9


def test_rows_of_tanks_between_rows_of_neighbours():
    area, u = np.array([[0.4, 0.4], [0.2, 0.6]]), np.array([1.5, 0.5])
    beside = np.array([263.15, 293.15])
    rows = net_loss(area, u, np.array([277.15, 280.15]), beside)
    assert rows.shape == (2,)
    assert float(rows[1]) == pytest.approx(0.3 * 17 - 0.3 * 13)


def test_a_tank_that_passes_no_heat_never_rests():
    with pytest.raises(ValueError, match="no face passes heat"):
        equilibrium_temperature(np.zeros(6), np.ones(6), np.full(6, 270.0))
