"""A panel: controls left, one chart right, the verdict on top, findings below, everything else folded.

No sum is done here. A control changes the plan, the plan is asked, the answer is shown.
"""

from __future__ import annotations

import html
from collections.abc import Callable, Mapping, Sequence
from typing import Any

import ipywidgets as widgets

from vanwater.answers.core.chart import Chart
from vanwater.answers.core.key import key_text
from vanwater.answers.core.question import Answer, numbers_in
from vanwater.answers.core.statement import plain
from vanwater.answers.missing import missing
from vanwater.answers.questions import QUESTIONS
from vanwater.figures.data import csv
from vanwater.figures.drawing import drawing
from vanwater.panels import markup
from vanwater.panels.collapsible import Collapsible, row
from vanwater.panels.comparison import against, beside
from vanwater.panels.control import Control
from vanwater.panels.control_group import ControlGroup
from vanwater.panels.control_part import with_whole_parts
from vanwater.panels.control_selection import controls_for
from vanwater.panels.findings import Findings
from vanwater.panels.guard import guarded
from vanwater.panels.style import STYLE
from vanwater.panels.write_back import WriteBack
from vanwater.plan.file import PlanFile
from vanwater.plan.model import Plan

__all__ = ["Panel"]

_WIDTH, _HEIGHT = 405.0, 300.0
"""Points of the chart's sheet."""

_BRIEF = ("stay", "outlets")  # questions whose verdict stays as short as the plan's own

_LONG, _WORDY = 85, 130  # letters of a verdict that takes two lines, and that takes two lines of smaller letters


