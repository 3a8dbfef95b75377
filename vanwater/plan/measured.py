"""What was measured on the van that was built: which number, what was read, on which day, with what."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterator, Mapping
from typing import TYPE_CHECKING, Annotated

from pydantic import BeforeValidator
from pydantic_core import PydanticCustomError

from vanwater.plan.part import Part, asked
from vanwater.plan.problems import Problem, joined, shown

if TYPE_CHECKING:
    from vanwater.plan.model import Plan

__all__ = ["Measured", "measured_twice", "of_no_situation"]

_EXPECTED = 'a day that has been, written as year, month, day: "2026-03-14"'


def _day(value: object) -> object:
    """A day as the file writes it; one that is none, or is still to come, is refused."""
    if not isinstance(value, str):
        raise PydanticCustomError("string_type", "no text")
    try:
        day = dt.date.fromisoformat(value)
    except ValueError:
        message = f"{shown(value)} is no day."
    else:
        if day <= dt.date.today():
            return day.isoformat()
        message = f"{shown(value)} is still to come."
    raise PydanticCustomError("quantity", "{message}", {"message": message, "expected": _EXPECTED, "slip": ""})


class Measured(Part):
    """A value that was measured on the van."""

    number: str = asked(
        "key of the number that was measured, such as outlet.shower.flow, or an address of the plan",
        ...,
        min_length=1,
        max_length=160,
    )
    value: str = asked("what was read, with its unit", ..., min_length=1, max_length=40)
    on: Annotated[str, BeforeValidator(_day)] = asked("day on which it was measured, such as 2026-03-14", ...)
    instrument: str = asked("with what it was measured", ..., min_length=1, max_length=80)
    uncertainty: str | None = asked("how far the instrument may be off, as a value or a share", min_length=1)
    by: str = asked("who measured it", "", max_length=80)
    note: str = asked("what belongs beside it", "", max_length=400)
    situation: str = asked(
        "situation in which it was measured; the plan as it is written if not said", "", max_length=80
    )

    @property
    def day(self) -> dt.date:
        """The day on which it was measured."""
        return dt.date.fromisoformat(self.on)


def measured_twice(measured: Mapping[str, Measured]) -> Iterator[Problem]:
    """Values of one number in one situation, of which nobody knows which holds.

    Parameters
    ----------
    measured : mapping of str to Measured
        By name.

    Yields
    ------
    Problem
        At each but the first, without its place in a file.
    """
    first: dict[tuple[str, str], str] = {}
    for name, each in measured.items():
        what = (each.number.replace('"', ""), each.situation)
        if what in first:
            yield Problem(
                joined(("measured", name, "number")),
                f"{shown(each.number)} is measured twice: also in {shown(first[what])}.",
                "one value of each number, the last that was read",
            )
        first.setdefault(what, name)


def of_no_situation(plan: Plan) -> Iterator[Problem]:
    """Values that are said to belong to a situation that the plan does not have.

    Parameters
    ----------
    plan : Plan
        A plan with all its situations.

    Yields
    ------
    Problem
        Without its place in a file.
    """
    for name, each in plan.measured.items():
        if each.situation and each.situation not in plan.overlays:
            known = ", ".join(map(shown, plan.overlays)) or "none"
            yield Problem(
                joined(("measured", name, "situation")),
                f"The plan has no situation {shown(each.situation)}.",
                f"one of its situations, or none for the plan as it is written; it has: {known}",
            )
