import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from vanwater.physics.scald import CHILDS, FIRST, injury_time, scald_time

ZERO = 273.15


@given(st.floats(44.0, 95.0), st.floats(44.0, 95.0))
def test_hotter_always_burns_sooner(one, other):
    mild, hot = sorted([one, other])
    if hot - mild > 1e-6:
        assert float(scald_time(hot + ZERO)) < float(scald_time(mild + ZERO))


def test_published_times_of_second_degree_burns_are_shorter():
    """Seen in a public page on scalds: 45, 48, 51, 55 and 60 °C burn so after 2 h, 15 min, 2 min, 17 s and 3 s."""
    found = scald_time(np.array([45.0, 48.0, 51.0, 55.0, 60.0]) + ZERO)
    assert np.all(found >= np.array([7200.0, 900.0, 120.0, 17.0, 3.0]) / 1.5)
    assert found[-1] > 3.0 and found[0] > 7200.0


def test_between_the_points_time_is_straight_in_its_logarithm():
    middle = 0.5 * ((120 + 459.67) + (130 + 459.67)) * 5 / 9
    assert float(scald_time(middle)) == pytest.approx(np.sqrt(300.0 * 30.0))


def test_warm_water_never_burns_and_very_hot_burns_at_once():
    assert np.isinf(scald_time(43.0 + ZERO))
    assert float(scald_time(44.0 + ZERO)) == pytest.approx(6 * 3600.0)
    assert float(scald_time(75.0 + ZERO)) < 1.0


def test_first_injury_comes_sooner_and_a_childs_sooner_still():
    water = np.array([318.15, 323.15, 333.15, 343.15])
    burn, adult, child = scald_time(water), injury_time(water), injury_time(water, CHILDS)
    assert np.all((child < adult) & (adult < burn))
    np.testing.assert_allclose(adult / child, FIRST / CHILDS)
    assert np.isinf(injury_time(310.15))
    with pytest.raises(ValueError, match="share"):
        injury_time(333.15, 1.5)
