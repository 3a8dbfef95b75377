from __future__ import annotations

import numpy as np
import pytest

from tests.answers.frosty import ZERO, frosty
from vanwater.plan.winter import BESIDE
from vanwater.system.batch import Batch, Row
from vanwater.system.surroundings import Case, air_speed, beside_codes, neighbours, wind_at

OUTSIDE, BOX, ROOM = (BESIDE.index(name) for name in ("outside", "box", "room"))


def test_a_box_of_which_nothing_is_said_lies_half_way() -> None:
    batch = Batch(frosty(frost__room="20 °C"), [Row("warmer", {"frost.box": ZERO + 3})])
    around = neighbours(batch, batch.number("frost.design_cold"))
    assert around.temperature[:, 0] - ZERO == pytest.approx([-10, 5, 20])
    assert around.follows[:, 0] == pytest.approx([1, 0.5, 0])
    assert around.temperature[BOX, 1] - ZERO == pytest.approx(3)
    assert around.follows[BOX, 1] == 0


def test_what_follows_the_outside_moves_with_it() -> None:
    batch = Batch(frosty())
    codes = np.array([[OUTSIDE, BOX, ROOM]])
    cold, colder = (neighbours(batch, np.array([kelvin])) for kelvin in (260.0, 250.0))
    assert cold.beside(codes) - colder.beside(codes) == pytest.approx(10.0 * cold.following(codes))


def test_parked_the_wind_counts_and_driving_a_share_of_the_speed() -> None:
    rows = [Row("windy", factors={"wind": 2.0, "under floor": 1.4}), Row("all of it", factors={"under floor": 9.0})]
    batch = Batch(frosty(site__wind="3 m/s", frost__road_speed="90 km/h", frost__under_floor="50 %"), rows)
    assert air_speed(batch, driving=False) == pytest.approx([3, 6, 3])
    assert air_speed(batch, driving=True) == pytest.approx([12.5, 17.5, 25])  # never more than the van's own speed


def test_only_outside_air_moves() -> None:
    batch = Batch(frosty(site__wind="3 m/s"))
    codes = np.array([[OUTSIDE, BOX, ROOM]])
    hold, cold = np.array([277.15]), np.array([263.15])
    air, speed = wind_at(batch, codes, [Case(hold, cold), Case(hold, cold, driving=True)])
    assert air.shape == speed.shape == (2, 1, 3)
    assert speed[:, 0, 1:] == pytest.approx(0)
    assert speed[:, 0, 0] == pytest.approx([3, 12.5])


def test_the_first_address_that_a_row_changes_counts() -> None:
    rows = [Row("tank", {"b": "room"}), Row("both", {"a": "box", "b": "room"}), Row("other", {"c": "room"})]
    assert beside_codes(Batch(frosty(), rows), "outside", "a", "b").tolist() == [OUTSIDE, ROOM, BOX, OUTSIDE]


def test_without_heat_all_is_as_cold_as_outside_and_only_outside_air_moves() -> None:
    batch = Batch(frosty(site__wind="3 m/s", frost__box="4 °C"))
    codes = np.array([[OUTSIDE, BOX, ROOM]])
    air, speed = wind_at(batch, codes, [Case(np.array([277.15]), np.array([263.15]), heated=False)])
    assert air[0, 0] == pytest.approx([263.15] * 3)
    assert speed[0, 0] == pytest.approx([3, 0, 0])
