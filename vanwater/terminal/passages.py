"""Findings, assumptions and cautions as short paragraphs, each behind its mark and word."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from rich.cells import cell_len
from rich.table import Table as Grid
from rich.text import Text

from vanwater.answers.answer import Assumption, Caution
from vanwater.answers.finding import Finding, Verdict
from vanwater.answers.wording import Amount, Count, Say, say
from vanwater.terminal.screen import Screen

__all__ = ["assumption", "briefly", "caution", "finding", "fine", "label_width", "unlike"]

STYLES = {Verdict.FAILS: "red", Verdict.WATCH: "yellow", Verdict.NOT_DECIDED: "cyan", Verdict.FINE: "green"}
GRAVE = "CAUTION"
INDENT = 2


def label_width(findings: Iterable[Finding], screen: Screen) -> int:
    """Columns that marks with their words take, so that the findings of one answer stand in line."""
    return max([cell_len(screen.mark(one.verdict.mark, one.verdict.word)) for one in findings], default=0)


def finding(one: Finding, screen: Screen, width: int = 0, *, advised: bool = True, details: bool = False) -> list[str]:
    """A finding: mark and word, statement, what to change and what that gains.

    Parameters
    ----------
    one : Finding
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
    told = [screen.text(one.statement)]
    if advised and one.change is not None:
        told.append(screen.text(_advice(one.change, one.gain)))
    if details:
        told += [screen.text(detail, "dim") for detail in _details(one)]
    return _labelled(screen, one.verdict, width, told)


def fine(count: int, screen: Screen, width: int = 0) -> list[str]:
    """One line for all findings that are fine."""
    return _labelled(screen, Verdict.FINE, width, [screen.text(say("{count}", count=Count(count, "finding")))])


def caution(one: Caution, screen: Screen, details: bool = False) -> list[str]:
    """A caution; the word that opens it says whether somebody can be hurt at once."""
    opening = (f"{GRAVE if one.grave else 'Mind'}: ", "bold" if one.grave else "")
    source = (screen.held(f" Source: {one.source}."), "dim") if details and one.source else ""
    return screen.lines(Text.assemble(opening, screen.text(one.text), source))


def briefly(cautions: Sequence[Caution], screen: Screen) -> list[str]:
    """Grave cautions in a few words each, in one paragraph."""
    words = "; ".join((one.short or one.text).rstrip(".") for one in cautions)
    return screen.lines(Text.assemble((f"{GRAVE}: ", "bold"), screen.text(f"{words}.")))


def assumption(one: Assumption, screen: Screen) -> list[str]:
    """What was taken to be so, what to measure, where it can be said, and its source."""
    things = [screen.text(one.statement)]
    if one.measure:
        things.append(screen.text(one.measure))
    beside = [part for part in (one.address, one.source) if part]
    if beside:
        things.append(Text(screen.words("; ".join(beside)), style="dim"))
    first, *rest = things
    return [*screen.lines(first, indent=INDENT), *(line for one in rest for line in screen.lines(one, indent=4))]


def unlike(cautions: Iterable[Caution]) -> tuple[Caution, ...]:
    """Cautions once each, the grave ones first."""
    once = {one.key: one for one in cautions}
    return tuple(sorted(once.values(), key=lambda one: not one.grave))


def _advice(change: Say, gain: Amount | Say | None) -> Say:
    """What to change, and what that gives in a sentence of its own."""
    if gain is None:
        return say("→ {change}", change=change)
    return say("→ {change} Gives {gain}.", change=change, gain=gain)


def _details(one: Finding) -> list[Say | str]:
    told: list[Say | str] = []
    if one.margin is not None and one.limit is not None:
        room = Amount(abs(one.margin.value), one.margin.quantity, 2)
        beyond = "short" if one.bound == "at least" else "over"
        template = f"Limit: {{bound}} {{limit}}, {{room}} {'to spare' if one.margin.value >= 0 else beyond}."
        told.append(say(template, bound=one.bound, limit=one.limit, room=room))
    if one.address:
        told.append(f"In the plan: {one.address}")
    if one.source:
        told.append(f"Source: {one.source}.")
    return told


def _labelled(screen: Screen, verdict: Verdict, width: int, told: Sequence[Text]) -> list[str]:
    label = screen.mark(verdict.mark, verdict.word)
    made = Grid.grid(padding=(0, 2, 0, 0), pad_edge=False)
    made.add_column(no_wrap=True, width=max(width, cell_len(label)))
    made.add_column(overflow="fold")
    for place, text in enumerate(told):
        made.add_row(Text(label if place == 0 else "", style=STYLES[verdict]), text)
    return screen.lines(made, indent=INDENT)
