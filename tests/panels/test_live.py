from __future__ import annotations

import pytest

from tests.panels.published_cells import caught
from vanwater.panels import cells
from vanwater.panels.bench import Bench
from vanwater.panels.live import ASIDE
from vanwater.plan.file import PlanFile


def test_a_cell_shows_what_a_page_without_a_kernel_can_read_and_follows(
    family: PlanFile, monkeypatch: pytest.MonkeyPatch
) -> None:
    bench = Bench(family)
    verdict, chart = bench.page("stay").verdict(), bench.page("stay").chart("stores")
    with caught(monkeypatch) as page:
        verdict._ipython_display_()
        chart._ipython_display_()
        first = dict(page.bundles)
        assert [sorted(bundle) for bundle in first.values()] == [["text/html", "text/plain"]] * 3
        assert [bundle["text/html"].count("<svg") for bundle in first.values()] == [0, 1, 0]
        assert "family-van-winter-use-stores.csv" in list(first.values())[2]["text/html"]
        bench.set("household.people", 6)
        assert page.texts[0] == bench.ask("stay").verdict.text() == repr(verdict)
        assert list(page.bundles) == list(first)
        assert all(page.bundles[name] != first[name] for name in first)
        bench.undo()
        assert page.bundles == first


def test_a_cell_that_the_move_does_not_touch_is_left_alone(family: PlanFile, monkeypatch: pytest.MonkeyPatch) -> None:
    bench = Bench(family)
    with caught(monkeypatch) as page:
        bench.page("weight").cautions()._ipython_display_()
        bench.set("household.people", 6)
        assert page.renewed == 0


def test_what_was_shown_stays_grey_while_the_plan_is_impossible(
    family: PlanFile, monkeypatch: pytest.MonkeyPatch
) -> None:
    bench = Bench(family)
    with caught(monkeypatch) as page:
        bench.page("stay").chart("stores")._ipython_display_()
        name, link = page.bundles
        before, kept = page.bundles[name], page.bundles[link]
        bench.set("tanks.grey.height", "10 cm")
        grey = page.bundles[name]
        assert ASIDE in grey["text/html"] and ASIDE in grey["text/plain"]
        assert before["text/html"] in grey["text/html"]
        assert page.bundles[link] == kept  # of what is still in sight
        bench.page("stay").verdict()._ipython_display_()  # a cell that is run only now
        assert page.texts[2].startswith(ASIDE)
        bench.undo()
        assert page.bundles[name] == before
        assert not any(ASIDE in text for text in page.texts)


def test_what_a_cell_showed_before_it_ran_again_follows_no_longer(
    family: PlanFile, monkeypatch: pytest.MonkeyPatch
) -> None:
    bench = Bench(family)
    runs = iter((("cell 1", "run 1"), ("cell 2", "run 2"), ("cell 1", "run 3")))
    monkeypatch.setattr("vanwater.panels.live.place_now", lambda: next(runs))
    with caught(monkeypatch) as page:
        for _ in range(3):
            bench.page("stay").verdict()._ipython_display_()
        assert len(bench.followers) == 2
        bench.set("household.people", 6)
        assert page.renewed == 2


def test_one_piece_in_two_cells_follows_in_both(family: PlanFile, monkeypatch: pytest.MonkeyPatch) -> None:
    bench = Bench(family)
    verdict = bench.page("stay").verdict()
    with caught(monkeypatch) as page:
        verdict._ipython_display_()
        verdict._ipython_display_()
        bench.set("household.people", 6)
        assert len(set(page.texts)) == 1 and page.renewed == 2
    assert cells.place_now() == ("", "")
