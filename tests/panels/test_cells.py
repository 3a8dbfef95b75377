from __future__ import annotations

from typing import Any

import ipywidgets as widgets
import pytest

from tests.panels.following import Watcher
from tests.panels.published_cells import caught
from vanwater.panels import cells
from vanwater.panels.bench import Bench
from vanwater.plan.file import PlanFile


class Shell:
    def get_parent(self) -> dict[str, Any]:
        return {"header": {"msg_id": "run 1"}, "metadata": {"cellId": "cell 1"}}


def test_the_cell_that_runs_is_known_by_the_kernel(monkeypatch: pytest.MonkeyPatch) -> None:
    assert cells.place_now() == ("", "")
    monkeypatch.setattr(cells, "get_ipython", Shell)
    assert cells.place_now() == ("cell 1", "run 1")


def test_a_cell_runs_again_when_it_is_the_same_in_another_run() -> None:
    assert cells.again(("cell 1", "run 1"), ("cell 1", "run 2"))
    assert not cells.again(("cell 1", "run 1"), ("cell 1", "run 1"))
    assert not cells.again(("cell 1", "run 1"), ("cell 2", "run 2"))
    assert not cells.again(("", ""), ("", ""))


def test_everything_that_follows_is_told_which_cell_runs(family: PlanFile) -> None:
    told: list[cells.Place] = []

    class Leaver(Watcher):
        def gone(self, place: tuple[str, str]) -> None:
            told.append(place)

    bench = Bench(family)
    bench.follow(Leaver())
    cells.clear(bench, ("cell 1", "run 1"))
    assert told == [("cell 1", "run 1")]


def test_what_is_shown_by_a_name_is_renewed_by_it(monkeypatch: pytest.MonkeyPatch) -> None:
    with caught(monkeypatch) as page:
        cells.show({"text/plain": "first"}, "a")
        cells.renew({"text/plain": "second"}, "a")
        cells.show_widget(widgets.HTML("x"))
        assert page.texts == ["second", ""]
        assert "application/vnd.jupyter.widget-view+json" in list(page.bundles.values())[1]
