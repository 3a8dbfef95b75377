from __future__ import annotations

import numpy as np
import pytest
from scipy.integrate import quad

from vanwater.physics._quadrature import GAUSS_NODES, GAUSS_WEIGHTS, log_mean, log_shares

APART = [1e-13, 1e-9, 5e-9, 2e-8, 1e-6, 1e-3, 0.7, 50.0, -1e-9, -5e-9, -2e-8, -0.3]


def mean(large: float, small: float) -> float:
    return float(log_mean(np.array(large), np.array(small)))


@pytest.mark.parametrize("apart", APART)
def test_the_mean_is_the_integral_of_one_over_x(apart: float) -> None:
    small = 2.0
    large = small * (1.0 + apart)
    wanted = quad(lambda share: 1.0 / (small + share * (large - small)), 0.0, 1.0, epsabs=0.0, epsrel=1e-13)[0]
    assert mean(large, small) == pytest.approx(wanted, rel=1e-13)


@pytest.mark.parametrize("apart", [9e-9, -9e-9])
def test_where_both_are_nearly_the_same_the_series_goes_on_as_the_logarithm_does(apart: float) -> None:
    beside = 1.2 * apart  # beyond the limit: the logarithm itself
    assert mean(1.0 + apart, 1.0) - mean(1.0 + beside, 1.0) == pytest.approx(0.5 * (beside - apart), rel=1e-3)


def test_both_the_same_is_no_division_by_nothing() -> None:
    assert mean(4.0, 4.0) == 0.25


@pytest.mark.parametrize("apart", APART)
def test_shares_are_even_in_the_logarithm_and_weigh_to_the_same_mean(apart: float) -> None:
    small, large = 2.0, 2.0 * (1.0 + apart)
    shares = log_shares(np.array(large), np.array(small))
    at = small + shares * (large - small)
    assert np.log(at / small) == pytest.approx(GAUSS_NODES * np.log1p(apart), rel=1e-6, abs=1e-15)
    assert GAUSS_WEIGHTS.sum() == pytest.approx(1.0, rel=1e-14)
