from __future__ import annotations

import pytest

from tests.examples import example
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


def test_no_battery_no_numbers_and_no_electric_heater_by_engine() -> None:
    assert battery_numbers(Batch(FAMILY.changed({"battery": None}))) is None
    assert electric_heater(Batch(FAMILY)) == "heater"
    assert electric_heater(Batch(FAMILY.changed({"heaters.heater.source": "engine"}))) == ""
