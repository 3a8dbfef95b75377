from __future__ import annotations

import numpy as np
import pytest

from tests.examples import example
from tests.pumped import pumped
from vanwater.plan.model import Plan
from vanwater.system.batch import Batch
from vanwater.system.day import day_of
from vanwater.system.power import (
    CABLE,
    PUMP_ENERGY,
    bank_of,
    cable_ohms,
    cable_share,
    cable_to,
    electric_path,
    inverter_idle,
    lives_on_battery,
    pump_energy,
)

FAMILY = example("family-winter").changed({"cables": {}, "inverter.cable": "98 %"})
ELEMENT = np.array([1200.0])


def test_path_is_inverter_times_cable_for_what_hangs_on_it() -> None:
    batch = Batch(FAMILY)
    assert electric_path(batch, "inverter", ELEMENT)[0] == pytest.approx(0.91 * 0.98)
    assert electric_path(batch, "heater", ELEMENT)[0] == pytest.approx(CABLE)
    assert electric_path(Batch(FAMILY.changed({"inverter": None})), "inverter", ELEMENT)[0] == 1.0


def test_a_cable_of_its_own_is_worked_out_with_its_current() -> None:
    """By hand: R = 2 · 0.8 m · 1.7241e-8 / 35e-6; U = 12.8/2 + √(12.8²/4 − R P)."""
    cable = {"to": "inverter", "length": "0.8 m", "section": "35 mm²"}
    batch = Batch(FAMILY.changed({"cables.thick": cable}))
    ohms, drawn = 2 * 0.8 * 1.7241e-8 / 35e-6, 1200 / 0.91
    left = 6.4 + np.sqrt(6.4**2 - ohms * drawn)
    assert cable_to(batch.plan, "inverter") == "thick"
    assert cable_ohms(batch, "thick")[0] == pytest.approx(ohms)
    assert electric_path(batch, "inverter", ELEMENT)[0] == pytest.approx(0.91 * left / 12.8)
    assert cable_share(batch, "inverter", np.array([np.nan]))[0] == 1.0  # nothing is known to be drawn
    gauge = Batch(FAMILY.changed({"cables.thick": {"to": "pump", "length": "5 m", "awg": 13}}))
    assert cable_ohms(gauge, "thick")[0] == pytest.approx(10 * 1.7241e-8 / 2.62e-6, rel=0.01)


def test_a_bank_adds_volts_behind_and_charge_beside_each_other() -> None:
    bank = bank_of(Batch(FAMILY.changed({"battery.series": 2, "battery.parallel": 3, "battery.chemistry": None})))
    assert bank is not None
    assert bank.volts[0] == pytest.approx(25.6)
    assert bank.charge[0] == pytest.approx(3 * 400 * 3600)
    assert bank.cold[0] == 1.0
    assert bank_of(Batch(FAMILY.changed({"battery": None}))) is None


def test_cold_cells_give_less_and_heated_ones_do_not_fall_below_freezing() -> None:
    cells = {"battery.chemistry": "lithium iron phosphate", "battery.beside": "outside"}
    bare, heated = (
        bank_of(Batch(FAMILY.changed({**cells, "frost.mean_cold": "-10 °C", **more})))
        for more in ({}, {"battery.heated": "60 W"})
    )
    assert bare is not None and heated is not None
    assert bare.temperature[0] == pytest.approx(263.15)
    assert bare.cold[0] == pytest.approx(0.82)
    assert heated.cold[0] == pytest.approx(0.92)


def test_pump_energy_is_volts_times_amps_over_flow() -> None:
    flow = 7e-3 / 60  # the curve's point at 2.0 bar, half way between the switch pressures
    assert pump_energy(Batch(FAMILY))[0] == pytest.approx(12.7 * 5.6 / flow)
    assert pump_energy(Batch(FAMILY.changed({"pumps.pump.current": None})))[0] == PUMP_ENERGY


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
    alone, both = (pump_energy(Batch(Plan.of(raw | {"uses": some})))[0] for some in (uses, uses | drinking))
    assert both * 20 == pytest.approx(alone * 16)  # 16 of 20 parts are pumped


def test_what_lives_on_a_battery() -> None:
    assert lives_on_battery(FAMILY)
    bare = Plan.of({"van": {"name": "x"}, "household": {"people": 1}})
    assert not lives_on_battery(bare)


@pytest.mark.parametrize(
    ("switched", "watt_hours"),
    [("by hand", 15 * 3), ("always", 15 * 24), ("search", 15 * 3 + 2 * 21)],
)
def test_the_inverter_idles_as_it_is_switched_and_once(switched: str, watt_hours: float) -> None:
    plan = example("family-winter").changed(
        {"inverter.switched": switched} | ({"inverter.search": "2 W"} if switched == "search" else {})
    )
    assert inverter_idle(Batch(plan))[0] * 24 == pytest.approx(watt_hours)
    (idle,) = (one for one in day_of(Batch(plan)).consumers if one.kind == "idle")
    assert day_of(Batch(plan)).all_energy(idle)[0] * 24 == pytest.approx(watt_hours)


def test_an_inverter_that_searches_takes_a_fifth_of_its_idling_where_it_is_not_said() -> None:
    plan = example("family-winter").changed({"inverter.switched": "search", "inverter.hours_on": "0 h"})
    assert inverter_idle(Batch(plan))[0] == pytest.approx(0.2 * 15)
