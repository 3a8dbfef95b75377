"""The whole van at once: what matters most, every control by part of the van, one picture, all findings worst first."""

from __future__ import annotations

import html
from collections.abc import Iterator, Mapping, Sequence
from functools import partial
from typing import Any

import ipywidgets as widgets

from vanwater.answers.core.answer import gravest_first
from vanwater.answers.core.chart import Chart
from vanwater.answers.core.gathered import numbers_in
from vanwater.answers.core.number import Number
from vanwater.answers.core.question import Answer
from vanwater.answers.core.statement import plain
from vanwater.answers.missing import missing
from vanwater.answers.questions import QUESTIONS, Answers
from vanwater.panels import markup
from vanwater.panels.cells import Place, again
from vanwater.panels.collapsible import row
from vanwater.panels.control import Control
from vanwater.panels.control_group import ControlGroup, controls_for
from vanwater.panels.followed import Followed
from vanwater.panels.guard import guarded
from vanwater.panels.panel_base import PanelBase
from vanwater.panels.plumbing import plumbing_svg
from vanwater.panels.style import STYLE
from vanwater.panels.to_scale import has_places, scale_svg

__all__ = ["DRAWING", "PARTS", "SCALE", "Whole"]

_WIDTH = 470.0
"""Points of the picture's sheet."""

PARTS: Mapping[str, tuple[str, ...]] = {
    "people and habits": ("household", "uses"),
    "tanks": ("tanks",),
    "pump and accumulator": ("pumps", "accumulators", "mains"),
    "hoses and outlets": ("runs", "fittings", "tees", "mixers", "outlets", "together"),
    "hot water": ("heaters",),
    "power": ("battery", "inverter", "sun", "alternator", "shore", "day", "appliances", "cables"),
    "cold and place": ("frost", "site", "body", "pads"),
    "weight": ("vehicle", "loads"),
}
"""The parts of a van and the tables of a plan that tell of them."""

_REST = "more"

DRAWING, SCALE = "drawing", "scale"
"""The tabs of the plumbing drawing and of the van to scale, beside those of the questions."""

_DRAWN = {DRAWING: plumbing_svg, SCALE: scale_svg}


