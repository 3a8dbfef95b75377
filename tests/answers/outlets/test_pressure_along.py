from __future__ import annotations

from itertools import pairwise

import numpy as np
import pytest

from tests.examples import NAMES, example
from vanwater.answers.outlets.answer import outlets
from vanwater.answers.outlets.pressure_along import pressure_along
from vanwater.system.batch import Batch
from vanwater.system.network import open_together

FAMILY = example("family-winter")


@pytest.mark.parametrize("name", NAMES)
def test_it_leads_from_the_surface_through_the_pump_to_the_air(name: str) -> None:
    answer = outlets(example(name))
    for one in answer.outlets.values():
        along = pressure_along(one)
        assert along[0].before == 0.0
        assert along[-1].after == 0.0
        assert all(before.after == after.before for before, after in pairwise(along))
        pump = next(stretch for stretch in along if stretch.kind == "pump")
        assert pump.before == pytest.approx(float(one.solved.pump_inlet_pressure[0]), abs=1e-6)
        assert pump.after == pytest.approx(one.discharge.likely, abs=1e-6)
        assert along[-1].before == pytest.approx(float(one.solved.outlet_pressure[0]), abs=1e-3)
        assert all(stretch.before < 1e-9 for stretch in along if stretch.kind == "suction" and stretch.lift.likely > 0)


def test_losses_and_lifts_are_those_of_the_budget() -> None:
    answer = outlets(FAMILY)
    one = answer.outlets["shower"]
    along = pressure_along(one)
    budget = {piece.label: piece.loss.likely for piece in one.budget}
    for stretch in along:
        if stretch.kind not in ("pump", "outlet"):
            assert stretch.takes.likely == pytest.approx(budget.pop(stretch.label))
    assert sum(stretch.lift.likely for stretch in along) == pytest.approx(budget.pop("lift"))
    assert list(budget) == ["shower"]


def test_the_whole_network_finds_the_same_pressures_at_the_pieces() -> None:
    """Another solver, and the hot column lighter than the cold: pressures within 2 mbar of each other."""
    along = {stretch.label: stretch for stretch in pressure_along(outlets(FAMILY).outlets["shower"])}
    solved = open_together(Batch(FAMILY), [["shower"]])
    assert along["pump"].after == pytest.approx(solved.discharge["pump"][0, 0], abs=200)
    assert along["shower"].before == pytest.approx(solved.pressure[0, 0, solved.outlets.index("shower")], abs=200)


def test_runs_are_cold_until_the_heater_hot_behind_it_mixed_behind_the_tap() -> None:
    answer = outlets(FAMILY)
    kinds = {stretch.label: stretch.kind for stretch in pressure_along(answer.outlets["shower"])}
    assert kinds["suction"] == "suction"
    assert kinds["trunk"] == kinds["heater feed"] == "cold"
    assert kinds["hot trunk"] == kinds["hot shower line"] == "hot"
    assert kinds["handset hose"] == "mixed"
    assert {one.kind for one in pressure_along(answer.outlets["basin tap"])} == {
        "suction",
        "pump",
        "cold",
        "outlet",
    }


def test_a_piece_without_a_height_lies_as_high_as_the_one_before() -> None:
    plan = FAMILY.changed({"tees.hot tee.z": None})
    found = {one.label: one for one in pressure_along(outlets(plan).outlets["shower"])}
    assert found["hot trunk"].lift.likely == 0.0
    was = {one.label: one for one in pressure_along(outlets(FAMILY).outlets["shower"])}
    both = was["hot shower line"].lift.likely + was["hot trunk"].lift.likely
    assert found["hot shower line"].lift.likely == pytest.approx(both)
    assert found["shower"].before == pytest.approx(was["shower"].before)


def test_where_no_water_comes_there_is_nothing_along_the_way() -> None:
    plan = FAMILY.changed({"pumps.pump.curve": ((0.0, 0.1e5), (1e-4, 0.0))}, si=True)
    assert pressure_along(outlets(plan).outlets["shower"]) == ()
    assert np.isclose(outlets(plan).outlets["shower"].flow.likely, 0.0)
