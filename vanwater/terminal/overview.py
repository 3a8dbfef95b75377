"""The whole van at a glance: the verdict first, what fails before what is fine, in some fifty lines or everything."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from vanwater.answers.core.answer import Caution, gravest_first
from vanwater.answers.core.finding import Finding, Verdict, worst_first
from vanwater.answers.core.question import Answer
from vanwater.answers.core.statement import Count, say
from vanwater.answers.core.table import Table
from vanwater.answers.situations import cautions_there, further, otherwise
from vanwater.terminal.paragraphs import (
    GRAVE,
    assumption_lines,
    briefly,
    caution_lines,
    finding_lines,
    label_width,
    missing_lines,
    question_lines,
    rest,
)
from vanwater.terminal.screen import WIDTH, Screen
from vanwater.terminal.tables import set_in_columns, strips

if TYPE_CHECKING:
    from vanwater.answers.questions import Answers

__all__ = ["FEWEST_ROWS", "MOST_LINES", "everything", "overview", "question"]

MOST_LINES = 60
FILLED = 28
"""Lines up to which a small van's overview is filled with further tables."""
FEWEST_ROWS = 4
INDENT = 2
SITUATION_LABELS = 14
MOST_MISSING = 3
"""Things missing that the overview names; they stand above what it tells of the van."""


@dataclass(slots=True)
class _Part:
    """Lines that are told as fully as the room allows.

    Parameters
    ----------
    ways : tuple of list of str
        From the shortest to the fullest.
    way : int
        The one that is taken.
    """

    ways: tuple[list[str], ...]
    way: int = 0

    @property
    def lines(self) -> list[str]:
        """What is told."""
        return self.ways[self.way]

    def grow(self, room: int, to: int | None = None) -> int:
        """Take the fullest way, at most a given one, that fits into some more lines; the lines left of them."""
        fullest = len(self.ways) - 1 if to is None else to
        for way in range(fullest, self.way, -1):
            more = len(self.ways[way]) - len(self.lines)
            if more <= room:
                self.way = way
                return room - more
        return room


