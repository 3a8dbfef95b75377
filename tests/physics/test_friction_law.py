import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.special import wrightomega

from vanwater.physics.friction_law import friction_terms

RE = np.concatenate([np.linspace(0.0, 12000.0, 1201), np.geomspace(1.2e4, 1e7, 400)])


@pytest.mark.parametrize("wall", [0.0, 1e-5, 1e-3, 0.05])
def test_colebrook_is_met_exactly(wall):
    re = np.geomspace(4000.0, 1e8, 500)
    root = 1.0 / np.sqrt(friction_terms(re, np.full_like(re, wall)).drag / re)
    assert np.abs(root + 2.0 * np.log10(wall / 3.7 + 2.51 / re * root)).max() < 2e-9


def test_smooth_factor_by_wrights_omega():
    re = np.geomspace(4000.0, 1e7, 200)
    half = np.log(10.0) / 2.0
    by_omega = (half / wrightomega(np.log(half * re / 2.51))) ** 2
    assert friction_terms(re, np.zeros_like(re)).drag / re == pytest.approx(by_omega, rel=1e-12)


@pytest.mark.parametrize("wall", [0.0, 1e-4, 0.02])
def test_slope_is_the_derivative_of_the_loss(wall):
    re = RE[(np.abs(RE - 2000.0) > 1.0) & (np.abs(RE - 4000.0) > 1.0) & (RE > 1.0)]
    step = 1e-5 * re
    walls = np.full_like(re, wall)
    right, left = (friction_terms(re + side * step, walls).drag * (re + side * step) for side in (1.0, -1.0))
    assert friction_terms(re, walls).slope == pytest.approx((right - left) / (2.0 * step), rel=1e-5)


def test_nothing_divides_by_the_flow():
    terms = friction_terms(np.array([0.0]), np.array([1e-4]))
    assert terms.drag.tolist() == [64.0]
    assert terms.slope.tolist() == [64.0]


@given(st.floats(0.0, 1e7), st.floats(0.0, 0.05))
def test_slope_is_never_below_zero(re, wall):
    assert float(friction_terms(np.asarray(re), np.asarray(wall)).slope) > 0.0
