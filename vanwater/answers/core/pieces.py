"""What a number was made of: the pieces that were put in, formula, source."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, TypeAlias

from vanwater.answers.core.amount import Amount, Range
from vanwater.answers.core.statement import Say

if TYPE_CHECKING:
    from vanwater.answers.core.number import Number

__all__ = ["AS_PLANNED", "Piece", "Shown", "Working"]

Shown: TypeAlias = Amount | Range | Say


@dataclass(frozen=True, slots=True)
class Piece:
    """One thing that was put into a sum.

    Parameters
    ----------
    name : str
        Name of the argument, or the label of a piece that adds up.
    value : Amount, Range, Say, Number or str
        What was put in; a plan's own text as str.
    symbol : str
        Its letter in the formula.
    meaning : str
        What it is.
    """

    name: str
    value: Shown | Number | str
    symbol: str = ""
    meaning: str = ""


@dataclass(frozen=True, slots=True, eq=False)
class Working:
    """What a number was made of.

    Parameters
    ----------
    meaning : str
        What was computed, in one sentence; the method where there is no closed formula.
    formula : str
        The formula in one line, or an empty text.
    given : sequence of Piece
        What was put in, or the pieces that add up.
    source : str
        Published source of the formula, or "common practice".
    note : str
        Range of validity and assumptions.
    facts : tuple of Piece
        What else belongs beside it: counts, seeds, the closed form, what was left unbalanced.
    function : callable, optional
        The function of the physics whose docstring this is.
    arguments : mapping of str to object
        What it was, or would be, called with.
    take : str
        The field of its result that is the number, where that has several.
    """

    meaning: str
    formula: str = ""
    given: Sequence[Piece] = ()
    source: str = ""
    note: str = ""
    facts: tuple[Piece, ...] = ()
    function: Callable[..., object] | None = None
    arguments: Mapping[str, object] = field(default_factory=dict)
    take: str = ""


AS_PLANNED = Working("As the plan gives it.", source="the plan")
"""Of what has no sum: the plan says it."""
