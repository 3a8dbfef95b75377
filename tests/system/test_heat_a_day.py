from __future__ import annotations

import numpy as np
import pytest

from tests.examples import example
from vanwater.plan.day import STATES
from vanwater.system.batch import Batch
from vanwater.system.heat_a_day import also_heats, heats, lost_heat
from vanwater.system.hot_water_day import hot_water_day
from vanwater.system.hours import hours_of
from vanwater.system.stores import moved

FAMILY = example("family-winter")


def test_what_is_lost_is_that_of_the_hours_unless_it_is_left_hot() -> None:
    off = Batch(FAMILY.changed({"heaters.heater.left_hot": False}))
    assert lost_heat(off, "heater")[0] * 24 == pytest.approx(22 * 3)  # W times h
    left, followed = Batch(FAMILY), hot_water_day(Batch(FAMILY), "heater")
    assert followed is not None
    assert lost_heat(left, "heater")[0] * 86400.0 == pytest.approx(followed.lost[0])


def test_a_second_source_gives_no_more_than_is_wanted_and_nothing_without_hours() -> None:
    engine = {"heaters.heater.also": "engine", "heaters.heater.also_power": "4000 W"}
    for driving, some in (("2 h", True), ("0 h", False)):
        batch = Batch(FAMILY.changed({**engine, "day": {"driving": driving}}))
        heat = heats(batch, moved(batch), "heater")
        given = also_heats(batch, hours_of(batch), "heater", heat)
        assert bool(given[0] > 0.0) is some
        assert np.all(given <= heat)
    assert len(STATES) == hours_of(batch).shape[0]


def test_one_charge_by_the_sun_gives_no_more_than_is_wanted() -> None:
    wanted, sunny = (
        heats(batch, moved(batch), "heater")[0]
        for batch in (Batch(FAMILY), Batch(FAMILY.changed({"heaters.heater.when": "sun"})))
    )
    assert 0.0 < sunny < wanted
