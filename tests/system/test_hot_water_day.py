from __future__ import annotations

import numpy as np
import pytest

from tests.examples import example
from vanwater.physics import heater_tank
from vanwater.physics.heater import HEAT_OF_WATER
from vanwater.system import hot_water_day as hot_water
from vanwater.system.batch import Batch, Row
from vanwater.system.heat_a_day import heats
from vanwater.system.hot_water_day import HotWaterDay, hot_water_day
from vanwater.system.hot_water_demand import heater_numbers, hot_water_a_day
from vanwater.system.stores import moved

FAMILY = example("family-winter")
HOURS = "heaters.heater.hours_on"
STANDBY = "heaters.heater.standby"


def followed(*rows: dict[str, float]) -> HotWaterDay:
    batch = Batch(FAMILY, [Row(f"row {place}", values) for place, values in enumerate(rows)])
    day = hot_water_day(batch, "heater")
    assert day is not None
    return day


@pytest.fixture(scope="module")
def day() -> HotWaterDay:
    """The family's own day, then with other hours, loss, volume, power, habits."""
    return followed(
        {HOURS: 86400.0},
        {HOURS: 1800.0},
        {HOURS: 60.0},
        {STANDBY: 60.0},
        {"heaters.heater.volume": 0.02},
        {"heaters.heater.power": 3000.0},
        {"uses.shower.a_day": 2.2 / 86400},
        {"household.people": 11},
    )


def test_heat_of_the_element_is_what_is_drawn_lost_and_stored(day: HotWaterDay) -> None:
    np.testing.assert_allclose(day.heated, day.drawn + day.lost + day.stored, rtol=1e-9)
    assert np.all(day.heated > 0)


def test_a_day_is_like_the_day_before(day: HotWaterDay) -> None:
    content = np.array([10e-3] * 5 + [20e-3] + [10e-3] * 3)
    assert np.all(np.abs(day.stored) <= 0.1 * 4186e3 * content)  # a tenth of a kelvin


def test_a_heater_that_is_always_on_loses_its_standing_loss() -> None:
    """Without a draw to speak of it stays within its band below the set point."""
    hardly = {f"uses.{name}.a_day": 1e-9 / 86400 for name in FAMILY.uses}
    lost = followed({HOURS: 86400.0, **hardly}).lost[1]
    assert FAMILY.heaters["heater"].standby * 86400.0 == pytest.approx(lost, rel=0.07)


def test_between_its_hours_it_cools_and_loses_less_but_more_than_in_its_hours_alone(day: HotWaterDay) -> None:
    heater = FAMILY.heaters["heater"]
    assert heater.standby * heater.hours_on < day.lost[0] < day.lost[1]
    assert day.lost[4] > day.lost[0]


def test_what_comes_warm_is_the_heat_that_is_wanted(day: HotWaterDay) -> None:
    numbers = heater_numbers(Batch(FAMILY), "heater")
    asked = hot_water_a_day(Batch(FAMILY), "heater")[0] * 86400.0 * 4186e3 * (numbers.hot - numbers.cold)[0]
    assert day.drawn[0] == pytest.approx(asked, rel=1e-9)
    assert day.short[0] == 0.0


def test_too_few_hours_leave_the_water_cold(day: HotWaterDay) -> None:
    own, always, half_an_hour, hardly = range(4)
    assert day.short[own] == day.short[always] == 0.0 < day.short[half_an_hour] < day.short[hardly]
    assert day.coldest[own] > day.coldest[half_an_hour] > day.coldest[hardly]
    assert day.short[hardly] == pytest.approx(day.warm[hardly])


def test_more_people_draw_more_than_the_heater_gives(day: HotWaterDay) -> None:
    assert day.warm[8] > 2.0 * day.warm[0]
    assert day.short[8] > 0.0


def test_more_power_or_more_content_never_makes_it_colder(day: HotWaterDay) -> None:
    for row in (5, 6):
        assert day.coldest[row] >= day.coldest[0] - 0.5
        assert day.short[row] <= day.short[0]


def test_rows_that_are_alike_are_told_alike_and_alone() -> None:
    both = followed({HOURS: 5400.0}, {HOURS: 5400.0})
    alone = hot_water_day(Batch(FAMILY.changed({HOURS: 5400.0}, si=True)), "heater")
    assert alone is not None
    for name in ("heated", "lost", "coldest", "short", "warm"):
        one, other = getattr(both, name)[1:]
        assert one == other == pytest.approx(getattr(alone, name)[0], rel=1e-12), name


