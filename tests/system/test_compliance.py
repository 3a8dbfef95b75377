from __future__ import annotations

import numpy as np
import pytest

from tests.examples import example
from vanwater.plan.tables import compliances
from vanwater.system.batch import Batch, Row
from vanwater.system.compliance import elastic_storage, line_compliance, pump_line, switch, switched

FAMILY = example("family-winter")
LONG = example("long-stay-dry-toilet")


def test_pump_without_switch_is_left_out() -> None:
    assert switched(FAMILY) == ("pump",)
    assert switched(FAMILY.changed({"pumps.pump.cut_in": None})) == ()


def test_line_gives_by_length_bore_and_material() -> None:
    one = line_compliance(Batch(FAMILY), frozenset({"handset hose"}))
    row = compliances()["reinforced pvc"]
    share = (0.008 / row.bore) ** 2 * 1.5
    assert one.low[0] == pytest.approx(row.low * share)
    assert one.high[0] == pytest.approx(row.high * share)
    assert one.low[0] < one.likely[0] < one.high[0]
    both = line_compliance(Batch(FAMILY), frozenset({"handset hose", "hot shower line"}))
    assert both.low[0] > one.low[0]
    assert line_compliance(Batch(FAMILY), frozenset()).high[0] == 0


def test_measured_line_has_no_range_and_rows_reach_it() -> None:
    plan = FAMILY.changed({"pumps.pump.line_gives": 5e-11}, si=True)
    line = pump_line(Batch(plan, [Row("soft", {"pumps.pump.line_gives": 9e-11})]), "pump")
    assert line.low.tolist() == line.high.tolist() == [5e-11, 9e-11]


def test_switch_and_storage_carry_the_plans_numbers() -> None:
    batch = Batch(FAMILY, [Row("big", {"accumulators.accumulator.volume": 2e-3})])
    at, kept = switch(batch, "pump"), elastic_storage(batch, ("accumulator",), np.zeros(2))
    assert np.asarray(at.cut_in).tolist() == pytest.approx([1.4e5, 1.4e5])
    assert np.asarray(kept.volume).tolist() == [1e-3, 2e-3]
    assert np.all(np.asarray(kept.atmosphere) < 101325)  # at 650 m
    assert np.asarray(elastic_storage(batch, (), np.full(2, 3e-11)).volume).max() == 0
