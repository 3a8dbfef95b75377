"""Gauss quadrature of integrands that are nearly 1 / x at one end: taken in ln x they are smooth."""

from __future__ import annotations

import numpy as np

from vanwater.quantities import Array

_NODES, _WEIGHTS = np.polynomial.legendre.leggauss(32)
GAUSS_NODES: Array = 0.5 * (_NODES + 1.0)
GAUSS_WEIGHTS: Array = 0.5 * _WEIGHTS


def log_mean(large: Array, small: Array) -> Array:
    """ln(large / small) / (large − small), also where both are nearly the same."""
    ratio = (large - small) / small
    near = np.abs(ratio) < 1e-8
    return np.where(near, 1.0 - 0.5 * ratio, np.log1p(ratio) / np.where(near, 1.0, ratio)) / small


def log_shares(large: Array, small: Array) -> Array:
    """Shares of the way from small to large at nodes that are even in the logarithm; one axis more."""
    ratio = np.log(large / small)[..., None]
    near = np.abs(ratio) < 1e-8
    return np.where(near, GAUSS_NODES, np.expm1(GAUSS_NODES * ratio) / np.where(near, 1.0, np.expm1(ratio)))
