from __future__ import annotations

from vanwater.panels.asleep import ASLEEP_STYLE, asleep
from vanwater.panels.bench import Bench
from vanwater.panels.pieces import picture
from vanwater.panels.style import STYLE
from vanwater.plan.file import PlanFile


def test_a_page_without_a_kernel_says_what_to_run(family: PlanFile) -> None:
    bench = Bench(family)
    sentence = asleep(bench, "Days off-grid")
    assert (
        repr(sentence) == "Days off-grid: run this notebook to move the sliders (in JupyterLab: Run > Run All Cells)."
    )
    bench.choose("ski week")
    bench.set("household.people", 3)
    assert "not saved: situation ski week; household, people who live in the van: 4 → 3." in repr(sentence)


def test_it_can_show_the_last_picture(family: PlanFile) -> None:
    bench = Bench(family)
    page = asleep(bench, "The whole van", "stay")
    before = page.piece.html
    assert "<svg" in before and "<svg" not in asleep(bench, "The whole van").piece.html
    assert page.piece.numbers
    bench.set("household.people", 3)
    chart = bench.ask("stay").chart()
    assert chart is not None and page.piece.html != before
    assert picture(chart).text in repr(page)


def test_it_is_hidden_beside_a_live_panel_alone() -> None:
    assert ASLEEP_STYLE in STYLE
    assert ":has(.vw-panel:not(.jupyter-widgets-disconnected))" in ASLEEP_STYLE  # a kernel that is gone moves nothing
