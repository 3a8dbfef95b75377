"""One description of a chart, drawn by two pens: what it says, what its axes are, what is drawn.

All numbers are in SI; units are chosen when it is drawn.
"""

from __future__ import annotations

import math
import re
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal, TypeAlias

import numpy as np
import numpy.typing as npt

from vanwater.answers.core.escaping import Medium, harmless
from vanwater.answers.core.number import Number
from vanwater.answers.core.statement import Say
from vanwater.quantities import Array, Quantity

__all__ = ["Axis", "Bars", "Chart", "Draw", "Line", "Mark", "Role", "Rule", "Words", "words"]

Role: TypeAlias = Literal["fresh", "grey", "cold", "hot", "heat", "battery", "urine", "limit", "plain", "saved"]
"""What a line, bar or area stands for; pens give each one look everywhere."""

Words: TypeAlias = str | Say
"""A text of a plan, made harmless when it is drawn, or a sentence of ours."""

_KEY = re.compile(r"[a-z][a-z0-9-]*")
_COLOURS = 5
_UNCOLOURED = ("limit", "plain", "saved")


@dataclass(frozen=True, slots=True)
class Axis:
    """One axis of a chart.

    Parameters
    ----------
    label : str
        What is along it; the unit is added when it is drawn.
    quantity : Quantity, optional
        The quantity; none for an axis of names.
    low, high : float, optional
        Ends in SI that are in sight in any case.
    zero : bool, optional
        Whether zero is in sight; by default it is, but for temperatures.
    firm : bool
        Whether it ends at ``low`` and ``high`` whatever is drawn; bars that reach further are cut there.
    """

    label: str
    quantity: Quantity | None = None
    low: float | None = None
    high: float | None = None
    zero: bool | None = None
    firm: bool = False

    def __post_init__(self) -> None:
        if self.firm and (self.low is None or self.high is None or not self.low < self.high):
            raise ValueError(f"{self.label}: a firm axis wants its two ends")

    def text(self, us: bool = False) -> str:
        """Label and unit."""
        unit = self.quantity.unit(us) if self.quantity else ""
        return f"{self.label} ({unit})" if unit else self.label

    @property
    def from_zero(self) -> bool:
        """Whether zero is in sight."""
        if self.zero is not None or self.quantity is None:
            return bool(self.zero)
        return not any(unit.offset for unit in self.quantity.spellings.values())


@dataclass(frozen=True, slots=True, eq=False)
class Line:
    """A curve, labelled at its end.

    Parameters
    ----------
    role : Role
        What it stands for.
    x, y : array
        Points in SI; a gap where y is not finite.
    label : str or Say
        Label at its end; none for an empty text.
    low, high : array, optional
        Ends of a band around it.
    """

    role: Role
    x: Array
    y: Array
    label: Words = ""
    low: Array | None = None
    high: Array | None = None

    def __post_init__(self) -> None:
        for name in ("x", "y", "low", "high"):
            if getattr(self, name) is not None:
                object.__setattr__(self, name, _fixed(getattr(self, name)))
        shapes = {getattr(self, name).shape for name in ("x", "y", "low", "high") if getattr(self, name) is not None}
        if len(shapes) != 1 or self.x.ndim != 1 or not self.x.size:
            raise ValueError(f"a line wants x, y, low and high of one length, not {sorted(shapes)}")
        if (self.low is None) != (self.high is None):
            raise ValueError("a band wants both low and high")
        if not np.isfinite(self.x).all() or not np.isfinite(self.y).any():
            raise ValueError("a line wants every x known, and at least one y")

    @property
    def end(self) -> tuple[float, float]:
        """The last point that is known."""
        last = np.flatnonzero(np.isfinite(self.y))[-1]
        return float(self.x[last]), float(self.y[last])


@dataclass(frozen=True, slots=True)
class Mark:
    """A point with its name.

    Parameters
    ----------
    role : Role
        What it stands for.
    x, y : float
        Where, in SI.
    label : str or Say
        Its name.
    """

    role: Role
    x: float
    y: float
    label: Words = ""

    def __post_init__(self) -> None:
        if not (math.isfinite(self.x) and math.isfinite(self.y)):
            raise ValueError("a mark wants a known x and y")


