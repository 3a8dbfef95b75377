"""The whole van at a glance: the verdict first, what fails before what is fine, under forty lines or everything."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from vanwater.answers.answer import Answer, Table
from vanwater.answers.finding import Verdict, worst_first
from vanwater.answers.wording import Count, Say, say
from vanwater.terminal.passages import assumption, briefly, caution, finding, fine, label_width, unlike
from vanwater.terminal.screen import WIDTH, Screen
from vanwater.terminal.tables import set_in_columns, strips

if TYPE_CHECKING:
    from vanwater.answers.questions import Answers

__all__ = ["FEWEST_ROWS", "MOST_LINES", "everything", "overview"]

MOST_LINES = 39
FEWEST_ROWS = 4
INDENT = 2

_RANKS = {Verdict.FAILS: 1, Verdict.WATCH: 3, Verdict.NOT_DECIDED: 4}
_ALWAYS, _FINE, _FURTHER_TABLE, _FURTHER_CAUTION = 0, 2, 6, 40


@dataclass(frozen=True, slots=True)
class _Block:
    """Lines that stand or fall together.

    Parameters
    ----------
    ways : tuple of tuple of str
        The same in full and shorter, the shortest last.
    rank : int
        How early it gets its place; 0 has one always.
    kind : str
        What is counted when it is left out.
    apart : bool
        Whether an empty line stands before it.
    """

    ways: tuple[tuple[str, ...], ...]
    rank: int
    kind: str = ""
    apart: bool = False

    def height(self, way: int) -> int:
        """Lines that it takes."""
        return len(self.ways[way]) + self.apart


def overview(answers: Answers, screen: Screen, most: int | None = None) -> list[str]:
    """The whole van in a few lines; what has no room is counted in the last one.

    Parameters
    ----------
    answers : Answers
        All answers to a plan.
    screen : Screen
        Width, units and letters.
    most : int, optional
        Lines that it may take; without it under forty, more on a screen narrower than 80 columns. The verdicts and
        grave cautions are shown even if there are more of them.

    Returns
    -------
    list of str
        The lines; the first says the verdict.
    """
    most = most or MOST_LINES * WIDTH // screen.console.width
    blocks = [_Block((_head(answers, screen),), _ALWAYS)]
    for place, answer in enumerate(answers):
        blocks += _blocks(answer, screen, place)
    blocks += _findings(answers, screen)
    cautions = unlike(one for answer in answers for one in answer.cautions)
    grave = [one for one in cautions if one.grave]
    if grave:
        blocks.append(_Block((tuple(briefly(grave, screen)),), _ALWAYS, apart=True))
    blocks += [
        _Block((tuple(caution(one, screen)),), _FURTHER_CAUTION, "caution", apart=not grave and place == 0)
        for place, one in enumerate(one for one in cautions if not one.grave)
    ]
    foot = _foot(answers, screen, dict.fromkeys(("table", "finding", "caution"), 88))
    chosen = _choose(blocks, most - len(foot))
    left = Counter(block.kind for block, way in zip(blocks, chosen, strict=True) if way is None)
    left["finding"] += sum(one.verdict is Verdict.FINE for answer in answers for one in answer.findings)
    lines: list[str] = []
    for block, way in zip(blocks, chosen, strict=True):
        if way is not None:
            lines += ["", *block.ways[way]] if block.apart else block.ways[way]
    return [*lines, *_foot(answers, screen, left)]


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
    lines = [*_head(answers, screen)]
    for place, answer in enumerate(answers):
        lines += ["", *_heading(answer, screen, first=place == 0)]
        for table in answer.tables:
            lines += ["", *_table(table, screen)]
        width = label_width(answer.findings, screen)
        for one in answer.findings:
            lines += ["", *finding(one, screen, width, details=True)]
        if answer.assumptions:
            lines += ["", *screen.lines(screen.text("What was taken to be so", "bold"), indent=INDENT)]
        for taken in answer.assumptions:
            lines += assumption(taken, screen)
    cautions = unlike(one for answer in answers for one in answer.cautions)
    for warning in cautions:
        lines += ["", *caution(warning, screen, details=True)]
    return [
        *lines,
        "",
        *screen.paragraph("--why unfolds a number to its sum; alone it lists the keys.", "dim"),
    ]


def _head(answers: Answers, screen: Screen) -> tuple[str, ...]:
    van, household = answers.plan.van, answers.plan.household
    people = Count(household.people, "person", "people")
    told = say("{name}, revision {revision}, for {people}", name=van.name, revision=van.revision, people=people)
    return (*screen.paragraph(answers.headline, "bold"), *screen.paragraph(told, "dim"))


def _heading(answer: Answer, screen: Screen, first: bool) -> list[str]:
    lines = screen.paragraph(answer.title, "bold")
    return lines if first else [*lines, *screen.paragraph(answer.verdict)]


def _blocks(answer: Answer, screen: Screen, place: int) -> Iterator[_Block]:
    """The first answer's table, the verdict of each further one, and tables where there is room."""
    if place:
        yield _Block((tuple(screen.paragraph(answer.verdict)),), _ALWAYS, apart=place == 1)
    else:
        yield _Block((tuple(screen.paragraph(answer.title, "bold")),), _ALWAYS, apart=True)
    for number, table in enumerate(answer.tables):
        if place == 0 and number == 0:
            ways = [_table(table, screen, caption=False)]
            if len(table.rows) > FEWEST_ROWS:
                ways.append(_table(table, screen, caption=False, most=FEWEST_ROWS))
            yield _Block(tuple(map(tuple, ways)), _ALWAYS, "table")
            continue
        yield _Block((tuple(_table(table, screen)),), _FURTHER_TABLE + 5 * number + place, "table", apart=True)


