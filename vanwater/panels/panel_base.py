"""What every live panel has: the bench, the bar above, the files below, its picture and its findings."""

from __future__ import annotations

from typing import Any

import ipywidgets as widgets

from vanwater.answers.core.chart import Chart
from vanwater.answers.core.statement import plain
from vanwater.figures.drawing import drawing
from vanwater.panels.asleep import asleep
from vanwater.panels.bench_bar import BenchBar
from vanwater.panels.cells import Place, again, place_now, show_widget
from vanwater.panels.comparison import beside
from vanwater.panels.findings import Findings
from vanwater.panels.followed import Followed
from vanwater.panels.guard import guarded
from vanwater.panels.hand_on import HandOn
from vanwater.panels.picture_tools import PictureTools
from vanwater.panels.plan_files import PlanFiles
from vanwater.panels.variants import VariantsFold

__all__ = ["PanelBase"]

_HEIGHT = 300.0
"""Points of a picture with curves."""

_NARROW, _BELOW = 300.0, 430.0
"""Points of a picture's sheet where its place is less than so many pixels wide: letters stay large enough to read."""


class PanelBase:
    """What every live panel has.

    Parameters
    ----------
    bench : Followed
        Whose plan it is.
    title : str
        What it is about.
    wide : float
        Points of its picture's sheet.
    """

    _pictured = ""  # the question whose picture stands in its place in a saved notebook

    def __init__(self, bench: Followed, title: str, wide: float) -> None:
        self.bench, self._title, self._wide, self._widest = bench, title, wide, wide
        self._place: Place = ("", "")
        self.bar = BenchBar(bench, self)
        self.bar.watch.room = self._given
        self.verdict, self.picture = widgets.HTML(), widgets.HTML()
        self.picture.add_class("vw-chart")
        self.tools = PictureTools(bench)
        self.pictures = widgets.VBox([self.picture, self.tools.widget])
        self.missing = widgets.HTML(layout={"display": "none"})
        self.findings = Findings(bench.us)
        self.variants, self.files, self.handing = VariantsFold(bench), PlanFiles(bench), HandOn(bench)
        self.below = (self.variants.collapsible, self.files.collapsible, self.handing.collapsible)
        self._aside: list[Any] = []  # what turns grey while the plan is impossible
        self._show = guarded(self._follow, self._failed, self._name)
        self.widget: Any = None

    def moved(self) -> None:
        """Let controls and bar stand where the bench stands."""
        self.bar.moved()
        self.variants.moved()

    def refresh(self) -> None:
        """Show how the bench stands now."""
        self._show()

    def loaded(self) -> None:
        """Begin anew with another plan."""
        self.bar.loaded()
        self.findings.us = self.bench.us

    def gone(self, place: Place) -> None:
        """Leave the bench when its cell runs again."""
        if again(self._place, place):
            self.bench.leave(self)

    def _given(self, pixels: float) -> None:
        """Draw for the room that the page has."""
        wide = min(self._widest, _NARROW) if pixels < _BELOW else self._widest
        if wide != self._wide:
            self._wide = wide
            self._show()

    def _follow(self) -> None:
        raise TypeError(f"{type(self).__name__} shows nothing")

    def _failed(self, message: str) -> None:
        """Keep what was shown, grey, below why there is nothing newer."""
        self.verdict.value = self._headed(message)
        for collapsible in self.below:
            collapsible.refresh()
        for aside in self._aside:
            aside.add_class("vw-stale")

    def _sound(self) -> None:
        """What is shown is of now."""
        for aside in self._aside:
            aside.remove_class("vw-stale")

    def _headed(self, inside: str) -> str:
        """What stands on top."""
        return f'<div class="vw-verdict">{inside}</div>'

    def _name(self, address: str) -> str:
        """What people call a field that is refused; empty where none is meant that a hand has set."""
        return self.bench.field(address).name if address in self.bench.values else ""

    def _draw_chart(self, chart: Chart | None, saved: Chart | None) -> None:
        """Show a picture, the saved plan's curves faintly behind its own, and what stands below."""
        shown = None if chart is None else beside(chart, saved)
        if shown is None:
            self.picture.value = "<p>There is nothing to draw yet.</p>"
        else:
            height = None if shown.bars else _HEIGHT
            self.picture.value = drawing(shown, self.bench.us, self._wide, height, hover=True)
        self.tools.show(shown)

    def _changed(self) -> str:
        """What a hand has changed, and what moves less than it seems to, as HTML; empty for nothing."""
        listed = plain("; ".join(self.bench.changes), "html")
        capped = "".join(f" {plain(why, 'html')}" for why in self.bench.capped)
        return f'<span title="{listed}">Changed: {listed}</span>{capped}' if listed else ""

    def _ipython_display_(self) -> None:
        """Be shown in a cell, live; where no kernel runs a sentence stands in its place."""
        self._place = place_now()
        asleep(self.bench, self._title, self._pictured)._ipython_display_()
        show_widget(self.widget)
