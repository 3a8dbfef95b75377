from __future__ import annotations

from typing import Any

import pytest

from vanwater.figures.screen import figure
from vanwater.panels.bench import Bench
from vanwater.panels.comparison import beside
from vanwater.panels.csv_link import csv_link
from vanwater.panels.large_picture import LargePicture
from vanwater.panels.picture_tools import PictureTools
from vanwater.plan.file import PlanFile


def test_the_large_picture_follows_while_it_is_on_and_costs_nothing_off(
    family: PlanFile, monkeypatch: pytest.MonkeyPatch
) -> None:
    drawn: list[Any] = []
    show = LargePicture.show

    def counted(self: LargePicture, chart: Any, us: bool = False) -> None:
        drawn.append(chart)
        show(self, chart, us)

    monkeypatch.setattr(LargePicture, "show", counted)
    bench = Bench(family)
    panel = bench.panel("stay", "levels")
    tools = panel.tools
    bench.set("household.people", 3, panel)
    assert tools.picture is None and drawn == [] and tools.widget.children == (tools.row,)
    tools.large.value = True
    assert tools.picture is not None and tools.widget.children == (tools.row, tools.picture)
    bench.set("household.people", 5, panel)
    chart, saved = bench.ask("stay").chart("levels"), bench.before("stay").chart("levels")
    assert chart is not None and saved is not None
    assert tools.picture.picture["figure"] == figure(beside(chart, saved))
    assert tools.picture.picture["file"] == "family-van-winter-use-levels"
    tools.large.value = False
    assert tools.widget.children == (tools.row,)
    before = len(drawn)
    bench.home(panel)
    assert len(drawn) == before


def test_the_link_holds_the_numbers_in_sight(family: PlanFile) -> None:
    bench = Bench(family)
    panel = bench.panel("stay", "levels")
    chart = bench.ask("stay").chart("levels")
    assert chart is not None
    assert panel.tools.link.value == csv_link(chart, False, "Family van, winter use")


def test_where_nothing_is_drawn_there_is_nothing_to_draw_large(family: PlanFile) -> None:
    tools = PictureTools(Bench(family))
    tools.large.value = True
    tools.show(None)
    assert (tools.row.layout.display, tools.link.value) == ("none", "")
    assert tools.picture is not None and tools.picture.picture == {}
