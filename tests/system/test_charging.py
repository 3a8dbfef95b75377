from __future__ import annotations

import numpy as np
import pytest

from tests.answers.frosty import frosty
from vanwater.plan.day import STATES
from vanwater.plan.model import Plan
from vanwater.system.batch import Batch
from vanwater.system.charging import CHARGER, STORED, bank_temperature, barred, charges, charging_volts

LITHIUM = "lithium iron phosphate"
ALL = {
    "sun": {"panels": "200 W", "full_sun": "1.2 h"},
    "alternator": {"current": "30 A"},
    "shore": {"limit": "6 A", "volts": "230 V", "charger": "20 A"},
    "day": {"driving": "2 h", "shore": "4 h"},
}


def put(plan: Plan, at_socket: float = 0.0) -> dict[str, list[float]]:
    batch = Batch(plan)
    drawn = np.full((len(STATES), 1), at_socket)
    return {
        charge.key: list(np.broadcast_to(charge.power, (len(STATES), 1))[:, 0])
        for charge in charges(batch, drawn, np.zeros(len(batch)))
    }


def test_each_source_charges_in_its_own_state() -> None:
    put_back = put(frosty(**ALL, battery__charging="100 Wh/day"))
    assert put_back["charging"] == pytest.approx([100 / 24] * 5)
    assert put_back["sun"] == pytest.approx([STORED * 200 * 1.2 / 24] * 5)
    volts = 14.2
    assert put_back["alternator"] == pytest.approx([0, STORED * 30 * volts, 0, 0, 0])
    assert put_back["shore"] == pytest.approx([0, 0, STORED * 20 * volts, 0, 0])


def test_what_else_hangs_on_the_socket_leaves_less_for_the_charger() -> None:
    power = put(frosty(**ALL), at_socket=1200.0)["shore"][2]
    assert power == pytest.approx(STORED * CHARGER * (6 * 230 - 1200))
    assert put(frosty(**ALL), at_socket=2000.0)["shore"][2] == 0.0


def test_lithium_takes_nothing_below_freezing_unless_it_heats_itself() -> None:
    cold = {**ALL, "battery.chemistry": LITHIUM, "battery.beside": "outside"}
    bare, heated, lead = (
        put(frosty(**{**cold, **more}))["sun"][0]
        for more in ({}, {"battery.heated": "50 W"}, {"battery.chemistry": "agm"})
    )
    assert bare == 0.0 and heated > lead > 0.0
    indoors = put(frosty(**{**cold, "battery.beside": "room"}))["sun"]
    assert indoors[0] > 0.0 == indoors[STATES.index("unheated")]


def test_temperature_of_the_bank_by_where_it_stands() -> None:
    def at(beside: str, **more: object) -> list[float]:
        return list(bank_temperature(Batch(frosty(battery__beside=beside, **more)))[:, 0] - 273.15)

    assert at("room") == pytest.approx([18, 18, 18, 18, -4])
    assert at("outside") == pytest.approx([-4] * 5)
    assert at("box") == pytest.approx([7, 7, 7, 7, -4])
    assert at("outside", frost=None) == pytest.approx([18] * 5)  # no cold is said


def test_cells_of_which_nothing_is_said_are_never_barred() -> None:
    assert not barred(Batch(frosty(battery__beside="outside"))).any()


def test_charging_volts_of_a_whole_bank() -> None:
    assert charging_volts(Batch(frosty(battery__series=2)))[0] == pytest.approx(28.4)
    assert charging_volts(Batch(frosty(alternator={"current": "20 A", "volts": "14.6 V"})))[0] == pytest.approx(14.6)
