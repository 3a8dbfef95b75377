"""Vans with what others hold seldom or never: kinds of parts that bring sentences and sums of their own."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from tests.examples import example
from tests.pumped import PLAN, pumped
from vanwater.plan.file import read
from vanwater.plan.model import Plan
from vanwater.plan.tables import resource

__all__ = ["rare_plans"]

SMALL = {
    "kind": "diaphragm",
    "curve": [["0 L/min", "0.5 bar"], ["3 L/min", "0 bar"]],
    "curve_volts": "12 V",
    "z": "20 cm",
}
PEX = {"size": "pex 12 mm"}
RING = {
    "pumps.small pump": SMALL,
    "tees.feed tee": {"z": "20 cm"},
    "tees.far tee": {"z": "1 m"},
    "runs.heater feed.to": "feed tee",
    "runs.feed end": {"from": "feed tee", "to": "heater", "length": "10 cm", **PEX},
    "runs.hot shower line.to": "far tee",
    "runs.last piece": {"from": "far tee", "to": "shower mixer", "length": "30 cm", **PEX},
    "runs.return": {"from": "far tee", "to": "small pump", "length": "2.5 m", "foam": "13 mm", **PEX},
    "runs.return end": {
        "from": "small pump",
        "to": "feed tee",
        "length": "50 cm",
        "fittings": {"spring check valve": 1},
        **PEX,
    },
}
"""From the end of the hot line through a small pump back to the heater's feed."""
THREADS = {
    "outlets.galley tap.joint": "BSP 1/2 in female",
    "runs.tap hose.end_joint": "BSP 1/2 in male",
    "runs.tap hose.start_joint": "BSP 1/2 in male",
}


def rare_plans() -> dict[str, Mapping[str, Any]]:
    """The plans as their files would hold them, by name."""
    family, long_stay, weekend = (example(name) for name in ("family-winter", "long-stay-dry-toilet", "weekend-cans"))
    plans: dict[str, Plan] = {
        "every field": read(resource("data", "starter", "full.toml")).plan,
        "laid up": family.in_situation("laid up").changed({"household.days_wanted": "60 days"}),
        "heated by the sun": long_stay.changed({
            "heaters.heater.when": "sun",
            "pumps.pump.curve_volts": "12 V",
            "pumps.pump.volts": "12 V",
            "pumps.pump.current": "5 A",
            "converter": {"volts": "12 V", "rating": "40 W"},
        }),
        "a ring": family.changed(RING),
        "instant gas": family.changed({
            "heaters.heater.source": "gas",
            "heaters.heater.volume": "0.8 L",
            "heaters.heater.volts": None,
            "heaters.heater.least_flow": "5 L/min",
            "pumps.pump.cut_out": "1.05 bar",
            "pumps.pump.cut_in": "0.7 bar",
            "accumulators.accumulator.precharge": "0.5 bar",
        }),
        "a valve with its data": family.changed({
            "mixers.shower mixer.kind": "thermostatic",
            "mixers.shower mixer.kv": "1.2 Kv",
            "mixers.shower mixer.set": "50 °C",
            "mixers.shower mixer.least_flow": "4 L/min",
            "mixers.shower mixer.hot_excess": "10 K",
            "outlets.shower.temperature": "42 °C",
            "accumulators.accumulator.at": "shower mixer",
            "situations": None,
            "inverter.switched": "always",
            "inverter.hours_on": None,
        }),
        "a burner that starts late": family.changed({
            "heaters.heater.source": "gas",
            "heaters.heater.volume": "0.8 L",
            "heaters.heater.volts": None,
            "heaters.heater.start_up": "6 s",
            "runs.trunk": None,
        }),
        "threads": weekend.changed(THREADS),
        "chatters, agreed": family.changed({
            "accumulators": None,
            "outlets.shower.flow": "1.2 L/min",
            "agreed.a day less": {"finding": "stay.days", "on": "20 November 2026", "words": "Then to a campsite."},
        }),
    }  # fmt: skip
    raw = {name: plan.own for name, plan in plans.items()}
    high = {"suction": {**PLAN["runs"]["suction"], "fittings": {"spring check valve": 1}}}
    raw["a pump that hardly lifts"] = pumped("diaphragm", z="1.1 m", npsh="8.9 m", priming_lift="1.4 m")
    raw["a pump that hardly lifts"]["runs"] |= high
    return raw