def _findings(answers: Answers, screen: Screen) -> Iterator[_Block]:
    """What is not fine in any answer, worst first, then how many are."""
    every = worst_first(one for answer in answers for one in answer.findings)
    told = [one for one in every if one.verdict is not Verdict.FINE]
    width = label_width(every, screen)
    for place, one in enumerate(told):
        ways = [finding(one, screen, width), finding(one, screen, width, advised=False)]
        yield _Block(tuple(map(tuple, ways)), _RANKS[one.verdict], "finding", apart=place == 0)
    good = len(every) - len(told)
    if good:
        yield _Block((tuple(fine(good, screen, width)),), _FINE, apart=not told)


def _table(table: Table, screen: Screen, caption: bool = True, most: int | None = None) -> list[str]:
    lines = screen.lines(screen.text(table.caption), indent=INDENT) if caption else []
    lines += set_in_columns(strips(table, screen, most), screen, indent=INDENT)
    if most is not None and len(table.rows) > most:
        more = say("and {more}", more=Count(len(table.rows) - most, "more row"))
        lines += screen.lines(screen.text(more, "dim"), indent=INDENT)
    if caption and table.note is not None:
        lines += screen.lines(screen.text(table.note, "dim"), indent=INDENT)
    return lines


def _choose(blocks: Sequence[_Block], most: int) -> list[int | None]:
    """Which way each block is shown: what must be at its shortest first, then the rest by rank while there is room.

    Once a finding has no room, none that is less grave is shown in its place.
    """
    chosen: list[int | None] = [len(block.ways) - 1 if block.rank == _ALWAYS else None for block in blocks]
    used = sum(block.height(way) for block, way in zip(blocks, chosen, strict=True) if way is not None)
    closed = False
    for place, block in sorted(enumerate(blocks), key=lambda pair: pair[1].rank):
        if chosen[place] is not None or (closed and block.kind == "finding"):
            continue
        way = next((way for way in range(len(block.ways)) if used + block.height(way) <= most), None)
        chosen[place] = way
        used += 0 if way is None else block.height(way)
        closed = closed or (way is None and block.kind == "finding")
    return chosen


def _foot(answers: Answers, screen: Screen, left: dict[str, int]) -> list[str]:
    kinds = (("table", "more table"), ("finding", "more finding"), ("caution", "more caution"))
    counted = [Count(left[kind], word) for kind, word in kinds if left.get(kind)]
    taken = sum(len(answer.assumptions) for answer in answers)
    if taken:
        counted.append(Count(taken, "assumption"))
    more = say("shows {counted}; ", counted=tuple(counted)) if counted else say("")
    told: Say = say(
        "{all} {more}{why} KEY unfolds a number to its sum, {why} alone lists the keys.",
        all="--all" if counted else "",
        more=more,
        why="--why",
    )
    return ["", *screen.paragraph(told, "dim")]