def overview(answers: Answers, screen: Screen, most: int | None = None) -> list[str]:
    """The whole van in a few lines: verdicts, stores, what is not fine, worst first, grave cautions.

    Parameters
    ----------
    answers : Answers
        All answers to a plan.
    screen : Screen
        Width, units and letters.
    most : int, optional
        Lines that it may take; without it some fifty, more on a screen narrower than 80 columns. The verdicts, the
        first table, all that fails, every danger and the grave cautions are shown even if they take more; what is
        missing comes on top.

    Returns
    -------
    list of str
        The lines; the first says the verdict.
    """
    missing = missing_lines(answers.missing, screen, MOST_MISSING)
    most = (most or MOST_LINES * WIDTH // screen.console.width) + len(missing)  # it takes no finding's room
    first, *others = (answer for answer in answers.values() if answer.question.brief)
    findings = worst_first(finding for answer in answers.values() for finding in answer.findings)
    open_findings = [finding for finding in findings if finding.verdict is not Verdict.FINE]
    cautions = gravest_first(caution for answer in answers.values() for caution in answer.cautions)
    grave = [caution for caution in cautions if caution.grave]
    labels = [answer.label for answer in others] + [GRAVE] * bool(grave)
    width = label_width(open_findings, screen, labels)

    table = _Part(_shorter_and_full(first.tables[0], screen) if first.tables else ([],))
    verdicts = [line for answer in others for line in question_lines(answer, screen, width)]
    parts = [
        _Part(
            ([], finding_lines(finding, screen, width, advised=False), finding_lines(finding, screen, width)),
            way=2 if finding.urgent else 0,
        )
        for finding in open_findings
    ]
    situations = _situations(answers, screen, width)  # they come on top
    ends = [briefly(grave, screen, width), _foot(answers, cautions, screen)]
    head = [_head(answers, screen), missing]
    fixed = _apart([*head, table.lines, verdicts, *ends])
    room = most - len(fixed) - 2 * bool(findings)  # the empty line before the findings and the count below them
    room = _fill(open_findings, parts, table, room)
    left = Counter(finding.verdict for finding, part in zip(open_findings, parts, strict=True) if not part.way)
    left[Verdict.FINE] = len(findings) - len(open_findings)
    finding_text = [line for part in parts for line in part.lines] + rest(left, screen, width)
    tables = [] if sum(left.values()) > left[Verdict.FINE] else _more_tables(answers, screen, room - most + FILLED)
    return _apart([*head, table.lines, verdicts, finding_text, *tables, *situations, *ends])


def everything(answers: Answers, screen: Screen) -> list[str]:
    """All that the answers hold: every table, finding, assumption and caution, with their sources.

    Parameters
    ----------
    answers : Answers
        All answers to a plan.
    screen : Screen
        Width, units and letters.

    Returns
    -------
    list of str
        The lines; the first says the verdict.
    """
    lines = _apart([_head(answers, screen), missing_lines(answers.missing, screen)])
    for place, answer in enumerate(answers.values()):
        lines += ["", *_heading(answer, screen, first=place == 0), *_in_full(answer, screen)]
    for told in _situations(answers, screen, SITUATION_LABELS, full=True):
        lines += ["", *told]
    cautions = gravest_first(caution for answer in answers.values() for caution in answer.cautions)
    for caution in cautions:
        lines += ["", *caution_lines(caution, screen, details=True)]
    return [
        *lines,
        "",
        *screen.paragraph("--why unfolds a number to its sum; alone it lists the keys.", "dim"),
    ]


def question(answer: Answer, screen: Screen) -> list[str]:
    """All that the answer to one question holds.

    Parameters
    ----------
    answer : Answer
        The answer.
    screen : Screen
        Width, units and letters.

    Returns
    -------
    list of str
        The lines; the first says the verdict.
    """
    cautions = (line for caution in answer.cautions for line in ("", *caution_lines(caution, screen)))
    return [*screen.paragraph(answer.verdict, "bold"), *_in_full(answer, screen), *cautions]


def _in_full(answer: Answer, screen: Screen) -> list[str]:
    """Tables, findings and assumptions of an answer."""
    lines = []
    for table in answer.tables:
        lines += ["", *_table(table, screen)]
    width = label_width(answer.findings, screen)
    for finding in answer.findings:
        lines += ["", *finding_lines(finding, screen, width, details=True)]
    if answer.assumptions:
        lines += ["", *screen.lines(screen.text("What we assumed", "bold"), indent=INDENT)]
    for assumption in answer.assumptions:
        lines += assumption_lines(assumption, screen)
    return lines


def _head(answers: Answers, screen: Screen) -> tuple[str, ...]:
    van, household = answers.plan.van, answers.plan.household
    people = Count(household.people, "person", "people")
    subtitle = say("{name}, revision {revision}, for {people}", name=van.name, revision=van.revision, people=people)
    if answers.plan.situation:
        subtitle = say("{van}: {situation}", van=subtitle, situation=answers.plan.situation)
    return (*screen.paragraph(answers.headline, "bold"), *screen.paragraph(subtitle, "dim"))


def _situations(answers: Answers, screen: Screen, width: int, full: bool = False) -> list[list[str]]:
    """Each situation: its headline, the verdicts that it changes, all that fails there and does not fail as written."""
    told = []
    for name, there in answers.situations.items():
        lines = screen.paragraph(say("{situation}: {verdict}", situation=name, verdict=there.headline), "bold")
        for answer in otherwise(answers.each, there.each, numbers=full):
            if answer.key in answers.each and answer is not next(iter(there.values())):
                lines += question_lines(answer, screen, width)
        for finding, new in further(answers.each, there.each):
            lines += finding_lines(finding, screen, width, advised=new or full)
        lines += briefly(cautions_there(answers.each, there.each), screen, width)
        told.append(lines)
    if told:
        option = f'--situation "{next(iter(answers.situations))}"'
        told[-1] += screen.paragraph(say("{option} tells a situation in full.", option=option), "dim")
    return told


def _heading(answer: Answer, screen: Screen, first: bool) -> list[str]:
    lines = screen.paragraph(answer.title, "bold")
    return lines if first else [*lines, *screen.paragraph(answer.verdict)]


def _apart(groups: Sequence[Sequence[str]]) -> list[str]:
    """Groups of lines with an empty line between those that hold any."""
    return [line for group in groups if group for line in ("", *group)][1:]


def _fill(findings: Sequence[Finding], parts: Sequence[_Part], table: _Part, room: int) -> int:
    """Share the room: what is urgent and told with what to change, the table, the others' statements, their changes.

    Once another finding has no room, none that is less grave is told in its place.
    """
    room = table.grow(room - sum(len(part.lines) for part in parts))
    for grave in (True, False):
        some = [
            part
            for finding, part in zip(findings, parts, strict=True)
            if grave is (finding.verdict is Verdict.WATCH or finding.danger)
        ]
        for part in some:
            room = part.grow(room, to=1)
        if not all(part.way for part in some):
            break
    for part in parts:
        room = part.grow(room) if part.way else room
    return room


def _more_tables(answers: Answers, screen: Screen, room: int) -> list[list[str]]:
    """The tables that still fit, those of the first answer before the first ones of the others."""
    first, *further = answers.values()
    shown = []
    for table in (*first.tables[1:], *(table for answer in further for table in answer.tables[:1])):
        lines = _table(table, screen)
        if len(lines) < room:
            shown.append(lines)
            room -= len(lines) + 1
    return shown


def _table(table: Table, screen: Screen, caption: bool = True, most: int | None = None) -> list[str]:
    lines = screen.lines(screen.text(table.caption), indent=INDENT) if caption else []
    lines += set_in_columns(strips(table, screen, most), screen, indent=INDENT)
    if most is not None and len(table.rows) > most:
        more = say("and {more}", more=Count(len(table.rows) - most, "more row"))
        lines += screen.lines(screen.text(more, "dim"), indent=INDENT)
    if caption and table.note is not None:
        lines += screen.lines(screen.text(table.note, "dim"), indent=INDENT)
    return lines


def _shorter_and_full(table: Table, screen: Screen) -> tuple[list[str], ...]:
    """A table with its first rows only, where that saves lines, and in full."""
    full = _table(table, screen, caption=False)
    shorter = _table(table, screen, caption=False, most=FEWEST_ROWS)
    return (shorter, full) if len(shorter) < len(full) else (full,)


def _foot(answers: Answers, cautions: Sequence[Caution], screen: Screen) -> list[str]:
    """How to see more."""
    counts = (
        Count(sum(len(answer.tables) for answer in answers.values()) - 1, "table"),
        Count(sum(len(answer.assumptions) for answer in answers.values()), "assumption"),
        Count(sum(not caution.grave for caution in cautions), "caution"),
    )
    counted = tuple(count for count in counts if count.number > 0)
    more = counted or ("places", "sources")
    foot = say("{all} adds {more}; {why} unfolds any number.", all="--all", more=more, why="--why")
    return screen.paragraph(foot, "dim")
