"""Verdicts, findings, assumptions and cautions as short paragraphs, each behind its label."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence

from rich.cells import cell_len
from rich.table import Table as Grid
from rich.text import Text

from vanwater.answers.core.answer import Assumption, Caution
from vanwater.answers.core.finding import Finding, Verdict
from vanwater.answers.core.question import Answer
from vanwater.answers.core.statement import Count, Say, say
from vanwater.answers.missing import Missing, not_whole
from vanwater.quantities import retold
from vanwater.terminal.screen import Screen

__all__ = [
    "GRAVE",
    "assumption_lines",
    "briefly",
    "caution_lines",
    "finding_lines",
    "label_width",
    "missing_lines",
    "question_lines",
    "rest",
]

STYLES = {
    Verdict.AGREED: "blue",
    Verdict.FAILS: "red",
    Verdict.WATCH: "yellow",
    Verdict.NOT_DECIDED: "cyan",
    Verdict.FINE: "green",
}
GRAVE = "CAUTION"
INDENT = 2
WIDEST_LABEL = 13

_LEFT = {Verdict.FAILS: ("fails", "fail"), Verdict.WATCH: ("to watch", "to watch")}


def label_width(findings: Iterable[Finding], screen: Screen, labels: Iterable[str] = ()) -> int:
    """Columns that marks with their words and other labels take, so that what stands beside them is in line."""
    marks = (screen.mark(finding.verdict.mark, finding.verdict.word) for finding in findings)
    return min(max([cell_len(label) for label in (*marks, *labels)], default=0), WIDEST_LABEL)


def question_lines(answer: Answer, screen: Screen, width: int) -> list[str]:
    """An answer's verdict behind its label."""
    label = screen.text(answer.label, "bold")
    return _labelled(screen, label, width, [screen.text(answer.verdict)])


def finding_lines(
    finding: Finding, screen: Screen, width: int = 0, *, advised: bool = True, details: bool = False
) -> list[str]:
    """A finding: mark and word, statement, what to change and what that gains.

    Parameters
    ----------
    finding : Finding
        From an answer.
    screen : Screen
        Units and letters.
    width : int
        Columns kept for mark and word.
    advised : bool
        Whether what to change is said.
    details : bool
        Whether limit, margin, place in the plan and source are said.

    Returns
    -------
    list of str
        The lines.
    """
    paragraphs = [screen.text(finding.statement)]
    if advised and finding.advice is not None:
        paragraphs.append(screen.text(say("→ {advice}", advice=finding.advice)))
    if details:
        paragraphs += [screen.text(detail, "dim") for detail in _details(finding, screen.us)]
    return _labelled(screen, _mark(finding.verdict, screen), width, paragraphs)


def missing_lines(missing: Sequence[Missing], screen: Screen, most: int | None = None) -> list[str]:
    """What keeps a plan from being whole, and what to write; none for a plan that is whole.

    Parameters
    ----------
    missing : sequence of Missing
        That which matters most first.
    screen : Screen
        Units and letters.
    most : int, optional
        How many are named; all without it.

    Returns
    -------
    list of str
        The lines; the first says how many things are missing.
    """
    if not missing:
        return []
    lines = screen.paragraph(not_whole(len(missing)), "bold")
    for lack in missing[:most]:
        both = say("{missing} → {change}", missing=lack.statement, change=lack.change)
        lines += screen.lines(screen.text(both), indent=INDENT)
    if most is not None and len(missing) > most:
        more = say("and {more}, which {all} names", more=Count(len(missing) - most, "more thing"), all="--all")
        lines += screen.lines(screen.text(more, "dim"), indent=INDENT)
    return lines


def rest(left: Mapping[Verdict, int], screen: Screen, width: int = 0) -> list[str]:
    """One line that counts the findings that are not told, none where there are none."""
    counted = {verdict: left.get(verdict, 0) for verdict in sorted(Verdict, key=lambda verdict: -verdict.rank)}
    counts = tuple(
        Count(number, *_LEFT.get(verdict, (verdict.word, verdict.word)))
        for verdict, number in counted.items()
        if number
    )
    if not counts:
        return []
    if sum(counted.values()) == counted[Verdict.FINE]:
        fine = say("{count}", count=Count(counted[Verdict.FINE], "finding"))
        return _labelled(screen, _mark(Verdict.FINE, screen), width, [screen.text(fine)])
    return _labelled(screen, screen.text("more", "dim"), width, [screen.text(say("{counts}", counts=counts))])


def caution_lines(caution: Caution, screen: Screen, details: bool = False) -> list[str]:
    """A caution; the word that opens it says whether somebody can be hurt at once."""
    opening = (f"{GRAVE if caution.grave else 'Mind'}: ", "bold" if caution.grave else "")
    source = (screen.held(f" Source: {caution.source}."), "dim") if details and caution.source else ""
    return screen.lines(Text.assemble(opening, screen.text(caution.text), source))


def briefly(cautions: Sequence[Caution], screen: Screen, width: int = 0) -> list[str]:
    """Grave cautions in a few words each, one under the other."""
    warnings = [screen.text(caution.brief) for caution in cautions]
    return _labelled(screen, screen.text(GRAVE, "bold"), width, warnings) if warnings else []


def assumption_lines(assumption: Assumption, screen: Screen) -> list[str]:
    """What was taken to be so, what to measure, where it can be said, and its source."""
    things = [screen.text(assumption.statement)]
    if assumption.measure:
        things.append(screen.text(retold(assumption.measure, screen.us)))
    beside = [part for part in (assumption.address, retold(assumption.source, screen.us)) if part]
    if beside:
        things.append(Text(screen.words("; ".join(beside)), style="dim"))
    first, *rest = things
    return [
        *screen.lines(first, indent=INDENT),
        *(line for paragraph in rest for line in screen.lines(paragraph, indent=4)),
    ]


def _details(finding: Finding, us: bool) -> list[Say | str]:
    details: list[Say | str] = []
    if finding.side is not None and finding.limit is not None:
        given = {"bound": finding.bound, "limit": finding.limit, "side": finding.side}
        details.append(say("Limit: {bound} {limit}, {side}.", **given))
    if finding.address:
        details.append(f"In the plan: {finding.address}")
    if finding.source:
        details.append(f"Source: {retold(finding.source, us)}.")
    return details


def _mark(verdict: Verdict, screen: Screen) -> Text:
    return Text(screen.mark(verdict.mark, verdict.word), style=STYLES[verdict])


def _labelled(screen: Screen, label: Text, width: int, paragraphs: Sequence[Text]) -> list[str]:
    wide = max(width, min(label.cell_len, WIDEST_LABEL))
    if screen.plain and label.cell_len <= wide:  # as the grid would set them, at a fifth of the time
        room = screen.console.width - INDENT - wide - 2
        pieces = [piece.plain for text in paragraphs for piece in (text.wrap(screen.console, room) or (Text(""),))]
        beside = screen.lines(Text(label.plain + " " * (wide + 2 - label.cell_len) + pieces[0]), indent=INDENT)
        return [*beside, *screen.lines(*map(Text, pieces[1:]), indent=INDENT + wide + 2)] if pieces[1:] else beside
    grid = Grid.grid(padding=(0, 2, 0, 0), pad_edge=False)
    grid.add_column(overflow="fold", width=wide)
    grid.add_column(overflow="fold")
    for place, text in enumerate(paragraphs):
        grid.add_row(label if place == 0 else "", text)
    return screen.lines(grid, indent=INDENT)
