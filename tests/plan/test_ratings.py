from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from vanwater.plan.ratings import RatingRow, rating_at, rating_of, ratings, ratings_of_fitting
from vanwater.plan.tables import PipeRow, fittings, joints, outlets, pipes

EVERYTHING: list[PipeRow | RatingRow] = [*pipes().values(), *ratings().values()]


def test_every_row_covers_what_the_other_tables_know_and_nothing_twice() -> None:
    pieces = dict.fromkeys(("heater", "accumulator", "pump"))
    known = {"joint": joints(), "fitting": fittings(), "outlet": outlets(), "piece": pieces}
    covered = [(row.kind, name) for row in ratings().values() for name in row.covers]
    assert len(set(covered)) == len(covered) > 6
    for kind, name in covered:
        assert name in known[kind], name
    assert {name for kind, name in covered if kind == "piece"} == set(pieces)
    assert all(row.least for row in ratings().values() if row.kind == "piece")


def test_rows_stand_no_more_when_hot_and_all_stand_a_vans_pressure() -> None:
    for row in ratings().values():
        assert row.rated_at < row.hottest
        assert 2e5 <= row.hot_pressure <= row.rated_pressure <= 16e5
        assert row.source


def test_a_fitting_is_known_by_itself_or_by_its_joint() -> None:
    elbow, filter_ = fittings()["push-fit elbow"], fittings()["cartridge filter"]
    assert [row.key for row in ratings_of_fitting(elbow)] == ["push-fit"]
    assert [row.key for row in ratings_of_fitting(filter_)] == ["cartridge filter"]
    assert [row.key for row in ratings_of_fitting(fittings()["barb elbow"])] == ["barb and clamp"]
    assert ratings_of_fitting(fittings()["press elbow"]) == ()
    assert rating_of("joint", "press") is None
    assert rating_of("fitting", "push-fit") is None


def test_rating_runs_straight_between_its_two_points() -> None:
    hose = pipes()["silicone hose 13 mm"]
    assert rating_at(hose, 273.15 + 5) == rating_at(hose, 273.15 + 20) == pytest.approx(5e5)
    assert rating_at(hose, 273.15 + 70) == pytest.approx(4e5)
    assert rating_at(hose, 273.15 + 120) == pytest.approx(3e5)
    assert rating_at(hose, 273.15 + 120.1) is None
    assert rating_at(pipes()["multilayer 16 mm"], 273.15 + 60) == pytest.approx(1e6)
    assert rating_at(pipes()["waste pipe 32 mm"], 283.15) is None
    assert rating_at(ratings()["push-fit"], 273.15 + 42.5) == pytest.approx(8.5e5)


@given(row=st.sampled_from(EVERYTHING), low=st.floats(270, 380), more=st.floats(0, 80))
def test_warmer_never_stands_more(row: PipeRow | RatingRow, low: float, more: float) -> None:
    cool, warm = rating_at(row, low), rating_at(row, low + more)
    assert warm is None or (cool is not None and warm <= cool)
