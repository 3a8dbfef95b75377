"""What is not said counts as its field says that it counts: no number moves when it is said."""

from __future__ import annotations

import math
from typing import Any

import pytest

from tests.examples import example
from vanwater.answers.questions import answers_to
from vanwater.plan.model import Plan

FOAM = "0.037 W/mK"
FAMILY: dict[str, str | bool] = {
    "pumps.pump.npsh": "3 m",
    "body.size": "medium",
    "frost.mean_cold": "-12 °C",  # the coldest
    "tanks.fresh.pickup_from_front": "47.5 cm",  # the middle
    "tanks.fresh.pickup_from_left": "31 cm",
    "tanks.fresh.overflow": "24 cm",  # the top
    "tanks.grey.overflow": "22 cm",
    **{f"tanks.{tank}.wall": "5 mm" for tank in ("fresh", "grey")},
    **{f"tanks.{tank}.material": "polyethylene" for tank in ("fresh", "grey")},
    **{f"tanks.{tank}.foam_conductivity": FOAM for tank in ("fresh", "grey")},
    "tanks.fresh.filled": "100 %",
    "tanks.grey.filled": "0 %",
    "runs.suction.foam_conductivity": FOAM,
    "runs.trunk.beside": "room",
    "inverter.search": "3 W",  # a fifth of its idling
    "accumulators.accumulator.set_altitude": "1200 m",  # the site's
    "cables.inverter cable.insulation": "70 °C",
    "cables.inverter cable.engine_space": False,
}
CHANGED = {"inverter.switched": "search", "inverter.hours_on": None, "situations": None, "site.altitude": "1200 m"}


def numbers(plan: Plan) -> dict[str, float]:
    return {key: number.likely for key, number in answers_to(plan).numbers.items()}


@pytest.mark.parametrize(
    ("name", "changed", "said"),
    [
        ("family-winter", CHANGED, FAMILY),
        ("touring-campsites", {}, {"mains.inlet.droop": "0.5 bar", "tanks.fresh.filled": "100 %"}),
        ("long-stay-dry-toilet", {}, {"alternator.volts": "28.4 V"}),
    ],
)
def test_saying_what_it_counts_as_moves_no_number(
    name: str, changed: dict[str, Any], said: dict[str, str | bool]
) -> None:
    unsaid = example(name).changed(changed | dict.fromkeys(said))
    without, spoken = numbers(unsaid), numbers(unsaid.changed(said))
    assert len(without) > 100
    moved = {
        key: (value, spoken[key])
        for key, value in without.items()
        if key in spoken and not math.isclose(value, spoken[key], rel_tol=1e-9, abs_tol=1e-12)
        if not math.isnan(value + spoken[key])
    }
    assert moved == {}
    assert len(without.keys() & spoken.keys()) > 0.95 * len(without)
