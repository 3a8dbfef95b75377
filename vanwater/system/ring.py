"""A ring of hot water while its pump runs and every outlet is shut: flow, losses, heat, along the rows."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from vanwater.physics import network, water
from vanwater.physics.atmosphere import air_pressure
from vanwater.physics.pipe_loss import pipe_conductance_in_air
from vanwater.plan.model import Plan
from vanwater.quantities import Array
from vanwater.system.batch import Batch
from vanwater.system.exposed import run_heat
from vanwater.system.hot_line import Ring
from vanwater.system.hot_pipe import pipe_content
from vanwater.system.network_parts import pump_points
from vanwater.system.pump import pump_gaps
from vanwater.system.supply import runs_numbers

__all__ = ["RingFlow", "ring_flow", "ring_gaps"]


@dataclass(frozen=True, slots=True, eq=False)
class RingFlow:
    """What a ring does while its pump runs.

    Parameters
    ----------
    flow : array, shape (rows,)
        Flow round the ring [m³/s].
    rise : array, shape (rows,)
        Pressure rise across its pump [Pa].
    losses : mapping of str to array, shape (rows,)
        Pressure that each run takes [Pa].
    residual : array, shape (rows,)
        What the pressures fail to add up to [Pa].
    content : array, shape (rows,)
        Water between the heater and the end of the hot line [m³].
    heat : mapping of str to array, shape (rows,)
        Heat that each run loses to the air around it while it is as hot as the heater [W].
    """

    flow: Array
    rise: Array
    losses: Mapping[str, Array]
    residual: Array
    content: Array
    heat: Mapping[str, Array]


def ring_gaps(plan: Plan, ring: Ring) -> tuple[str, ...]:
    """Addresses that must be decided before a ring's flow can be known.

    Parameters
    ----------
    plan : Plan
        The plan.
    ring : Ring
        One of its rings.

    Returns
    -------
    tuple of str
        Empty when everything is there.
    """
    gaps = [f"pumps.{ring.pump}.{name}" for name in pump_gaps(plan.pumps[ring.pump]) if name != "z"]
    for run in ring.runs:
        planned = plan.runs[run]
        if planned.size is None and planned.bore is None:
            gaps.append(f"runs.{run}.bore")
        if planned.length is None:
            gaps.append(f"runs.{run}.length")
    return tuple(gaps)


def ring_flow(batch: Batch, ring: Ring) -> RingFlow:
    """Solve a ring with its pump running and every outlet shut.

    Parameters
    ----------
    batch : Batch
        The plan with its rows.
    ring : Ring
        A ring of which :func:`ring_gaps` names nothing.

    Returns
    -------
    RingFlow
        All of it as hot as the heater, so that heights count for nothing.
    """
    runs = batch.plan.runs
    names = {ring.pump: (f"{ring.pump} inlet", f"{ring.pump} outlet")}
    ends = [(run, names.get(runs[run].start, ("", runs[run].start))[1]) for run in ring.runs]
    pieces = tuple(network.Run(run, start, names.get(runs[run].end, (runs[run].end,))[0]) for run, start in ends)
    built = network.Network(
        pieces,
        (network.Source("filled", pieces[0].end),),
        (),
        (network.Pump(ring.pump, *names[ring.pump]),),
    )
    hot = batch.number(f"heaters.{ring.heater}.set_point")
    numbers = runs_numbers(batch, ring.runs)
    pump_flow, pump_rise = pump_points(batch, [ring.pump])
    solved = network.solve(
        built,
        network.NetworkInputs(
            elevation=0.0,
            length=numbers.length,
            bore=numbers.bore,
            roughness=numbers.roughness,
            loss_coefficient=numbers.k,
            density=water.density(hot)[:, None],
            viscosity=water.viscosity(hot)[:, None],
            source_pressure=0.0,
            outlet_constant=np.zeros((len(batch), 0)),
            pump_flow=pump_flow,
            pump_rise=pump_rise,
        ),
    )
    inlet, outlet = names[ring.pump]
    return RingFlow(
        solved.pump(ring.pump),
        solved.at(outlet) - solved.at(inlet),
        {piece.name: solved.at(piece.start) - solved.at(piece.end) for piece in pieces},
        solved.residual,
        pipe_content(batch, ring.hot(batch.plan)),
        _heat(batch, ring, hot),
    )


def _heat(batch: Batch, ring: Ring, hot: Array) -> dict[str, Array]:
    """Heat that each run loses in the room; where a run lies elsewhere it loses more."""
    room, air = batch.number("frost.room"), air_pressure(batch.number("site.altitude"))
    lost = {}
    for run in ring.runs:
        known = run_heat(batch, run)
        if known is not None:
            lost[run] = pipe_conductance_in_air(hot, room, known.pipe, 0.0, air) * np.maximum(hot - room, 0.0)
    return lost
