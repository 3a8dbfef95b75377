"""The stock size of accumulator that a pump wants."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from vanwater.answers.core.number import Number
from vanwater.answers.core.spread import UnsureRows
from vanwater.answers.core.unsure import GAS
from vanwater.answers.core.working import stated, step
from vanwater.physics.atmosphere import air_pressure
from vanwater.physics.cycling import starts_at_draw
from vanwater.physics.switching import ElasticStorage, Switch, about_mean_state
from vanwater.plan.sold import sold
from vanwater.quantities import STARTS, VOLUME, Array
from vanwater.system.batch import Batch

__all__ = ["GAS_SHARE", "LIMIT", "RUNS_ON", "Fitted", "fitted", "starts_with"]

RUNS_ON = "a weaker pump runs on"
"""What no starts at all mean where the pump starts as planned: it never reaches its cut-out under the draw."""

LIMIT = 240.0 / 3600.0
"""Starts under a thin stream below which an accumulator is large enough, 1/s: one in a quarter of a minute (common
practice)."""

GAS_SHARE = 0.9
"""Share of an accumulator's size that is gas at the least, the rest its shell (common practice, from memory)."""


@dataclass(frozen=True, slots=True, eq=False)
class Fitted:
    """The smallest stock accumulator with which a pump starts seldom enough.

    Parameters
    ----------
    size : Number
        Its size [m³].
    starts : Number
        Starts under the same draw then [1/s].
    """

    size: Number
    starts: Number


def fitted(
    batch: Batch, pump: str, at: Switch, draw: Number, setting: Number, pairs: Sequence[UnsureRows]
) -> Fitted | None:
    """The smallest stock size that keeps the starts below the limit, to the end of their range.

    Parameters
    ----------
    batch : Batch
        The plan with the rows of the starts' unsure inputs.
    pump : str
        The pump.
    at : Switch
        Its switch and curve.
    draw : Number
        The steady draw that starts are told for [m³/s].
    setting : Number
        What its pre-charge would be set to where the van stands [Pa].
    pairs : sequence of UnsureRows
        Which rows those are.

    Returns
    -------
    Fitted or None
        None where no pre-charge stays below cut-in or the largest size is too small.
    """
    if setting.likely <= 0:
        return None
    for size in sold(batch.plan.us).accumulators:
        given = np.full(len(batch), GAS_SHARE * size)
        starts = starts_with(batch, pump, at, draw, given, setting, pairs)
        if (starts.range or (0.0, starts.likely))[1] <= LIMIT:
            stock = stated(
                f"accumulator for the {pump}",
                size,
                VOLUME,
                "The smallest stock size with which the pump starts seldom enough; nine tenths of it are gas.",
                facts=[("starts then", starts), ("starts that are seldom enough", (LIMIT, STARTS))],
                source="Boyle's law; sizes and limit: common practice",
            )
            return Fitted(stock.keyed("pump", pump, "accumulator_size", exact="a stock size", digits=2), starts)
    return None


def starts_with(
    batch: Batch, pump: str, at: Switch, draw: Number, gas: Array, setting: Number, pairs: Sequence[UnsureRows]
) -> Number:
    """Starts with an accumulator of some gas, its pre-charge set as is advised; see :func:`fitted`."""
    home, fast = air_pressure(batch.number("site.altitude")), batch.factor(GAS.key)
    kept = about_mean_state(at, ElasticStorage(gas, setting.values, home), fast)
    starts = step(f"starts of the {pump} with that accumulator", starts_at_draw, draw=draw, switch=at, storage=kept)
    return starts.keyed("pump", pump, "starts", "fitted", pairs=pairs, least=0.0, digits=2, none=RUNS_ON)