class Panel:
    """One question about a plan, with the controls that move its answer.

    Parameters
    ----------
    plan : Plan or PlanFile
        The saved plan; with a file, changes can be written back.
    question : str or callable
        Name of the question, or what answers it.
    chart : str or callable
        Key of one of the answer's charts, the first without it; or what draws one of an answer.
    controls, more : sequence of str, optional
        Addresses of the controls in sight, and of the folded ones; those that suit the question without them.
    us : bool, optional
        US units instead of metric ones; the plan's own choice without it.
    """

    def __init__(
        self,
        plan: Plan | PlanFile,
        question: str | Callable[[Plan], Answer] = "stay",
        chart: str | Callable[[Answer], Chart | None] = "",
        controls: Sequence[str] | None = None,
        more: Sequence[str] | None = None,
        *,
        us: bool | None = None,
    ) -> None:
        saved = plan.plan if isinstance(plan, PlanFile) else plan
        self.us = saved.us if us is None else us
        self.saved = saved.read_in(self.us)
        self._ask = QUESTIONS[question].ask if isinstance(question, str) else question
        self._draw = _by_key(chart) if isinstance(chart, str) else chart
        self.before = self._ask(self.saved)
        self._chart_before = self._draw(self.before)
        short = self.before.key in _BRIEF and len(self.before.verdict.text(self.us)) <= _LONG
        self._place = "vw-verdict" if short else "vw-verdict vw-long"
        self.answer: Answer | None = self.before
        self.chart: Chart | None = None
        sight, rest = controls_for(self.saved, self.before) if controls is None else (tuple(controls), ())
        fits = self.before.question.fits(self.saved, self.before)
        self.group = ControlGroup(self.saved, sight, rest if more is None else tuple(more), self.us, fits)
        self.verdict, self.picture, self.grave = widgets.HTML(), widgets.HTML(), widgets.HTML()
        self.missing = widgets.HTML(layout={"display": "none"})
        self.findings = Findings(self.us)
        self.writing = WriteBack(plan if isinstance(plan, PlanFile) else None, self.group, self._written)
        self.key = widgets.Dropdown(description="number", layout={"width": "420px"})
        self.key.observe(lambda _: self.folds[0].refresh(), "value")
        self.folds: list[Collapsible] = [
            Collapsible("sums", self._sum, [self.key]),
            Collapsible("assumptions", lambda: markup.assumptions_html(self.answer, self.us) if self.answer else ""),
            Collapsible("sources", lambda: markup.sources(self.answer, self.us) if self.answer else ""),
            Collapsible("data", lambda: self._data),
            Collapsible("cautions", self._cautions),
            self.writing.collapsible,
        ]
        refresh = guarded(self._refresh, self._failed, self.group.name)
        for control in self.controls.values():
            control.moved = refresh
        self.group.home.on_click(lambda _: self.reset())
        self.refresh = refresh
        self.widget = self._box()
        refresh()

    @property
    def controls(self) -> Mapping[str, Control]:
        """The controls by address."""
        return self.group.controls

    @property
    def plan(self) -> Plan:
        """The plan as the controls stand.

        Raises
        ------
        PlanError
            When they stand on something impossible.
        """
        values = self.group.values
        return self.saved.changed(with_whole_parts(self.saved, values), si=True) if values else self.saved

    def reset(self) -> None:
        """Stand on the saved plan again."""
        for control in self.controls.values():
            control.back()
        self.refresh()

    def _refresh(self) -> None:
        self.group.check()
        plan = self.plan
        self.group.follow(plan)
        answer = self._ask(plan)
        chart = self._draw(answer)
        picture = self._picture(chart)
        self.answer, self.chart = answer, chart
        self.picture.value = picture  # first, so that it moves first
        self.verdict.value = self._verdict(answer)
        self.missing.value = markup.missing_html(missing(plan), self.us)
        self.missing.layout.display = "" if self.missing.value else "none"
        self.findings.show(answer)
        self.group.tell_changed()
        self.grave.value = markup.cautions_html((caution for caution in answer.cautions if caution.grave), self.us)
        self._tell_keys(answer)
        for collapsible in self.folds:
            collapsible.refresh()

    def _failed(self, message: str) -> None:
        """Clear every result, show why there is none."""
        self.answer = self.chart = None
        self.group.tell_changed()
        self.verdict.value = f'<div class="{self._place}">{message}</div>'
        self.picture.value = self.grave.value = self.missing.value = ""
        self.findings.clear()
        for collapsible in self.folds:
            collapsible.clear()

    def _written(self, file: PlanFile) -> None:
        """Take what was saved as the plan from now on."""
        self.saved = file.plan
        self.before = self._ask(self.saved)
        self._chart_before = self._draw(self.before)
        self.group.settle(self.saved)
        self.refresh()

    def _verdict(self, answer: Answer) -> str:
        changes = self.group.changes
        as_saved = "As the plan stands. Move a slider." if self.controls else "As the plan stands."
        small = markup.said(against(self.before, answer), self.us) if changes else as_saved
        listed = plain("; ".join(changes), "html")
        tail = f' <span title="{listed}">Changed: {listed}</span>' if changes else ""
        big = markup.said(answer.verdict, self.us, strong=True)
        look = "vw-big vw-wordy" if len(answer.verdict.text(self.us)) > _WORDY else "vw-big"
        return f'<div class="{self._place}"><p class="{look}">{big}</p><p class="vw-small">{small}{tail}</p></div>'

    def _picture(self, chart: Chart | None) -> str:
        if chart is None:
            return "<p>There is nothing to draw yet.</p>"
        shown = beside(chart, self._chart_before) if self.group.changes else chart
        return drawing(shown, self.us, _WIDTH, None if chart.bars else _HEIGHT, hover=True)

    @property
    def _data(self) -> str:
        if self.chart is None:
            return ""
        return f'<pre class="vw-data" tabindex="0">{html.escape(csv(self.chart, self.us))}</pre>'

    def _tell_keys(self, answer: Answer) -> None:
        options = tuple((plain(step.name, "terminal"), key) for key, step in answer.numbers.items())
        if self.key.options != options:
            kept = self.key.value
            self.key.options = options
            first = next((key_text(number.key) for number in numbers_in(answer.verdict)), None)
            self.key.value = kept if kept in answer.numbers else first or next(iter(answer.numbers), None)

    def _sum(self) -> str:
        if self.answer is None or self.key.value not in self.answer.numbers:
            return ""
        return markup.sum_lines(self.answer.numbers[self.key.value], self.us)

    def _cautions(self) -> str:
        """Those that are not in sight anyway."""
        cautions = self.answer.cautions if self.answer is not None else ()
        return markup.cautions_html((caution for caution in cautions if not caution.grave), self.us)

    def _box(self) -> Any:
        self.picture.add_class("vw-chart")
        self.grave.add_class("vw-grave")
        right = widgets.VBox([self.picture, self.grave])
        right.add_class("vw-right")
        middle = widgets.HBox([self.group.widget, right])
        box = widgets.VBox(
            [widgets.HTML(STYLE), self.verdict, self.missing, middle, self.findings.widget, row(self.folds)]
        )
        box.add_class("vw-panel")
        return box

    def _repr_mimebundle_(self, **kwargs: Any) -> dict[str, Any]:
        """The live panel, and for a page without a kernel a sentence."""
        bundle = self.widget._repr_mimebundle_(**kwargs)
        shown = bundle[0] if isinstance(bundle, tuple) else bundle
        return {**shown, "text/plain": f"{self.before.title}: run this notebook to move the sliders."}


def _by_key(key: str) -> Callable[[Answer], Chart | None]:
    return lambda answer: answer.chart(key)
