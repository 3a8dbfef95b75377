"""A switched pump with everything behind it as it is followed over time: who opens what when, and the curves for it.

One solve of the whole network, with the place of the accumulator held at a row of pressures, the pump running and at
rest and every set of outlets open, gives what pump and outlets move at each pressure there.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from vanwater.physics.circuit import Circuit, Curves
from vanwater.physics.statics import STANDARD_GRAVITY
from vanwater.plan.model import Plan
from vanwater.quantities import Array
from vanwater.system.accumulators import accumulators_behind, accumulators_of, decided
from vanwater.system.batch import Batch
from vanwater.system.compliance import elastic_storage, pump_line, switched, taken
from vanwater.system.network import Case, Solved, complete_ways, solve_cases
from vanwater.system.stores import outlet_of
from vanwater.system.ways import Way

__all__ = ["HAND_WASH", "SHOWER", "UNTIL", "Behind", "Script", "circuits", "scripts", "switched_outlets", "vessels_of"]

HAND_WASH, SHOWER = "hands", "shower"
"""The uses that are followed singly."""

UNTIL = 60.0
"""How long a script is followed [s]."""

FIRST, LAST = 2.0, 50.0
"""When the first outlet opens and the last one shuts [s]."""

APART = 8.0
"""Time between two outlets that open or shut, less where there are many [s] (common practice)."""

WASH = 8.0
"""Time that the tap is open for a hand-wash where the plan says none [s] (common practice)."""

POINTS = 33
"""Pressures at which the network is solved."""

_NOTHING = 1e-10  # m³/s: what a solver leaves of no flow, a drop in ten minutes
_FOLLOWS = 0.5  # Pa a Pa: less, and a check valve parts the pump from the accumulator


@dataclass(frozen=True, slots=True)
class Script:
    """Who opens what when.

    Parameters
    ----------
    name : str
        The set of outlets, or the use.
    pump : str
        The pump before them.
    outlets : tuple of str
        The outlets, in the order in which they open.
    begin : tuple of float
        Times from which another set of them is open [s].
    opened : tuple of tuple of str
        Those sets.
    until : float
        End [s].
    """

    name: str
    pump: str
    outlets: tuple[str, ...]
    begin: tuple[float, ...]
    opened: tuple[tuple[str, ...], ...]
    until: float = UNTIL


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class Behind:
    """A pump with what is behind it, in one row of a batch.

    Parameters
    ----------
    pump, vessel : str
        The pump and the accumulator where the water is held; empty for none. Others act with it.
    outlets : tuple of str
        The outlets, in the order of the curves.
    sets : tuple of tuple of str
        Sets of open outlets, in the order of the curves.
    curves : Curves
        What pump and outlets move.
    circuit : Circuit
        The same with what yields.
    residual : float
        What the pressures of the network fail to add up to at most [Pa].
    """

    pump: str
    vessel: str
    outlets: tuple[str, ...]
    sets: tuple[tuple[str, ...], ...]
    curves: Curves
    circuit: Circuit
    residual: float


def vessels_of(plan: Plan, pump: str) -> tuple[str, ...]:
    """The accumulators that a pump's switch works against and whose pre-charge is decided, together."""
    return decided(plan, accumulators_of(plan, pump))


def switched_outlets(plan: Plan) -> Mapping[str, Way]:
    """Outlets behind a pump with a decided switch whose way is decided too, with that way."""
    known = switched(plan)
    return {outlet: way for outlet, way in complete_ways(plan).items() if way.pump in known}


def scripts(plan: Plan) -> Mapping[str, Script]:
    """What can be followed: each set of outlets that are open together, a single hand-wash, a single shower.

    Parameters
    ----------
    plan : Plan
        The plan.

    Returns
    -------
    mapping of str to Script
        By the name of the set, or of the use where no set has that name.

    Notes
    -----
    The outlets of a set open one after the other from 2 s on and shut in reverse until 50 s; a hand-wash opens its
    tap at 2 s for as long as the plan says or 8 s, a shower runs from 2 s to 50 s.
    """
    ways = switched_outlets(plan)
    followed: dict[str, Script] = {}
    for name, together in plan.together.items():
        outlets = tuple(dict.fromkeys(together.outlets))
        if all(outlet in ways for outlet in outlets) and len({ways[outlet].pump for outlet in outlets}) == 1:
            followed[name] = _one_after_the_other(name, ways[outlets[0]].pump, outlets)
    for use in (SHOWER, HAND_WASH):
        outlet = outlet_of(plan, use) if use in plan.uses else ""
        if use in followed or outlet not in ways:
            continue
        lasts = (plan.uses[use].duration or WASH) if use == HAND_WASH else LAST
        shut = min(FIRST + lasts, LAST)
        followed[use] = Script(use, ways[outlet].pump, (outlet,), (0.0, FIRST, shut), ((), (outlet,), ()))
    return followed


def _one_after_the_other(name: str, pump: str, outlets: tuple[str, ...]) -> Script:
    many = len(outlets)
    apart = min(APART, 0.45 * (LAST - FIRST) / max(many - 1, 1))
    opening = [FIRST + apart * place for place in range(many)]
    shutting = [LAST - apart * place for place in reversed(range(many))]
    sets = [outlets[:count] for count in (*range(many + 1), *reversed(range(many)))]
    return Script(name, pump, outlets, (0.0, *opening, *shutting), tuple(sets))


