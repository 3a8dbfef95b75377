"""An example van beside variants, worked out once for all tests."""

from __future__ import annotations

from functools import lru_cache

from tests.examples import example
from vanwater.options.comparison import Comparison
from vanwater.options.variants import compare
from vanwater.plan.overlay import Overlay

__all__ = ["BARE", "LONGER", "OVERFLOWING", "family"]

LONGER = Overlay("longer grey", {"tanks.grey.length": "1.1 m"})
BARE = Overlay("no accumulator, diesel", {
    "accumulators.accumulator": None,
    "heaters.heater.source": "diesel",
    "heaters.heater.volts": None,
})  # fmt: skip
OVERFLOWING = Overlay("pick-up too high", {"tanks.fresh.pickup": "30 cm"})


@lru_cache
def family() -> Comparison:
    """The winter van beside two that can be built and one that cannot."""
    return compare(example("family-winter"), [LONGER, BARE, OVERFLOWING])
