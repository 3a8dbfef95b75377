from __future__ import annotations

import pytest

from vanwater.plan.frost_tables import bodies, burst_of, bursts
from vanwater.plan.tables import materials, pipes
from vanwater.plan.winter import Body

HOUR = 3600.0


def test_a_larger_body_cools_more_slowly_and_each_lies_within_its_ends() -> None:
    small, medium, large = (bodies()[size] for size in ("small", "medium", "large"))
    assert small.time_constant.likely < medium.time_constant.likely < large.time_constant.likely
    assert (medium.time_constant.low, medium.time_constant.high) == pytest.approx((1.2 * HOUR, 4 * HOUR))
    for row in bodies().values():
        assert row.time_constant.low < row.time_constant.likely < row.time_constant.high
        assert (row.falls.low, row.falls.likely, row.falls.high) == pytest.approx((0.12, 0.2, 0.3))
        assert Body(size=row.key).size == row.key


def test_soft_hose_stands_more_ice_than_pipe_and_pipe_more_than_metal() -> None:
    stiff, yielding, soft = (bursts()[kind].more_ice for kind in ("stiff", "yielding", "soft"))
    assert stiff.high < yielding.low and yielding.high < soft.low
    assert burst_of("copper").key == burst_of(None).key == burst_of("cheese").key == "stiff"
    assert (burst_of("pex").key, burst_of("reinforced pvc").key) == ("yielding", "soft")


def test_every_hose_and_pipe_of_the_stock_is_in_a_row_of_its_own() -> None:
    named = {material for row in bursts().values() for material in row.materials}
    assert {row.material for row in pipes().values()} <= named
    assert len(named) == sum(len(row.materials) for row in bursts().values())  # none stands in two rows
    assert named - {row.material for row in pipes().values()} <= materials().keys()
