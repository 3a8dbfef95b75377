"""A switched pump, what holds the water behind it, and the curves of the outlets, made ready to be followed over time.

Accumulator and hoses hold water W(p); pump and outlets move what the pressure lets them. The curves are put on
fine nodes and taken as straight in W between them, so that every leg of a transient is exponential in time.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

import numpy as np

from vanwater.physics._legs import Leg, pieces_time
from vanwater.physics.accumulator import water_held
from vanwater.physics.switching import ElasticStorage
from vanwater.quantities import Array, Flow, Pressure, Real, Volume

__all__ = ["Circuit", "Curves", "water_behind"]

_ROUNDING = 1e-12
"""Share of the highest pressure below which two of them are one."""

NODES = 192
"""Nodes on which the curves are put, besides those that are given and the pressures where something changes."""


@dataclass(frozen=True, eq=False)
class Curves:
    """What pump and outlets move at each pressure where the water is held, for each set of open outlets.

    Parameters
    ----------
    pressure : array
        Gauge pressures where the water is held, rising, shape (points,) [Pa].
    pump_flow : array
        Flow of the running pump, not rising, shape (sets, points) [m³/s].
    running : array
        Flow of each outlet while the pump runs, not falling, shape (sets, outlets, points) [m³/s].
    resting : array
        Flow of each outlet while it rests, of the same shape [m³/s].
    start, stop : array
        Gauge pressures there at which the switch starts and stops the pump, shape (sets,) [Pa].

    Raises
    ------
    ValueError
        When shapes do not fit, a curve bends the wrong way, or a stop is not above its start.
    """

    pressure: Pressure[Array]
    pump_flow: Flow[Array]
    running: Flow[Array]
    resting: Flow[Array]
    start: Pressure[Array]
    stop: Pressure[Array]

    def __post_init__(self) -> None:
        for name in ("pressure", "pump_flow", "running", "resting", "start", "stop"):
            object.__setattr__(self, name, np.asarray(getattr(self, name), dtype=np.float64))
        sets, points = self.pump_flow.shape
        shape = (sets, self.running.shape[1], points)
        if self.running.shape != shape or self.resting.shape != shape or self.pressure.shape != (points,):
            raise ValueError(f"curves: {sets} sets and {points} pressures do not fit every curve.")
        if points < 2 or not np.all(np.diff(self.pressure) > 0.0):
            raise ValueError("pressure: expected two or more, each above the one before.")
        if np.any(np.diff(self.pump_flow) > 0.0) or np.any(self.pump_flow < 0.0):
            raise ValueError("pump_flow: expected none or more, and never more at a higher pressure.")
        for name in ("running", "resting"):
            flow = getattr(self, name)
            if np.any(np.diff(flow) < 0.0) or np.any(flow < 0.0):
                raise ValueError(f"{name}: expected none or more, and never less at a higher pressure.")
        if not np.all(self.start < self.stop):
            raise ValueError("stop: expected above start; does the pump stop on the loss on the way to the water?")
        if np.any(self.start <= self.pressure[0]) or np.any(self.stop > self.pressure[-1]):
            raise ValueError("start, stop: expected within the pressures of the curves.")


class Circuit:
    """Curves and what holds the water, put on nodes once and then followed as often as wanted.

    Parameters
    ----------
    curves : Curves
        What pump and outlets move.
    storage : ElasticStorage
        Accumulator, line or both, a single row.
    nodes : int
        Count of nodes.

    Raises
    ------
    ValueError
        When nothing yields somewhere between the pressures of the curves.

    Notes
    -----
    Between the pressures given, the pump's curve is straight, and the square of an outlet's flow is: an orifice
    law needs few of them. Below the lowest pressure no more is drawn than the pump brings.
    """

    def __init__(self, curves: Curves, storage: ElasticStorage, nodes: int = NODES) -> None:
        self.storage = storage
        low, high = float(curves.pressure[0]), float(curves.pressure[-1])
        charges = [np.ravel(np.asarray(vessel.precharge, dtype=np.float64)) for vessel in storage.vessels]
        empty = np.clip(np.concatenate(charges), low, high)
        marks = [curves.pressure, curves.start, curves.stop, empty, np.linspace(low, high, nodes)]
        self.pressure = _told_apart(np.unique(np.concatenate(marks)))
        self.water = water_behind(self.pressure, storage)
        if not np.all(np.diff(self.water) > 0.0):
            raise ValueError("storage: nothing yields between some of the pressures; give the line a compliance.")
        self.sets, self.outlets = curves.running.shape[:2]
        pump = _straight(curves.pump_flow, curves.pressure, self.pressure)
        flow = np.sqrt(_straight(np.stack([curves.resting, curves.running]) ** 2, curves.pressure, self.pressure))
        total = flow[1, :, :, 0].sum(axis=-1)
        share = np.minimum(pump[:, 0] / np.where(total > 0.0, total, 1.0), 1.0)
        flow[1, :, :, 0] *= np.where(total > 0.0, share, 1.0)[:, np.newaxis]
        self.pump = np.concatenate([np.zeros_like(pump), pump])
        self.flow = flow.reshape(-1, self.outlets, self.pressure.size)
        self.net = self.pump - self.flow.sum(axis=1)
        self.start, self.stop = (water_behind(p, storage).tolist() for p in (curves.start, curves.stop))

    @cached_property
    def legs(self) -> tuple[Leg, ...]:
        """Each set with the pump at rest, then each with the pump running."""
        took = pieces_time(self.water, self.net)
        return tuple(Leg(self.water, net, time) for net, time in zip(self.net, took, strict=True))

    def pressure_of(self, water: Array) -> Array:
        """Gauge pressure at which so much water is held, by Newton's steps from between the nodes."""
        c = self.storage
        gauge: Array = np.interp(water, self.water, self.pressure)
        for _ in range(3):
            steep = c.yields(gauge)
            steep = np.where(steep > 0.0, steep, sum(vessel.gas_yields(gauge) for vessel in c.vessels))
            gauge = np.clip(gauge - (water_behind(gauge, c) - water) / steep, self.pressure[0], self.pressure[-1])
        return gauge