class Whole(PanelBase):
    """The whole van on a bench.

    Parameters
    ----------
    bench : Followed
        Whose plan it is.
    """

    _pictured = next(iter(QUESTIONS))

    def __init__(self, bench: Followed) -> None:
        super().__init__(bench, "The whole van", _WIDTH)
        self.answers: Mapping[str, Answer] = {}
        self.chart: Chart | None = None
        self.strip, self.grave = widgets.HTML(), widgets.HTML()
        self.tabs = widgets.ToggleButtons(options=self._tabs(), tooltips=["show this picture"])
        self._draw = guarded(self._picture, self._failed, self._name)
        self.tabs.observe(lambda _: self._draw(), "value")
        self.groups: list[ControlGroup] = []
        self.groups = self._groups()
        self._later = _Later(guarded(self._rest, self._failed, self._name))
        self.widget = self._box()
        bench.follow(self)
        bench.follow(self._later)
        self.refresh()
        self._later.refresh()

    @property
    def controls(self) -> Mapping[str, Control]:
        """Every control by address."""
        return {address: control for group in self.groups for address, control in group.unfold().items()}

    @property
    def numbers(self) -> tuple[Number, ...]:
        """The numbers in sight."""
        told = tuple(number for answer in self.answers.values() for number in answer.question.glance(answer))
        findings = (finding for answer in self.answers.values() for finding in answer.findings)
        return (*told, *numbers_in(*findings, self.chart))

    def moved(self) -> None:
        """Let controls and bar stand where the bench stands."""
        for group in self.groups:
            group.moved()
        super().moved()

    def loaded(self) -> None:
        """Begin anew with another plan."""
        super().loaded()
        self.answers, self.chart = {}, None
        self.groups = self._groups()
        self.tabs.options = self._tabs()
        self.tabs.value = next((key for _, key in self.tabs.options), None)
        self.left.children = tuple(group.widget for group in self.groups)

    def gone(self, place: Place) -> None:
        """Leave the bench when its cell runs again."""
        super().gone(place)
        if again(self._place, place):
            self.bench.leave(self._later)

    # --- what is shown -------------------------------------------------------------------------------

    def _follow(self) -> None:
        if self.tabs.value not in _DRAWN:
            self._picture()
        headline = self.bench.ask(next(iter(QUESTIONS)))
        big = markup.said(headline.verdict, self.bench.us, strong=True)
        small = self._changed() or "As the plan stands."
        self.verdict.value = self._headed(f'<p class="vw-big">{big}</p><p class="vw-small">{small}</p>')
        self._sound()

    def _picture(self) -> None:
        question = self.tabs.value
        if question in _DRAWN:  # they ask all questions, so they follow when the hand rests
            self.chart = None
            self.picture.value = _DRAWN[question](self.bench, self.bench.ask)
            self.tools.show(None)
            return
        self.chart = None if question is None else self.bench.ask(question).chart()
        saved = self.bench.before(question).chart() if question is not None and self.bench.changes else None
        self._draw_chart(self.chart, saved)

    def _rest(self) -> None:
        bench = self.bench
        asked = {key: bench.ask(key) for key in QUESTIONS}
        self.answers = {key: answer for key, answer in asked.items() if not answer.silent}
        self.strip.value = f'<div class="vw-strip">{"".join(self._tiles())}</div>'
        self.missing.value = markup.missing_html(missing(bench.plan), bench.us)
        self.missing.layout.display = "" if self.missing.value else "none"
        self.findings.show(Answers(bench.plan, self.answers))
        cautions = (caution for answer in self.answers.values() for caution in answer.cautions)
        grave = (caution for caution in gravest_first(cautions) if caution.grave)
        self.grave.value = markup.cautions_html(grave, bench.us)
        for collapsible in self.below:
            collapsible.refresh()
        if self.tabs.value in _DRAWN:
            self._picture()
        for group in self.groups:
            group.refresh()

    def _tiles(self) -> Iterator[str]:
        us = self.bench.us
        for answer in self.answers.values():
            numbers = tuple(answer.question.glance(answer))
            if not numbers:
                continue
            told = "".join(f"<b>{markup.said(number.amount, us)}</b>" for number in numbers)
            worst = next(iter(answer.findings), None)
            mark = f"{worst.verdict.mark} " if worst is not None and worst.urgent else ""
            what = html.escape(plain(numbers[0].name, "terminal"))
            title = markup.said(answer.verdict, us)
            yield (
                f'<div class="vw-tile" title="{title}"><span>{mark}{html.escape(answer.label)}</span>{told}'
                f"<small>{what}</small></div>"
            )

    # --- what it is made of --------------------------------------------------------------------------

    def _tabs(self) -> list[tuple[str, str]]:
        answers = (self.bench.before(key) for key in QUESTIONS)
        drawn = [("Drawing", DRAWING)] if self.bench.base.runs else []
        drawn += [("To scale", SCALE)] if has_places(self.bench) else []
        return [(answer.label, answer.key) for answer in answers if answer.chart() is not None] + drawn

    def _groups(self) -> list[ControlGroup]:
        bench = self.bench
        addresses: dict[str, None] = {}
        for key in QUESTIONS:
            before = bench.before(key)
            bench.fits.update(before.question.fits(bench.base, before))
            for some in controls_for(bench.base, before):
                addresses.update(dict.fromkeys(some))
        parts = {title: [each for each in addresses if each.split(".")[0] in tables] for title, tables in PARTS.items()}
        known = {each for some in parts.values() for each in some}
        parts[_REST] = [each for each in addresses if each not in known]
        groups = [ControlGroup(bench, (), some, self, title) for title, some in parts.items() if some]
        for group in groups:
            group.more.button.observe(partial(self._opened, group), "value")
        if groups:
            groups[0].more.button.value = True
        return groups

    def _opened(self, opened: ControlGroup, change: Any) -> None:
        """One part at a time is unfolded, so that the picture stays in sight."""
        if change["new"]:
            for group in self.groups:
                if group is not opened:
                    group.more.button.value = False

    def _box(self) -> Any:
        self.tabs.add_class("vw-tabs")
        right = widgets.VBox([self.tabs, self.pictures])
        right.add_class("vw-right")
        self.left = widgets.VBox([group.widget for group in self.groups])
        self.left.add_class("vw-left")
        self.grave.add_class("vw-grave")
        middle = widgets.HBox([self.left, right])
        middle.add_class("vw-middle")
        self._aside = [self.strip, self.missing, self.pictures, self.grave, self.findings.widget]
        rows: Sequence[Any] = [
            widgets.HTML(STYLE),
            self.bar.widget,
            self.verdict,
            self.strip,
            self.missing,
            middle,
            self.findings.widget,
            self.grave,
            row(self.below),
        ]
        box = widgets.VBox(rows)
        box.add_class("vw-panel")
        return box


class _Later:
    """What follows when the hand rests: all questions are asked then."""

    def __init__(self, show: Any) -> None:
        self._show = show

    def moved(self) -> None:
        """Nothing of it moves before."""

    def refresh(self) -> None:
        """Show how the bench stands now."""
        self._show()

    def loaded(self) -> None:
        """What it shows is made anew anyway."""

    def gone(self, place: Place) -> None:
        """It goes with the page that it belongs to."""
