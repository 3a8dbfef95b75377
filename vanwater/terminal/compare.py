"""Two plans side by side: the headline, findings that come and go, what the plans say differently."""

from __future__ import annotations

from collections.abc import Sequence

from vanwater.answers.core.statement import Count, say
from vanwater.answers.core.table import Table
from vanwater.answers.signed import signed
from vanwater.options.comparison import Comparison
from vanwater.options.turned import Turned
from vanwater.options.variants import compare_plans
from vanwater.plan.file import PlanFile
from vanwater.terminal.paragraphs import finding_lines, label_width
from vanwater.terminal.screen import Screen
from vanwater.terminal.tables import set_in_columns, strips

__all__ = ["compared_lines", "files_compared"]

INDENT = 2
MOST_CHANGES = 12
"""Values that the short form names; with --all there is no end to them."""


def files_compared(
    file: PlanFile, others: Sequence[PlanFile], screen: Screen, *, everything: bool = False
) -> list[str]:
    """A plan's file and others, one after the other, each beside the first.

    Parameters
    ----------
    file : PlanFile
        The first.
    others : sequence of PlanFile
        The others.
    screen : Screen
        Width, units and letters.
    everything : bool
        Whether every number that differs is told, and every value that was changed.

    Returns
    -------
    list of str
        The lines; files are called by their stems, where those tell them apart.

    Raises
    ------
    PlanError
        When a file is compared with itself.
    """
    stems = {each.path.stem for each in (file, *others)}
    plan, lines = file.plan.read_in(screen.us), list[str]()
    for other in others:
        name, beside = (each.path.stem if len(stems) > len(others) else str(each.path) for each in (file, other))
        comparison = compare_plans(name, plan, {beside: other.plan})
        lines += [*[""] * bool(lines), *compared_lines(comparison, screen, everything=everything)]
    return lines


def compared_lines(comparison: Comparison, screen: Screen, *, everything: bool = False) -> list[str]:
    """A comparison as lines.

    Parameters
    ----------
    comparison : Comparison
        Of a plan with another one.
    screen : Screen
        Width, units and letters.
    everything : bool
        Whether every number that differs is told, and every value that was changed.

    Returns
    -------
    list of str
        The numbers first, then what gets worse, what gets better, and what the plans say differently.
    """
    numbers = comparison.likely(everything=everything)
    names = ", ".join(variant.name for variant in comparison.variants)
    lines = screen.paragraph(say("{others} beside {first}", others=names, first=comparison.name), "bold")
    plans = (
        (comparison.name, comparison.base.plan),
        *((name, each.plan) for name, each in comparison.possible.items()),
    )
    for name, plan in plans:
        if (told := signed(plan)) is not None:
            lines += screen.paragraph(say("{name}: {told}", name=name, told=told))
    lines += ["", *_table(numbers, screen)]
    lines += ["", *(line for note in comparison.notes for line in screen.paragraph(note, "dim", indent=INDENT))]
    worse = [told for told in comparison.turned if told.worse]
    better = [told for told in comparison.turned if not told.worse]
    lines += _findings("What comes up or gets worse", worse, screen)
    lines += _findings("What is gone or gets better", better, screen)
    lines += _changes(comparison.changes, screen, None if everything else MOST_CHANGES)
    more = sum(not line.headline for line in comparison.lines)
    if more and not everything:
        told = say("{more} differ too: vanwater compare --all.", more=Count(more, "further number"))
        lines += ["", *screen.paragraph(told, "dim")]
    return lines


def _table(table: Table, screen: Screen, most: int | None = None) -> list[str]:
    return set_in_columns(strips(table, screen, most), screen, indent=INDENT)


def _findings(title: str, told: Sequence[Turned], screen: Screen) -> list[str]:
    if not told:
        return []
    findings = [each.finding for each in told]
    width = label_width(findings, screen)
    return [
        "",
        *screen.paragraph(title, "bold"),
        *(line for finding in findings for line in finding_lines(finding, screen, width, advised=False)),
    ]


def _changes(table: Table, screen: Screen, most: int | None) -> list[str]:
    if not table.rows:
        return ["", *screen.paragraph("The plans say the same.", "bold")]
    lines = ["", *screen.paragraph("What the plans say differently", "bold"), *_table(table, screen, most)]
    left = len(table.rows) - (most or len(table.rows))
    return lines + (screen.paragraph(say("and {left}", left=Count(left, "more", "more")), "dim") if left > 0 else [])
