from __future__ import annotations

import math

import pytest

from tests.examples import example
from vanwater.answers.stay.battery import battery_store
from vanwater.plan.model import Plan
from vanwater.system.batch import Batch
from vanwater.system.stores import moved

FAMILY = example("family-winter")
WEEKEND = example("weekend-cans")


def asked(plan: Plan) -> tuple[float, dict[str, float]]:
    batch = Batch(plan)
    store = battery_store(batch, moved(batch), ())
    assert store is not None
    pieces = {piece.name: piece.value.value * 24 for piece in store.a_day.given}  # type: ignore[union-attr]
    return store.days.likely / 86400, pieces


def test_loads_of_the_weekend_van_by_hand() -> None:
    days, pieces = asked(WEEKEND)
    assert pieces["other loads"] == pytest.approx(430)
    assert pieces["charging"] == pytest.approx(-270)
    assert "hot water" not in pieces
    usable = 12.8 * 100 * 0.85
    assert days == pytest.approx(usable / sum(pieces.values()))


def test_heater_and_inverter_count_for_the_family() -> None:
    _, pieces = asked(FAMILY)
    assert pieces["heater's standing loss"] == pytest.approx(22 * 3 / (0.91 * 0.98))
    assert pieces["inverter idling"] == pytest.approx(45)
    assert pieces["hot water"] > 500
    _, engine = asked(FAMILY.changed({"heaters.heater.source": "engine"}))
    assert "hot water" not in engine


def test_hotter_cold_water_takes_less() -> None:
    warm, cold = (asked(FAMILY.changed({"site.cold_water": 273.15 + t}, si=True))[1]["hot water"] for t in (20, 5))
    assert warm < cold


def test_charging_above_the_loads_is_unlimited() -> None:
    days, _ = asked(WEEKEND.changed({"battery.charging": 1000 / 24}, si=True))
    assert days == math.inf


def test_not_decided_is_none() -> None:
    for change in ({"battery": None}, {"battery.other_loads": None}):
        batch = Batch(FAMILY.changed(change))
        assert battery_store(batch, moved(batch), ()) is None
