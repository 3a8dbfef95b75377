from __future__ import annotations

import numpy as np
import pytest

from tests.examples import example
from vanwater.plan.model import Plan
from vanwater.system.batch import Batch
from vanwater.system.hot_water_demand import heater_numbers, hot_water_a_day, hot_water_uses, main_hot_water_use

FAMILY = example("family-winter").changed({"cables": {}, "inverter.cable": "98 %"})


def test_numbers_of_a_heater_behind_the_inverter() -> None:
    numbers = heater_numbers(Batch(FAMILY), "heater")
    assert (numbers.inverter[0], numbers.cable[0]) == (0.91, 0.98)
    direct = heater_numbers(
        Batch(FAMILY.changed({"heaters.heater.source": "battery", "heaters.heater.volts": None})), "heater"
    )
    assert (direct.inverter[0], direct.cable[0]) == (1.0, 0.98)
    engine = heater_numbers(Batch(FAMILY.changed({"heaters.heater.source": "engine"})), "heater")
    assert np.isnan(engine.volts[0])
    assert engine.cable[0] == 1.0


def test_warm_uses_are_those_that_happen_and_are_warmer_than_the_tank() -> None:
    names = [use.name for use in hot_water_uses(Batch(FAMILY), "heater")]
    assert names == ["shower", "dishes"]
    never = FAMILY.changed({"uses.shower.a_day": 0.0}, si=True)
    assert [use.name for use in hot_water_uses(Batch(never), "heater")] == ["dishes"]


def test_the_shower_is_what_people_mean_else_the_largest() -> None:
    uses = hot_water_uses(Batch(FAMILY), "heater")
    chosen = main_hot_water_use(FAMILY, uses)
    assert chosen is not None
    assert chosen.name == "shower"
    assert chosen.volume[0] == pytest.approx(6.5e-3 / 60 * 80)
    assert main_hot_water_use(FAMILY, ()) is None


def test_no_use_is_warmer_than_the_heater() -> None:
    cool = FAMILY.changed({"heaters.heater.set_point": 273.15 + 40}, si=True)
    assert all(use.mixed[0] <= 273.15 + 40 for use in hot_water_uses(Batch(cool), "heater"))


def test_what_is_drawn_a_day_is_the_hot_share_of_every_warm_use() -> None:
    plan = Plan.of(
        {
            "van": {"name": "v"},
            "household": {"people": 3},
            "site": {"cold_water": "10 °C"},
            "heaters": {"heater": {"volume": "10 L", "source": "gas", "set_point": "60 °C"}},
            "uses": {
                "shower": {"a_day": "0.5 a day", "volume": "8 L", "temperature": "40 °C"},
                "dishes": {"a_day": "2 a day", "per": "van", "volume": "3 L", "temperature": "45 °C"},
                "hands": {"a_day": "6 a day", "volume": "1 L"},
            },
        },
        file=True,
    )
    litres = 3 * 0.5 * 8 * 30 / 50 + 2 * 3 * 35 / 50
    assert hot_water_a_day(Batch(plan), "heater")[0] == pytest.approx(litres * 1e-3 / 86400)