def water_behind(pressure: Pressure[Real], storage: ElasticStorage) -> Volume[Array]:
    """Water that accumulators and line hold at a pressure, none at no pressure.

    Formula: Σ V (1 − (p₀ / max(p, p₀))^(1/n)) + C p

    Parameters
    ----------
    pressure : float or array
        Gauge pressure, p; the gas's part takes it and p₀ with the atmosphere [Pa].
    storage : ElasticStorage
        Accumulators, each with its V, p₀ and n, and line C.

    Returns
    -------
    array
        Water held [m³].

    References
    ----------
    Boyle's law; definition of compliance.

    Examples
    --------
    >>> round(float(water_behind(2.4e5, ElasticStorage(1e-3, 1.3e5, compliance=6e-11))) * 1e3, 4)
    0.3367
    """
    gas = [water_held(v.volume, v.precharge, pressure, v.atmosphere, v.exponent) for v in storage.vessels]
    return np.asarray(sum(gas) + np.asarray(storage.compliance, dtype=np.float64) * pressure)


def _told_apart(pressure: Array) -> Array:
    """Rising pressures without those that rounding alone tells from the next one; the ends stay."""
    apart = np.diff(pressure, append=np.inf) > _ROUNDING * np.abs(pressure).max()
    if not apart[0]:
        apart[:2] = True, False
    kept: Array = pressure[apart]
    return kept


def _straight(values: Array, points: Array, at: Array) -> Array:
    """Straight lines between points, along the last axis."""
    piece = np.clip(np.searchsorted(points, at, side="right") - 1, 0, points.size - 2)
    share = (at - points[piece]) / (points[piece + 1] - points[piece])
    return values[..., piece] + share * (values[..., piece + 1] - values[..., piece])
