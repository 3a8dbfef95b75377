from __future__ import annotations

import numpy as np
import pytest

from tests.examples import NAMES, example
from vanwater.physics.statics import STANDARD_GRAVITY
from vanwater.plan.model import Plan
from vanwater.plan.tables import compliances, pipes
from vanwater.system.batch import Batch
from vanwater.system.moving_columns import MovingColumn, moving_columns
from vanwater.system.network import open_together

FAMILY = example("family-winter")


def column(plan: Plan, outlet: str, side: str = "") -> MovingColumn:
    return next(one for one in moving_columns(plan) if one.outlet == outlet and one.side == side)


def test_a_column_goes_from_the_accumulator_to_the_tap() -> None:
    hot = column(FAMILY, "shower", "hot")
    assert hot.runs == ("heater feed", "hot trunk", "hot shower line")  # the trunk lies before the accumulator
    assert hot.tap == "shower mixer" and hot.vessel == "accumulator"
    assert hot.length.tolist() == pytest.approx([0.6, 0.8, 2.6])
    assert column(FAMILY, "basin tap").tap == "basin tap"


def test_without_an_accumulator_on_the_way_it_goes_back_to_the_pump() -> None:
    bare = column(FAMILY.changed({"accumulators": None}), "basin tap")
    assert bare.runs == ("trunk", "cold trunk", "basin line") and bare.vessel == ""
    elsewhere = FAMILY.changed({"accumulators.accumulator.at": "hot tee"})
    assert column(elsewhere, "basin tap").runs == bare.runs
    assert column(elsewhere, "shower", "hot").runs == ("hot shower line",)
    at_pump = FAMILY.changed({"accumulators.accumulator.at": "pump"})
    assert column(at_pump, "basin tap").runs == bare.runs and column(at_pump, "basin tap").vessel == "accumulator"


def test_areas_and_give_are_those_of_the_stock_sizes() -> None:
    one = column(FAMILY, "basin tap")
    bore = pipes()["polyethylene tube 12 mm"].bore
    assert one.area == pytest.approx(np.full(2, 0.25 * np.pi * bore**2))
    row = compliances()["polyethylene"]
    assert one.give == pytest.approx(row.low * (bore / row.bore) ** 2 * one.length)


@pytest.mark.parametrize("name", NAMES)
def test_the_flow_is_never_less_than_what_the_network_gives(name: str) -> None:
    plan = example(name)
    for one in moving_columns(plan):
        steady = open_together(Batch(plan), [(one.outlet,)])
        assert one.flow >= float(steady.flow[0, 0, steady.outlets.index(one.outlet)]) * (1 - 1e-6)


def test_flow_is_the_orifice_law_at_cut_out_or_the_regulators() -> None:
    one, outlet = column(FAMILY, "shower", "hot"), FAMILY.outlets["shower"]
    assert outlet.flow is not None and outlet.at is not None and outlet.z is not None
    before = 2.6e5 - one.density * STANDARD_GRAVITY * (outlet.z - 0.05)
    assert one.flow == pytest.approx(outlet.flow * np.sqrt(before / outlet.at), rel=1e-9)
    held = FAMILY.changed({"outlets.shower.regulated": True})
    assert column(held, "shower", "hot").flow == pytest.approx(outlet.flow)


def test_nothing_decided_has_no_column() -> None:
    assert moving_columns(FAMILY.changed({"pumps.pump.cut_out": None})) == ()
