"""A sound small van with everything decided, ordinary wishes that it does not meet, and dangers to plant in it."""

from __future__ import annotations

import copy
from typing import Any

from vanwater.plan.model import Plan

SOUND: dict[str, Any] = {
    "van": {"name": "sound"},
    "household": {"people": 2, "habits": "moderate", "days_wanted": "2 days"},
    "uses": {"shower": {"outlet": "shower"}, "dishes": {"outlet": "tap"}},
    "site": {"altitude": "200 m", "highest": "1500 m"},
    "tanks": {
        "fresh": {
            "holds": "fresh",
            "length": "1.0 m",
            "width": "0.6 m",
            "height": "0.25 m",
            "z": "-0.3 m",
            "foam": "30 mm",
            "beside": "outside",
            "x": "1.8 m",
            "y": "0 m",
        },
        "grey": {
            "holds": "grey",
            "length": "1.0 m",
            "width": "0.6 m",
            "height": "0.25 m",
            "z": "-0.3 m",
            "foam": "30 mm",
            "beside": "outside",
            "x": "2.4 m",
            "y": "0 m",
        },
        "urine container": {"holds": "urine", "capacity": "20 L", "beside": "room", "x": "2 m", "y": "0 m", "z": "0 m"},
    },
    "pumps": {
        "pump": {
            "kind": "diaphragm",
            "curve": [["0 L/min", "3 bar"], ["5 L/min", "2.2 bar"], ["9 L/min", "1.2 bar"], ["12 L/min", "0 bar"]],
            "curve_volts": "13 V",
            "volts": "12.8 V",
            "current": "5 A",
            "cut_in": "1.4 bar",
            "cut_out": "2.5 bar",
            "priming_lift": "2 m",
            "z": "0.05 m",
        }
    },
    "accumulators": {"vessel": {"at": "tee", "volume": "1 L", "precharge": "1.1 bar"}},
    "heaters": {
        "heater": {
            "volume": "10 L",
            "source": "inverter",
            "power": "1000 W",
            "volts": "230 V",
            "set_point": "60 °C",
            "relief": "4 bar",
            "empty_cut_out": True,
            "x": "3 m",
            "y": "0 m",
            "z": "0.2 m",
        }
    },
    "tees": {"tee": {"z": "0.1 m"}, "cold tee": {"z": "0.1 m"}, "hot tee": {"z": "0.2 m"}},
    "mixers": {
        "shower mixer": {
            "kind": "thermostatic",
            "set": "38 °C",
            "least_flow": "1 L/min",
            "hot_excess": "10 K",
            "z": "1 m",
        },
        "tap mixer": {
            "kind": "thermostatic",
            "set": "42 °C",
            "least_flow": "1 L/min",
            "hot_excess": "10 K",
            "z": "1 m",
        },
    },
    "outlets": {
        "shower": {"flow": "6 L/min", "at": "1 bar", "temperature": "38 °C", "wanted": "3 L/min", "z": "1.6 m"},
        "tap": {"flow": "5 L/min", "at": "1 bar", "temperature": "42 °C", "wanted": "3 L/min", "z": "1 m"},
    },
    "runs": {
        name: {"from": start, "to": end, "size": "pex 12 mm", "length": length}
        for name, start, end, length in (
            ("suction", "fresh", "pump", "0.8 m"),
            ("trunk", "pump", "tee", "0.5 m"),
            ("cold trunk", "tee", "cold tee", "0.5 m"),
            ("heater feed", "tee", "heater", "0.5 m"),
            ("hot trunk", "heater", "hot tee", "0.5 m"),
            ("hot shower line", "hot tee", "shower mixer", "1 m"),
            ("cold shower line", "cold tee", "shower mixer", "1 m"),
            ("shower hose", "shower mixer", "shower", "1 m"),
            ("hot tap line", "hot tee", "tap mixer", "1 m"),
            ("cold tap line", "cold tee", "tap mixer", "1 m"),
            ("spout", "tap mixer", "tap", "0.3 m"),
        )
    },
    "frost": {"design_cold": "-5 °C", "mean_cold": "-1 °C", "room": "18 °C"},
    "water": {"drained": False},
    "pads": {
        "fresh pad": {"tank": "fresh", "power": "80 W", "protected_by": "level"},
        "grey pad": {"tank": "grey", "power": "80 W", "protected_by": "level", "fed": "engine"},
    },
    "battery": {
        "volts": "12.8 V",
        "charge": "400 Ah",
        "usable": "90 %",
        "other_loads": "600 Wh/day",
        "charging": "2000 Wh/day",
        "max_current": "200 A",
    },
    "inverter": {"volts": "230 V", "rating": "2500 W", "efficiency": "90 %", "idle": "10 W", "hours_on": "2 h"},
    "cables": {"inverter cable": {"to": "inverter", "length": "1 m", "section": "50 mm²"}},
    "vehicle": {
        "wheelbase": "4 m",
        "track": "1.8 m",
        "empty_front": "1300 kg",
        "empty_rear": "1000 kg",
        "permitted_front": "1900 kg",
        "permitted_rear": "2000 kg",
        "permitted_total": "3500 kg",
    },
    "loads": {"people": {"mass": "150 kg", "x": "1.2 m", "y": "0 m"}},
}

