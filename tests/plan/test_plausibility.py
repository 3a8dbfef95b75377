from __future__ import annotations

from typing import Any

import pytest

from tests.examples import example
from vanwater.plan.problems import PlanError

FAMILY = example("family-winter")


@pytest.mark.parametrize(
    ("changes", "address", "words"),
    [
        ({"accumulators.accumulator.precharge": 2.6e5}, "accumulators.accumulator.precharge", "cut-out"),
        ({"heaters.heater.set_point": 273.15 + 95, "site.altitude": 3500.0}, "heaters.heater.set_point", "boils"),
        (
            {"heaters.heater.set_point": 273.15 + 30, "site.cold_water": 273.15 + 32},
            "heaters.heater.set_point",
            "not above the fresh water",
        ),
        ({"heaters.heater.volts": 12.0}, "heaters.heater.volts", "made for"),
        ({"heaters.heater.source": "battery"}, "heaters.heater.volts", "battery gives"),
    ],
)
def test_contradiction_is_named_with_address_and_way_out(changes: dict[str, Any], address: str, words: str) -> None:
    with pytest.raises(PlanError) as caught:
        FAMILY.changed(changes, si=True)
    (problem,) = caught.value.problems
    assert problem.address == address
    assert words in problem.message
    assert problem.expected


def test_near_volts_and_low_water_are_fine() -> None:
    assert FAMILY.changed({"heaters.heater.volts": 240.0}, si=True)
    assert FAMILY.changed({"heaters.heater.source": "battery", "heaters.heater.volts": 12.0}, si=True)
    assert FAMILY.changed({"heaters.heater.set_point": 273.15 + 85}, si=True)
