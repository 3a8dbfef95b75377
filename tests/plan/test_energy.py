from __future__ import annotations

import pytest

from vanwater.plan.energy import Heater
from vanwater.plan.model import Plan

PLAN = {"van": {"name": "x"}, "household": {"people": 2}}


def test_heat_and_electricity_are_read_in_si() -> None:
    plan = Plan.of(
        {
            **PLAN,
            "heaters": {"it": {"volume": "2.5 gal", "power": "1.2 kW", "set_point": "140 °F"}},
            "battery": {"volts": "12.8 V", "charge": "200 Ah", "usable": "85 %", "other_loads": "640 Wh/day"},
            "inverter": {"efficiency": "90 %"},
        }
    )
    assert plan.at("heaters.it.volume") == pytest.approx(9.4635e-3, rel=1e-4)
    assert plan.at("heaters.it.set_point") == pytest.approx(273.15 + 60)
    assert plan.at("battery.charge") == pytest.approx(720e3)
    assert plan.at("battery.other_loads") == pytest.approx(640 * 3600 / 86400)


def test_defaults() -> None:
    assert Heater(volume=0.01).set_point == pytest.approx(273.15 + 60)
