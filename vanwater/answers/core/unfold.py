"""A number's sum as an indented tree of lines."""

from __future__ import annotations

import html
from collections.abc import Callable, Iterator
from typing import TYPE_CHECKING

from vanwater.answers.core.amount import Amount, Range
from vanwater.answers.core.pieces import AS_PLANNED, Shown
from vanwater.answers.core.statement import Say
from vanwater.quantities import retold

if TYPE_CHECKING:
    from vanwater.answers.core.number import Number

__all__ = ["Seen", "Unfolded", "unfolded"]

Seen = dict[int | tuple[str, ...], str]
"""Which numbers and formulas were told already, each with the heading that it stands under."""


class Unfolded(str):
    """A sum as text, which a notebook shows as it is."""

    __slots__ = ()

    def __repr__(self) -> str:
        return str(self)

    def _repr_html_(self) -> str:
        return f"<pre>{html.escape(self)}</pre>"


def unfolded(
    number: Number,
    us: bool,
    escape: Callable[[str], str],
    depth: int | None,
    seen: Seen | None,
    label: str = "",
    under: str = "",
) -> Iterator[str]:
    """The lines of a number's sum; what stood above already, here or under another heading, is not unfolded twice.

    Nor is told again what a formula and its letters mean, and where it comes from.
    """
    seen = {} if seen is None else seen
    head = f"{label or escape(number.name)} = {_words(number.result, us, escape)}"
    if label and number.made_of is AS_PLANNED:  # it has no sum
        yield f"{head}, as the plan gives it"
        return
    if id(number) in seen:
        yield f"{head} ({_where(seen[id(number)], under, 'worked out above')})"
        return
    seen[id(number)] = under
    yield head
    if depth is not None and depth <= 0:
        return
    sum_ = number.made_of
    law = (sum_.meaning, sum_.formula, sum_.note, sum_.source)
    again = seen.get(law) if sum_.formula else None
    if again is None:
        seen[law] = under
        yield from (f"  {retold(line, us)}" for line in (sum_.meaning, sum_.formula) if line)
    else:
        yield f"  {retold(sum_.formula, us)} ({_where(again, under, 'as above')})"
    for piece in (*sum_.given, *sum_.facts):
        known = piece.symbol or escape(piece.name)
        if not isinstance(piece.value, Amount | Range | Say | str):
            inner = f"{known} ({escape(piece.value.name)})" if piece.symbol else escape(piece.value.name)
            deeper = unfolded(piece.value, us, escape, None if depth is None else depth - 1, seen, inner, under)
            yield from (f"  {line}" for line in deeper)
        else:
            meaning = f"  {retold(piece.meaning, us)}" if piece.meaning and again is None else ""
            yield f"  {known} = {_words(piece.value, us, escape)}{meaning}"
    if sum_.note and again is None:
        yield f"  Note: {retold(sum_.note, us)}"
    if sum_.source and again is None:
        yield f"  Source: {retold(sum_.source, us)}"


def _where(stands: str, under: str, here: str) -> str:
    return here if stands == under else f"as in {stands}"


def _words(value: Shown | str, us: bool, escape: Callable[[str], str]) -> str:
    if isinstance(value, str):
        return escape(value)
    return value.text(us, escape) if isinstance(value, Say) else value.text(us)
