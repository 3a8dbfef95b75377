"""Verdicts, findings, assumptions and cautions as short paragraphs, each behind its label."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence

from rich.cells import cell_len
from rich.table import Table as Grid
from rich.text import Text

from vanwater.answers.core.answer import Assumption, Caution
from vanwater.answers.core.finding import Finding, Verdict
from vanwater.answers.core.question import Answer
from vanwater.answers.core.statement import Amount, Count, Say, say
from vanwater.terminal.screen import Screen

__all__ = ["GRAVE", "assumption", "briefly", "caution", "finding", "label_width", "question", "rest", "unlike"]

STYLES = {Verdict.FAILS: "red", Verdict.WATCH: "yellow", Verdict.NOT_DECIDED: "cyan", Verdict.FINE: "green"}
GRAVE = "CAUTION"
INDENT = 2
WIDEST_LABEL = 13

_LEFT = {Verdict.FAILS: ("fails", "fail"), Verdict.WATCH: ("to watch", "to watch")}


def label_width(findings: Iterable[Finding], screen: Screen, labels: Iterable[str] = ()) -> int:
    """Columns that marks with their words and other labels take, so that what stands beside them is in line."""
    marks = (screen.mark(one.verdict.mark, one.verdict.word) for one in findings)
    return min(max([cell_len(one) for one in (*marks, *labels)], default=0), WIDEST_LABEL)


def question(answer: Answer, screen: Screen, width: int) -> list[str]:
    """An answer's verdict behind its label."""
    label = screen.text(answer.label, "bold")
    return _labelled(screen, label, width, [screen.text(answer.verdict)])


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
    if advised and one.advice is not None:
        told.append(screen.text(say("→ {advice}", advice=one.advice)))
    if details:
        told += [screen.text(detail, "dim") for detail in _details(one)]
    return _labelled(screen, _mark(one.verdict, screen), width, told)


def rest(left: Mapping[Verdict, int], screen: Screen, width: int = 0) -> list[str]:
    """One line that counts the findings that are not told, none where there are none."""
    counted = {verdict: left.get(verdict, 0) for verdict in sorted(Verdict, key=lambda one: -one.rank)}
    counts = tuple(
        Count(number, *_LEFT.get(verdict, (verdict.word, verdict.word)))
        for verdict, number in counted.items()
        if number
    )
    if not counts:
        return []
    if sum(counted.values()) == counted[Verdict.FINE]:
        told = say("{count}", count=Count(counted[Verdict.FINE], "finding"))
        return _labelled(screen, _mark(Verdict.FINE, screen), width, [screen.text(told)])
    return _labelled(screen, screen.text("more", "dim"), width, [screen.text(say("{counts}", counts=counts))])


def caution(one: Caution, screen: Screen, details: bool = False) -> list[str]:
    """A caution; the word that opens it says whether somebody can be hurt at once."""
    opening = (f"{GRAVE if one.grave else 'Mind'}: ", "bold" if one.grave else "")
    source = (screen.held(f" Source: {one.source}."), "dim") if details and one.source else ""
    return screen.lines(Text.assemble(opening, screen.text(one.text), source))


def briefly(cautions: Sequence[Caution], screen: Screen, width: int = 0) -> list[str]:
    """Grave cautions in a few words each, one under the other."""
    told = [screen.text(one.short or one.text) for one in cautions]
    return _labelled(screen, screen.text(GRAVE, "bold"), width, told) if told else []


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


def _mark(verdict: Verdict, screen: Screen) -> Text:
    return Text(screen.mark(verdict.mark, verdict.word), style=STYLES[verdict])


def _labelled(screen: Screen, label: Text, width: int, told: Sequence[Text]) -> list[str]:
    made = Grid.grid(padding=(0, 2, 0, 0), pad_edge=False)
    made.add_column(overflow="fold", width=max(width, min(label.cell_len, WIDEST_LABEL)))
    made.add_column(overflow="fold")
    for place, text in enumerate(told):
        made.add_row(label if place == 0 else "", text)
    return screen.lines(made, indent=INDENT)
