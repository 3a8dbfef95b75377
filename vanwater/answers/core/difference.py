"""The difference of one number between two plans, with a range of its own: what is unsure is unsure in both alike."""

from __future__ import annotations

import math

import numpy as np

from vanwater.answers.core.amount import Amount
from vanwater.answers.core.number import Number, difference_of
from vanwater.answers.core.pieces import Piece, Working
from vanwater.answers.core.spread import pairs

__all__ = ["difference", "is_sure"]

_TWO_MODELS = "two models"
_ROUNDING = 1e-12
"""Share by which one sum differs from itself when it is done in another order."""

_DIGITS = 2
_IN_SUM = 5
"""Digits of the two numbers in the sum, so that a reader can follow their difference."""


def difference(number: Number, base: Number, name: str) -> Number:
    """How much more a number is in another plan than in this one.

    Formula: d = b − a in every row; high = d₀ + √Σ max(0, d_low − d₀, d_high − d₀)², low likewise

    Parameters
    ----------
    number : Number
        Of the other plan.
    base : Number
        The same thing's number of this plan.
    name : str
        What the other plan is called, for the key.

    Returns
    -------
    Number
        Its rows are differences row by row: with the habits at their low end in both plans, with the pump weak in both,
        and so on. What moves both numbers alike falls out of its range, which is therefore narrower than what the two
        ranges would give if they were taken as strangers. An input that moves only one of the two moves the difference
        by itself. Where the ends of a range come from two models, each model is held against itself.
    """
    likely = _less(number.likely, base.likely)
    theirs, ours = _ends(number), _ends(base)
    unsure = {**ours, **theirs}
    rows, values = pairs([(label, address) for address, (label, _, _) in unsure.items()]), [likely]
    for address in unsure:
        _, low, high = theirs.get(address, ("", number.likely, number.likely))
        _, base_low, base_high = ours.get(address, ("", base.likely, base.likely))
        values += [_less(low, base_low), _less(high, base_high)]
    quantity = difference_of(base.quantity)
    given = tuple(
        Piece(label, Amount(value, quantity, _IN_SUM))
        for label, value in ((f"with {name}", number.likely), ("less, as planned", -base.likely))
    )
    return Number(
        f"{base.name}, more with {name}",
        quantity,
        np.array(values),
        Working(
            "The number of the other plan less that of this one; what is unsure is taken alike in both.",
            given=given,
            source="difference, row by row",
        ),
        (*base.key, "difference", name) if base.key else (),
        pairs=rows,
        exact="" if rows else base.unranged or number.unranged,
        digits=_DIGITS if rows else max(_DIGITS, base.digits),
    )


def is_sure(told: Number) -> bool:
    """Whether a difference keeps its sign at both ends of its range: nothing unsure turns it or takes it away."""
    if told.likely == 0.0 or math.isnan(told.likely):
        return False
    low, high = told.range or (told.likely, told.likely)
    return low > 0.0 or high < 0.0


def _ends(number: Number) -> dict[str, tuple[str, float, float]]:
    """What moves a number: name and the two ends, by the address of the unsure input."""
    if number.bracket is not None:  # its range is theirs alone
        return {_TWO_MODELS: (_TWO_MODELS, *number.bracket)}
    if number.values.ndim != 1:
        return {}
    return {
        pair.address: (pair.name, float(number.values[pair.low]), float(number.values[pair.high]))
        for pair in number.pairs
    }


def _less(value: float, base: float) -> float:
    """Their difference; none between two that never end, nor where only the last digits of a sum differ."""
    return 0.0 if math.isclose(value, base, rel_tol=_ROUNDING, abs_tol=0.0) else value - base
