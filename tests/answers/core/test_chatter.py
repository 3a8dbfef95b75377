from __future__ import annotations

import pytest

from tests.examples import example
from vanwater.answers.core.chatter import CHATTER, LEAST_CYCLE
from vanwater.answers.pump_starts.answer import pump_starts

FAMILY = example("family-winter")


@pytest.mark.parametrize("volume", ["0.1 L", "0.2 L", "1 L"])
def test_starts_are_told_only_where_motor_and_switch_follow(volume: str) -> None:
    (cycle,) = pump_starts(FAMILY.changed({"accumulators.accumulator.volume": volume})).pumps
    assert cycle.between.likely >= LEAST_CYCLE
    assert cycle.starts is not None and cycle.starts.likely <= CHATTER


def test_a_hose_alone_chatters_and_an_accumulator_does_not() -> None:
    (bare,) = pump_starts(FAMILY.changed({"accumulators": None})).pumps
    assert bare.starts is None and bare.between.likely < LEAST_CYCLE
    (fitted,) = pump_starts(FAMILY).pumps
    assert fitted.starts is not None and fitted.between.likely > 10 * LEAST_CYCLE
