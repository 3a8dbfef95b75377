"""What stands below a panel's picture: a switch that draws it large too, and its numbers as a file to keep."""

from __future__ import annotations

from typing import Any

import ipywidgets as widgets

from vanwater.answers.core.chart import Chart
from vanwater.panels.csv_link import csv_link
from vanwater.panels.followed import Followed
from vanwater.panels.guard import guarded
from vanwater.panels.large_picture import LargePicture

__all__ = ["PictureTools"]


class PictureTools:
    """A switch and a link, and the large picture while the switch is on; off, it is not drawn.

    Parameters
    ----------
    bench : Followed
        Whose plan it is.
    """

    def __init__(self, bench: Followed) -> None:
        self._bench = bench
        self._chart: Chart | None = None
        self.picture: LargePicture | None = None  # made when it is first wanted
        self.large = widgets.ToggleButton(
            description="large", tooltip="draw this picture large too, to zoom and to read values off"
        )
        self.large.observe(guarded(lambda _: self._turned(), self._failed), "value")
        self.link = widgets.HTML()
        self.row = widgets.HBox([self.large, self.link])
        self.row.add_class("vw-tools")
        self.widget: Any = widgets.VBox([self.row])

    def show(self, chart: Chart | None) -> None:
        """Stand below another picture; without a chart there is nothing to draw large and no number to keep.

        Parameters
        ----------
        chart : Chart or None
            What the picture shows.
        """
        self._chart = chart
        self.row.layout.display = "none" if chart is None else ""
        bench = self._bench
        self.link.value = "" if chart is None else csv_link(chart, bench.us, bench.saved.van.name)
        if self.large.value:
            self._draw()

    def _draw(self) -> None:
        if self.picture is None:
            self.picture = LargePicture()
        self.picture.plan = self._bench.saved.van.name
        self.picture.show(self._chart, self._bench.us)

    def _turned(self) -> None:
        if self.large.value:
            self._draw()
            self.widget.children = (self.row, self.picture)
        else:
            self.widget.children = (self.row,)

    def _failed(self, message: str) -> None:
        self.link.value = message