WISHES: dict[str, Any] = {
    "household.days_wanted": "12 days",
    "outlets.shower.wanted": "12 L/min",
    "outlets.tap.wanted": "12 L/min",
}
"""What no small van gives."""

DIRECT: dict[str, Any] = {
    "runs.hot tap line": {"from": "hot tee", "to": "tap", "size": "pex 12 mm", "length": "1 m"},
    "runs.cold tap line": None,
    "runs.spout": None,
    "mixers.tap mixer": None,
}
"""The hot line straight to the tap, without its mixer."""

DANGERS: dict[str, tuple[str, dict[str, Any]]] = {
    "72 °C straight to a tap": ("hot_water.heater.scald", {**DIRECT, "heaters.heater.set_point": "72 °C"}),
    "85 °C straight to a tap": ("hot_water.heater.scald", {**DIRECT, "heaters.heater.set_point": "85 °C"}),
    "boiling on the pass": (
        "hot_water.heater.boils",
        {"heaters.heater.set_point": "94 °C", "site.highest": "2500 m", "runs.spout.beside": "room"},
    ),
    "no relief valve": ("hot_water.heater.relief", {"heaters.heater.relief": None}),
    "dry element": ("hot_water.heater.empty", {"heaters.heater.empty_cut_out": False}),
    "pad on an empty tank": ("frost.grey pad.protected", {"pads.grey pad.protected_by": "temperature"}),
    "bare pad": ("frost.fresh pad.protected", {"pads.fresh pad.protected_by": "none"}),
    "lithium charged in the cold": ("power.battery.charging", {"frost.room": "-4 °C"}),
    "pump at 25 V": ("outlets.pump.volts", {"pumps.pump.volts": "25 V"}),
    "washing into the urine container": ("stay.dishes.urine", {"uses.dishes.to": "urine container"}),
    "overloaded axle": ("weight.rear", {"vehicle.permitted_rear": "1060 kg", "vehicle.permitted_total": "2960 kg"}),
    "cable": ("hot_water.heater.current", {"battery.max_current": "60 A"}),
    "thin cable": ("power.inverter cable.carries", {"cables.inverter cable.section": "10 mm²"}),
    "fuse beyond its cable": ("power.inverter cable.fuse", {"cables.inverter cable.fuse": "400 A"}),
}
"""The key of the finding that must stand first, and what plants the danger."""


def plan_with(*several: dict[str, Any]) -> Plan:
    """The sound van with other values; None takes one out."""
    raw = copy.deepcopy(SOUND)
    for address, value in (pair for changes in several for pair in changes.items()):
        table, *way = address.split(".")
        part = raw[table]
        for name in way[:-1]:
            part = part[name]
        part.pop(way[-1], None)
        if value is not None:
            part[way[-1]] = value
    return Plan.of(raw, file=True)
