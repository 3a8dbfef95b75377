"""A panel: controls left, one chart right, the verdict on top, findings below, everything else folded.

No sum is done here. A control moves the bench, the bench is asked, the answer is shown.
"""

from __future__ import annotations

import html
from collections.abc import Mapping, Sequence
from typing import Any

import ipywidgets as widgets

from vanwater.answers.core.chart import Chart
from vanwater.answers.core.gathered import numbers_in
from vanwater.answers.core.key import key_text
from vanwater.answers.core.number import Number
from vanwater.answers.core.question import Answer
from vanwater.answers.core.statement import plain
from vanwater.answers.missing import missing
from vanwater.figures.data import csv
from vanwater.panels import markup
from vanwater.panels.collapsible import Collapsible, row
from vanwater.panels.comparison import against
from vanwater.panels.control import Control
from vanwater.panels.control_group import ControlGroup, controls_for
from vanwater.panels.followed import Followed
from vanwater.panels.panel_base import PanelBase
from vanwater.panels.style import STYLE

__all__ = ["Panel"]

_WIDTH = 405.0
"""Points of the picture's sheet."""

_BRIEF = ("stay", "outlets")  # questions whose verdict stays as short as the plan's own

_LONG, _WORDY = 85, 130  # letters of a verdict that takes two lines, and that takes two lines of smaller letters


class Panel(PanelBase):
    """One question about the plan on a bench, with the controls that move its answer.

    Parameters
    ----------
    bench : Followed
        Whose plan it is.
    question : str
        Name of the question.
    chart : str
        Key of one of the answer's charts, the first without it.
    controls, more : sequence of str, optional
        Addresses of the controls in sight, and of the folded ones; those that suit the question without them.
    """

    def __init__(
        self,
        bench: Followed,
        question: str = "stay",
        chart: str = "",
        controls: Sequence[str] | None = None,
        more: Sequence[str] | None = None,
    ) -> None:
        before = bench.before(question)
        super().__init__(bench, before.title, _WIDTH)
        self.question, self._key, self._asked = question, chart, (controls, more)
        self.answer: Answer | None = None
        self.chart: Chart | None = None
        short = before.key in _BRIEF and len(before.verdict.text(bench.us)) <= _LONG
        self._look = "vw-verdict" if short else "vw-verdict vw-long"
        self.grave = widgets.HTML()
        self.key = widgets.Dropdown(description="number", layout={"width": "420px"})
        self.key.observe(lambda _: self.folds[0].refresh(), "value")
        self.folds: list[Collapsible] = [
            Collapsible("sums", self._sum, [self.key]),
            Collapsible("assumptions", lambda: markup.assumptions_html(self.answer, bench.us) if self.answer else ""),
            Collapsible("sources", lambda: markup.sources(self.answer, bench.us) if self.answer else ""),
            Collapsible("data", lambda: self._data),
            Collapsible("cautions", self._cautions),
            *self.below,
        ]
        self.group = self._group()
        self.widget = self._box()
        bench.follow(self)
        self.refresh()

    @property
    def controls(self) -> Mapping[str, Control]:
        """The controls by address, the folded ones too."""
        return self.group.unfold()

    @property
    def numbers(self) -> tuple[Number, ...]:
        """The numbers in sight."""
        if self.answer is None:
            return ()
        sizes = (number for size in self.group.sizes for number in size.numbers)
        return (*numbers_in(self.answer.verdict, *self.answer.findings, self.chart), *sizes)

    def moved(self) -> None:
        """Let controls and bar stand where the bench stands."""
        self.group.moved()
        super().moved()

    def loaded(self) -> None:
        """Begin anew with another plan."""
        super().loaded()
        self.answer = self.chart = None
        self.group = self._group()
        self.middle.children = (self.group.widget, *self.middle.children[1:])

    def _group(self) -> ControlGroup:
        bench = self.bench
        before = bench.before(self.question)
        bench.fits.update(before.question.fits(bench.base, before))
        controls, more = self._asked
        sight, rest = controls_for(bench.base, before) if controls is None else (tuple(controls), ())
        return ControlGroup(bench, sight, rest if more is None else tuple(more), self)

    def _follow(self) -> None:
        answer = self.bench.ask(self.question)
        chart = answer.chart(self._key)
        saved = self.bench.before(self.question).chart(self._key) if self.bench.changes else None
        self._draw_chart(chart, saved)
        self.answer, self.chart = answer, chart
        self.verdict.value = self._verdict(answer)
        us = self.bench.us
        self.missing.value = markup.missing_html(missing(self.bench.plan), us)
        self.missing.layout.display = "" if self.missing.value else "none"
        self.findings.show(answer)
        self.grave.value = markup.cautions_html((caution for caution in answer.cautions if caution.grave), us)
        self._tell_keys(answer)
        for collapsible in self.folds:
            collapsible.refresh()
        self.group.refresh()
        self._sound()

    def _failed(self, message: str) -> None:
        self.answer = None
        super()._failed(message)
        self.group.refresh()

    def _headed(self, inside: str) -> str:
        return f'<div class="{self._look}">{inside}</div>'

    def _verdict(self, answer: Answer) -> str:
        bench = self.bench
        changed = self._changed()
        there = f" in {plain(bench.state.situation, 'html')}" if bench.state.situation else ""
        as_saved = (
            f"As the plan stands{there}. Move a slider." if self.group.controls else f"As the plan stands{there}."
        )
        small = markup.said(against(bench.before(self.question), answer), bench.us) if changed else as_saved
        big = markup.said(answer.verdict, bench.us, strong=True)
        look = "vw-big vw-wordy" if len(answer.verdict.text(bench.us)) > _WORDY else "vw-big"
        return self._headed(f'<p class="{look}">{big}</p><p class="vw-small">{small} {changed}</p>')

    @property
    def _data(self) -> str:
        if self.chart is None:
            return ""
        return f'<pre class="vw-data" tabindex="0">{html.escape(csv(self.chart, self.bench.us))}</pre>'

    def _tell_keys(self, answer: Answer) -> None:
        if not self.folds[0].open:
            return
        options = tuple((plain(step.name, "terminal"), key) for key, step in answer.numbers.items())
        if self.key.options != options:
            kept = self.key.value
            self.key.options = options
            first = next((key_text(number.key) for number in numbers_in(answer.verdict)), None)
            self.key.value = kept if kept in answer.numbers else first or next(iter(answer.numbers), None)

    def _sum(self) -> str:
        if self.answer is None:
            return ""
        self._tell_keys(self.answer)
        if self.key.value not in self.answer.numbers:
            return ""
        return markup.sum_lines(self.answer.numbers[self.key.value], self.bench.us)

    def _cautions(self) -> str:
        """Those that are not in sight anyway."""
        cautions = self.answer.cautions if self.answer is not None else ()
        return markup.cautions_html((caution for caution in cautions if not caution.grave), self.bench.us)

    def _box(self) -> Any:
        self.grave.add_class("vw-grave")
        self.pictures.add_class("vw-right")
        self.middle = widgets.HBox([self.group.widget, self.pictures, self.grave])
        self.middle.add_class("vw-middle")
        folds = row(self.folds[: -len(self.below)])
        self._aside = [self.missing, self.pictures, self.grave, self.findings.widget, folds]
        box = widgets.VBox(
            [
                widgets.HTML(STYLE),
                self.bar.widget,
                self.verdict,
                self.missing,
                self.middle,
                self.findings.widget,
                folds,
                row(self.below),
            ]
        )
        box.add_class("vw-panel")
        return box
