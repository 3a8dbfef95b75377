from __future__ import annotations

import math

import pytest

from tests.answers.frosty import frosty
from tests.examples import example
from vanwater.answers.stay.answer import stay
from vanwater.answers.stay.battery import battery_store
from vanwater.plan.model import Plan
from vanwater.system.batch import Batch

FAMILY = example("family-winter").changed({"cables": {}, "appliances": {}, "heaters.heater.left_hot": False})
WEEKEND = example("weekend-cans")


def asked(plan: Plan) -> tuple[float, dict[str, float]]:
    batch = Batch(plan)
    store = battery_store(batch, ())
    assert store is not None
    pieces = {piece.name: piece.value.value * 24 for piece in store.a_day.given}  # type: ignore[union-attr]
    return store.days.likely / 86400, pieces


def test_loads_of_the_weekend_van_by_hand() -> None:
    days, pieces = asked(WEEKEND)
    assert pieces["other loads"] == pytest.approx(430)
    assert pieces["sun"] == pytest.approx(-0.95 * 120 * 2.4)
    assert "hot water" not in pieces
    usable = 12.8 * 100 * 0.85 * (0.92 + 0.08 * 18 / 25)  # in a room of 18 °C
    assert days == pytest.approx(usable / sum(pieces.values()))


def test_heater_and_inverter_count_for_the_family() -> None:
    _, pieces = asked(FAMILY)
    assert pieces["heater's standing loss"] == pytest.approx(22 * 3 / (0.91 * 0.98))
    assert pieces["inverter idling"] == pytest.approx(45)
    assert pieces["hot water"] > 500
    _, engine = asked(FAMILY.changed({"heaters.heater.source": "engine"}))
    assert "hot water" not in engine


def test_a_heater_that_is_left_hot_takes_its_cooling_too() -> None:
    _, off = asked(FAMILY)
    _, left = asked(FAMILY.changed({"heaters.heater.left_hot": True}))
    assert left["heater's standing loss"] > 3 * off["heater's standing loss"]
    assert left["hot water"] == pytest.approx(off["hot water"])


def test_a_cable_of_its_own_takes_the_place_of_what_is_said_of_the_inverter() -> None:
    _, said = asked(FAMILY)
    long = {"to": "inverter", "length": "3 m", "section": "25 mm²"}
    _, laid = asked(FAMILY.changed({"cables.long": long}))
    assert laid["hot water"] > said["hot water"]


def test_every_source_that_charges_is_a_part_of_the_sum() -> None:
    plan = FAMILY.changed(
        {
            "battery.charging": None,
            "battery.chemistry": "lithium iron phosphate",
            "sun": {"panels": "300 W", "full_sun": "0.6 h"},
            "alternator": {"current": "30 A", "volts": "14.2 V"},
            "shore": {"limit": "10 A", "volts": "230 V", "charger": "20 A"},
            "day": {"driving": "1 h", "shore": "2 h"},
        }
    )
    _, pieces = asked(plan)
    assert "charging" not in pieces
    assert pieces["sun"] == pytest.approx(-0.95 * 180)
    assert pieces["alternator"] == pytest.approx(-0.95 * 30 * 14.2)
    assert pieces["socket"] == pytest.approx(-0.95 * 20 * 14.2 * 2)


def test_appliances_decide_the_loads_too() -> None:
    fan = {"power": "20 W", "hours": "5 h"}
    _, pieces = asked(FAMILY.changed({"battery.other_loads": None, "appliances.fan": fan}))
    assert pieces["fan"] == pytest.approx(100)
    assert "other loads" not in pieces


def test_each_electric_heater_counts() -> None:
    """A second one behind the inverter loses its standing heat as well."""
    second = {"volume": "5 L", "source": "inverter", "volts": "230 V", "standby": "10 W", "hours_on": "2 h"}
    _, pieces = asked(FAMILY.changed({"heaters.second": second}))
    assert pieces["heater's standing loss, second"] == pytest.approx(20 / (0.91 * 0.98))
    assert pieces["hot water, heater"] > 500


def test_hotter_cold_water_takes_less() -> None:
    warm, cold = (asked(FAMILY.changed({"site.cold_water": 273.15 + t}, si=True))[1]["hot water"] for t in (20, 5))
    assert warm < cold


def test_charging_above_the_loads_is_unlimited() -> None:
    days, _ = asked(WEEKEND.changed({"battery.charging": 1000 / 24}, si=True))
    assert days == math.inf


def test_not_decided_is_none() -> None:
    for change in ({"battery": None}, {"battery.other_loads": None}):
        batch = Batch(FAMILY.changed(change))
        assert battery_store(batch, ()) is None


def test_a_pad_of_which_nobody_knows_how_long_it_is_on_makes_the_days_a_range() -> None:
    unknown = {"holds": "fresh", "z": "-0.3 m", "capacity": "70 L"}
    said = {"battery__other_loads": "240 Wh/day", "household__habits": "careful"}
    open_, without = stay(frosty(tanks__fresh=unknown, **said)), stay(frosty(tanks__fresh=unknown, pads={}, **said))
    pad, bare = (next(store.a_day for store in one.stores if store.holds == "battery") for one in (open_, without))
    assert pad.range is not None and bare.range is not None
    assert pad.likely == pytest.approx(bare.likely + 60.0)
    assert pad.range[0] < bare.likely < pad.likely < pad.range[1]
    told = [one for one in open_.assumptions if one.key == "pads on"]
    assert len(told) == 1 and "Measure the inside length" in told[0].measure
