"""The pieces of a plan's water network and their numbers: what :mod:`vanwater.system.network` solves."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from functools import lru_cache
from typing import Any

import numpy as np

from vanwater.physics import network as physics
from vanwater.physics import water
from vanwater.physics.pump import PumpCurve
from vanwater.plan.model import Plan
from vanwater.quantities import Array
from vanwater.system.accumulators import holds_back
from vanwater.system.batch import Batch
from vanwater.system.path_conditions import mixed_temperature, tank_surface
from vanwater.system.pump import mains_pressure, pump_curve
from vanwater.system.supply import outlet_numbers, runs_numbers
from vanwater.system.thermostat import mixer_constant, thermostatic
from vanwater.system.water_temperature import cold_water
from vanwater.system.ways import Way, sources

__all__ = ["network_numbers", "network_of", "pump_points"]

_TRICKLE = 1e-6  # m³/s


def network_of(plan: Plan, ways: Mapping[str, Way], *hold: str) -> physics.Network:
    """The pieces that some ways pass, and how they hang together.

    Parameters
    ----------
    plan : Plan
        The plan.
    ways : mapping of str to Way
        Ways by outlet that are whole and decided.
    *hold : str
        Nodes whose pressure is given besides.

    Returns
    -------
    Network
        Plans that differ in numbers only share it.
    """
    runs = dict.fromkeys(run for way in ways.values() for leg in (way.runs, *way.joined) for run in leg)
    given = [sources(plan, way) for way in ways.values()]
    pumps = dict.fromkeys(pump for _, some in given for pump in some)
    tanks = dict.fromkeys([*(tank for some, _ in given for tank in some), *(w.mains for w in ways.values() if w.mains)])
    sides = {
        run: side for way in ways.values() for leg, side in ((way.hot, "hot"), (way.cold, "cold")) for run in leg[-1:]
    }
    mixers = dict.fromkeys(way.mixer for way in ways.values() if way.mixer)

    def begins(run: str) -> str:
        start = plan.runs[run].start
        return f"{start} outlet" if start in pumps else start

    def ends(run: str) -> str:
        end = plan.runs[run].end
        if end in pumps:
            return f"{end} inlet"
        return f"{end} {sides[run]}" if end in mixers else end

    return _structure(
        tuple(physics.Run(run, begins(run), ends(run), holds_back(plan.runs[run])) for run in runs),
        tuple(physics.Source(place, place) for place in (*tanks, *hold)),
        tuple(physics.Outlet(outlet, outlet) for outlet in ways),
        tuple(_pump(plan, pump) for pump in pumps),
        tuple(
            physics.Mixer(mixer, f"{mixer} hot", f"{mixer} cold", mixer, thermostatic(plan, mixer)) for mixer in mixers
        ),
    )


@lru_cache(maxsize=64)
def _structure(
    runs: tuple[physics.Run, ...],
    sources: tuple[physics.Source, ...],
    outlets: tuple[physics.Outlet, ...],
    pumps: tuple[physics.Pump, ...],
    mixers: tuple[physics.Mixer, ...],
) -> physics.Network:
    """The checked structure; plans that differ in numbers only share it."""
    return physics.Network(runs, sources, outlets, pumps, mixers)


def _pump(plan: Plan, pump: str) -> physics.Pump:
    """A pump between its two nodes; one that hangs in its tank has no valve of its own."""
    tank = plan.pumps[pump].tank
    return physics.Pump(pump, tank or f"{pump} inlet", f"{pump} outlet", check_valve=tank is None)


def network_numbers(batch: Batch, ways: Mapping[str, Way], built: physics.Network) -> dict[str, Any]:
    """The numbers of a network's pieces along the rows.

    Parameters
    ----------
    batch : Batch
        The plan with its rows.
    ways : mapping of str to Way
        The ways that made the network.
    built : Network
        The network.

    Returns
    -------
    dict of str to array
        As :class:`vanwater.physics.network.NetworkInputs` takes them, one row a row of the batch.
    """
    names = [run.name for run in built.runs]
    runs = runs_numbers(batch, names)
    heat = _temperatures(batch, ways)
    warm = np.stack([heat[run] for run in names], axis=-1)
    taps = [outlet_numbers(batch, outlet.name) for outlet in built.outlets]
    flow, at, held = (np.stack([tap[key] for tap in taps], axis=-1) for key in ("flow", "at", "regulated"))
    numbers = {
        "elevation": np.stack([_height(batch, node) for node in built.nodes], axis=-1),
        "length": runs.length,
        "bore": runs.bore,
        "roughness": runs.roughness,
        "loss_coefficient": runs.k,
        "density": water.density(warm),
        "viscosity": water.viscosity(warm),
        "source_pressure": np.stack([_given(batch, source.name) for source in built.sources], axis=-1),
        "outlet_constant": flow / np.sqrt(at),
        "outlet_limit": np.where(held > 0, flow, np.inf),
    }
    if built.mixers:
        shares = {way.mixer: _hot_share(batch, way) for way in ways.values() if way.mixer}
        numbers["hot_share"] = np.stack([shares[mixer.name] for mixer in built.mixers], axis=-1)
        numbers["mixer_constant"] = np.stack([mixer_constant(batch, mixer.name) for mixer in built.mixers], axis=-1)
    if built.pumps:
        numbers["pump_flow"], numbers["pump_rise"] = pump_points(batch, [pump.name for pump in built.pumps])
    return numbers


def pump_points(batch: Batch, pumps: Sequence[str]) -> tuple[Array, Array]:
    """The curves of pumps as the network takes them: points from shut-off on, the last one repeated to fill up.

    Parameters
    ----------
    batch : Batch
        The plan with its rows.
    pumps : sequence of str
        Pumps whose curves are decided.

    Returns
    -------
    tuple of array, shape (rows, pumps, points)
        Flow [m³/s] and pressure rise [Pa].
    """
    curves = [_from_shut_off(pump_curve(batch, pump)) for pump in pumps]
    points = max(flow.shape[-1] for flow, _ in curves)
    flow, rise = (np.stack([_filled(curve[side], points) for curve in curves], axis=1) for side in (0, 1))
    return flow, rise


def _from_shut_off(curve: PumpCurve) -> tuple[Array, Array]:
    """Flow and rise at the points of a curve at its volts, begun at no flow; points below it become the last one."""
    flow = np.broadcast_to(curve.flow - np.asarray(curve.slowing)[..., np.newaxis], curve.rise.shape)
    shut_off = curve.rise_and_slope(np.zeros(flow.shape[:-1]))[0][..., np.newaxis]
    order = np.argsort(flow <= 0, axis=-1, kind="stable")
    last = np.maximum(np.sum(flow > 0, axis=-1, keepdims=True) - 1, 0)
    order = np.take_along_axis(order, np.minimum(np.arange(flow.shape[-1]), last), axis=-1)
    some = np.any(flow > 0, axis=-1, keepdims=True)
    flow, rise = (np.take_along_axis(values, order, axis=-1) for values in (flow, curve.rise))
    beyond = curve.rise_and_slope(np.full(flow.shape[:-1], _TRICKLE))[0][..., np.newaxis]
    flow, rise = np.where(some, flow, _TRICKLE), np.where(some, rise, beyond)  # too weak: its last line goes on
    return np.concatenate([np.zeros_like(shut_off), flow], axis=-1), np.concatenate([shut_off, rise], axis=-1)


def _filled(values: Array, points: int) -> Array:
    """A curve with its last point repeated until it has so many points."""
    return np.concatenate([values, np.repeat(values[..., -1:], points - values.shape[-1], axis=-1)], axis=-1)


def _temperatures(batch: Batch, ways: Mapping[str, Way]) -> dict[str, Array]:
    """Temperature of the water in each run: cold to the heater, hot behind it, mixed behind the mixing tap."""
    heat: dict[str, Array] = {}
    for way in ways.values():
        cold = cold_water(batch, way)
        hot = batch.number(f"heaters.{way.heater}.set_point") if way.heater else cold
        warm = cold
        heat |= dict.fromkeys((run for branch in way.joined for run in branch), cold)
        for run in (*way.suction, *way.trunk, *way.hot):
            warm = hot if batch.plan.runs[run].start in batch.plan.heaters else warm
            heat.setdefault(run, warm)
        heat |= dict.fromkeys(way.cold, cold)
        heat |= {run: mixed_temperature(batch, way) for run in way.mixed}
    return heat


def _hot_share(batch: Batch, way: Way) -> Array:
    cold = cold_water(batch, way)
    hot = batch.number(f"heaters.{way.heater}.set_point")
    mixed = mixed_temperature(batch, way)
    return np.clip((mixed - cold) / np.maximum(hot - cold, 1e-9), 0.0, 1.0)


def _given(batch: Batch, source: str) -> Array:
    """Gauge pressure of a source: none at a tank's surface, the regulator's setting at a mains inlet [Pa]."""
    return mains_pressure(batch, source) if source in batch.plan.mains else np.zeros(len(batch))


def _height(batch: Batch, node: str) -> Array:
    """Height of a node above the van's floor; a tank's is that of its surface [m]."""
    plan = batch.plan
    if node in plan.tanks:
        return tank_surface(batch, node)
    for ending in (" inlet", " outlet", " hot", " cold"):
        if node.endswith(ending) and node.removesuffix(ending) in (*plan.pumps, *plan.mixers, *plan.outlets):
            node = node.removesuffix(ending)
            break
    within = plan.pumps[node].tank if node in plan.pumps else None
    if within is not None:
        return tank_surface(batch, within)
    for table in ("pumps", "mains", "tees", "heaters", "mixers", "outlets"):
        if node in getattr(plan, table):
            return batch.number(f"{table}.{node}.z", 0.0)
    return np.zeros(len(batch))