def circuits(
    batch: Batch, pump: str, sets: Sequence[tuple[str, ...]], gas: float | None = None, points: int = POINTS
) -> tuple[Behind, ...]:
    """What is behind a pump as it is followed over time, for every row of a batch.

    Parameters
    ----------
    batch : Batch
        The plan with its rows.
    pump : str
        A pump with a decided switch.
    sets : sequence of tuple of str
        Sets of open outlets; at least one outlet in all, each one behind the pump.
    gas : float, optional
        Temperature of the gas in the accumulator; the one at which its pre-charge was set without it [K].
    points : int
        Pressures at which the network is solved.

    Returns
    -------
    tuple of Behind
        One a row.

    Raises
    ------
    ValueError
        With a sentence for the builder, when the accumulator sits where the pump's switch does not feel it, or so far
        off that the pump stops on the loss on the way.
    """
    plan, vessels = batch.plan, vessels_of(batch.plan, pump)
    sets = tuple(dict.fromkeys(((), *sets)))
    node = _node(plan, pump, next(iter(vessels), ""))
    held = _pressures(batch, pump, node, {outlet for opened in sets for outlet in opened}, points)
    cases = [
        Case(opened, row, held=pressure, resting=resting)
        for row in range(len(batch))
        for resting in ((pump,), ())
        for opened in sets
        for pressure in held[row].tolist()
    ]
    solved = solve_cases(batch, cases, node)
    shape = (len(batch), 2, len(sets), points)
    outlets = tuple(outlet.name for outlet in solved.network.outlets)
    storage = elastic_storage(batch, vessels, pump_line(batch, pump).likely, gas)
    residual = solved.flows.residual.reshape(len(batch), -1).max(axis=-1)
    behind = []
    for row in range(len(batch)):
        curves = _curves(batch, pump, held[row], solved, shape, row)
        behind.append(
            Behind(
                pump=pump,
                vessel=next(iter(vessels), ""),
                outlets=outlets,
                sets=sets,
                curves=curves,
                circuit=Circuit(curves, taken(storage, len(batch), row)),
                residual=float(residual[row]),
            )
        )
    return tuple(behind)


def _node(plan: Plan, pump: str, vessel: str) -> str:
    for name in () if vessel else accumulators_behind(plan, pump):
        at, filled = plan.accumulators[name].at, plan.accumulators[name].precharge is not None
        if filled and (at in plan.mixers or at in plan.outlets):
            told = "sits behind a mixing tap or an outlet, where no pressure stands"
            raise ValueError(f'The accumulator at "{at}" {told}.')
        if filled:
            raise ValueError(f'The switch of "{pump}" does not feel its accumulator: a check valve lies between them.')
    at = plan.accumulators[vessel].at if vessel else pump
    return f"{pump} outlet" if at == pump else at


def _pressures(batch: Batch, pump: str, node: str, outlets: set[str], points: int) -> Array:
    """From where no outlet gives anything to a little above cut-out, one row each."""
    plan, height = batch.plan, batch.number(f"pumps.{pump}.z", 0.0)
    kinds = [kind for kind in ("tees", "heaters") if node in getattr(plan, kind)]
    at = batch.number(f"{kinds[0]}.{node}.z", 0.0) if kinds else height
    lowest = np.min([batch.number(f"outlets.{outlet}.z") for outlet in outlets], axis=0)
    weight = 1000.0 * STANDARD_GRAVITY
    bottom = np.minimum(weight * (lowest - at) - 100.0, 0.0)
    top = 1.02 * batch.number(f"pumps.{pump}.cut_out") + np.maximum(weight * (height - at), 0.0)
    return np.asarray(bottom[:, np.newaxis] + (top - bottom)[:, np.newaxis] * np.linspace(0.0, 1.0, points))


def _curves(batch: Batch, pump: str, held: Array, solved: Solved, shape: tuple[int, ...], row: int) -> Curves:
    flows = solved.flows
    switch = flows.at(f"{pump} outlet").reshape(shape)[row]
    felt = np.diff(switch[0]).min(axis=-1) / np.diff(held).max()
    if felt.min() < _FOLLOWS:
        raise ValueError(f'The switch of "{pump}" does not feel its accumulator: a check valve lies between them.')
    moved = np.minimum.accumulate(np.maximum(flows.pump(pump).reshape(shape)[row, 1], 0.0), axis=-1)
    drawn = np.moveaxis(flows.outlets.reshape(*shape, -1)[row], -1, 2)
    drawn = np.maximum.accumulate(np.where(drawn > _NOTHING, drawn, 0.0), axis=-1)
    cut_in, cut_out = (float(batch.number(f"pumps.{pump}.{name}")[row]) for name in ("cut_in", "cut_out"))
    resting, running = switch[0], np.maximum.accumulate(switch[1], axis=-1)
    start = np.array([np.interp(cut_in, at_switch, held) for at_switch in resting])
    stop = np.array([np.interp(cut_out, at_switch, held) for at_switch in running])
    if not np.all(start < stop):
        raise ValueError(f'"{pump}" stops on the loss on the way to its accumulator, which sits too far off.')
    return Curves(held, np.where(moved > _NOTHING, moved, 0.0), drawn[1], drawn[0], start, stop)