@pytest.mark.parametrize(
    "change",
    [
        {"household.people": 11},
        {"uses.dishes.a_day": 9.0 / 86400},
        {"uses.shower.duration": 20.0},
        {"site.cold_water": 290.15},
        {"heaters.heater.set_point": 338.15},
        {"heaters.heater.standby": 40.0},
        {"frost.room": 285.15},
    ],
    ids=str,
)
def test_a_row_has_the_day_of_its_own_plan(change: dict[str, float]) -> None:
    row, own = followed(change), hot_water_day(Batch(FAMILY.changed(change, si=True)), "heater")
    assert own is not None
    for name in ("heated", "lost", "drawn", "stored", "coldest", "short", "warm", "water"):
        assert getattr(row, name)[1] == pytest.approx(getattr(own, name)[0], rel=1e-12, abs=1e-6), name


def test_no_day_without_power_store_or_draw() -> None:
    for changes in (
        {"heaters.heater.power": None},
        {"heaters.heater.least_flow": 3e-5},
        {f"uses.{name}.a_day": 0.0 for name in FAMILY.uses},
    ):
        assert hot_water_day(Batch(FAMILY.changed(changes, si=True)), "heater") is None


def test_one_that_is_heated_by_the_sun_is_hot_at_noon_and_gives_what_is_left_of_it() -> None:
    plan = FAMILY.changed({"heaters.heater.when": "sun"})
    sunny, own = hot_water_day(Batch(plan), "heater"), followed()
    assert sunny is not None
    np.testing.assert_allclose(sunny.heated, sunny.drawn + sunny.lost + sunny.stored, rtol=1e-9)
    after_noon = (sunny.time[0] > 14 * 3600.0) & (sunny.time[0] < 15 * 3600.0)
    assert np.all(sunny.top[0][after_noon] > FAMILY.heaters["heater"].set_point - 6.0)
    assert sunny.short[0] > own.short[0] == 0.0
    assert sunny.heated[0] < own.heated[0]
    longer = FAMILY.changed({"heaters.heater.volume": "30 L", "heaters.heater.when": "sun"})
    larger = hot_water_day(Batch(longer), "heater")
    assert larger is not None and larger.short[0] < sunny.short[0]


def test_the_sun_heats_in_its_own_hours_whatever_those_of_the_heater() -> None:
    sunny = {HOURS: 3600.0, "heaters.heater.when": "sun"}
    one, other = (
        hot_water_day(Batch(FAMILY.changed({**sunny, HOURS: hours}, si=True)), "heater") for hours in (3600.0, 7200.0)
    )
    assert one is not None and other is not None and one.heated[0] == other.heated[0]


@pytest.mark.parametrize(
    ("draws", "each", "warm", "day"),
    [(23, 0.015, 25.0, 0.345), (20, 0.105, 25.0, 2.100), (9, 1.63 / 9, 50.0, 1.63)],
    ids=["3XS", "XXS", "very small usage"],
)
def test_a_published_day_of_draws_takes_its_reference_energy(draws: int, each: float, warm: float, day: float) -> None:
    """Load profiles 3XS and XXS of Regulations (EU) 812/2013 and 814/2013, very small usage of 10 CFR 430 Appendix E.

    Count and heat of the draws from memory; as the household draws them, half in the evening and half in the morning.
    A heater of 30 L that is on all day gives all of it warm.
    """
    cold = 283.15
    litres = each * 3.6e9 / (HEAT_OF_WATER * (warm + 273.15 - cold))
    none = {f"uses.{name}.a_day": "0 a day" for name in FAMILY.uses}
    tap = {"a_day": f"{draws} a day", "per": "van", "volume": f"{litres!r} L", "temperature": f"{warm!r} °C"}
    plan = FAMILY.changed(
        {
            **none,
            "uses.tap": {**tap, "outlet": "galley tap"},
            "tanks.fresh.temperature": "10 °C",
            "heaters.heater.hours_on": "24 h",
            "heaters.heater.volume": "30 L",
        }
    )
    batch = Batch(plan)
    ran = hot_water_day(batch, "heater")
    assert ran is not None
    assert ran.drawn[0] == pytest.approx(day * 3.6e6, rel=1e-6)
    assert ran.short[0] == 0.0
    assert heats(batch, moved(batch), "heater")[0] * 86400 == pytest.approx(day * 3.6e6, rel=0.02)  # water by its table


def test_five_days_are_followed_at_most_until_one_is_like_the_day_before(monkeypatch: pytest.MonkeyPatch) -> None:
    runs: list[object] = []

    def counted(*given: object) -> object:
        runs.append(given)
        return heater_tank.heater_run(*given)  # type: ignore[arg-type]

    monkeypatch.setattr(hot_water, "heater_run", counted)
    monkeypatch.setattr(hot_water, "_LIKE", -1.0)
    followed({HOURS: 4321.0})
    assert len(runs) == 2 + 5  # the day before from noon on, the day, and five more
