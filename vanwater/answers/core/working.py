"""The working of a number: formula, what was put in, result, source.

The docstring is the sum. :func:`step` calls a function of the physics and reads formula, meaning, unit and
source from its docstring and annotations, so that formula, unit, source and code cannot part. What is put in
may itself be a step: then the sum unfolds as a tree. :func:`shown` does the same for a number without a closed
formula, by the pieces that add up to it.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field
from enum import Enum
from functools import partial
from typing import TypeAlias

import numpy as np

from vanwater.answers.core.docstring import Documented, documented
from vanwater.answers.core.later import Later
from vanwater.answers.core.statement import Amount, Range, Say, harmless, say
from vanwater.quantities import Array, Quantity, Real

__all__ = ["Piece", "Shown", "Step", "shown", "step"]

Shown: TypeAlias = Amount | Range | Say
_ADDS_UP = 1e-6


@dataclass(frozen=True, slots=True)
class Piece:
    """One thing that was put into a sum.

    Parameters
    ----------
    name : str
        Name of the argument, or the label of a piece that adds up.
    value : Amount, Range, Say, Step or str
        What was put in; a plan's own text as str.
    symbol : str
        Its letter in the formula.
    meaning : str
        What it is.
    """

    name: str
    value: Shown | Step | str
    symbol: str = ""
    meaning: str = ""


@dataclass(frozen=True, slots=True, eq=False)
class Step:
    """A number with its sum.

    Parameters
    ----------
    name : str
        What the number is called here.
    meaning : str
        What was computed, in one sentence; the method where there is no closed formula.
    formula : str
        The formula in one line, or an empty text.
    given : sequence of Piece
        What was put in, or the pieces that add up.
    result : Amount, Range or Say
        The number in words, for the first row.
    value : array
        The numbers of all rows, in SI.
    source : str
        Published source of the formula, or "common practice".
    note : str
        Range of validity and assumptions.
    facts : tuple of Piece
        What else belongs beside it: counts, seeds, the closed form, what was left unbalanced.
    """

    name: str
    meaning: str
    formula: str
    given: Sequence[Piece]
    result: Shown
    value: Array = field(repr=False)
    source: str = ""
    note: str = ""
    facts: tuple[Piece, ...] = ()

    def walk(self) -> Iterator[tuple[int, Step]]:
        """Every step of the tree once, with its depth, the result first."""
        seen: set[int] = set()
        waiting = [(0, self)]
        while waiting:
            depth, one = waiting.pop()
            if id(one) in seen:
                continue
            seen.add(id(one))
            yield depth, one
            inner = [piece.value for piece in (*one.given, *one.facts) if isinstance(piece.value, Step)]
            waiting += [(depth + 1, deeper) for deeper in reversed(inner)]

    def lines(
        self, us: bool = False, escape: Callable[[str], str] | None = None, depth: int | None = None
    ) -> list[str]:
        """The sum as an indented tree.

        Parameters
        ----------
        us : bool
            US units instead of metric ones.
        escape : callable, optional
            What makes a plan's own text harmless where the lines are shown.
        depth : int, optional
            How many levels are unfolded; all without it.

        Returns
        -------
        list of str
            The lines, two spaces of indent a level.
        """
        return list(_unfolded(self, us, escape or harmless("terminal"), depth, set()))


def step(name: str, function: Callable[..., object], /, *, take: str = "", **given: object) -> Step:
    r"""Call a function of the physics and keep its sum.

    Parameters
    ----------
    name : str
        What the result is called here.
    function : callable
        A public function of the physics: documented, its arguments and result annotated with quantities.
    take : str
        Field of the result to keep, where the function returns a dataclass.
    **given : float, array, Amount, Step or other
        The function's arguments; a step stands for its value.

    Returns
    -------
    Step
        The result with what was put in, formula and source.

    Raises
    ------
    ValueError
        When the result has no quantity, or ``take`` is missing or not a field of the result.
    TypeError
        When the function does not take these arguments.

    Examples
    --------
    >>> from vanwater.quantities import Area, Flow, Real, Speed
    >>> def speed(flow: Flow[Real], area: Area[Real]) -> Speed[Array]: return np.asarray(flow / area)
    >>> step("speed in the hose", speed, flow=1e-4, area=1e-4).result.text()
    '1\xa0m/s'
    """
    read = documented(function)
    quantity, field_meaning = read.result(take)
    got = function(**{argument: _number(value) for argument, value in given.items()})
    value = np.array(getattr(got, take) if take else got, dtype=np.float64)
    kept = {name: one.copy() if isinstance(one, np.ndarray) else one for name, one in given.items()}
    meaning = field_meaning or read.meaning
    put_in = Later(partial(_pieces, read, kept))
    return Step(name, meaning, read.formula, put_in, _shown(value, quantity, False), value, read.source, read.note)


def shown(
    name: str,
    result: Shown,
    method: str,
    *,
    parts: Sequence[tuple[str, Amount | Step]] = (),
    facts: Sequence[tuple[str, Shown | Step | str]] = (),
    residual: Amount | None = None,
    value: Real | None = None,
    source: str = "",
    note: str = "",
) -> Step:
    """Keep the working of a number that has no closed formula.

    Parameters
    ----------
    name : str
        What the result is called here.
    result : Amount, Range or Say
        The number.
    method : str
        How it was found, in one sentence.
    parts : sequence of (label, Amount or Step)
        The pieces that add up to the result.
    facts : sequence of (label, Amount, Range, Say, Step or str)
        What else belongs beside it: count, seed and quantile of a simulation, the closed form.
    residual : Amount, optional
        What the solution left unbalanced.
    value : float or array, optional
        The numbers of all rows, in SI; the result's own without it.
    source : str
        Published source of the method, or "common practice".
    note : str
        Range of validity and assumptions.

    Returns
    -------
    Step
        The result with its pieces.

    Raises
    ------
    ValueError
        When the pieces do not add up to the result.
    """
    likely = _likely(result)
    _add_up(name, result, [part.result if isinstance(part, Step) else part for _, part in parts], residual)
    beside = [Piece(label, fact) for label, fact in facts]
    if residual is not None:
        beside.append(Piece("left unbalanced", residual))
    kept = np.asarray(likely if value is None else value, dtype=np.float64)
    return Step(
        name, method, "", tuple(Piece(label, part) for label, part in parts), result, kept, source, note, tuple(beside)
    )


def _add_up(name: str, result: Shown, parts: Sequence[Shown], residual: Amount | None) -> None:
    """Refuse pieces that are of another quantity than the result or add up to something else."""
    if isinstance(result, Say) or not parts or not math.isfinite(_likely(result)):
        return
    unit = result.quantity.si
    if any(isinstance(part, Say) or part.quantity.si != unit for part in parts):
        raise ValueError(f"{name}: a piece is of another quantity than the result")
    numbers = [_likely(part) for part in parts]
    left = abs(residual.value) if residual is not None and residual.quantity.si == unit else 0.0
    if not abs(sum(numbers) - _likely(result)) <= left + _ADDS_UP * max(map(abs, numbers)):
        raise ValueError(f"{name}: the pieces add up to {sum(numbers):g}, not to the result {_likely(result):g}")


def _number(value: object) -> object:
    if isinstance(value, Step):
        return value.value
    return value.value if isinstance(value, Amount) else value


def _pieces(read: Documented, given: dict[str, object]) -> Iterator[Piece]:
    for name, argument in read.arguments.items():
        value = given.get(name, argument.default)
        if value is None:
            continue
        words: Shown | Step | str
        if isinstance(value, Step | Amount):
            words = value
        elif argument.quantity is None:
            words = value.name.lower().replace("_", " ") if isinstance(value, Enum) else _plain_words(value)
        else:
            words = _shown(np.asarray(value, dtype=np.float64), argument.quantity, argument.series)
        yield Piece(name, words, argument.symbol, argument.meaning)


def _plain_words(value: object) -> str:
    if isinstance(value, bool):
        return "yes" if value else "no"
    return value if isinstance(value, str) else getattr(value, "name", None) or type(value).__name__.lower()


def _shown(value: Array, quantity: Quantity, series: bool) -> Amount | Say:
    """The first row in words; the ends where one row holds several numbers."""
    row = value if series or value.ndim == 0 else value[0]
    if row.size == 1:
        return Amount(float(row.item()), quantity)
    if row.size == 0:
        return say("none")
    ends = {"low": Amount(float(row.min()), quantity), "high": Amount(float(row.max()), quantity)}
    return say("{low} to {high} in {count} values", **ends, count=row.size)


def _likely(result: Shown) -> float:
    if isinstance(result, Say):
        return math.nan
    return result.likely if isinstance(result, Range) else result.value


def _unfolded(
    one: Step, us: bool, escape: Callable[[str], str], depth: int | None, seen: set[int], label: str = ""
) -> Iterator[str]:
    head = f"{label or escape(one.name)} = {_words(one.result, us, escape)}"
    if id(one) in seen:
        yield f"{head} (worked out above)"
        return
    seen.add(id(one))
    yield head
    if depth is not None and depth <= 0:
        return
    if one.meaning:
        yield f"  {one.meaning}"
    if one.formula:
        yield f"  {one.formula}"
    for piece in (*one.given, *one.facts):
        known = f"{piece.symbol or escape(piece.name)}"
        if isinstance(piece.value, Step):
            inner = f"{known} ({escape(piece.value.name)})" if piece.symbol else escape(piece.value.name)
            deeper = _unfolded(piece.value, us, escape, None if depth is None else depth - 1, seen, inner)
            yield from (f"  {line}" for line in deeper)
        else:
            meaning = f"  {piece.meaning}" if piece.meaning else ""
            yield f"  {known} = {_words(piece.value, us, escape)}{meaning}"
    if one.note:
        yield f"  Note: {one.note}"
    if one.source:
        yield f"  Source: {one.source}"


def _words(value: Shown | str, us: bool, escape: Callable[[str], str]) -> str:
    if isinstance(value, str):
        return escape(value)
    return value.text(us, escape) if isinstance(value, Say) else value.text(us)
