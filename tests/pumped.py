"""One small van with any kind of pump, with mains and with two tanks, for the tests."""

from __future__ import annotations

import copy
from typing import Any

CURVE = [["0 L/min", "2.8 bar"], ["4 L/min", "2.2 bar"], ["8 L/min", "1.4 bar"], ["11 L/min", "0 bar"]]
ELECTRIC: dict[str, Any] = {"curve": CURVE, "curve_volts": "13 V", "volts": "12.3 V", "current": "4.5 A"}
SWITCH: dict[str, Any] = {"cut_in": "1.2 bar", "cut_out": "2.5 bar", "priming_lift": "1.6 m", "z": "10 cm"}
BY_HAND: dict[str, Any] = {"stroke": "0.1 L", "strokes": "40 a minute", "stall": "0.8 bar", "priming_lift": "1.5 m"}

PUMPS: dict[str, dict[str, Any]] = {
    "diaphragm": {"kind": "diaphragm", **ELECTRIC, **SWITCH},
    "by-pass": {"kind": "by-pass", "by_pass": "1.5 bar", **ELECTRIC, **SWITCH},
    "speed-controlled": {
        "kind": "speed-controlled",
        "holds": "1.2 bar",
        "least_flow": "1 L/min",
        "priming_lift": "1.6 m",
        "z": "10 cm",
        **ELECTRIC,
    },
    "submersible": {"kind": "submersible", "tank": "fresh", **ELECTRIC},
    "hand": {"kind": "hand", "z": "90 cm", **BY_HAND},
    "foot": {"kind": "foot", "z": "10 cm", **BY_HAND},
}
KINDS = tuple(PUMPS)

PLAN: dict[str, Any] = {
    "van": {"name": "pumped"},
    "household": {"people": 2, "habits": "careful", "days_wanted": "2 days"},
    "tanks": {"fresh": {"holds": "fresh", "capacity": "40 L", "z": "5 cm"}},
    "battery": {"volts": "12.8 V", "charge": "100 Ah", "usable": "90 %"},
    "tees": {"tee": {"z": "15 cm"}},
    "outlets": {
        "tap": {"flow": "4 L/min", "at": "1 bar", "z": "1 m", "wanted": "3 L/min", "micro_switch": True},
        "rinse": {"flow": "6 L/min", "at": "1 bar", "z": "0.5 m", "micro_switch": True},
    },
    "together": {"both": {"outlets": ["tap", "rinse"]}},
    "runs": {
        "suction": {"from": "fresh", "to": "pump", "size": "pvc hose 12.5 mm", "length": "1.2 m"},
        "trunk": {
            "from": "pump",
            "to": "tee",
            "size": "pvc hose 10 mm",
            "length": "1 m",
            "fittings": {"barb elbow": 2},
        },
        "tap hose": {"from": "tee", "to": "tap", "size": "pvc hose 10 mm", "length": "1.5 m"},
        "rinse hose": {"from": "tee", "to": "rinse", "size": "pvc hose 10 mm", "length": "2 m"},
    },
}


def pumped(kind: str, **fields: Any) -> dict[str, Any]:
    """The van with a pump of a kind, its fields changed."""
    raw = copy.deepcopy(PLAN)
    raw["pumps"] = {"pump": {**PUMPS[kind], **fields}}
    if kind == "submersible":
        del raw["runs"]["suction"]
    return raw


def on_the_mains(kind: str, valve: bool = True, **inlet: Any) -> dict[str, Any]:
    """The same van with a mains inlet at its tee."""
    raw = pumped(kind)
    raw["mains"] = {"inlet": {"z": "40 cm", **inlet}}
    fittings = {"fittings": {"spring check valve": 1}} if valve else {}
    raw["runs"]["inlet hose"] = {"from": "inlet", "to": "tee", "size": "pvc hose 12.5 mm", "length": "2 m", **fittings}
    if valve:
        raw["runs"]["trunk"]["fittings"]["spring check valve"] = 1
    return raw


def two_tanks(kind: str, higher: str = "5 cm") -> dict[str, Any]:
    """The same van with a second tank joined before the pump."""
    raw = pumped(kind)
    raw["tanks"]["second"] = {"holds": "fresh", "capacity": "30 L", "z": higher}
    raw["tees"]["join"] = {"z": "5 cm"}
    raw["runs"]["suction"]["from"] = "join"
    for tank, length in (("fresh", "0.5 m"), ("second", "1.5 m")):
        raw["runs"][f"from {tank}"] = {"from": tank, "to": "join", "size": "pvc hose 10 mm", "length": length}
    return raw
