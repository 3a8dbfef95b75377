"""The next size of a cable that loses little, carries its load, and has a fuse that guards it."""

from __future__ import annotations

import math
from itertools import count

from vanwater.answers.core.statement import Say, say
from vanwater.answers.power.cable_loads import current_of
from vanwater.physics.ampacity import least_fuse, standard_fuse
from vanwater.physics.cable import cable_resistance
from vanwater.plan.model import Plan
from vanwater.plan.sold import sold
from vanwater.plan.wiring import conductors, fuse_sizes
from vanwater.system.batch import Batch
from vanwater.system.power import volts_before
from vanwater.system.wiring import ampacity_of, cable_insulation, engine_space_of

__all__ = ["thicker"]

LAID = 0.03
"""Share of the volts that a new cable is laid for (common practice; ABYC E-11 for what matters, from memory)."""


def thicker(plan: Plan, name: str, *, nearer: bool = True) -> Say:
    """The next size that is sold and cures, or several of the largest.

    Parameters
    ----------
    plan : Plan
        The plan.
    name : str
        The cable, whose load is known.
    nearer : bool
        Whether a shorter cable would cure too.

    Returns
    -------
    Say
        The size with its fuse.
    """
    either = ", or bring it nearer to the battery." if nearer else "."
    for size, section in sold(plan.us).cables.items():
        fuse = _fuse(*_with(plan, name, section))
        if fuse:
            return say(f"Lay {{size}}, with a fuse of {{fuse}}{either}", size=size, fuse=fuse)
    lost, least, carries = _with(plan, name, section)
    cables = next(each for each in count(2) if _fuse(lost / each, least / each, carries))
    return say(
        f"Lay {{count}} cables of {{size}} beside each other, each with a fuse of {{fuse}}{either}",
        count=cables,
        size=size,
        fuse=_fuse(lost / cables, least / cables, carries),
    )


def _fuse(lost: float, least: float, carries: float) -> str:
    """The fuse of a cable that loses little; an empty text where it loses more, or none that is sold fits."""
    fuse = float(standard_fuse(least, carries, fuse_sizes()))
    return f"{fuse:g} A" if lost <= LAID and math.isfinite(fuse) else ""


def _with(plan: Plan, name: str, section: float) -> tuple[float, float, float]:
    """What it would lose of the volts, the least fuse that holds its load, and what it may carry, with another size."""
    batch, to = Batch(plan), plan.cables[name].to
    bank, ohms = volts_before(batch, to), cable_resistance(batch.number(f"cables.{name}.length"), section)
    current = current_of(batch, to, bank, ohms)
    assert current is not None
    table = conductors(plan.us)
    insulation = cable_insulation(batch, name, table)
    left = engine_space_of(batch, name, table, insulation)
    carries = ampacity_of(table, section, insulation, left)[0]
    lost = current.values[0] * ohms[0] / bank[0]
    return float(lost), float(least_fuse(current.values[0])), float(carries)
