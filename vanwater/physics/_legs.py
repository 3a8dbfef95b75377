"""Legs of a transient: how the water behind a pump rises or falls while nothing is switched, in closed form.

Between two nodes the net flow is a straight line in the water held, so that time goes as a logarithm of the water
and the water as an exponential of the time.
"""

from __future__ import annotations

import math
from bisect import bisect_left, bisect_right
from dataclasses import dataclass

import numpy as np

from vanwater.physics._quadrature import log_mean
from vanwater.quantities import Array

_TO_BALANCE = np.array([0.25, 0.5, 1.0, 1.5, 2.5, 4.0])
"""Points on the way to a balance, in time constants."""


@dataclass(frozen=True, slots=True, eq=False)
class Moved:
    """Where a leg ended: times and water of the points passed between its ends, its time, the water at its end."""

    time: Array
    water: Array
    spent: float
    end: float
    reached: bool


class Climb:
    """One direction of a leg, in which its water rises: nodes, net flow there, time from the lowest node."""

    __slots__ = ("_clock", "_clocks", "_net", "_nodes", "_top", "_water")

    def __init__(self, nodes: Array, net: Array, took: Array) -> None:
        self._nodes, self._clocks = nodes, np.concatenate([np.zeros(1), np.cumsum(took)])
        self._water: list[float] = nodes.tolist()
        self._net: list[float] = net.tolist()
        self._clock: list[float] = self._clocks.tolist()
        self._top = bisect_left(self._clock, math.inf) - 1

    def rate(self, level: float) -> float:
        """Net flow at a level."""
        piece = self._piece(level)
        return self._net[piece] + self._slope(piece) * (level - self._water[piece])

    def to(self, goal: float, level: float, seconds: float) -> Moved:
        """Rise from a level towards a goal for a time at most; the net flow at the level is above zero."""
        piece, rate = self._piece(level), self.rate(level)
        at, spent, passed = level, 0.0, slice(0, 0)
        shift = 0.0
        if self._net[piece + 1] > 0.0 and self._water[piece + 1] <= goal:
            first = _time(self._water[piece + 1] - level, rate, self._net[piece + 1])
            if first <= seconds:
                shift = first - self._clock[piece + 1]
                last = min(bisect_right(self._clock, seconds - shift) - 1, bisect_right(self._water, goal) - 1)
                last = max(min(last, self._top, len(self._water) - 1), piece + 1)
                passed = slice(piece + 1, last + 1)
                at, rate, spent = self._water[last], self._net[last], self._clock[last] + shift
                piece = min(last, len(self._water) - 2)
        times, waters = self._clocks[passed] + shift, self._nodes[passed]
        slope, left = self._slope(piece), max(seconds - spent, 0.0)
        if goal <= self._water[piece + 1] and rate + slope * (goal - at) > 0.0:
            last_part = _time(goal - at, rate, rate + slope * (goal - at))
            if last_part <= left:
                return Moved(times, waters, spent + last_part, goal, True)
        if self._net[piece + 1] <= 0.0:
            extra = _TO_BALANCE / -slope
            extra = extra[extra < left]
            times = np.concatenate([times, spent + extra])
            waters = np.concatenate([waters, at + rate * np.expm1(slope * extra) / slope])
        gained = rate * (math.expm1(slope * left) / slope if slope else left)
        return Moved(times, waters, seconds, min(at + gained, goal), False)

    def _piece(self, level: float) -> int:
        return min(max(bisect_right(self._water, level) - 1, 0), len(self._water) - 2)

    def _slope(self, piece: int) -> float:
        return (self._net[piece + 1] - self._net[piece]) / (self._water[piece + 1] - self._water[piece])


class Leg:
    """A set of open outlets with the pump running or at rest: rises where the net flow is above zero, else falls."""

    __slots__ = ("_down", "_up")

    def __init__(self, water: Array, net: Array, took: Array) -> None:
        self._up = Climb(water, net, took)
        self._down = Climb(-water[::-1], -net[::-1], took[::-1])

    def rate(self, level: float) -> float:
        """Net flow into what holds the water."""
        return self._up.rate(level)

    def to(self, goal: float, level: float, seconds: float) -> Moved:
        """Follow the leg towards a goal for a time at most; what moves away from the goal never reaches it."""
        rate = self._up.rate(level)
        if rate > 0.0:
            return self._up.to(goal if goal >= level else math.inf, level, seconds)
        if rate < 0.0:
            fell = self._down.to(-goal if goal <= level else math.inf, -level, seconds)
            return Moved(fell.time, -fell.water, fell.spent, -fell.end, fell.reached)
        return Moved(np.zeros(0), np.zeros(0), seconds, level, False)


def pieces_time(water: Array, net: Array) -> Array:
    """Time that each piece between two nodes takes; without end where the net flow changes its sign."""
    first, last = net[..., :-1], net[..., 1:]
    alike = first * last > 0.0
    large, small = np.where(alike, np.abs(first), 1.0), np.where(alike, np.abs(last), 1.0)
    return np.where(alike, np.diff(water) * log_mean(large, small), np.inf)


def integral(value: Array, slope: Array, rate: Array, steepness: Array, time: Array) -> Array:
    """∫ (value + slope (W − W₀)) dt while dW/dt = rate + steepness (W − W₀)."""
    x = steepness * time
    near = np.abs(x) < 1e-3
    away = np.where(near, 1.0, x)
    curved = np.where(near, 0.5 + x / 6.0 + x * x / 24.0 + x**3 / 120.0, (np.expm1(away) - away) / away**2)
    return value * time + slope * rate * time**2 * curved


def _time(water: float, first: float, last: float) -> float:
    """Time to gain water while the net flow goes straight from first to last, both above zero."""
    x = (last - first) / first
    return water / first * (math.log1p(x) / x if abs(x) > 1e-9 else 1.0 - 0.5 * x)
