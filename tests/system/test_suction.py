from __future__ import annotations

from typing import Any

import pytest

from tests.pumped import pumped, two_tanks
from vanwater.plan.model import Plan
from vanwater.system.batch import Batch, Row
from vanwater.system.suction import SuctionLine, suction_line, undecided_height
from vanwater.system.ways import way_to


def line(raw: dict[str, Any]) -> SuctionLine:
    plan = Plan.of(raw)
    way = way_to(plan, "tap")
    assert undecided_height(plan, way) == ""
    return suction_line(Batch(plan), way)


def test_a_line_along_the_floor_ends_at_the_pump() -> None:
    raw = pumped("diaphragm", z="30 cm")
    raw["tanks"]["fresh"]["pickup"] = "2 cm"
    drawn = line(raw)
    assert (drawn.tank, drawn.pump, drawn.highest) == ("fresh", "pump", "pump")
    assert not drawn.hump[0] and drawn.valves[0] == 0
    assert drawn.water[0] == pytest.approx(0.07)
    assert drawn.top[0] == pytest.approx(0.30)


def test_a_dip_tube_leads_over_the_tank_s_top() -> None:
    raw = pumped("diaphragm")
    raw["runs"]["suction"]["fittings"] = {"dip tube": 1}
    plan = Plan.of(raw)
    assert undecided_height(plan, way_to(plan, "tap")) == "runs.suction.highest"
    raw["tanks"]["fresh"] |= {"length": "50 cm", "width": "30 cm", "height": "28 cm"}
    drawn = line(raw)
    assert drawn.highest == "dip tube" and drawn.hump[0]
    assert drawn.top[0] == pytest.approx(0.33)
    raw["runs"]["suction"]["highest"] = "45 cm"  # what the builder says goes first
    drawn = line(raw)
    assert drawn.highest == "top of the suction" and drawn.hump[0]
    assert drawn.top[0] == pytest.approx(0.45)


def test_a_tee_above_its_neighbours_is_a_hump() -> None:
    raw = two_tanks("diaphragm")
    raw["tees"]["join"]["z"] = "40 cm"
    assert line(raw).hump[0] and line(raw).highest == "join"
    raw["tees"]["join"]["z"] = "10 cm"  # level with the pump
    assert not line(raw).hump[0] and line(raw).highest == "pump"
    del raw["tees"]["join"]["z"]
    assert list(line(raw).heights) == ["pump"]


def test_spring_check_valves_count_and_flaps_do_not() -> None:
    raw = pumped("diaphragm")
    raw["runs"]["suction"]["fittings"] = {"spring check valve": 2, "swing check valve": 1}
    drawn = line(raw)
    assert (drawn.valves[0], drawn.checked) == (2, ("suction",))


def test_rows_change_heights_and_valves() -> None:
    raw = pumped("diaphragm")
    raw["runs"]["suction"] |= {"fittings": {"spring check valve": 1}, "highest": "40 cm"}
    plan = Plan.of(raw)
    rows = [Row("more", {"runs.suction.fittings.spring check valve": 2}), Row("flat", {"runs.suction.highest": 0.0})]
    drawn = suction_line(Batch(plan, rows), way_to(plan, "tap"))
    assert drawn.valves.tolist() == [1, 2, 1]
    assert drawn.hump.tolist() == [True, True, False]
    assert drawn.top.tolist() == pytest.approx([0.4, 0.4, 0.1])
