"""The pressure along the way to an outlet: what each piece lifts and loses, from the tank's surface to the air."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from vanwater.answers.outlets.outlet import OutletSupply
from vanwater.plan.model import Plan

__all__ = ["Stretch", "pressure_along"]


@dataclass(frozen=True, slots=True)
class Stretch:
    """One piece of the way.

    Parameters
    ----------
    label : str
        Run, pump or outlet.
    kind : str
        "suction", "cold", "hot" or "mixed" for a run, "pump" or "outlet".
    before, lifted, after : float
        Gauge pressure before it, after its static lift alone, and behind it [Pa].
    """

    label: str
    kind: str
    before: float
    lifted: float
    after: float

    @property
    def lift(self) -> float:
        """Pressure that its static lift takes; a fall gives [Pa]."""
        return self.before - self.lifted

    @property
    def loss(self) -> float:
        """Pressure that it loses; negative is a pump's rise [Pa]."""
        return self.lifted - self.after


def pressure_along(plan: Plan, one: OutletSupply) -> tuple[Stretch, ...]:
    """The pressure from the tank's surface along all pieces to an outlet that is open alone.

    Parameters
    ----------
    plan : Plan
        The plan.
    one : OutletSupply
        The solved outlet.

    Returns
    -------
    tuple of Stretch
        In the order of the flow, each beginning where the one before it ends; of a hot and a cold leg the one
        that governs. Empty where no water reaches the outlet.

    Notes
    -----
    A piece whose height is not decided lies as high as the one before it.
    """
    return tuple(_stretches(plan, one)) if one.reaches else ()


def _stretches(plan: Plan, one: OutletSupply) -> Iterator[Stretch]:
    way, physics = one.way, one.case.physics
    losses = dict(zip(way.runs, one.solved.losses[0].tolist(), strict=True))
    hot = sum(losses[run] for run in way.hot) >= sum(losses[run] for run in way.cold)
    weight = float(np.ravel(physics.weight)[0])
    height, pressure = float(np.ravel(physics.surface_height)[0]), 0.0

    def through(run: str, kind: str) -> Stretch:
        nonlocal height, pressure
        end = _height(plan, plan.runs[run].end)
        lifted = pressure if end is None else pressure - weight * (end - height)
        height = height if end is None else end
        before, pressure = pressure, lifted - losses[run]
        return Stretch(run, kind, before, lifted, pressure)

    for run in way.suction:
        yield through(run, "suction")
    if way.pump:
        before, pressure = pressure, pressure + one.rise
        yield Stretch(way.pump, "pump", before, before, pressure)
    kind = "cold"
    for run in (*way.trunk, *(way.hot if hot else way.cold)):
        kind = "hot" if plan.runs[run].start in plan.heaters else kind
        yield through(run, kind)
    valve = float(one.solved.valve_loss[0])
    if valve > 0.0:
        before, pressure = pressure, pressure - valve
        yield Stretch(way.mixer, "mixed", before, before, pressure)
    for run in way.mixed:
        yield through(run, "mixed" if way.mixer else kind)
    yield Stretch(way.outlet, "outlet", pressure, pressure, 0.0)


def _height(plan: Plan, piece: str) -> float | None:
    """Height of a piece above the van's floor, where it is decided [m]."""
    for table in (plan.pumps, plan.tees, plan.heaters, plan.mixers, plan.outlets):
        if piece in table:
            height: float | None = table[piece].z
            return height
    return None
