"""A van worked by hand, asked the same questions: what the hand found beside what is reckoned here."""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np

from vanwater.answers.core.cell import Cell
from vanwater.answers.core.number import Number
from vanwater.answers.core.statement import Amount, say
from vanwater.answers.core.table import Column, Table
from vanwater.answers.questions import QUESTIONS
from vanwater.panels import markup
from vanwater.panels.pieces import Shown
from vanwater.panels.worked_plan import PLANS, plan_of
from vanwater.plan.tables import resource
from vanwater.quantities import SHARE, STAY, TEMPERATURE, TEMPERATURE_DIFFERENCE, Quantity

__all__ = ["Worked", "compared", "worked_van"]

_UNITS = {"1/h": "an hour", "C": "°C", "Wh thermal": "Wh", "bar gauge": "bar", "-": ""}
"""What the file calls otherwise."""

_BRACKET = 0.02  # how far the ends of a bracket may lie off: 1 kg a litre against true densities


@dataclass(frozen=True, slots=True)
class Worked:
    """One number worked by hand, and the same from the answer.

    Parameters
    ----------
    what : str
        What it is.
    by_hand, here : float
        The two, in SI.
    within : float
        How far apart they may lie.
    quantity : Quantity
        What kind of number.
    share : bool
        Whether that is a share of the value, or an amount of its own.
    above : float, optional
        The upper end, where the hand found two ends and the number lies between.
    """

    what: str
    by_hand: float
    here: float
    within: float
    quantity: Quantity = STAY
    share: bool = True
    above: float | None = None

    @property
    def agrees(self) -> bool:
        """Whether they lie close enough."""
        if self.above is not None:
            return self.by_hand <= self.here <= self.above
        return abs(self.here - self.by_hand) <= self.within * (abs(self.by_hand) if self.share else 1.0)

    def cells(self) -> tuple[Cell, ...]:
        """A row of the table."""
        hand: Cell = self._told(self.by_hand)
        apart = TEMPERATURE_DIFFERENCE if self.quantity is TEMPERATURE else self.quantity
        within: Cell = Amount(self.within, SHARE if self.share else apart)
        if self.above is not None:
            ends = (self._told(end) for end in (self.by_hand, self.above))
            hand, within = say("{low} to {high}", **dict(zip(("low", "high"), ends, strict=True))), None
        return (self.what, hand, self._told(self.here), within, markup.agreement(self.agrees))

    def _told(self, value: float) -> Amount:
        """A number that is compared: finer than the step that it is told in elsewhere."""
        return Amount(value, self.quantity, 5 if self.quantity.steps else 3)


def worked_van(key: str = "S3", question: str = "stay") -> Shown:
    """What a worked van answers to a question, by hand and here, side by side.

    Parameters
    ----------
    key : str
        Which van of ``data/validation/worked_vans.json``.
    question : str
        Its key.

    Returns
    -------
    Shown
        A table.
    """
    van = _van(key)
    rows = compared(van, question)
    columns = tuple(map(Column, ("number", "by hand", "here", "may differ by", "")))
    caption = say("{title}. Source: {source}.", title=van["title"], source=_read()["source"])
    table = Table("worked", caption, columns, tuple(row.cells() for row in rows))
    return Shown(table.html(), table.text())


def compared(van: Mapping[str, Any], question: str = "stay") -> tuple[Worked, ...]:
    """Each number of a worked van that a question answers, by hand and here.

    Parameters
    ----------
    van : mapping
        One of ``data/validation/worked_vans.json``.
    question : str
        Its key.

    Returns
    -------
    tuple of Worked
        In the order of the file.
    """
    record = QUESTIONS[question]
    answer = record.ask(PLANS.get(question, plan_of)(van))
    numbers = {
        words: [(pair.what, answer.numbers[pair.key]) for pair in pairs if pair.key in answer.numbers]
        for words, pairs in record.worked.items()
    }
    expectations = (expected for expected in van["expected"] if expected["quantity"] in numbers)
    return tuple(row for expected in expectations for row in _rows(expected, numbers[expected["quantity"]]))


def _rows(expected: Mapping[str, Any], numbers: Sequence[tuple[str, Number]]) -> Iterator[Worked]:
    """One row; two where the two ends of a bracket are numbers of their own."""
    (what, first), unit, kind = numbers[0], expected["unit"], expected["tolerance_kind"]
    known = first.quantity.spellings[_UNITS.get(unit, unit)]
    value = np.asarray(known.to_si(np.asarray(expected["value"], dtype=np.float64)), dtype=np.float64)
    if len(numbers) > 1:
        for (name, number), end in zip(numbers, value.tolist(), strict=True):
            yield Worked(name, end, number.likely, _BRACKET, number.quantity)
    elif kind == "inside":
        low, high = value.tolist()
        yield Worked(what, low, first.likely, 0.0, first.quantity, above=high)
    else:
        within = expected.get("strict_tolerance", expected["tolerance"])
        yield Worked(what, float(value), first.likely, within, first.quantity, kind == "rel")


def _read() -> dict[str, Any]:
    read: dict[str, Any] = json.loads(resource("data", "validation", "worked_vans.json").read_text(encoding="utf-8"))
    return read


def _van(key: str) -> Mapping[str, Any]:
    known: dict[str, Mapping[str, Any]] = {van["id"]: van for van in _read()["scenarios"]}
    if key not in known:
        raise KeyError(f"There is no worked van {key}; there are {', '.join(known)}.")
    return known[key]
