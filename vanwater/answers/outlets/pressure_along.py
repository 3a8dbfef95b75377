"""The pressure along the way to an outlet: what each piece lifts and loses, from the tank's surface to the air."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from vanwater.answers.core.number import Number
from vanwater.answers.outlets.outlet import OutletSupply
from vanwater.quantities import Array

__all__ = ["Stretch", "pressure_along"]


@dataclass(frozen=True, slots=True, eq=False)
class Stretch:
    """One piece of the way.

    Parameters
    ----------
    label : str
        Run, pump or outlet.
    kind : str
        "suction", "cold", "hot" or "mixed" for a run, "pump" or "outlet".
    before : float
        Gauge pressure before it [Pa].
    lift : Number
        Pressure that its static lift takes; a fall gives.
    takes : Number
        Pressure that it loses; of the pump its rise.
    """

    label: str
    kind: str
    before: float
    lift: Number
    takes: Number

    @property
    def lifted(self) -> float:
        """Gauge pressure after its static lift alone [Pa]."""
        return self.before - self.lift.likely

    @property
    def after(self) -> float:
        """Gauge pressure behind it [Pa]; none behind the outlet."""
        loss = -self.takes.likely if self.kind == "pump" else self.takes.likely
        return self.lifted - loss if self.kind != "outlet" else 0.0


def pressure_along(supply: OutletSupply) -> tuple[Stretch, ...]:
    """The pressure from the tank's surface along all pieces to an outlet that is open alone.

    Parameters
    ----------
    supply : OutletSupply
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
    return tuple(_stretches(supply)) if supply.reaches else ()


def _stretches(supply: OutletSupply) -> Iterator[Stretch]:
    plan, way = supply.plan, supply.way
    governing = {piece.label for piece in supply.budget if piece.kind == "run"}
    height = np.broadcast_to(supply.case.physics.surface_height, supply.flow.values.shape)
    pressure = 0.0

    def stretch(label: str, kind: str, piece: str, takes: Number, end: Array | None = None) -> Stretch:
        nonlocal height, pressure
        start, height = height, height if end is None else end
        lift = supply.lift_of(label, height - start).keyed(piece, label, "lift", supply.outlet, pairs=supply.pairs)
        passed = Stretch(label, kind, pressure, lift, takes)
        pressure = passed.after
        return passed

    def through(run: str, kind: str) -> Stretch:
        return stretch(run, kind, "run", supply.losses[run], _height(supply, plan.runs[run].end))

    for run in way.suction:
        yield through(run, "suction")
    if way.pump:
        yield stretch(way.pump, "pump", "pump", supply.rise)
    kind = "cold"
    for run in (*way.trunk, *(run for run in (*way.hot, *way.cold) if run in governing)):
        kind = "hot" if plan.runs[run].start in plan.heaters else kind
        yield through(run, kind)
    if supply.valve_loss.likely > 0.0:
        yield stretch(way.mixer, "mixed", "mixer", supply.valve_loss)
    for run in way.mixed:
        yield through(run, "mixed" if way.mixer else kind)
    yield stretch(way.outlet, "outlet", "outlet", supply.pressure)


def _height(supply: OutletSupply, piece: str) -> Array | None:
    """Height of a piece above the van's floor along the rows, where it is decided [m]."""
    for table in ("pumps", "tees", "heaters", "mixers", "outlets"):
        if piece in getattr(supply.plan, table):
            height = supply.batch.number(f"{table}.{piece}.z")
            return None if math.isnan(height[0]) else height
    return None
