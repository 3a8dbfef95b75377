from __future__ import annotations

import pytest

from tests.answers.frosty import frosty
from vanwater.answers.frost.cold import cold_of
from vanwater.answers.frost.icing import to_block, to_burst
from vanwater.plan.frost_tables import bursts


def test_the_shares_of_ice_have_the_ranges_of_the_trade() -> None:
    cold = cold_of(frosty())
    block = to_block(cold)
    assert block.range == pytest.approx((0.05, 0.1)) and block is to_block(cold)
    stiff = to_burst(cold, bursts()["stiff"])
    assert stiff.likely == pytest.approx(0.1)
    low, high = stiff.range or (0.0, 0.0)
    assert low == pytest.approx(0.1 - (0.02**2 + 0.02**2) ** 0.5)
    assert high == pytest.approx(0.1 + (0.03**2 + 0.02**2) ** 0.5)
    assert "share of ice that blocks" in "\n".join(stiff.lines())


def test_no_more_than_all_of_it_turns_to_ice() -> None:
    soft = to_burst(cold_of(frosty(frost__ice_share="60 %")), bursts()["soft"])
    assert soft.likely == 1.0 and soft.lines()
