"""What people turn first where the van stands on a campsite's water: regulator, the tap there, the outlets."""

from __future__ import annotations

from collections.abc import Iterator

from vanwater.answers.mains.answer import Mains
from vanwater.plan.model import Plan

__all__ = ["controls"]


def controls(plan: Plan, answer: Mains) -> Iterator[str]:
    """Regulator and tap of the inlet, how far the regulator falls, then what the outlets take."""
    for inlet in dict.fromkeys(fed.way.mains for fed in answer.outlets.values()):
        droop = () if plan.mains[inlet].regulator is None else ("droop",)
        yield from (f"mains.{inlet}.{field}" for field in ("regulator", "lowest", "highest", *droop))
    for outlet in answer.outlets:
        yield f"outlets.{outlet}.{'type' if plan.outlets[outlet].type is not None else 'flow'}"
