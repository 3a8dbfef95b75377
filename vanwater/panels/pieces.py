"""An answer as pieces of a page that need no widget: they stand in a saved notebook as they are."""

from __future__ import annotations

import html
from collections.abc import Iterable
from dataclasses import dataclass, field

from vanwater.answers.core.answer import gravest_first
from vanwater.answers.core.chart import Chart, words
from vanwater.answers.core.finding import Finding
from vanwater.answers.core.gathered import by_key, numbers_in
from vanwater.answers.core.number import Number
from vanwater.answers.core.pieces import AS_PLANNED
from vanwater.answers.core.question import Answer
from vanwater.answers.questions import answers_to
from vanwater.figures.drawing import drawing
from vanwater.figures.themed import shown
from vanwater.panels import markup
from vanwater.panels.csv_link import csv_link
from vanwater.panels.trusted import trusted
from vanwater.plan.model import Plan

__all__ = ["Picture", "Pieces", "Shown", "picture", "situations", "told_findings"]


_WIDTH, _HEIGHT = 405.0, 270.0  # points of a picture's sheet, as wide as a panel's, and of a chart with curves

_LONGEST_LINK = 8_000  # letters that a notebook keeps of a picture's numbers; a panel gives all of them

_LINKED = "The numbers of this picture are offered as a file"


@dataclass(frozen=True, slots=True)
class Shown:
    """A piece of a page, and the same in plain text.

    Parameters
    ----------
    html, text : str
        The piece.
    numbers : tuple of Number
        The numbers that it shows.
    """

    html: str
    text: str
    numbers: tuple[Number, ...] = field(default=(), compare=False)

    def _repr_html_(self) -> str:
        return self.html

    def __repr__(self) -> str:
        return self.text


@dataclass(frozen=True, slots=True)
class Picture:
    """A chart, and what it shows in a sentence.

    Parameters
    ----------
    svg, text : str
        The drawing, and the sentence.
    numbers : tuple of Number
        The numbers that it shows.
    """

    svg: str
    text: str
    numbers: tuple[Number, ...] = field(default=(), compare=False)

    @property
    def html(self) -> str:
        """The drawing as a piece of a page, which gives it its room and its theme."""
        return shown(self.svg, html.escape(self.text))

    def _repr_html_(self) -> str:
        return self.html

    def __repr__(self) -> str:
        return self.text


def picture(chart: Chart, us: bool = False) -> Picture:
    """A chart as a picture that a notebook shows.

    Parameters
    ----------
    chart : Chart
        Of an answer or a sweep.
    us : bool
        US units instead of metric ones.

    Returns
    -------
    Picture
        With what it shows in words for those who do not see it.
    """
    told = f"{words(chart.title, 'terminal', us)} {words(chart.sentence, 'terminal', us)}"
    return Picture(drawing(chart, us, _WIDTH, None if chart.bars else _HEIGHT), told, tuple(numbers_in(chart)))


class Pieces:
    """An answer piece by piece.

    Parameters
    ----------
    answer : Answer
        The answer.
    us : bool
        US units instead of metric ones.
    van : str
        The van's name, for the names of files.
    """

    def __init__(self, answer: Answer, us: bool = False, van: str = "") -> None:
        self.answer, self.us, self.van = answer, us, van

    def verdict(self) -> Shown:
        """The answer in one sentence, large."""
        big = markup.said(self.answer.verdict, self.us, strong=True)
        told = tuple(numbers_in(self.answer.verdict))
        return Shown(f'<p style="font-size:1.5em;line-height:1.3">{big}</p>', self.answer.verdict.text(self.us), told)

    def findings(self, *about: str) -> Shown:
        """What was found, worst first, with what to change and what that gains; all, or what some keys begin with."""
        heads = tuple(f"{self.answer.key}.{head}" for head in about)
        findings = [finding for finding in self.answer.findings if not about or finding.key.startswith(heads)]
        return told_findings(findings, self.us)

    def chart(self, key: str = "") -> Picture | Shown:
        """A chart of the answer, the first without a key; a sentence where there is nothing to draw yet."""
        chart = self.answer.chart(key)
        return _missing("There is nothing to draw yet.") if chart is None else picture(chart, self.us)

    def link(self, key: str = "") -> Shown:
        """The numbers of a chart as a file to keep; nothing where nothing is drawn, or a saved notebook would swell."""
        chart = self.answer.chart(key)
        link = "" if chart is None else csv_link(chart, self.us, self.van)
        return Shown(trusted(link, _LINKED) if 0 < len(link) <= _LONGEST_LINK else "", "")

    def table(self, key: str) -> Shown:
        """A table of the answer; a sentence where it has none of that key."""
        table = next((table for table in self.answer.tables if table.key == key), None)
        if table is None:
            return _missing("There is nothing of this to tell." if self.answer.decided else "This is not decided yet.")
        return Shown(table.html(self.us), table.text(self.us), tuple(numbers_in(table)))

    def sums(self) -> Shown:
        """The numbers of the verdict and of the findings, each unfolding to its sum; ``--why`` unfolds any other.

        What the plan itself gives has no sum.
        """
        told = numbers_in(self.answer.verdict, *self.answer.findings)
        steps = tuple(step for step in by_key(told).values() if step.made_of is not AS_PLANNED)
        steps = steps or tuple(self.answer.numbers.values())
        if not steps:
            return _missing("Nothing is decided yet, so there is no number to unfold.")
        rows = markup.sums_html(steps, self.us)
        return Shown(rows, "\n".join(step.lines(self.us, depth=0)[0] for step in steps), steps)

    def assumptions(self) -> Shown:
        """What was taken to be so, how unsure it is, what to measure to know."""
        if not self.answer.assumptions:
            return _missing("Nothing was assumed beyond what the plan says.")
        lines = [
            f"{assumption.statement.text(self.us)} {assumption.measure}".strip()
            for assumption in self.answer.assumptions
        ]
        return Shown(markup.assumptions_html(self.answer, self.us), "\n".join(lines))

    def cautions(self) -> Shown:
        """Every caution, the grave ones first."""
        if not self.answer.cautions:
            return _missing("No caution belongs to this answer.")
        ordered = gravest_first(self.answer.cautions)
        texts = (text if isinstance(text := caution.text, str) else text.text(self.us) for caution in ordered)
        return Shown(markup.cautions_html(ordered, self.us), "\n".join(texts))


def told_findings(findings: Iterable[Finding], us: bool = False) -> Shown:
    """Findings with what to change and what that gains, in their order; a sentence where there is none."""
    told = tuple(findings)
    if not told:
        return _missing("There is nothing to tell.")
    lines = []
    for finding in told:
        advice = finding.advice.text(us) if finding.advice else ""
        lines.append(f"{finding.verdict} {finding.statement.text(us)} {advice}".rstrip())
    return Shown(
        "".join(markup.finding_html(finding, us) for finding in told), "\n".join(lines), tuple(numbers_in(*told))
    )


def situations(plan: Plan, us: bool = False) -> Shown:
    """The verdicts of a plan as it is written and in each of its situations; a sentence where it has none."""
    table = answers_to(plan).side_by_side
    return _missing("The plan has no situations.") if table is None else Shown(table.html(us), table.text(us))


def _missing(text: str) -> Shown:
    return Shown(f"<p>{text}</p>", text)
