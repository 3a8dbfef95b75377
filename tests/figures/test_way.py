from __future__ import annotations

import math
import re
from itertools import pairwise

import numpy as np
import pytest

from vanwater.figures.way import SEEN, alike, place, way
from vanwater.quantities import Array


def points_of(path: str) -> Array:
    return np.array([[float(x), float(y)] for x, y in re.findall(r"(-?[\d.]+),(-?[\d.]+)", path)])


def gap(points: Array, path: Array) -> float:
    """How far the points lie off the path at most, by looking at every stretch for each."""
    farthest = 0.0
    for point in points:
        near = math.inf
        for start, end in pairwise(path):
            chord = end - start
            share = np.clip((point - start) @ chord / max(chord @ chord, 1e-12), 0.0, 1.0)
            near = min(near, float(np.hypot(*(point - start - share * chord))))
        farthest = max(farthest, near)
    return farthest


@pytest.mark.parametrize("places", [3, 40, 700])
def test_what_is_drawn_lies_where_the_points_lie(places: int) -> None:
    x = np.linspace(0.0, 400.0, places)
    curves = {
        "wave": 100 + 80 * np.sin(x / 20),
        "decay": 200 * np.exp(-x / 60),
        "step": np.where(x < 200, 40.0, 160.0),
        "saw": (x * 7) % 150,
    }
    for name, y in curves.items():
        points = np.column_stack((x, y))
        drawn = points_of(way(points))
        assert gap(points, drawn) <= SEEN + math.hypot(SEEN, SEEN) + 1e-9, name  # left out, and rounded
        assert drawn[:, 1].max() == pytest.approx(y.max(), abs=SEEN + 1e-9), name
        assert drawn[:, 1].min() == pytest.approx(y.min(), abs=SEEN + 1e-9), name
        assert drawn[[0, -1]] == pytest.approx(points[[0, -1]], abs=SEEN + 1e-9), name


def test_a_straight_way_needs_its_ends_alone_and_a_peak_between_two_points_stays() -> None:
    x = np.linspace(0.0, 300.0, 301)
    assert way(np.column_stack((x, x / 3))) == "M0,0L300,100"
    peak = np.where(x == 150.0, 80.0, 10.0)
    assert way(np.column_stack((x, peak))) == "M0,10L149,10L150,80L151,10L300,10"


def test_a_way_that_comes_back_keeps_its_turning_point() -> None:
    assert way(np.array([[0.0, 0.0], [10.0, 0.0], [0.0, 0.0]])) == "M0,0L10,0L0,0"
    assert way(np.array([[0.0, 0.0], [10.0, 0.0], [5.0, 0.0]])) == "M0,0L10,0L5,0"


def test_a_smooth_curve_of_many_points_is_drawn_with_few() -> None:
    x = np.linspace(0.0, 400.0, 2000)
    assert len(points_of(way(np.column_stack((x, 200 * np.exp(-x / 60)))))) < 80


def test_no_point_gives_no_way_and_one_gives_itself() -> None:
    assert way(np.empty((0, 2))) == ""
    assert way(np.array([[1.0, 2.0]])) == "M1,2"


def test_a_place_is_told_in_tenths() -> None:
    assert [place(value) for value in (0.0, -0.01, 93.06, 1234.56, 93.0)] == ["0", "0", "93.1", "1234.6", "93"]


def test_what_looks_alike_and_follows_each_other_is_told_once() -> None:
    elements = [('fill="red"', "<a/>"), ('fill="red"', "<b/>"), ("", "<c/>"), ('fill="red"', "<d/>")]
    assert list(alike(elements)) == ['<g fill="red"><a/><b/></g>', "<c/>", '<g fill="red"><d/></g>']
