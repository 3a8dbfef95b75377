"""Heating pads along the rows: which heat a tank, what reaches the water, what they take from the battery."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from vanwater.physics import frost, tank_loss
from vanwater.plan.model import Plan
from vanwater.quantities import Array
from vanwater.system.batch import Batch
from vanwater.system.heat import TankHeat, tank_heat, transmittances
from vanwater.system.surroundings import Case, neighbours

__all__ = ["PadHeat", "hours_parked", "mean_cold", "pad_heat", "pad_power", "pads_of"]

DAY = 86400.0

FEEDS: Mapping[str, tuple[bool, bool]] = {"battery": (True, True), "engine": (False, True), "shore": (True, False)}
"""When what feeds a pad does so: parked, driving.

A socket does while the van stands at one; beside a pad that the battery feeds it is not counted on.
"""


@dataclass(frozen=True, slots=True, eq=False)
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
    from_battery : array, shape (rows,)
        Share of the power that the battery feeds while parked [-].
    """

    tank: str
    pads: tuple[str, ...]
    by: tuple[str, ...]
    on: tuple[tuple[bool, ...], ...]
    power: Array
    net_share: Array
    from_battery: Array

    @property
    def fed(self) -> tuple[bool, ...]:
        """Whether any of them is fed, parked and driving."""
        return tuple(map(any, self.on))


def pads_of(plan: Plan) -> dict[str, tuple[str, ...]]:
    """Names of the pads of each tank that has one, in the order of the tanks."""
    by_tank = {tank: tuple(name for name, pad in plan.pads.items() if pad.tank == tank) for tank in plan.tanks}
    return {tank: pads for tank, pads in by_tank.items() if pads}


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
    battery = np.array([feeder == "battery" for feeder in by])[:, None] * powers
    return PadHeat(
        tank,
        pads,
        tuple(by),
        tuple(map(tuple, feeds.tolist())),
        power,
        reaching / power,
        battery.sum(axis=0) / power[0],
    )


def mean_cold(batch: Batch) -> Array:
    """Mean outside temperature of a cold day; the coldest while it is not said; NaN while neither is [K]."""
    mean = batch.number("frost.mean_cold")
    return np.where(np.isfinite(mean), mean, batch.number("frost.design_cold"))


def hours_parked(batch: Batch) -> Array:
    """Share of the day that the van is parked; on the road the alternator feeds the pads [-]."""
    return 1.0 - batch.number("frost.hours_driving") / DAY


def pad_power(batch: Batch) -> Array:
    """Mean power that the pads take from the battery on a cold day.

    Parameters
    ----------
    batch : Batch
        The plan with its rows.

    Returns
    -------
    array, shape (rows,)
        By the mean temperature of the day, over the hours parked [W]; nothing while the plan says no cold. A pad on a
        tank whose sides are not decided counts as always on.
    """
    total = np.zeros(len(batch))
    outside = mean_cold(batch)
    by_tank = pads_of(batch.plan)
    if not by_tank or not np.all(np.isfinite(outside)):
        return total
    hold = batch.number("frost.hold")
    known = {name: heat for name in by_tank if (heat := tank_heat(batch, name)) is not None}
    conducting = dict(zip(known, transmittances(batch, list(known.values()), [Case(hold, outside)]), strict=True))
    for name in by_tank:
        pad = pad_heat(batch, name)
        drawn = pad.power[0]
        if name in known:
            drawn = frost.pad_energy(_duty(batch, known[name], conducting[name][0], pad, hold, outside), pad.power[0])
        total = total + np.where(outside < hold, drawn * pad.from_battery, 0.0) * hours_parked(batch)
    return total


def _duty(batch: Batch, tank: TankHeat, u: Array, pad: PadHeat, hold: Array, outside: Array) -> Array:
    beside = neighbours(batch, outside).beside(tank.codes)
    needed = np.maximum(tank_loss.net_loss(tank.faces.area, u, hold, beside), 0.0)
    return frost.pad_duty(needed, pad.power[0], pad.net_share[0])
