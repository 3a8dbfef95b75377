from __future__ import annotations

import pytest

from tests.examples import example
from tests.pumped import pumped
from vanwater.plan.model import Plan
from vanwater.system.batch import Batch
from vanwater.system.power import PUMP_ENERGY, battery_numbers, electric_heater

FAMILY = example("family-winter")


def test_path_is_inverter_times_cable_for_a_heater_behind_it() -> None:
    numbers = battery_numbers(Batch(FAMILY))
    assert numbers is not None
    assert numbers.path[0] == pytest.approx(0.91 * 0.98)
    assert numbers.idle[0] == pytest.approx(15 * 3 / 24)
    direct = battery_numbers(Batch(FAMILY.changed({"heaters.heater.source": "battery", "heaters.heater.volts": None})))
    assert direct is not None
    assert direct.path[0] == pytest.approx(0.98)


def test_pump_energy_is_volts_times_amps_over_flow() -> None:
    numbers = battery_numbers(Batch(FAMILY))
    assert numbers is not None
    flow = 7e-3 / 60  # the curve's point at 2.0 bar, half way between the switch pressures
    assert numbers.pump_energy[0] == pytest.approx(12.7 * 5.6 / flow)
    unknown = battery_numbers(Batch(FAMILY.changed({"pumps.pump.current": None})))
    assert unknown is not None
    assert unknown.pump_energy[0] == PUMP_ENERGY


def test_water_that_is_pumped_by_hand_takes_nothing() -> None:
    raw = pumped("diaphragm")
    raw["tanks"]["can"] = {"holds": "fresh", "capacity": "10 L", "z": "60 cm"}
    raw["pumps"]["foot pump"] = {"kind": "foot"}
    raw["outlets"]["spout"] = {"flow": "3 L/min", "at": "0.2 bar"}
    raw["runs"]["spout suction"] = {"from": "can", "to": "foot pump"}
    raw["runs"]["spout hose"] = {"from": "foot pump", "to": "spout"}
    uses = {"wash": {"a_day": "4 a day", "volume": "2 L", "outlet": "tap"}}
    drinking = {"drink": {"a_day": "4 a day", "volume": "0.5 L", "outlet": "spout"}}
    del raw["household"]["habits"]
    alone, both = (battery_numbers(Batch(Plan.of(raw | {"uses": some}))) for some in (uses, uses | drinking))
    assert alone is not None and both is not None
    assert both.pump_energy[0] * 20 == pytest.approx(alone.pump_energy[0] * 16)  # 16 of 20 parts are pumped


def test_no_battery_no_numbers_and_no_electric_heater_by_engine() -> None:
    assert battery_numbers(Batch(FAMILY.changed({"battery": None}))) is None
    assert electric_heater(Batch(FAMILY)) == "heater"
    assert electric_heater(Batch(FAMILY.changed({"heaters.heater.source": "engine"}))) == ""
