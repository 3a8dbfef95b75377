"""The pre-charge of an accumulator: what to set it to, what a gauge reads of it elsewhere and on other days."""

from __future__ import annotations

import numpy as np

from vanwater.answers.core.number import Number
from vanwater.answers.core.working import stated, step
from vanwater.physics import accumulator as gas
from vanwater.physics.atmosphere import air_pressure
from vanwater.plan.sold import sold
from vanwater.quantities import SETTING, Array
from vanwater.system.batch import Batch
from vanwater.system.compliance import set_air

__all__ = ["MARGIN", "readings", "setting"]

MARGIN = 1e4
"""What the pre-charge is kept below cut-in at the worst, Pa: 0.1 bar (common practice)."""

_TOUCH = 1e-9
"""Share of a step that rounding may lose."""

WARMTH = 293.15
"""Temperature at which a pre-charge is set where no accumulator is planned [K]."""


def setting(batch: Batch, pump: str, vessel: str) -> Number:
    """What to set a pre-charge to, so that it stays below cut-in with a margin on the hottest and highest day.

    Parameters
    ----------
    batch : Batch
        The plan with its rows.
    pump : str
        A pump whose cut-in is decided.
    vessel : str
        The accumulator, or an empty text for one that is not planned.

    Returns
    -------
    Number
        Gauge pressure where and as warm as it is set [Pa].
    """
    highest = step(
        "highest pre-charge that keeps the margin",
        gas.precharge_setting,
        cut_in=batch.number(f"pumps.{pump}.cut_in"),
        margin=MARGIN,
        atmosphere=set_air(batch, vessel),
        temperature=batch.number(f"accumulators.{vessel}.set_at") if vessel else WARMTH,
        lowest_atmosphere=_highest_air(batch),
        highest_temperature=batch.number("site.warmest"),
    )
    gauge = sold(batch.plan.us).gauge
    return stated(
        "pre-charge to set",
        np.floor(highest.values / gauge + _TOUCH) * gauge,
        SETTING,
        "The highest that keeps the margin, rounded down to what a gauge is read to.",
        facts=[("highest", highest)],
        source=f"{highest.source} Reading of a gauge: common practice",
    )


def readings(batch: Batch, vessel: str) -> tuple[Number, Number, Number]:
    """What a gauge reads of a planned pre-charge.

    Parameters
    ----------
    batch : Batch
        The plan with its rows.
    vessel : str
        An accumulator whose pre-charge is decided.

    Returns
    -------
    tuple of Number
        Where the van stands as warm as it was set, there on the coldest day, on the hottest at the highest place [Pa].
    """
    at, home = f"accumulators.{vessel}", air_pressure(batch.number("site.altitude"))
    set_at = batch.number(f"{at}.set_at")
    here, coldest, hottest = (
        step(
            f"pre-charge of the {vessel}, {words}",
            gas.precharge_elsewhere,
            precharge=batch.number(f"{at}.precharge"),
            atmosphere=set_air(batch, vessel),
            temperature=set_at,
            new_atmosphere=air,
            new_temperature=warmth,
        ).keyed("accumulator", vessel, "precharge", key)
        for words, air, warmth, key in (
            ("where the van stands", home, set_at, "here"),
            ("coldest", home, batch.number("site.coldest"), "coldest"),
            ("hottest and highest", _highest_air(batch), batch.number("site.warmest"), "warmest"),
        )
    )
    return here, coldest, hottest


def _highest_air(batch: Batch) -> Array:
    """Pressure of the air at the highest place that the van goes to [Pa]."""
    return air_pressure(np.fmax(batch.number("site.altitude"), batch.number("site.highest")))
