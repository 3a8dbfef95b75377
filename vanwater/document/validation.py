"""Against what the sums were held: published cases by kind, counted from the data that go with the package."""

from __future__ import annotations

import csv

from vanwater.answers.core.cell import Cell
from vanwater.answers.core.statement import Count, Say, say
from vanwater.answers.core.table import Column, Table
from vanwater.answers.core.working import stated
from vanwater.plan.tables import resource
from vanwater.quantities import SHARE

__all__ = ["held_against", "held_against_table"]


def held_against() -> Say:
    """How many published cases there are, and how many of their values were seen printed.

    Returns
    -------
    Say
        One sentence.
    """
    rows = _rows()
    cases, seen = (sum(int(row[column]) for row in rows) for column in ("cases", "seen"))
    return say(
        "{cases} are worked out anew whenever the package is tested; {seen} of their values were seen in print, the "
        "others are told by second hand, derived or from memory.",
        cases=Count(cases, "published case", "published cases"),
        seen=f"{seen}",
    )


def held_against_table() -> Table:
    """Kinds of sums with the number of published cases and the one that is furthest off.

    Returns
    -------
    Table
        A row a kind, as ``data/validation/summary.csv`` has it.
    """
    heads = ("kind of sum", "cases", "seen", "sources", "furthest off", "in", "by")
    rows: tuple[tuple[Cell, ...], ...] = tuple(
        (
            row["kind"],
            *(say("{count}", count=row[column]) for column in ("cases", "seen", "sources")),
            stated("furthest off", float(row["worst"]), SHARE, "Of the printed value.", source="the package").rounded(
                2
            ),
            row["of"],
            row["source"],
        )
        for row in _rows()
    )
    return Table("held against", say("Published cases by kind."), tuple(map(Column, heads)), rows)


def _rows() -> list[dict[str, str]]:
    text = resource("data", "validation", "summary.csv").read_text(encoding="utf-8")
    return list(csv.DictReader(text.splitlines(), strict=True))
