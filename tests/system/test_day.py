from __future__ import annotations

import numpy as np
import pytest
from hypothesis import HealthCheck, given, settings

from tests import strategies
from tests.answers.frosty import frosty
from tests.examples import NAMES, example
from vanwater.plan.day import FULL_DAY, STATES
from vanwater.plan.model import Plan
from vanwater.system.batch import Batch, Row
from vanwater.system.day import FEEDERS, Day, day_of, direct, pads_of_day
from vanwater.system.hot_water_day import hot_water_day
from vanwater.system.hot_water_demand import heater_of

FAMILY = example("family-winter").changed({"cables": {}, "appliances": {}, "inverter.cable": "98 %", "day": None})
FEW = settings(max_examples=15, deadline=None, suppress_health_check=list(HealthCheck))


def day(plan: Plan) -> Day:
    return day_of(Batch(plan))


def closed(plan: Plan) -> None:
    """No hour twice, no watt without a feeder or below zero, and the states' energies add up to the day's."""
    told = day(plan)
    assert np.sum(told.hours, axis=0) == pytest.approx(FULL_DAY, rel=1e-12)
    assert np.all(told.hours >= 0.0)
    for consumer in told.consumers:
        assert consumer.power.shape[:2] == (len(STATES), len(FEEDERS))
        known = ~np.isnan(consumer.power)
        assert np.all(consumer.power[known] >= 0.0)
        by_state = np.sum(consumer.power * told.hours[:, None], axis=1)
        whole = sum(told.energy(consumer, feeder) for feeder in FEEDERS) * FULL_DAY
        assert np.sum(by_state, axis=0) == pytest.approx(whole, rel=1e-9, abs=1e-6, nan_ok=True)


@pytest.mark.parametrize("name", NAMES)
def test_every_day_is_closed(name: str) -> None:
    plan = example(name)
    closed(plan)
    for situation in plan.situations:
        closed(plan.in_situation(situation))


@FEW
@given(raw=strategies.plans())
def test_any_day_is_closed(raw: dict[str, object]) -> None:
    closed(Plan.of(raw))


def energy(plan: Plan, kind: str, feeder: str = "battery") -> float:
    """What the consumers of a kind take from a feeder a day [Wh]."""
    return float(sum(power[0] for _, power in day(plan).of(kind, feeder=feeder))) * 24


def test_at_a_socket_what_hangs_on_the_inverter_is_fed_by_it() -> None:
    half = FAMILY.changed({"day": {"driving": "0 h", "shore": "12 h"}})
    parked = FAMILY.changed({"day.driving": "0 h"})
    assert energy(half, "hot water") == pytest.approx(0.5 * energy(parked, "hot water"))
    assert energy(half, "hot water", "shore") == pytest.approx(0.5 * energy(parked, "hot water") * 0.91 * 0.98)
    assert energy(half, "loads") == pytest.approx(energy(parked, "loads"))


@pytest.mark.parametrize(
    ("source", "feeder"), [("gas", "fuel"), ("diesel", "fuel"), ("engine", "engine"), ("shore", "shore")]
)
def test_other_heat_leaves_the_battery_alone(source: str, feeder: str) -> None:
    hours = {"driving": "2 h", "shore": "3 h"}
    plan = FAMILY.changed({"heaters.heater.source": source, "heaters.heater.volts": None, "day": hours})
    assert energy(plan, "hot water") == 0.0
    assert energy(plan, "hot water", feeder) == pytest.approx(energy(FAMILY, "hot water") * 0.91 * 0.98)


def test_an_engine_that_never_runs_heats_nothing_by_state() -> None:
    """All of the heat is wanted all the same: it stands where it would be drawn, so that it is seen."""
    plan = FAMILY.changed({"heaters.heater.source": "engine", "heaters.heater.volts": None, "day": None})
    consumer = next(consumer for consumer in day(plan).consumers if consumer.kind == "hot water")
    assert consumer.power[0, FEEDERS.index("engine"), 0] > 0.0


def test_appliances_run_while_somebody_is_there_and_a_fridge_always() -> None:
    hours = {"day": {"away": "10 h", "driving": "2 h"}}
    plan = FAMILY.changed({**hours, "appliances.fan": {"power": "12 W", "hours": "6 h"}})
    fan = next(consumer for consumer in day(plan).consumers if consumer.name == "fan")
    assert fan.power[:, 0, 0] == pytest.approx([12 * 6 / 12, 0, 12 * 6 / 12, 0, 0])
    plan = FAMILY.changed({**hours, "appliances.fridge": {"power": "40 W", "hours": "8 h", "always": True}})
    fridge = next(consumer for consumer in day(plan).consumers if consumer.name == "fridge")
    assert fridge.power[:, 0, 0] == pytest.approx([40 / 3] * 5)
    assert energy(plan, "appliance") == pytest.approx(320)


def test_a_bank_that_heats_itself_takes_power_while_it_stands_in_frost() -> None:
    cold = {"battery__beside": "outside", "battery__heated": "40 W"}
    assert energy(frosty(**cold), "bank") == pytest.approx(40 * 24)
    assert energy(frosty(**cold, frost__mean_cold="2 °C"), "bank") == 0.0


