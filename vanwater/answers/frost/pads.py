"""The pads of one tank: how often they are on, how cold it may get, what they take a day."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from vanwater.answers.core.spread import Influence, Spread, influences
from vanwater.answers.core.statement import Range
from vanwater.answers.frost.cold import DRIVING, PARKED, PARKED_MEAN, Cold, TankCold
from vanwater.physics import frost
from vanwater.quantities import DAILY_ENERGY, RATIO, TEMPERATURE, Array
from vanwater.system.heat import transmittances
from vanwater.system.pads import PadHeat, hours_parked, pad_heat, pads_of
from vanwater.system.surroundings import Case

__all__ = ["COLDEST", "PadFrost", "PadRows", "following", "pad_frost", "pad_rows"]

COLDEST = 203.15
"""Coldest air that is asked for and told, K: −70 °C."""


@dataclass(frozen=True, slots=True, eq=False)
class PadRows:
    """The pads of one tank along the rows.

    Parameters
    ----------
    heat : PadHeat
        Power and what reaches the water.
    duty : array, shape (2, rows)
        Share of the time on at the design cold, parked and driving [-].
    holds : array, shape (2, rows)
        Lowest outside temperature at which they hold, not below −70 °C [K].
    near : array, shape (2, rows, faces)
        Transmittances near those [W/(m²·K)].
    drawn : array, shape (2, rows)
        Mean power at the mean cold, parked and driving [W].
    a_day : array, shape (rows,)
        Energy a day, each for its hours [W].
    """

    heat: PadHeat
    duty: Array
    holds: Array
    near: Array
    drawn: Array
    a_day: Array

    @property
    def results(self) -> tuple[Array, ...]:
        """Everything that has a range: duties, lowest colds, energy a day."""
        return (*self.duty, *self.holds, self.a_day)


@dataclass(frozen=True, slots=True, eq=False)
class PadFrost:
    """The pads of one tank, which switch together.

    Parameters
    ----------
    pads : tuple of str
        Their names.
    power, net : float
        Electric power when on, and heat in the water then [W].
    duty, duty_driving : Range
        Share of the time on at the design cold; above 1 they do not hold.
    holds, holds_driving : Range
        Lowest outside temperature at which they hold.
    smallest, smallest_driving : float
        Power of the smallest pad that would hold at the design cold, parked and driving [W].
    energy : Range
        Energy a day at the mean cold, over the hours parked and driving.
    rows : PadRows
        The same along the rows.
    hung : tuple of Influence
        What the lowest cold parked hangs on, most first.
    """

    pads: tuple[str, ...]
    power: float
    net: float
    duty: Range
    duty_driving: Range
    holds: Range
    holds_driving: Range
    smallest: float
    smallest_driving: float
    energy: Range
    rows: PadRows
    hung: tuple[Influence, ...]


def pad_rows(cold: Cold) -> dict[str, PadRows]:
    """The pads of every tank along the rows.

    Parameters
    ----------
    cold : Cold
        The solved plan.

    Returns
    -------
    dict of str to PadRows
        By tank. The lowest cold is found with the films of that cold, not of the design cold; none below −70 °C is
        told.
    """
    heated = {name: cold.tanks[name] for name in pads_of(cold.plan) if name in cold.tanks}
    pads = {name: pad_heat(cold.batch, name) for name in heated}
    cases = []
    for name, one in heated.items():
        parked, driving = np.clip(_outside_of(cold, one, one.transmittance[:2], pads[name]), COLDEST, cold.hold - 0.5)
        cases += [Case(cold.hold, parked), Case(cold.hold, driving, driving=True)]
    near = transmittances(cold.batch, [one.heat for one in heated.values()], cases)
    return {
        name: _rows(cold, one, pads[name], near[place][2 * place : 2 * place + 2])
        for place, (name, one) in enumerate(heated.items())
    }


def _rows(cold: Cold, one: TankCold, pad: PadHeat, near: Array) -> PadRows:
    needed = np.array([one.needed(case, cold.hold) for case in range(4)])
    duty = frost.pad_duty(needed, pad.power, pad.net_share)
    drawn = frost.pad_energy(duty[PARKED_MEAN:], pad.power)
    parked = hours_parked(cold.batch)
    holds = _outside_of(cold, one, near, pad)
    holds = np.where(np.isfinite(holds), np.maximum(holds, COLDEST), holds)
    return PadRows(pad, duty[:2], holds, near, drawn, drawn[0] * parked + drawn[1] * (1.0 - parked))


def _outside_of(cold: Cold, one: TankCold, transmittance: Array, pad: PadHeat) -> Array:
    """Outside temperature at which the pads just hold; minus infinity where no face follows the outside."""
    through = one.heat.faces.area * transmittance
    follows, kept = following(cold, one)
    total = through.sum(axis=-1)
    rest = frost.lowest_cold(cold.hold, pad.power, pad.net_share, total)
    moved = (through * follows).sum(axis=-1) / total
    with np.errstate(divide="ignore", invalid="ignore"):
        return np.where(moved > 0, (rest - (through * kept).sum(axis=-1) / total) / moved, -np.inf)


def following(cold: Cold, one: TankCold) -> tuple[Array, Array]:
    """How far the temperature beside each face follows the outside, and the part of it that does not.

    Parameters
    ----------
    cold : Cold
        The solved plan.
    one : TankCold
        A tank of it.

    Returns
    -------
    tuple of array, shape (rows, faces)
        Share [-], and the rest of the temperature [K].
    """
    follows = cold.around.following(one.heat.codes)
    return follows, one.beside[PARKED] - follows * cold.outside[:, None]


def pad_frost(cold: Cold, one: TankCold, rows: PadRows, ranges: Spread) -> PadFrost:
    """The pads of a tank with their ranges.

    Parameters
    ----------
    cold : Cold
        The solved plan.
    one : TankCold
        A tank with a pad.
    rows : PadRows
        Its pads along the rows.
    ranges : Spread
        Ranges of their results, in their order.

    Returns
    -------
    PadFrost
        Numbers with their ranges.
    """
    power, share = float(rows.heat.power[0]), float(rows.heat.net_share[0])
    smallest = [float(frost.smallest_pad(one.needed(case, cold.hold)[0], share)) for case in (PARKED, DRIVING)]
    return PadFrost(
        rows.heat.pads,
        power,
        power * share,
        ranges.at(0).range(RATIO),
        ranges.at(1).range(RATIO),
        ranges.at(2).range(TEMPERATURE),
        ranges.at(3).range(TEMPERATURE),
        smallest[PARKED],
        smallest[DRIVING],
        ranges.at(4).range(DAILY_ENERGY),
        rows,
        influences(rows.holds[PARKED], cold.pairs),
    )
