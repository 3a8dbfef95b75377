"""Checks of arguments: the value as an array, or an error that names argument, value and what was expected."""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

from vanwater.quantities import Array, Real


def above_zero(name: str, value: Real) -> Array:
    """The value, refused where it is not above zero."""
    checked = np.asarray(value, dtype=np.float64)
    return _held(name, checked, checked > 0, "more than zero")


def not_negative(name: str, value: Real) -> Array:
    """The value, refused where it is negative."""
    checked = np.asarray(value, dtype=np.float64)
    return _held(name, checked, checked >= 0, "none or more")


def share(name: str, value: Real) -> Array:
    """The value, refused where it is outside 0 to 1."""
    checked = np.asarray(value, dtype=np.float64)
    return _held(name, checked, (checked >= 0) & (checked <= 1), "0 to 1")


def efficiency(name: str, value: Real) -> Array:
    """The value, refused where it is not above 0 and up to 1."""
    checked = np.asarray(value, dtype=np.float64)
    return _held(name, checked, (checked > 0) & (checked <= 1), "above 0 and up to 1")


def _held(name: str, values: Array, sound: npt.NDArray[np.bool_], expected: str) -> Array:
    if not sound.all():
        worst = float(values.flat[int(np.argmin(sound))])
        raise ValueError(f"{name}: {worst:g}, expected {expected}.")
    return values
