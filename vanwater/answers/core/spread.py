"""The range of a result from inputs that are not sure, solved as extra rows of one batch.

Row 0 is the plan as written. Each unsure input adds two rows, one with the input at its low end and one at its
high end, everything else as in row 0. Their deviations are combined for each side by root-sum-square.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from vanwater.answers.core.amount import Range
from vanwater.quantities import Array, Quantity

__all__ = ["Influence", "Spread", "UnsureRows", "influences", "pairs", "reciprocal", "spread"]


@dataclass(frozen=True, slots=True)
class UnsureRows:
    """The two rows in which one unsure input is varied.

    Parameters
    ----------
    name : str
        The input in words ("the handset's litres at 1 bar").
    address : str
        Where it stands in the plan, which is what to measure first.
    low, high : int
        Row with the input at its low end, row with it at its high end; 0 where there is none.
    factors : tuple of two floats, optional
        What the input is multiplied by at either end, where it is.
    """

    name: str
    address: str
    low: int
    high: int
    factors: tuple[float, float] | None = None


@dataclass(frozen=True, slots=True, eq=False)
class Spread:
    """Likely values with the ends of their ranges.

    Parameters
    ----------
    low, likely, high : array
        Values in SI, without the axis of rows.
    """

    low: Array
    likely: Array
    high: Array

    def range(self, quantity: Quantity, digits: int = 3) -> Range:
        """The range of a single number, ready for a sentence.

        Raises
        ------
        ValueError
            When there are several numbers.
        """
        if self.likely.size != 1:
            raise ValueError(f"range: a single number is expected, not {self.likely.size}; take one with at()")
        return Range(self.low.item(), self.likely.item(), self.high.item(), quantity, digits)

    def at(self, index: int | tuple[int, ...]) -> Spread:
        """One of several numbers."""
        return Spread(*(np.asarray(end[index]) for end in (self.low, self.likely, self.high)))


@dataclass(frozen=True, slots=True)
class Influence:
    """How much one unsure input moves a result.

    Parameters
    ----------
    name, address : str
        The input, in words and as the place in the plan.
    low, high : float
        The result with the input at its low end and at its high end, in SI.
    swing : float
        The larger of the two moves, in SI, without sign.
    share : float
        Its part of the squared swings of all inputs, 0 to 1.
    """

    name: str
    address: str
    low: float
    high: float
    swing: float
    share: float


def pairs(inputs: Sequence[tuple[str, str]], first: int = 1) -> tuple[UnsureRows, ...]:
    """Lay out rows for unsure inputs, low before high, one pair after the other.

    Parameters
    ----------
    inputs : sequence of (name, address)
        The unsure inputs.
    first : int
        The first row that is free.

    Returns
    -------
    tuple of UnsureRows
        Two rows for each input.
    """
    return tuple(
        UnsureRows(name, address, first + 2 * place, first + 2 * place + 1)
        for place, (name, address) in enumerate(inputs)
    )


def spread(values: npt.ArrayLike, rows: Sequence[UnsureRows], least: float = -math.inf) -> Spread:
    """Combine the moves of the unsure inputs into one range.

    Formula: high = x₀ + √Σ max(0, x_low − x₀, x_high − x₀)², low likewise

    Parameters
    ----------
    values : array
        Results, rows along the first axis, in SI; further axes are further results.
    rows : sequence of UnsureRows
        Where each unsure input is varied.
    least : float
        What a result cannot fall below, such as 0 for a flow.

    Returns
    -------
    Spread
        Low, likely and high, without the axis of rows. An end is infinite where a result without end is
        among its rows; where a row is not known, neither end is.

    Raises
    ------
    ValueError
        When a row lies outside the values.

    Notes
    -----
    One input at a time, inputs independent, and the result nearly straight between the ends of an input.

    References
    ----------
    JCGM 100:2008 (GUM), 5.1.2, equation (10), with finite differences for its derivatives as in note 2 of
    5.1.3 (the note from memory); the two sides are kept apart.
    """
    table = _table(values, rows)
    likely = table[0]
    ends = table[[row for pair in rows for row in (pair.low, pair.high)]].reshape(-1, 2, *likely.shape)
    with np.errstate(invalid="ignore"):
        moves = np.where(ends == likely, 0.0, ends - likely)  # none between two results without end
        up = np.hypot.reduce(moves.max(axis=1, initial=0.0), axis=0)
        down = np.hypot.reduce(moves.min(axis=1, initial=0.0), axis=0)
        low, high = likely - down, likely + up
    if np.isinf(likely).any():  # one end is the plan itself, the other the nearest of its rows
        every = np.concatenate([likely[np.newaxis], ends.reshape(-1, *likely.shape)])
        endless = np.isinf(likely)
        low, high = np.where(endless, every.min(axis=0), low), np.where(endless, every.max(axis=0), high)
    unknown = np.isnan(moves).any(axis=(0, 1)) | np.isnan(likely)
    low, high = (np.where(unknown, np.nan, np.maximum(end, least)) for end in (low, high))
    return Spread(low, likely, high)


def reciprocal(rates: npt.ArrayLike, rows: Sequence[UnsureRows]) -> Spread:
    """The range of a time from what is used up of a store in a unit of time, combined and then turned round.

    Formula: x = 1/r where r > 0, without end else; low = 1/r_high, high = 1/r_low

    Parameters
    ----------
    rates : array
        Shares of the store that a unit of time takes, rows along the first axis, in SI; below zero where the store
        gains.
    rows : sequence of UnsureRows
        Where each unsure input is varied.

    Returns
    -------
    Spread
        Low, likely and high of the time. The rate adds up of what the inputs move, so its range never passes that of
        all inputs at their worst together; a quotient's near balance does.

    Raises
    ------
    ValueError
        When a row lies outside the values.

    References
    ----------
    As :func:`spread`; JCGM 101:2008, 1, says where a quotient is too crooked for it (from memory).
    """
    ends = spread(rates, rows)
    return Spread(*(_turned(rate) for rate in (ends.high, ends.likely, ends.low)))


def _turned(rate: Array) -> Array:
    turned = np.full(np.shape(rate), np.inf)
    with np.errstate(over="ignore"):
        np.divide(1.0, rate, out=turned, where=~(np.asarray(rate) <= 0.0))  # not known stays not known
    return turned


def influences(values: npt.ArrayLike, rows: Sequence[UnsureRows]) -> tuple[Influence, ...]:
    """How much each unsure input moves a result, the one that it hangs on most first.

    Parameters
    ----------
    values : array
        One result for each row, in SI.
    rows : sequence of UnsureRows
        Where each unsure input is varied.

    Returns
    -------
    tuple of Influence
        By swing; those whose rows are not known come last, with a swing of NaN and no share.

    Raises
    ------
    ValueError
        When a row lies outside the values, or there is more than one result a row.
    """
    table = _table(values, rows)
    if table.ndim != 1:
        raise ValueError(f"values: one result for each row is expected, not shape {table.shape}")
    each: list[float] = table.tolist()
    ends = [(each[pair.low], each[pair.high]) for pair in rows]
    moves = [[0.0 if end == each[0] else abs(end - each[0]) for end in pair] for pair in ends]
    swings = [math.nan if math.isnan(sum(pair)) else max(move) for pair, move in zip(ends, moves, strict=True)]
    shares = _shares(swings)
    moved = [
        Influence(unsure.name, unsure.address, *pair, swing, share)
        for unsure, pair, swing, share in zip(rows, ends, swings, shares, strict=True)
    ]
    return tuple(sorted(moved, key=lambda influence: math.inf if math.isnan(influence.swing) else -influence.swing))


def _table(values: npt.ArrayLike, rows: Sequence[UnsureRows]) -> Array:
    table = np.atleast_1d(np.asarray(values, dtype=np.float64))
    last = max((row for pair in rows for row in (pair.low, pair.high)), default=0)
    if last >= len(table) or any(row < 0 for pair in rows for row in (pair.low, pair.high)):
        raise ValueError(f"rows: the values have rows 0 to {len(table) - 1}, row {last} is asked for")
    return table


def _shares(swings: Sequence[float]) -> list[float]:
    known = [swing for swing in swings if not math.isnan(swing)]
    if any(math.isinf(swing) for swing in known):
        endless = sum(map(math.isinf, known))
        return [1 / endless if math.isinf(swing) else 0.0 for swing in swings]
    top = max(known, default=0.0)
    total = sum((swing / top) ** 2 for swing in known) if top else 0.0
    return [0.0 if not total or math.isnan(swing) else (swing / top) ** 2 / total for swing in swings]
