"""Heating pads along the rows: which heat a tank, what reaches the water, what they take from the battery."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from vanwater.physics import frost, tank_loss
from vanwater.plan.day import STATES
from vanwater.plan.model import Plan
from vanwater.quantities import Array
from vanwater.system.batch import Batch
from vanwater.system.heat import TankHeat, tank_heat, transmittances
from vanwater.system.surroundings import Case, neighbours

__all__ = ["PADS_ON", "PadHeat", "mean_cold", "pad_draws", "pad_heat", "pads_of", "unsided"]

PADS_ON = "pads on"
"""Factor on how much of the time a pad is on, on a tank whose sides are not known: from never to always."""

FEEDS: Mapping[str, tuple[bool, bool]] = {"battery": (True, True), "engine": (False, True), "shore": (True, False)}
"""When what feeds a pad does so: parked, driving.

A socket does while the van stands at one; beside a pad that the battery feeds it is not counted on.
"""

FED_IN: Mapping[str, tuple[str, ...]] = {"battery": STATES, "engine": ("driving",), "shore": ("shore",)}
"""States of a day in which what feeds a pad does so."""


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class PadHeat:
    """All pads of one tank together.

    Parameters
    ----------
    tank : str
        The tank.
    pads : tuple of str
        Their names.
    by : tuple of str
        What feeds each of them.
    on : tuple of tuple of bool
        Which of them are fed, parked and driving.
    power : array, shape (2, rows)
        Electric power when on, parked and driving, of those that are fed then; of all where none is [W].
    net_share : array, shape (2, rows)
        Share of it that reaches the water [-].
    """

    tank: str
    pads: tuple[str, ...]
    by: tuple[str, ...]
    on: tuple[tuple[bool, ...], ...]
    power: Array
    net_share: Array

    @property
    def fed(self) -> tuple[bool, ...]:
        """Whether any of them is fed, parked and driving."""
        return tuple(map(any, self.on))


def pads_of(plan: Plan) -> dict[str, tuple[str, ...]]:
    """Names of the pads of each tank that has one, in the order of the tanks; none in a drained van."""
    if plan.water.drained:
        return {}
    by_tank = {tank: tuple(name for name, pad in plan.pads.items() if pad.tank == tank) for tank in plan.tanks}
    return {tank: pads for tank, pads in by_tank.items() if pads}


def unsided(plan: Plan) -> tuple[str, ...]:
    """Padded tanks of which the plan does not say how fast they cool, so that nobody knows how long a pad is on."""
    return tuple(tank for tank in pads_of(plan) if tank_heat(Batch(plan), tank) is None)


def pad_heat(batch: Batch, tank: str) -> PadHeat:
    """The pads of a tank along the rows.

    Parameters
    ----------
    batch : Batch
        The plan with its rows.
    tank : str
        A tank with a pad.

    Returns
    -------
    PadHeat
        They are taken to switch together.
    """
    pads = pads_of(batch.plan)[tank]
    by = [batch.plan.pads[name].fed for name in pads]
    powers = np.stack([batch.number(f"pads.{name}.power") for name in pads])
    shares = np.stack([batch.number(f"pads.{name}.net_share") for name in pads]) * batch.factor("pad share")
    feeds = np.array([FEEDS[feeder] if feeder != "shore" or "battery" not in by else (False, False) for feeder in by]).T
    powered = np.where(feeds.any(axis=1, keepdims=True), feeds, True)[:, :, None] * powers
    power = powered.sum(axis=1)
    reaching = (powered * np.minimum(shares, 1.0)).sum(axis=1)
    return PadHeat(
        tank=tank,
        pads=pads,
        by=tuple(by),
        on=tuple(map(tuple, feeds.tolist())),
        power=power,
        net_share=reaching / power,
    )


def mean_cold(batch: Batch) -> Array:
    """Mean outside temperature of a cold day; the coldest while it is not said; NaN while neither is [K]."""
    mean = batch.number("frost.mean_cold")
    return np.where(np.isfinite(mean), mean, batch.number("frost.design_cold"))


def pad_draws(batch: Batch) -> Mapping[str, tuple[str, str, Array]]:
    """What each pad draws on a cold day, state by state.

    Parameters
    ----------
    batch : Batch
        The plan with its rows.

    Returns
    -------
    mapping of str to (tank, feeder, array)
        Its tank, what feeds it, and its mean power by the mean temperature of the day, shape (states, rows) [W];
        nothing in states in which it is not fed, and while the plan says no cold. A pad on a tank whose sides are not
        decided counts as on for as long as it is fed, or for as much of that as the row says.
    """
    plan, outside, hold = batch.plan, mean_cold(batch), batch.number("frost.hold")
    by_tank = pads_of(plan)
    if not by_tank or not np.all(np.isfinite(outside)):
        return {}
    known = {tank: heat for tank in by_tank if (heat := tank_heat(batch, tank)) is not None}
    cases = [Case(hold, outside), Case(hold, outside, driving=True)]
    films = dict(zip(known, transmittances(batch, list(known.values()), cases), strict=True))
    freezing = outside < hold
    draws: dict[str, tuple[str, str, Array]] = {}
    for tank, pads in by_tank.items():
        needed = _needed(batch, known[tank], films[tank], hold, outside) if tank in known else None
        powers = np.stack([batch.number(f"pads.{name}.power") for name in pads])
        shares = np.stack([batch.number(f"pads.{name}.net_share") for name in pads]) * batch.factor("pad share")
        fed = np.array([[state in FED_IN[plan.pads[name].fed] for state in STATES] for name in pads])
        on = fed[:, :, None] * powers[:, None]
        heat = (on * np.minimum(shares, 1.0)[:, None]).sum(axis=0)
        duty = (
            batch.factor(PADS_ON) * np.ones_like(heat)
            if needed is None
            else needed / np.where(heat > 0.0, heat, np.inf)
        )
        for place, name in enumerate(pads):
            drawn = np.where(freezing, frost.pad_energy(duty, on[place]), 0.0)
            draws[name] = (tank, plan.pads[name].fed, drawn)
    return draws


def _needed(batch: Batch, tank: TankHeat, films: Array, hold: Array, outside: Array) -> Array:
    """Heat that holds a tank in each state, shape (states, rows); with the heating off all about it is as outside."""
    around = neighbours(batch, outside).beside(tank.codes)
    bare = np.broadcast_to(outside[:, None], around.shape)
    parked, driving = (np.maximum(tank_loss.net_loss(tank.faces.area, u, hold, around), 0.0) for u in films)
    unheated = np.maximum(tank_loss.net_loss(tank.faces.area, films[0], hold, bare), 0.0)
    of_state = {"driving": driving, "unheated": unheated}
    return np.stack([of_state.get(state, parked) for state in STATES])
