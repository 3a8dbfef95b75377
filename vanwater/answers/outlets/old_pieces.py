"""Pieces and gains of sets whose numbers are bare floats."""

from __future__ import annotations

from dataclasses import dataclass

from vanwater.answers.core.statement import Amount, Say, say
from vanwater.quantities import BORE, VOLTAGE
from vanwater.system.remedies import Remedy

__all__ = ["Gain", "Piece"]


@dataclass(frozen=True, slots=True)
class Piece:
    """What one piece of the way takes of the pressure.

    Parameters
    ----------
    label : str
        Run, "lift" or the outlet.
    kind : str
        "run", "throttled leg", "valve", "lift", "outlet".
    address : str
        Where in the plan.
    loss : float
        Pressure it takes [Pa]; a lift down gives.
    """

    label: str
    kind: str
    address: str
    loss: float


@dataclass(frozen=True, slots=True)
class Gain:
    """A remedy and what it would bring.

    Parameters
    ----------
    remedy : Remedy
        The change.
    flow : float
        More flow at the outlet [m³/s].
    """

    remedy: Remedy
    flow: float

    @property
    def words(self) -> Say:
        """The change in words."""
        remedy = self.remedy
        if remedy.kind == "bends":
            return say("Lay sweep bends instead of {count} elbows.", count=str(remedy.now))
        if remedy.kind == "filter":
            return say("Filter only the drinking tap instead of the {run}.", run=remedy.piece)
        if remedy.kind == "clean":
            return say("Clean the strainer or filter of the {run}.", run=remedy.piece)
        if remedy.kind == "volts":
            return say(
                "Give the pump {then} instead of {now} by a thicker cable.",
                then=Amount(float(remedy.then), VOLTAGE),
                now=Amount(float(remedy.now), VOLTAGE),
            )
        if isinstance(remedy.then, str):
            return say("Take {then} for the {run}.", then=remedy.then, run=remedy.piece)
        return say("Take {then} bore for the {run}.", then=Amount(remedy.then, BORE), run=remedy.piece)
