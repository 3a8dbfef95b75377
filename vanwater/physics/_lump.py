"""A lump of water, ice and wall: exact steps of its heat, and the time from one heat to another."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from vanwater.physics.cooling import WATER_HEAT_CAPACITY
from vanwater.physics.water import ICE_HEAT_CAPACITY, LATENT_HEAT_OF_FUSION
from vanwater.quantities import Array, Real

_PHASES = 3


@dataclass(frozen=True, slots=True)
class Lump:
    """Heat for each kelvin in water and in ice [J/K], and the heat between the two [J]."""

    liquid: Array
    frozen: Array
    fusion: Array

    @classmethod
    def of(cls, mass: Real, wall: Real) -> Lump:
        """By the mass of water and ice and the water equivalent of the wall [kg]."""
        water, around = np.asarray(mass, dtype=np.float64), np.asarray(wall, dtype=np.float64)
        if not (np.all(water >= 0) and np.all(around >= 0) and np.all(water + around > 0)):
            raise ValueError("mass, wall: neither may be negative, and together more than zero.")
        walled = around * WATER_HEAT_CAPACITY
        return cls(
            water * WATER_HEAT_CAPACITY + walled, water * ICE_HEAT_CAPACITY + walled, water * LATENT_HEAT_OF_FUSION
        )


def advanced(heat: Array, duration: Array, inflow: Array, conductance: Array, lump: Lump) -> Array:
    """Heat after a time; inflow is what flows in while the lump is at 0 °C [W]."""
    if np.all(heat > 0):
        after = _decayed(heat, duration, inflow, conductance / lump.liquid)
        if np.all(after > 0):
            return after
    heat, left, inflow = (np.array(x) for x in np.broadcast_arrays(heat, duration, inflow))
    warming, cooling = inflow > 0, inflow < 0
    for _ in range(_PHASES):
        water = np.where(warming, heat >= 0, heat > 0)
        ice = np.where(cooling, heat <= -lump.fusion, heat < -lump.fusion)
        base = np.where(ice, -lump.fusion, 0.0)
        rate = np.where(water, conductance / lump.liquid, np.where(ice, conductance / lump.frozen, 0.0))
        edge = np.where(water, 0.0, np.where(ice, -lump.fusion, np.where(warming, 0.0, -lump.fusion)))
        open_end = (water & ~cooling) | (ice & ~warming) | ~(warming | cooling)
        with np.errstate(divide="ignore", invalid="ignore"):
            needed = np.where(open_end, np.inf, _crossing(heat - base, edge - base, inflow, rate))
        arrived = needed <= left
        used = np.minimum(needed, left)
        heat = np.where(arrived, edge, base + _decayed(heat - base, used, inflow, rate))
        left = left - used
        if not np.any(left > 0):
            break
    return heat


def passage(heat: Array, target: Array, inflow: Array, conductance: Array, lump: Lump) -> Array:
    """Time from one heat to another, infinite when the lump never comes there."""
    parts = []
    for low, high, capacity in ((0.0, np.inf, lump.liquid), (-np.inf, -lump.fusion, lump.frozen)):
        base = 0.0 if capacity is lump.liquid else -lump.fusion
        start, end = np.clip(heat, low, high) - base, np.clip(target, low, high) - base
        parts.append(_time(start, end, inflow, conductance / capacity))
    between, beyond = np.clip(heat, -lump.fusion, 0.0), np.clip(target, -lump.fusion, 0.0)
    parts.append(_time(between, beyond, inflow, np.zeros(())))
    return parts[0] + parts[1] + parts[2]


def _decayed(heat: Array, duration: Array, inflow: Array, rate: Array) -> Array:
    exponent = rate * duration
    gone = -np.expm1(-exponent)
    slowed = np.where(exponent > 1e-12, gone / np.where(exponent > 1e-12, exponent, 1.0), 1.0)
    return heat * (1.0 - gone) + inflow * duration * slowed


def _crossing(heat: Array, edge: Array, inflow: Array, rate: Array) -> Array:
    """Time from heat to edge; exact for small rates, where it is a straight line."""
    flow = inflow - rate * edge
    straight = (edge - heat) / flow
    bent = rate * (edge - heat) / flow  # how much of the inflow fades on the way
    return straight * np.where(np.abs(bent) > 1e-12, np.log1p(bent) / np.where(np.abs(bent) > 1e-12, bent, 1.0), 1.0)


def _time(heat: Array, target: Array, inflow: Array, rate: Array) -> Array:
    with np.errstate(divide="ignore", invalid="ignore"):
        toward = (inflow - rate * target) * (target - heat)  # still moving that way on arrival
        return np.where(heat == target, 0.0, np.where(toward > 0, _crossing(heat, target, inflow, rate), np.inf))
