"""What moves a number, the strongest first: as a table, a data frame and a chart."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any, Literal, TypeAlias

import numpy as np

from vanwater.answers.core.cell import Cell
from vanwater.answers.core.chart import Axis, Bars, Chart, Role, Rule
from vanwater.answers.core.number import Number, difference_of
from vanwater.answers.core.statement import Say, say
from vanwater.answers.core.table import Column, Table
from vanwater.answers.core.working import stated
from vanwater.plan.model import Plan

if TYPE_CHECKING:
    import pandas as pd

__all__ = ["Bar", "End", "Kind", "Tornado"]

_DRAWN = 12
"""Bars that a chart shows; a table has all of them."""

Kind: TypeAlias = Literal["not known well", "could be built otherwise"]


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class End:
    """One end of a bar.

    Parameters
    ----------
    put_in : str
        What was put in: "25 % lower", "fresh tank 70 L"; empty where nothing is sold there.
    number : Number or None
        What the number comes to; None where it is not decided, or such a plan is not possible.
    values : mapping of str to object
        The plan's values with it, by address; empty for an unsure input.
    problem : str
        Why there is no such plan.
    """

    put_in: str = ""
    number: Number | None = None
    values: Mapping[str, Any] = field(default_factory=dict)
    problem: str = ""

    @property
    def value(self) -> float:
        """What the number comes to [SI]; nan where it is not known."""
        return math.nan if self.number is None else self.number.likely


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Bar:
    """How far one thing moves the number.

    Parameters
    ----------
    name : str
        What is changed, in words.
    address : str
        Where in the plan, or the key of the unsure input.
    kind : str
        Whether it is not known well, or could be built otherwise.
    low, high : End
        With less of it, and with more of it.
    swing : float
        The larger of the two moves, without sign [SI].
    """

    name: str
    address: str
    kind: Kind
    low: End
    high: End
    swing: float

    @property
    def told(self) -> tuple[End, ...]:
        """The ends at which the number is known."""
        return tuple(end for end in (self.low, self.high) if end.number is not None)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False, repr=False)
class Tornado:
    """What moves a number, the strongest first; see :func:`vanwater.options.tornado.tornado`.

    Parameters
    ----------
    plan : Plan
        The plan.
    number : Number
        The number, as planned.
    key : str
        Its key.
    bars : tuple of Bar
        What moves it by as much as a reader sees.
    still : tuple of str
        What does not, in words.
    """

    plan: Plan
    number: Number
    key: str
    bars: tuple[Bar, ...]
    still: tuple[str, ...]

    @property
    def table(self) -> Table:
        """The bars as a table, the strongest first, each end with what was put in."""
        heads = ("what", "kind", "less of it", "then", "more of it", "then so", "moves it by")
        rows = tuple(
            (bar.name, bar.kind, *self._end(bar.low), *self._end(bar.high), self._swing(bar)) for bar in self.bars
        )
        return Table(
            "tornado",
            say("What moves {what}, {number} as planned, the strongest first.", what=self._what, number=self.number),
            tuple(Column(head) for head in heads),
            rows,
            say("Without effect: {still}.", still=self.still) if self.still else None,
        )

    def frame(self, *, si: bool = False, us: bool | None = None) -> pd.DataFrame:
        """The bars as a data frame.

        Parameters
        ----------
        si : bool
            SI units instead of those that the plan is shown in.
        us : bool, optional
            US units, or metric ones, instead of the plan's own.

        Returns
        -------
        pandas.DataFrame
            By address: name, kind, what was put in at both ends, the number there, and the larger of the two moves.

        Raises
        ------
        ImportError
            When pandas is not installed.
        """
        import pandas as pd

        us = self.plan.us if us is None else us
        quantity = self.number.quantity
        unit = quantity.si if si else quantity.unit(us)
        of = f" [{unit}]" if unit not in ("", "1") else ""

        def shown(value: float) -> float:
            return value if si else float(quantity.show(value, us))

        planned = shown(self.number.likely)
        rows = [
            {
                "what": bar.name,
                "kind": bar.kind,
                "less of it": bar.low.put_in,
                f"then{of}": shown(bar.low.value),
                "more of it": bar.high.put_in,
                f"then so{of}": shown(bar.high.value),
                f"moves it by{of}": max(
                    (abs(move) for end in (bar.low, bar.high) if not math.isnan(move := shown(end.value) - planned)),
                    default=math.nan,
                ),
            }
            for bar in self.bars
        ]
        return pd.DataFrame(rows, index=[bar.address for bar in self.bars])

    def chart(self, most: int = _DRAWN) -> Chart:
        """The strongest bars, from the plan's number to where each end takes it.

        Parameters
        ----------
        most : int
            How many are drawn.

        Returns
        -------
        Chart
            Less of it in one look, more of it in another.

        Raises
        ------
        ValueError
            When nothing moves it, or the number never ends.
        """
        drawn, planned = self.bars[:most], self.number.likely
        if not drawn or not math.isfinite(planned):
            raise ValueError(f"{self.key}: nothing moves it, or it has no end, so there is nothing to draw")
        names = tuple(bar.name for bar in drawn)
        start = np.full(len(drawn), planned)
        looks: tuple[tuple[Role, str], ...] = (("cold", "less of it"), ("hot", "more of it"))
        ends = {"less of it": [bar.low for bar in drawn], "more of it": [bar.high for bar in drawn]}
        less, more = (
            Bars(
                role,
                names,
                np.array([planned if math.isnan(end.value) else end.value for end in ends[label]]),
                start,
                label=label,
                numbers=tuple(end.number or self.number for end in ends[label]),
            )
            for role, label in looks
        )
        return Chart(
            "tornado",
            say("What moves {what} most: {first}", what=self._what, first=names[0]),
            Axis(self.number.name, self.number.quantity, zero=False),
            Axis("what is changed"),
            (less, more, Rule("as planned", x=planned)),
            say("{each}.", each=tuple(self._told(bar) for bar in drawn)),
        )

    @property
    def _what(self) -> str:
        return self.number.name

    def _end(self, end: End) -> tuple[Cell, Cell]:
        if end.number is None:
            return end.put_in or "nothing sold", say("no such plan") if end.problem else None
        return end.put_in, end.number.amount

    def _swing(self, bar: Bar) -> Cell:
        moved = stated(
            f"how far {bar.name} moves {self.number.name}",
            bar.swing,
            difference_of(self.number.quantity),
            "The larger of its two moves, without sign.",
            source="solved alike with that one change",
        )
        return moved.keyed(*self.number.key, "swing", bar.name, digits=2).amount

    def _told(self, bar: Bar) -> Say:
        pairs = ((end.put_in, end.number) for end in bar.told)
        each = tuple(say("{put_in}: {number}", put_in=name, number=number) for name, number in pairs if number)
        return say("{name} ({each})", name=bar.name, each=each)

    def __repr__(self) -> str:
        return f"<what moves {self.key}: {', '.join(bar.name for bar in self.bars[:3])}>"

    def _repr_html_(self) -> str:
        return self.table.html(self.plan.us)
