"""The inputs that are never known well, how far they may lie off, and what to measure.

The ranges are common practice: what measured vans and data sheets scatter by. A measured value in the plan is
still taken as unsure by the same share, since outlets, pumps and people do not repeat themselves.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from vanwater.answers.core.answer import Assumption
from vanwater.answers.core.spread import UnsureRows
from vanwater.answers.core.statement import Amount, Say, say
from vanwater.plan.model import Plan
from vanwater.quantities import SHARE
from vanwater.system.batch import Batch, Unsure
from vanwater.system.pads import PADS_ON, unsided

__all__ = [
    "BORES",
    "CHARGING",
    "FITTINGS",
    "GAS",
    "LOADS",
    "OUTLETS",
    "PUMPS",
    "RUN_OFF",
    "STIRRING",
    "assumed",
    "habits",
    "pads_on",
    "rows_of",
]

OUTLETS = Unsure(
    "outlets",
    "what the outlet gives at its rated pressure",
    0.75,
    1.25,
    "Measure its flow with bucket and watch while a gauge reads the pressure before it.",
    "common practice",
)
PUMPS = Unsure(
    "pumps",
    "the pump's pressure at its real volts",
    0.85,
    1.15,
    "Measure volts and pressure at the pump while the outlet runs.",
    "common practice",
)
FITTINGS = Unsure(
    "fittings",
    "the losses of small fittings",
    0.7,
    1.3,
    "Measure the pressure before and behind the worst piece.",
    "common practice; published loss coefficients of small fittings scatter by about 30 %",
)
BORES = Unsure(
    "bores", "the bores of hose and pipe", 0.97, 1.03, "Measure the bore with a drill shank or pin.", "common practice"
)
RUN_OFF = Unsure(
    "run-off",
    "the water run off beyond the hot pipe's own content",
    0.5,
    1.5,
    "Catch the water in a jug until it is hot.",
    "common practice: 1.2 to 1.6 times the pipe's content for its warm wall and mixing",
)
STIRRING = Unsure(
    "stirring",
    "the share of a heater that entering cold water stirs",
    0.4,
    1.8,
    "Draw one charge through a thermometer and note how much comes before it is too cold.",
    "common practice, from memory",
)

GAS = Unsure(
    "gas",
    "how fast the accumulator's gas is squeezed",
    1.0,
    1.4,
    "Count the starts of a few minutes under a thin stream.",
    "ideal gas: as warm as its surroundings, or with no time to give its warmth",
)
"""A factor on the exponent of the gas, 1 for Boyle's law."""

LOADS = Unsure(
    "loads",
    "what else the battery feeds",
    0.75,
    1.25,
    "Read the battery monitor over a few days.",
    "common practice",
)
CHARGING = Unsure(
    "charging",
    "what sun and driving put back",
    0.6,
    1.3,
    "Read the battery monitor over a few days in the season that counts.",
    "common practice",
)


def habits(plan: Plan) -> Unsure:
    """How far the household's real use may lie off, as the plan says it."""
    off = plan.household.unsure
    return Unsure(
        "habits",
        "the household's habits",
        1.0 - off,
        1.0 + off,
        "Write down the tank's level for a few days.",
        "common practice",
    )


def pads_on(plan: Plan) -> tuple[Unsure, ...]:
    """How long pads are on, on tanks of which that cannot be said: from never to always. None where all can be."""
    if not unsided(plan):
        return ()
    words = "the time that pads are on, counted as always where their tank's sides are not said,"
    measure = "Measure the inside length, width and height of that tank, and say what lies beside it."
    return (Unsure(PADS_ON, words, 0.0, 1.0, measure, "nothing is known of it"),)


def rows_of(batch: Batch, unsure: Iterable[Unsure]) -> Sequence[UnsureRows]:
    """Where a batch holds the low and the high end of each unsure input.

    Parameters
    ----------
    batch : Batch
        Made with :func:`vanwater.system.batch.low_and_high` of the same inputs.
    unsure : iterable of Unsure
        The inputs.

    Returns
    -------
    sequence of UnsureRows
        For :func:`vanwater.answers.spread.spread`.
    """
    return [
        UnsureRows(
            bounds.label,
            bounds.key,
            batch.place(f"{bounds.key} low"),
            batch.place(f"{bounds.key} high"),
            (bounds.low, bounds.high),
        )
        for bounds in unsure
    ]


def assumed(unsure: Iterable[Unsure]) -> tuple[Assumption, ...]:
    """The unsure inputs as assumptions to be read.

    Parameters
    ----------
    unsure : iterable of Unsure
        The inputs.

    Returns
    -------
    tuple of Assumption
        One each.
    """
    return tuple(
        Assumption(
            bounds.key,
            _how_far(bounds),
            bounds.measure,
            bounds.source,
        )
        for bounds in unsure
        if bounds.low < 1.0 or bounds.high > 1.0
    )


def _how_far(bounds: Unsure) -> Say:
    what, low = bounds.label[:1].upper() + bounds.label[1:], Amount(1.0 - bounds.low, SHARE, 2)
    if not bounds.high > 1.0:
        return say("{what} may lie {low} lower.", what=what, low=low)
    high = Amount(bounds.high - 1.0, SHARE, 2)
    return say("{what} may lie {low} lower or {high} higher.", what=what, low=low, high=high)
