"""Straight lines through points, end lines extended: for whole arrays at once, no search for the segment."""

from __future__ import annotations

from typing import NamedTuple

import numpy as np

from vanwater.quantities import Array


class Polyline(NamedTuple):
    """A broken line as its first straight line and the bends at the inner points; last axis along the points."""

    start: Array
    first: Array
    knots: Array
    bends: Array

    def at(self, x: Array) -> tuple[Array, Array]:
        """Value and slope at ``x``; rows of the line broadcast with ``x``."""
        beyond = x[..., None] - self.knots
        bent = self.bends * (beyond > 0.0)
        return self.start + self.first * x + (bent * beyond).sum(axis=-1), self.first + bent.sum(axis=-1)


def polyline(x: Array, y: Array) -> Polyline:
    """The broken line through points whose ``x`` rises."""
    slope = (y[..., 1:] - y[..., :-1]) / (x[..., 1:] - x[..., :-1])
    first = slope[..., 0]
    return Polyline(y[..., 0] - first * x[..., 0], first, x[..., 1:-1], slope[..., 1:] - slope[..., :-1])


def rises(points: Array) -> bool:
    """Whether values rise strictly along the last axis (a NaN does not)."""
    return bool(np.all(points[..., 1:] > points[..., :-1]))
