"""A day in words, which no reader takes for another one."""

from __future__ import annotations

import datetime as dt

from vanwater.answers.core.statement import BySystem

__all__ = ["dated", "day_in_either"]

_MONTHS = (
    "January", "February", "March", "April", "May", "June",
    "July", "August", "September", "October", "November", "December",
)  # fmt: skip


def dated(date: dt.date, us: bool = False) -> str:
    """A date in words, which no reader takes for another one: "25 November 2026".

    Parameters
    ----------
    date : datetime.date
        The day.
    us : bool
        The American order: "November 25, 2026".

    Returns
    -------
    str
        Day, month and year, whatever language the computer speaks.
    """
    month = _MONTHS[date.month - 1]
    return f"{month} {date.day}, {date.year}" if us else f"{date.day} {month} {date.year}"


def day_in_either(date: dt.date) -> BySystem:
    """A day as it stands in a sentence: "14 March 2026", for who reads US units "March 14, 2026"."""
    return BySystem(dated(date), dated(date, us=True))
