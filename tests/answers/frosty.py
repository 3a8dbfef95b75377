"""A small van in the cold, to be changed by the tests: one tank under the floor with a pad, one hose outside."""

from __future__ import annotations

from typing import Any

from vanwater.plan.model import Plan

ZERO, HOUR, DAY = 273.15, 3600.0, 86400.0

TANK = {
    "holds": "fresh",
    "length": "0.8 m",
    "width": "0.45 m",
    "height": "0.2 m",
    "z": "-0.3 m",
    "wall": "5 mm",
    "foam": "20 mm",
}
HOSE = {"from": "fresh", "to": "tap", "size": "pvc hose 10 mm", "length": "2 m", "beside": "outside"}


def frosty(**changes: Any) -> Plan:
    """The van with other values; a double underscore stands for the dot of an address, None takes a value out."""
    plan = Plan.of(
        {
            "van": {"name": "cold"},
            "household": {"people": 2},
            "tanks": {"fresh": TANK},
            "outlets": {"tap": {"flow": "6 L/min", "at": "1 bar"}},
            "runs": {"hose": HOSE},
            "frost": {"design_cold": "-10 °C", "mean_cold": "-4 °C", "start": "8 °C"},
            "pads": {"pad": {"tank": "fresh", "power": "60 W", "protected_by": "level"}},
            "battery": {"volts": "12.8 V", "charge": "100 Ah", "usable": "90 %"},
        }
    )
    return (
        plan.changed({address.replace("__", "."): value for address, value in changes.items()}, si=True)
        if changes
        else plan
    )