def test_pads_take_from_what_feeds_them_in_its_states_alone() -> None:
    plan = frosty(pads__pad__fed="engine", day={"driving": "2 h"})
    own = pads_of_day(Batch(plan))
    (consumer,) = own.consumers
    taken = own.all_energy(consumer)
    assert consumer.label in {told.label for told in day(plan).consumers}
    assert consumer.power[1, FEEDERS.index("engine"), 0] > 0.0
    assert np.count_nonzero(consumer.power) == 1
    assert taken[0] == pytest.approx(consumer.power.sum() * 2 / 24)


def test_a_use_draws_from_the_heater_on_its_way() -> None:
    assert heater_of(FAMILY, "shower") == "heater"
    assert heater_of(FAMILY.changed({"heaters": {}, "runs": {}}), "shower") == ""


def test_a_drained_van_heats_and_pumps_nothing() -> None:
    plan = example("family-winter").in_situation("laid up")
    closed(plan)
    kinds = {consumer.kind for consumer, _ in day(plan).of()}
    assert kinds == {"loads"}
    assert not day(plan).charges or all(np.all(day(plan).charged(one) == 0.0) for one in day(plan).charges)


SUNNY = {"heaters.heater.when": "sun", "sun": {"panels": "600 W", "full_sun": "4 h"}}


def test_what_the_sun_heats_at_once_does_not_go_through_the_battery() -> None:
    plan = FAMILY.changed(SUNNY)
    closed(plan)
    told, batch = day(plan), Batch(plan)
    at_once = direct(batch, told.hours, told.consumers)[0]
    taken = (energy(plan, "hot water") + energy(plan, "standing")) / 24
    element = 1200 / 0.91 / 0.98
    assert at_once == pytest.approx(taken * (600 * 4 / 6) / element)
    (sun,) = (told.charged(charge)[0] for charge in told.charges if charge.key == "sun")
    stored = 0.95
    assert sun == pytest.approx(stored * (600 * 4 / 24 - at_once) + at_once)


def test_the_sun_carries_at_once_what_it_heats_and_no_other_heater() -> None:
    second = {"volume": "5 L", "source": "inverter", "power": "500 W", "volts": "230 V", "set_point": "50 °C"}
    plan = FAMILY.changed(SUNNY)
    both = plan.changed({"heaters.second": {**second, "hours_on": "2 h", "standby": "15 W"}})
    assert energy(both, "standing") > energy(plan, "standing")
    one, two = (direct(Batch(each), day(each).hours, day(each).consumers)[0] for each in (plan, both))
    assert two == pytest.approx(one)


def test_panels_that_carry_the_element_carry_all_of_it_and_never_more_than_they_give() -> None:
    small = {**SUNNY, "heaters.heater.power": "150 W"}
    for full_sun in ("0.1 h", "1 h", "4 h"):
        plan = FAMILY.changed({**small, "sun.full_sun": full_sun})
        told = day(plan)
        at_once = direct(Batch(plan), told.hours, told.consumers)[0]
        taken = (energy(plan, "hot water") + energy(plan, "standing")) / 24
        assert at_once <= min(taken, 600 * float(full_sun[:-2]) / 24) * (1 + 1e-12)
    assert at_once == pytest.approx(taken)


def test_one_that_is_heated_by_the_sun_takes_what_its_day_takes() -> None:
    """The day of its water and the day of the battery are one picture."""
    plan = FAMILY.changed(SUNNY)
    followed = hot_water_day(Batch(plan), "heater")
    assert followed is not None
    both = (energy(plan, "hot water") + energy(plan, "standing")) * 0.91 * 0.98 * 3600.0
    assert both == pytest.approx(followed.drawn[0] + followed.lost[0], rel=1e-9)


@pytest.mark.parametrize("source", ["gas", "diesel", "engine"])
def test_the_sun_heats_what_lives_on_the_battery_alone(source: str) -> None:
    changed = {"heaters.heater.source": source, "heaters.heater.volts": None, "day": {"driving": "2 h"}}
    told = day(FAMILY.changed(changed))
    sunny = day(FAMILY.changed({**changed, "heaters.heater.when": "sun"}))
    for one, other in zip(told.consumers, sunny.consumers, strict=True):
        assert np.array_equal(one.power, other.power)


@pytest.mark.parametrize(
    "changed",
    [{"sun.full_sun": 3600.0}, {"heaters.heater.power": 300.0}, {"inverter.idle": 30.0}, {"converter.efficiency": 0.7}],
    ids=str,
)
def test_a_row_has_the_day_of_its_own_plan(changed: dict[str, float]) -> None:
    small = {"pumps.pump.curve_volts": "24 V", "pumps.pump.volts": "24 V", "converter": {"volts": "24 V"}}
    plan = FAMILY.changed({**SUNNY, **small, "inverter.switched": "search"})
    row, own = day_of(Batch(plan, [Row("changed", changed)])), day(plan.changed(changed, si=True))
    for along, alone in zip(row.consumers, own.consumers, strict=True):
        np.testing.assert_allclose(along.power[..., 1], alone.power[..., 0], rtol=1e-12)
    for along, alone in zip(row.charges, own.charges, strict=True):
        assert row.charged(along)[1] == pytest.approx(own.charged(alone)[0], rel=1e-12)
