from __future__ import annotations

import itertools
from typing import Any

import numpy as np
import pytest

from tests.examples import example
from vanwater.options.designs import MOST_ROWS, axes_of, rows_of
from vanwater.plan.problems import PlanError
from vanwater.quantities import LENGTH

FAMILY = example("family-winter")


def test_texts_are_read_and_arrays_are_si() -> None:
    texts, arrays, people, sizes = axes_of(
        FAMILY,
        {
            "tanks.fresh.length": ["90 cm", "1 m"],
            "tanks.fresh.height": np.array([0.2, 0.25]),
            "household.people": range(1, 4),
            "runs.galley spout.bore": [None, "8 mm"],
        },
    )
    assert list(texts.values) == [pytest.approx(0.9), 1.0]
    assert list(arrays.values) == [0.2, 0.25]
    assert list(people.values) == [1, 2, 3]
    assert list(sizes.values) == [None, pytest.approx(0.008)]
    assert texts.quantity is not None and texts.quantity.name == LENGTH.name
    assert people.quantity is None


def test_one_value_is_one_row_and_parts_go_in_whole() -> None:
    chest = {"mass": "40 kg", "x": "2 m"}
    length, load = axes_of(FAMILY, {"tanks.fresh.length": "1 m", "loads.chest": [chest]})
    assert (list(length.values), list(load.values)) == ([1.0], [chest])


def test_rows_are_every_pair_the_last_address_turning_fastest() -> None:
    axes = axes_of(FAMILY, {"household.people": [1, 2], "site.altitude": np.array([0.0, 500.0])})
    assert rows_of(axes) == [
        {"household.people": people, "site.altitude": metres} for people in (1, 2) for metres in (0.0, 500.0)
    ]


@pytest.mark.parametrize(
    ("values", "words"),
    [
        ({}, "Nothing is swept."),
        ({"tanks.frsh.length": ["1 m"]}, 'Did you mean "tanks.fresh.length"?'),
        ({"tanks.fresh.lenght": np.ones(2)}, '"lenght" is not known here.'),
        ({"tanks.fresh.length": ["long"]}, "does not start with a number"),
        ({"tanks.fresh.length": ["1 m", "75"]}, '"75" has no unit.'),
        ({"tanks.fresh.length": [0.9]}, "0.9 has no unit."),
        ({"tanks.fresh.length": ["3 kg"]}, '"kg" is not a unit of length.'),
        ({"tanks.fresh.length": [True]}, "is no length"),
        ({"household.people": ["two"]}, '"two" is not a whole number.'),
        ({"household.people": []}, "There is no value to go through."),
        ({"household.people": range(10**9)}, "1000000000 rows are too many. Expected at most 1000000 rows."),
        ({"household.people": itertools.count()}, "too many"),
        ({"household.people": range(2000), "site.altitude": np.ones(2000)}, "4000000 rows (2000 × 2000) are too many."),
    ],
)
def test_what_cannot_be_swept_is_told_at_its_address(values: dict[str, Any], words: str) -> None:
    with pytest.raises(PlanError) as caught:
        axes_of(FAMILY, values)
    assert words in str(caught.value)
    assert [problem.address for problem in caught.value.problems] == [", ".join(values)]


def test_all_problems_are_told_in_one_go() -> None:
    with pytest.raises(PlanError) as caught:
        axes_of(FAMILY, {"tanks.frsh.length": ["1 m"], "tanks.fresh.length": ["long", 3], "household.people": []})
    assert len(caught.value.problems) == 4


def test_as_many_rows_as_are_allowed_are_taken() -> None:
    assert len(axes_of(FAMILY, {"site.altitude": np.zeros(MOST_ROWS)})[0].values) == MOST_ROWS


def test_a_value_that_is_no_believable_one_is_left_for_its_row() -> None:
    (axis,) = axes_of(FAMILY, {"tanks.fresh.length": ["1 m", "900 m"]})
    assert list(axis.values) == [1.0, 900.0]


def test_a_sweep_of_a_us_plan_is_told_its_own_units() -> None:
    with pytest.raises(PlanError) as caught:
        axes_of(example("weekend-cans"), {"tanks.grey can.capacity": ["40"]})
    (problem,) = caught.value.problems
    assert problem.slip == 'Did you mean "40 gal"?'
    assert "gal" in problem.expected
