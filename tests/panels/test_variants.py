from __future__ import annotations

import html
import re

import pytest

from tests.panels.published_cells import caught
from vanwater.panels import cells, live
from vanwater.panels.bench import Bench
from vanwater.panels.keeping import Keeping
from vanwater.panels.variants import NOTHING, KeptRows, VariantsFold, side_by_side
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


def test_a_cell_that_runs_again_takes_nothing_from_another(family: PlanFile, monkeypatch: pytest.MonkeyPatch) -> None:
    bench = Bench(family)
    cell = bench.variants()
    with caught(monkeypatch) as page:
        for place in (("first", "1"), ("second", "2")):
            monkeypatch.setattr(live, "place_now", lambda place=place: place)
            cell._ipython_display_()
        cells.clear(bench, ("second", "3"))
        bench.keep("two", {"household.people": 2})
        assert "B, two" in page.texts[0]
        cells.clear(bench, ("first", "4"))
        assert cell not in bench.followers


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
    stores = told.html.split("<svg")[2]
    for plan in ("A", "B", "C"):  # each bar says whose it is
        assert re.search(rf"<title>grey, {plan}: \d", stores)
    (more,) = re.findall(r"<summary>all that differs: (\d+) more</summary>", told.html)
    assert int(more) > 0


def test_stores_are_drawn_only_where_the_stay_surely_moves(family: PlanFile) -> None:
    bench = Bench(family)
    bench.keep("", {"tanks.grey.length": "1.1 m"})
    comparison = bench.side_by_side
    assert comparison is not None and comparison["stay.days"].sure == (False,)
    assert side_by_side(bench).html.count("<svg") == 1
    bench.keep("", {"household.people": 2})
    assert side_by_side(bench).html.count("<svg") == 2


def test_the_situation_that_is_chosen_is_named(family: PlanFile) -> None:
    bench = Bench(family)
    bench.choose("summer lake")
    bench.set("household.people", 2)
    bench.keep()
    assert side_by_side(bench).text.startswith("A: the plan as it is saved, in the situation summer lake.")


def test_a_variant_is_named_taken_up_and_dropped_in_its_row(family: PlanFile) -> None:
    bench = Bench(family)
    rows = KeptRows(bench)
    assert rows.widget.children == ()
    bench.set("household.people", 2)
    bench.keep()
    rows.moved()
    assert list(rows.names) == ["B"] and rows.go["B"].disabled
    rows.names["B"].value = "two of them"
    assert bench.kept[0].head == "B, two of them"
    bench.home()
    rows.moved()
    assert not rows.go["B"].disabled
    rows.go["B"].click()
    assert dict(bench.values) == {"household.people": 2}
    rows.drops["B"].click()
    rows.moved()
    assert bench.kept == () and rows.widget.children == ()


def test_a_name_that_was_given_elsewhere_stands_in_the_box(family: PlanFile) -> None:
    bench = Bench(family)
    rows = KeptRows(bench)
    bench.set("household.people", 2)
    bench.keep("x")
    rows.moved()
    assert rows.names["B"].value == "x"
    bench.rename("B", "y")
    rows.moved()
    assert (rows.names["B"].value, bench.kept[0].name) == ("y", "y")


def test_it_is_worked_out_only_while_somebody_looks(family: PlanFile, monkeypatch: pytest.MonkeyPatch) -> None:
    bench = Bench(family)
    fold = VariantsFold(bench)
    bench.set("household.people", 2)
    bench.keep()
    asked: list[str] = []
    real = Keeping.side_by_side
    assert isinstance(real, property) and real.fget is not None
    get = real.fget
    monkeypatch.setattr(Keeping, "side_by_side", property(lambda self: (asked.append("x"), get(self))[1]))
    fold.moved()
    fold.collapsible.refresh()
    assert asked == [] and list(fold.rows.names) == ["B"]
    fold.collapsible.button.value = True
    assert asked and "4 → 2" in fold.collapsible.text.value
