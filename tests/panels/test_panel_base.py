from __future__ import annotations

from vanwater.panels.bench import Bench
from vanwater.panels.panel_base import PanelBase
from vanwater.plan.file import PlanFile
from vanwater.plan.problems import PlanError, Problem


class Refusing(PanelBase):
    """A panel that shows nothing yet."""

    def _follow(self) -> None:
        raise PlanError([Problem("tanks.grey.height", "<too> low.")])


def test_a_refusal_is_told_on_top_by_the_name_of_what_was_set(family: PlanFile) -> None:
    bench = Bench(family)
    panel = Refusing(bench, "x", 400.0)
    panel._aside = [panel.pictures]
    panel.refresh()
    assert "&lt;too&gt; low." in panel.verdict.value and "grey tank" not in panel.verdict.value
    bench.set("tanks.grey.height", "10 cm")
    panel.refresh()
    assert "grey tank, inside height" in panel.verdict.value
    assert "vw-stale" in panel.pictures._dom_classes
    panel._sound()
    assert "vw-stale" not in panel.pictures._dom_classes


def test_a_panel_leaves_the_bench_when_its_cell_runs_again(family: PlanFile) -> None:
    bench = Bench(family)
    panel = Refusing(bench, "x", 400.0)
    bench.follow(panel)
    panel._place = ("cell 1", "run 1")
    panel.gone(("cell 2", "run 2"))
    assert bench.followers == [panel]
    panel.gone(("cell 1", "run 3"))
    assert bench.followers == []


def test_changes_are_told_on_one_line(family: PlanFile) -> None:
    bench = Bench(family)
    panel = Refusing(bench, "x", 400.0)
    assert panel._changed() == ""
    bench.set("household.people", 3)
    assert "Changed: household, people who live in the van: 4 → 3" in panel._changed()
