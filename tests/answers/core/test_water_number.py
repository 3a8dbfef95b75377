"""The water's temperature as a number: its key, its sum, its range."""

from __future__ import annotations

import numpy as np
import pytest

from tests.answers.frosty import ZERO, frosty
from tests.examples import example
from vanwater.answers.core.unsure import rows_of
from vanwater.answers.core.water_number import cold_number, inlet_number, start_number, tank_number
from vanwater.answers.core.working import recomputed
from vanwater.answers.frost.cold_rows import unsure_cold
from vanwater.system.batch import Batch, low_and_high
from vanwater.system.water_temperature import inlet, water_temperature
from vanwater.system.ways import way_to

FAMILY = example("family-winter")


def test_it_unfolds_to_filling_stay_rest_and_pad() -> None:
    number = tank_number(Batch(FAMILY), "fresh")
    assert number.key == ("tank", "fresh", "water_temperature")
    told = "\n".join(number.lines())
    for word in (
        "site.cold_water",
        "household.days_wanted",
        "frost.hold",
        "temperature of rest, fresh tank parked at mean",
    ):
        assert word in told
    again = recomputed(number)
    assert again is not None and np.allclose(again, number.values, rtol=0, atol=1e-9)
    assert "long weekend" in "\n".join(tank_number(Batch(frosty()), "fresh").lines())
    bare = tank_number(Batch(frosty(pads__pad=None)), "fresh")
    assert "Freezing: how long water lasts" in "\n".join(bare.lines())


def test_it_is_ranged_by_what_the_cold_leaves_unsure() -> None:
    plan = frosty(frost__start=None)
    unsure = unsure_cold(plan)
    batch = Batch(plan, low_and_high(unsure))
    number = tank_number(batch, "fresh", rows_of(batch, unsure))
    assert number.range is not None
    low, high = number.range
    assert low < number.likely < high < ZERO + 12


def test_without_a_cold_and_with_a_temperature_it_is_the_plans_own() -> None:
    filled = tank_number(Batch(frosty(frost__design_cold=None, frost__mean_cold=None)), "fresh")
    assert filled.key == ("site", "cold_water")
    own = Batch(frosty(tanks__fresh__temperature="6 °C", frost__start=None))
    assert tank_number(own, "fresh").key == start_number(own, "fresh").key == ("tanks", "fresh", "temperature")
    assert tank_number(own, "fresh").values == pytest.approx(ZERO + 6)
    assert tank_number(own, "").key == ("site", "cold_water")


def test_freezing_counts_from_the_water_that_a_pad_keeps_else_from_filling() -> None:
    assert start_number(Batch(frosty()), "fresh").key == ("frost", "start")
    assert start_number(Batch(frosty(frost__start=None)), "fresh").key == ("tank", "fresh", "water_temperature")
    assert start_number(Batch(frosty(frost__start=None, pads__pad=None)), "fresh").key == ("site", "cold_water")


def test_ways_and_heaters_have_the_number_of_their_tank() -> None:
    batch = Batch(FAMILY)
    number = tank_number(batch, "fresh")
    assert cold_number(batch, way_to(FAMILY, "shower")) is number is inlet_number(batch, "heater")
    assert np.array_equal(number.values, water_temperature(batch, "fresh"))
    hot = Batch(FAMILY.changed({"tanks.fresh.temperature": "38 °C", "heaters.heater.set_point": "35 °C"}))
    enters = inlet_number(hot, "heater")
    assert enters.key == ("heater", "heater", "inlet") and np.array_equal(enters.values, inlet(hot, "heater"))
    assert "set point" in "\n".join(enters.lines())
