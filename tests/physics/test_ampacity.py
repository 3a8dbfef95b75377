import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from vanwater.physics.ampacity import conductor_ampacity, least_fuse, standard_fuse

SECTIONS, CURRENTS = np.array([1e-6, 2.5e-6, 6e-6]), np.array([14.0, 25.0, 45.0])
SERIES = np.array([5.0, 7.5, 10.0, 15.0, 20.0, 25.0, 30.0, 40.0])


def test_a_size_that_is_not_printed_carries_what_the_next_thinner_does():
    sizes = np.array([0.5e-6, 1e-6, 2.49e-6, 2.5e-6, 4e-6, 6e-6, 95e-6])
    np.testing.assert_allclose(conductor_ampacity(sizes, SECTIONS, CURRENTS), [7.0, 14.0, 14.0, 25.0, 25.0, 45.0, 45.0])
    assert float(conductor_ampacity(2.5e-6, SECTIONS, CURRENTS, 0.86)) == pytest.approx(21.5)


@given(st.floats(1e-7, 1e-4), st.floats(1.0, 3.0))
def test_a_thicker_one_never_carries_less(section, thicker):
    thin, thick = conductor_ampacity(np.array([section, section * thicker]), SECTIONS, CURRENTS)
    assert 0.0 < thin <= thick <= CURRENTS[-1]


@given(st.floats(0.1, 60.0), st.floats(0.1, 60.0))
def test_the_fuse_is_the_smallest_between_load_and_conductor(current, most):
    """Against a search along the whole series."""
    least = float(least_fuse(current))
    fitting = [size for size in SERIES if least <= size <= most]
    fuse = float(standard_fuse(least, most, SERIES))
    assert (math.isnan(fuse) and not fitting) or fuse == min(fitting)
    assert math.isnan(fuse) or current < fuse <= most


def test_each_row_has_a_fuse_of_its_own():
    fuses = standard_fuse(np.array([7.0, 7.5, 41.0, 20.0]), np.array([45.0, 7.5, 50.0, 19.0]), SERIES)
    np.testing.assert_array_equal(fuses, [7.5, 7.5, np.nan, np.nan])


@pytest.mark.parametrize(
    ("call", "message"),
    [
        (lambda: conductor_ampacity(0.0, SECTIONS, CURRENTS), "section"),
        (lambda: conductor_ampacity(1e-6, SECTIONS[::-1], CURRENTS), "sections"),
        (lambda: conductor_ampacity(1e-6, SECTIONS, CURRENTS[:2]), "sections"),
        (lambda: conductor_ampacity(1e-6, SECTIONS, CURRENTS, 1.1), "left"),
        (lambda: least_fuse(-1.0), "current"),
        (lambda: standard_fuse(1.0, 2.0, SERIES[::-1]), "sizes"),
    ],
)
def test_the_impossible_is_refused_by_name(call, message):
    with pytest.raises(ValueError, match=message):
        call()
