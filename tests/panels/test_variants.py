from __future__ import annotations

import html
import re

import pytest

from tests.panels.published_cells import caught
from vanwater.panels.bench import Bench
from vanwater.panels.variants import NOTHING, side_by_side
from vanwater.plan.file import PlanFile

HOSTILE = '<img src=x onerror="alert(1)">'


def test_a_cell_says_how_to_begin_and_follows_what_is_kept(family: PlanFile, monkeypatch: pytest.MonkeyPatch) -> None:
    bench = Bench(family)
    cell = bench.variants()
    with caught(monkeypatch) as page:
        cell._ipython_display_()
        assert page.texts[0] == NOTHING == repr(cell)
        bench.set("household.people", 2)
        assert page.texts[0] == NOTHING
        bench.keep("two")
        assert "B, two: household, people who live in the van: 4 → 2." in page.texts[0]
        told = page.texts[0]
        assert "what ends the stay" in told and "+1.1\u00a0days" in told
        renewed = page.renewed
        bench.set("household.people", 6)  # what is kept does not follow the hand
        assert page.texts[0] == told
        assert [bundle for bundle in page.bundles.values() if "svg" in bundle.get("text/html", "")]
        assert page.renewed - renewed <= 1  # the sentence for a page without a kernel
        bench.drop("B")
        assert page.texts[0] == NOTHING
    assert cell.numbers == ()


def test_a_name_is_only_ever_text(family: PlanFile) -> None:
    bench = Bench(family)
    bench.set("household.people", 2)
    bench.keep(HOSTILE)
    told = side_by_side(bench).html
    assert "<img" not in told
    assert html.escape(HOSTILE) in told


def test_differences_have_a_sign_and_say_whether_they_may_be_none(family: PlanFile) -> None:
    bench = Bench(family)
    bench.set("household.people", 2)
    bench.keep()
    bench.home()
    bench.set("tanks.grey.length", "1.1 m")
    bench.keep()
    told = side_by_side(bench)
    assert re.search(r"\+1\.1\sdays \(", told.text) and ", may be none" in told.text
    assert "gets better" in told.text  # findings that turn
    assert "lowest cold at which the grey tank is held driving" in told.text
    assert "Money is left out" in told.html
    assert told.html.count("<svg") == 2


def test_the_situation_that_is_chosen_is_named(family: PlanFile) -> None:
    bench = Bench(family)
    bench.choose("summer lake")
    bench.set("household.people", 2)
    bench.keep()
    assert side_by_side(bench).text.startswith("A: the plan as it is saved, in the situation summer lake.")