@dataclass(frozen=True, slots=True, eq=False)
class Bars:
    """Lying bars, one below the other, each with its name and its value.

    Parameters
    ----------
    role : Role or tuple of Role
        What they stand for, together or one by one.
    names : tuple of str or Say
        Name of each bar.
    values : array
        Where each bar ends, in SI; endless ones reach the edge, unknown ones have no length.
    start : array, optional
        Where each bar starts; at zero without it.
    low, high : array, optional
        Range of each value.
    label : str or Say
        What the bars are, where a chart has several kinds.
    numbers : tuple of Number
        The numbers that the bars show, where each is one.
    pale : bool
        Whether they are drawn pale: what comes to those before them.
    notes : tuple of str or Say
        What is said behind each value; none for an empty text.
    """

    role: Role | tuple[Role, ...]
    names: tuple[Words, ...]
    values: Array
    start: Array | None = None
    low: Array | None = None
    high: Array | None = None
    label: Words = ""
    numbers: tuple[Number, ...] = ()
    pale: bool = False
    notes: tuple[Words, ...] = ()

    @classmethod
    def of(
        cls, role: Role | tuple[Role, ...], names: tuple[Words, ...], numbers: Sequence[Number], label: Words = ""
    ) -> Bars:
        """Bars from zero to each number, with their ranges where any has one."""
        values = np.array([number.likely for number in numbers])
        ends = [number.range or (number.likely, number.likely) for number in numbers]
        low, high = np.array(ends).T if any(number.range for number in numbers) else (None, None)
        return cls(role, names, values, None, low, high, label, tuple(numbers))

    def __post_init__(self) -> None:
        for name in ("values", "start", "low", "high"):
            if getattr(self, name) is not None:
                object.__setattr__(self, name, _fixed(getattr(self, name)))
                if getattr(self, name).shape != (len(self.names),):
                    raise ValueError(f"bars want as many {name} as names, {len(self.names)}")
        if not self.names or len(self.roles) != len(self.names):
            raise ValueError("bars want one role, or one for each name")
        if (self.low is None) != (self.high is None):
            raise ValueError("a range wants both low and high")
        if self.notes and len(self.notes) != len(self.names):
            raise ValueError(f"bars want as many notes as names, {len(self.names)}")

    @property
    def roles(self) -> tuple[Role, ...]:
        """The role of each bar."""
        return (self.role,) * len(self.names) if isinstance(self.role, str) else self.role


@dataclass(frozen=True, slots=True)
class Rule:
    """A thin dashed line across the chart, named: a limit.

    Parameters
    ----------
    label : str or Say
        Its name.
    x, y : float, optional
        Where, in SI; one of the two.
    role : Role
        What it stands for.
    """

    label: Words
    x: float | None = None
    y: float | None = None
    role: Role = "limit"

    def __post_init__(self) -> None:
        if (self.x is None) == (self.y is None):
            raise ValueError("a rule wants x or y, one of the two")
        if not math.isfinite(self.x if self.y is None else self.y):  # type: ignore[arg-type]
            raise ValueError("a rule wants a known place")


Draw: TypeAlias = Line | Mark | Bars | Rule


@dataclass(frozen=True, slots=True, eq=False)
class Chart:
    """What a chart shows.

    Parameters
    ----------
    key : str
        Short name, unlike any other on a page: lower-case letters, digits and hyphens.
    title : str or Say
        What is seen: "Grey is full on day 3".
    x, y : Axis
        The axes; y has no quantity where bars are drawn.
    draws : tuple of Line, Mark, Bars or Rule
        What is drawn, the first at the bottom.
    sentence : str or Say
        The same in a sentence or two for those who do not see it.

    Raises
    ------
    ValueError
        When the key is not usable, nothing is drawn, bars and lines are mixed, or there are more than five
        colours.
    """

    key: str
    title: Words
    x: Axis
    y: Axis
    draws: tuple[Draw, ...]
    sentence: Words = ""

    def __post_init__(self) -> None:
        if not _KEY.fullmatch(self.key):
            raise ValueError(f'key "{self.key}": lower-case letters, digits and hyphens are expected')
        bars = [draw for draw in self.draws if isinstance(draw, Bars)]
        if len(bars) == len(self.draws) == 0:
            raise ValueError(f"{self.key}: nothing is drawn")
        if self.x.quantity is None or (self.y.quantity is None) != bool(bars):
            raise ValueError(f"{self.key}: x wants a quantity, and y one unless bars are drawn")
        if bars and any(
            isinstance(draw, Line | Mark) or (isinstance(draw, Rule) and draw.x is None) for draw in self.draws
        ):
            raise ValueError(f"{self.key}: beside bars only rules at an x can be drawn")
        if any(others.names != bars[0].names for others in bars):
            raise ValueError(f"{self.key}: bars in one chart have the same names")
        if len(self.colours) > _COLOURS:
            raise ValueError(f"{self.key}: {len(self.colours)} colours, at most {_COLOURS} can be told apart")

    @property
    def colours(self) -> frozenset[Role]:
        """The roles that have a colour of their own."""
        roles: set[Role] = set()
        for draw in self.draws:
            roles.update(draw.roles if isinstance(draw, Bars) else (draw.role,))
        return frozenset(roles.difference(_UNCOLOURED))

    @property
    def bars(self) -> tuple[Bars, ...]:
        """The bars among what is drawn."""
        return tuple(draw for draw in self.draws if isinstance(draw, Bars))


def words(text: Words, medium: Medium, us: bool = False) -> str:
    """A text as it may stand in a medium."""
    escape = harmless(medium)
    return text.text(us, escape) if isinstance(text, Say) else escape(text)


def _fixed(values: npt.ArrayLike) -> Array:
    array = np.array(values, dtype=np.float64)
    array.setflags(write=False)
    return array
