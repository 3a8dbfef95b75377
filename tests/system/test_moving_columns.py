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


def test_flow_is_what_cut_out_drives_through_losses_and_outlet_or_the_regulators() -> None:
    one, outlet = column(FAMILY, "shower", "hot"), FAMILY.outlets["shower"]
    assert outlet.flow is not None and outlet.at is not None and outlet.z is not None
    before = 2.6e5 - one.density * STANDARD_GRAVITY * (outlet.z - 0.05)
    free = outlet.flow * np.sqrt(before / outlet.at)
    assert 0.6 * free < one.flow < free
    wide = {
        f"runs.{run}.{field}": value
        for run in (*one.runs, "handset hose")
        for field, value in (("fittings", {}), ("size", None), ("bore", "40 mm"))
    }
    assert column(FAMILY.changed(wide), "shower", "hot").flow == pytest.approx(free, rel=1e-3)
    held = FAMILY.changed({"outlets.shower.regulated": True})
    assert column(held, "shower", "hot").flow == pytest.approx(outlet.flow)


def test_the_tap_takes_what_its_fitting_loses_of_the_pressure_that_drives_the_water() -> None:
    """By hand: 0.05 bar at 6 L/min, as the square of the flow, of the cut-out less the lift."""
    one = column(FAMILY, "shower", "hot")
    left = 2.6e5 - one.density * STANDARD_GRAVITY * (1.80 - 0.05)
    assert one.share == pytest.approx(5e3 * (one.flow * 6e4 / 6.0) ** 2 / left, rel=1e-9)
    basin = column(FAMILY, "basin tap")  # no tap counted: that of the table
    left = 2.6e5 - basin.density * STANDARD_GRAVITY * (0.95 - 0.05)
    assert basin.share == pytest.approx(5e3 * (basin.flow * 6e4 / 6.0) ** 2 / left, rel=1e-9)
    house = FAMILY.changed({"runs.hot shower line.fittings": {"house mixing tap": 1}})
    assert column(house, "shower", "hot").share > 4 * one.share
    thermostatic = FAMILY.changed({"mixers.shower mixer": {"kind": "thermostatic", "kv": "6 L/min at 1 bar"}})
    assert column(thermostatic, "shower", "hot").share > 4 * one.share


def test_the_blow_comes_on_top_of_cut_out_only_where_an_accumulator_holds_it() -> None:
    assert column(FAMILY, "basin tap").before == 2.6e5
    elsewhere = FAMILY.changed({"accumulators.accumulator.at": "hot tee"})
    assert column(elsewhere, "basin tap").before == 2.6e5
    bare = column(FAMILY.changed({"accumulators": None}), "basin tap")
    assert bare.before == pytest.approx(3.1e5 * 12.7 / 13.6, rel=0.05) and bare.before > 2.6e5


def test_nothing_decided_has_no_column() -> None:
    assert moving_columns(FAMILY.changed({"pumps.pump.cut_out": None})) == ()
