from __future__ import annotations

import numpy as np
import pytest

from tests.examples import example
from vanwater.plan.overlay import Overlay
from vanwater.plan.problems import PlanError
from vanwater.system.batch import Batch, Row, Unsure, carries, low_and_high, row_of

PLAN = example("family-winter")


def test_row_zero_is_the_plan_and_rows_change_only_what_they_say() -> None:
    batch = Batch(PLAN, [Row("more", {"household.people": 6}), Row("less", {"site.altitude": 0.0})])
    assert batch.number("household.people").tolist() == [4, 6, 4]
    assert batch.number("site.altitude").tolist() == [650, 650, 0]
    assert len(batch) == 3
    assert batch.place("less") == 2


def test_missing_value_is_the_stand_in_in_plan_and_rows() -> None:
    batch = Batch(PLAN, [Row("none", {"tanks.grey.overflow": None})])
    assert np.isnan(batch.number("tanks.grey.capacity")).all()
    assert batch.number("tanks.grey.overflow", -1.0).tolist() == [pytest.approx(0.205), -1.0]


def test_what_a_batch_keeps_cannot_be_written() -> None:
    """Whoever is given the numbers of an address is given the same ones as everybody else."""
    batch = Batch(example("family-winter"), [Row("warm", {"site.cold_water": 290.0})])
    for kept in (batch.number("site.cold_water"), batch.factor("fittings")):
        with pytest.raises(ValueError, match="read-only"):
            kept[0] = 1.0


def test_each_makes_one_call_for_unchanged_rows() -> None:
    calls = []

    def make(size: str | None, bore: float | None) -> float:
        calls.append((size, bore))
        return 1.0 if size == "pvc hose 8 mm" else 2.0

    batch = Batch(PLAN, [Row("a"), Row("b", {"runs.handset hose.size": "pvc hose 10 mm"}), Row("c")])
    assert batch.each(("runs.handset hose.size", "runs.handset hose.bore"), make).tolist() == [1, 1, 2, 1]
    assert len(calls) == 2


def test_low_and_high_give_factors_on_their_own_rows_only() -> None:
    one = Unsure("habits", "habits", 0.8, 1.3, "", "common practice")
    other = Unsure("bores", "bores", 0.9, 1.1, "", "common practice")
    batch = Batch(PLAN, low_and_high([one, other]))
    assert batch.factor("habits").tolist() == [1, 0.8, 1.3, 1, 1]
    assert batch.factor("bores").tolist() == [1, 1, 1, 0.9, 1.1]
    assert batch.factor("nothing").tolist() == [1] * 5
    assert batch.place("bores high") == 4


def test_unknown_address_names_the_nearest() -> None:
    with pytest.raises(KeyError, match="people"):
        Batch(PLAN).number("household.peple")


@pytest.mark.parametrize(
    ("values", "carried"),
    [
        ({"tanks.fresh.length": 0.9, "household.people": 3}, True),
        ({"tanks.fresh.z": np.float64(0.1)}, True),
        ({"tanks.fresh.z": 0.0}, False),
        ({"loads.two in front.y": 0.3}, False),
        ({"tanks.fresh.length": None}, False),
        ({"runs.galley spout.size": "pex 12 mm"}, False),
        ({"outlets.basin tap.flow": 1e-4}, False),
        ({"heaters.heater.empty_cut_out": False}, False),
        ({"runs.suction.fittings.strainer": 2}, False),
        ({"runs.suction.k": 1.0}, False),
        ({"pumps.pump.curve.1.0": 1e-4}, False),
        ({"tanks.fresh.length": 0.9, "runs.suction.fittings.strainer": 2}, False),
    ],
)
def test_a_row_carries_numbers_that_leave_the_structure_alone(values: dict[str, object], carried: bool) -> None:
    assert carries(PLAN, values) is carried


def test_what_can_be_carried_is_asked_of_places_of_the_plan() -> None:
    with pytest.raises(KeyError, match="fresh"):
        carries(PLAN, {"tanks.frsh.length": 0.9})


def test_an_overlay_of_numbers_is_a_row_and_one_of_structure_is_none() -> None:
    row = row_of(Overlay("shorter", {"tanks.fresh.length": "90 cm", "household.people": 3}), PLAN)
    assert row == Row("shorter", {"tanks.fresh.length": 0.9, "household.people": 3})
    structures: list[dict[str, object]] = [
        {"loads.luggage": None},
        {"loads.chest": {"mass": "40 kg", "x": "2 m"}},
        {"household.people": 3, "heaters.heater.source": "engine"},
        {"runs.suction.fittings.push-fit elbow": 1},
        {"tanks.fresh.z": "0 m"},
        {"pumps.pump.curve": [["0 L/min", "3 bar"], ["9 L/min", "0 bar"]]},
    ]
    assert [row_of(Overlay("other", values), PLAN) for values in structures] == [None] * len(structures)
    with pytest.raises(PlanError, match="no unit"):
        row_of(Overlay("bare", {"tanks.fresh.length": 1}), PLAN)
