"""Cutting hose and pipe: what to order so that every piece can be cut from it."""

from __future__ import annotations

import numpy as np

from vanwater.physics._checks import above_zero, not_negative
from vanwater.quantities import Array, Length, Real, Share

__all__ = ["order_length"]


def order_length(pieces: Length[Real], spare: Share[Real], step: Length[Real]) -> Length[Array]:
    """Length to order of hose or pipe that pieces are cut from.

    Formula: ⌈L (1 + s)/l⌉ l

    Parameters
    ----------
    pieces : float or array
        All pieces end to end, L [m].
    spare : float or array
        Share more for cuts and for what is cut wrong, s [-].
    step : float or array
        Length by which it is sold, l [m].

    Returns
    -------
    array
        The next length that is sold [m].

    Raises
    ------
    ValueError
        When a length or the share is below zero, or the step is not above zero.

    Notes
    -----
    For what is sold by the metre or foot from a coil; bars have an end of their own each.

    References
    ----------
    Common practice.

    Examples
    --------
    >>> float(order_length(9.3, 0.1, 0.5))
    10.5
    """
    total = np.asarray(not_negative("pieces", pieces)) * (1.0 + np.asarray(not_negative("spare", spare)))
    parts = total / np.asarray(above_zero("step", step))
    return np.asarray(np.ceil(np.round(parts, 9)) * step)
