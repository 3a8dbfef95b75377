import json
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from vanwater.physics.battery import battery_days, usable_energy
from vanwater.physics.demand import hot_volume
from vanwater.physics.electric import ac_current, battery_current, battery_energy, charging_energy, daily_energy
from vanwater.physics.heater import heating_energy
from vanwater.physics.vessel import run_content

ZERO, LITRE, DAY, WH, HOUR = 273.15, 1e-3, 86400.0, 3600.0, 3600.0
VANS = json.loads((Path(__file__).parents[2] / "data" / "validation" / "worked_vans.json").read_text(encoding="utf-8"))
SCENARIOS = {scenario["id"]: scenario for scenario in VANS["scenarios"]}
EFFICIENCY = st.floats(0.3, 1.0)


def expected(scenario, quantity):
    return next(row for row in scenario["expected"] if row["quantity"] == quantity)


def worked(scenario):
    """Water's share of the day and the battery's days, all in watts of daily mean."""
    given, heater, leg = (scenario["inputs"][k] for k in ("electric", "heater", "supply"))
    cold, hot = heater["T_cold"] + ZERO, heater["T_set"] + ZERO
    content = float(run_content(leg["hot_leg"]["bore_mm"] * 1e-3, leg["hot_leg"]["length_m"]))
    hot_water = 0.0
    for use in scenario["inputs"]["uses"].values():
        if "T" in use:
            each = (
                float(hot_volume(use["litres"] * LITRE, use["T"] + ZERO, hot, cold)) + use.get("run_off", 0) * content
            )
            hot_water += use["events_a_day"] * each
    standby = float(daily_energy(heater["standby_W"], heater["hours_on"] * HOUR))
    heat = float(heating_energy(hot_water, cold, hot)) / DAY
    at_battery = float(battery_energy(heat + standby, given["path_efficiency"]))
    litres = expected(scenario, "fresh water used")["value"]
    water = at_battery + litres * given["pump_Wh_per_L"] * WH / DAY
    water += float(daily_energy(given["inverter_idle_W"], given["inverter_hours"] * HOUR))
    net = water + (given["other_Wh_day"] - given["charge_Wh_day"]) * WH / DAY
    usable = usable_energy(given["battery_V"], given["battery_Ah"] * 3600.0, given["usable_share"])
    return {
        "water's share of the day's energy": water * DAY / WH,
        "days, battery": float(battery_days(usable, net)) / DAY,
    }


@pytest.mark.parametrize("name", SCENARIOS)
@pytest.mark.parametrize("quantity", ["water's share of the day's energy", "days, battery"])
def test_worked_van_electricity(name, quantity):
    judge = expected(SCENARIOS[name], quantity)
    assert judge["tolerance_kind"] == "rel" and judge["tolerance"] >= 1e-3
    assert worked(SCENARIOS[name])[quantity] == pytest.approx(judge["value"], rel=1e-3)


@given(st.floats(1.0, 1e7), EFFICIENCY, EFFICIENCY)
def test_the_battery_gives_what_is_used_and_what_is_lost(used, inverter, cable):
    given_energy = float(battery_energy(used, inverter, cable))
    assert given_energy * inverter * cable == pytest.approx(used)
    assert given_energy >= used


@given(st.floats(1.0, 3000.0), st.floats(10.0, 30.0), EFFICIENCY)
def test_current_times_volts_is_the_power_with_its_losses(power, voltage, efficiency):
    assert float(battery_current(power, voltage, efficiency)) * voltage * efficiency == pytest.approx(power)
    assert float(ac_current(power, 230.0, efficiency)) * 230.0 * efficiency == pytest.approx(power)


def test_two_hours_of_driving():
    gained = float(charging_energy(30.0, 13.8, 2 * HOUR, 0.95)) / WH
    assert gained == pytest.approx(786.6)


@pytest.mark.parametrize(
    ("call", "message"),
    [
        (lambda: battery_energy(1.0, 0.0), "inverter_efficiency"),
        (lambda: battery_energy(1.0, 0.9, 1.1), "cable_efficiency"),
        (lambda: battery_current(1.0, 0.0), "voltage"),
        (lambda: ac_current(1.0, 230.0, 0.0), "power_factor"),
        (lambda: charging_energy(30.0, 13.8, 60.0, 1.2), "efficiency"),
    ],
)
def test_the_impossible_is_refused_by_name(call, message):
    with pytest.raises(ValueError, match=message):
        call()


def test_a_battery_from_which_next_to_nothing_is_taken_lasts_for_ever():
    assert float(battery_days(3.2e6, 2.2e-313)) == float("inf")
