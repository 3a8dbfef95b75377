from __future__ import annotations

import html

from tests.panels.following import Watcher
from vanwater.answers.situations import AS_WRITTEN
from vanwater.panels.bench import Bench
from vanwater.panels.bench_bar import ANEW, BenchBar
from vanwater.plan.file import PlanFile
from vanwater.plan.model import Plan


def bar_on(bench: Bench) -> BenchBar:
    watcher = Watcher()
    bar = BenchBar(bench, watcher)
    watcher.moved = bar.moved  # type: ignore[method-assign]
    bench.follow(watcher)
    return bar


def test_steps_go_back_and_forth_and_home(family: PlanFile) -> None:
    bench = Bench(family)
    bar = bar_on(bench)
    assert (bar.undo.disabled, bar.redo.disabled, bar.home.disabled) == (True, True, True)
    bench.set("household.people", 3)
    bar.situation.value = "ski week"
    bar.undo.click()
    assert (bench.state.situation, bar.situation.value) == ("", "")
    bar.undo.click()
    assert (bench.values, bar.home.disabled) == ({}, True)
    bar.redo.click()
    assert (bench.values, bar.home.disabled) == ({"household.people": 3}, False)
    bar.home.click()
    assert bench.values == {}
    bar.undo.click()
    assert bench.values == {"household.people": 3}


def test_situations_are_offered_where_the_plan_has_some(family: PlanFile) -> None:
    bench = Bench(family)
    bar = bar_on(bench)
    assert [label for label, _ in bar.situation.options] == [AS_WRITTEN, *family.plan.situations]
    bare = bar_on(Bench(Plan.of({"van": {"name": "x"}, "household": {"people": 2}})))
    assert bare.situation.layout.display == "none"
    bench.load(family.path.with_name("touring-campsites.toml"))
    bar.loaded()
    assert [label for label, _ in bar.situation.options] == [AS_WRITTEN, *bench.situations]


def test_a_page_that_was_loaded_anew_is_told_in_a_sentence(family: PlanFile) -> None:
    bench = Bench(family)
    bar = bar_on(bench)
    cell = Watcher()
    cell.page = ""
    bench.follow(cell)
    bar.watch._told(bar.watch, {"page": "first"}, [])
    assert bar.anew.value == ""
    bar.watch._told(bar.watch, {"page": "second"}, [])
    assert html.escape(ANEW) in bar.anew.value
    assert bar.anew.layout.display == ""


def test_what_stands_is_kept_as_a_variant_until_all_letters_are_taken(family: PlanFile) -> None:
    bench = Bench(family)
    bar = bar_on(bench)
    assert (bar.keep.description, bar.keep.disabled) == ("keep as B", True)  # it is the saved plan
    for people, letter, after in ((2, "B", "C"), (3, "C", "D"), (5, "D", "")):
        bench.set("household.people", people)
        assert (bar.keep.description, bar.keep.disabled) == (f"keep as {letter}", False)
        bar.keep.click()
        assert (bar.keep.description, bar.keep.disabled) == (f"kept as {letter}", True)
        assert bench.next_letter == after
    bench.set("household.people", 6)
    assert (bar.keep.description, bar.keep.disabled) == ("B, C, D are kept", True)
    assert "drop a variant" in bar.keep.tooltip
    bench.drop("C")
    assert (bar.keep.description, bar.keep.disabled) == ("keep as C", False)
    bench.set("tanks.grey.height", "10 cm")
    assert bar.keep.disabled
