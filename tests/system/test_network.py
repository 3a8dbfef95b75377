from __future__ import annotations

import numpy as np
import pytest

from tests.examples import NAMES, example
from vanwater.answers.outlets.outlet import UNSURE
from vanwater.physics.series import series_flow
from vanwater.system.batch import Batch, Row, low_and_high
from vanwater.system.network import Case, complete_ways, open_together, solve_cases
from vanwater.system.series import series_case
from vanwater.system.ways import way_to

FAMILY = example("family-winter")


@pytest.mark.parametrize("name", NAMES)
def test_one_outlet_alone_is_the_series_solve(name: str) -> None:
    # The series lifts the whole way at the cold water's density, the network each run at its own: cold outlets agree
    # to rounding, mixed ones to the weight of a metre of warm water.
    plan = example(name)
    batch = Batch(plan, low_and_high(UNSURE))
    sets = [(outlet,) for outlet in plan.outlets]
    solved = open_together(batch, sets)
    for place, outlet in enumerate(plan.outlets):
        way = way_to(plan, outlet)
        alone = series_flow(series_case(batch, way).physics).flow
        together = solved.flow[place, :, solved.outlets.index(outlet)]
        assert together == pytest.approx(alone, rel=1e-9 if not way.mixer else 1e-3)
    assert solved.residual.max() < 1e-3


def test_shut_outlets_give_nothing_and_opening_another_never_helps() -> None:
    solved = open_together(
        Batch(FAMILY), [("shower",), ("shower", "galley tap"), ("shower", "galley tap", "basin tap")]
    )
    flow = solved.flow[:, 0]
    shower, galley, basin = (solved.outlets.index(name) for name in ("shower", "galley tap", "basin tap"))
    assert flow[0, galley] == flow[0, basin] == 0
    assert flow[0, shower] > flow[1, shower] > flow[2, shower] > 0
    assert np.all(np.diff(flow.sum(axis=1)) > 0)  # the pump gives more in all


def test_rows_reach_the_network() -> None:
    rows = [Row("volts", {"pumps.pump.volts": 13.6}), Row("hose", {"runs.handset hose.size": "pvc hose 10 mm"})]
    solved = open_together(Batch(FAMILY, rows), [("shower", "galley tap")])
    shower = solved.flow[0, :, solved.outlets.index("shower")]
    assert shower[1] > shower[0]
    assert shower[2] > shower[0]
    assert solved.discharge["pump"].shape == (1, 3)


def test_outlets_that_are_not_decided_are_left_out() -> None:
    plan = FAMILY.changed({"runs.handset hose.length": None})
    assert set(complete_ways(plan)) == {"galley tap", "basin tap"}
    assert "shower" not in open_together(Batch(plan), [("basin tap",)]).outlets


def test_hot_only_and_self_mixing_outlets_solve() -> None:
    hot = FAMILY.changed(
        {
            "runs.hot tap": {"from": "hot tee", "to": "hot tap", "bore": 0.008, "length": 1.0},
            "outlets.hot tap": {"flow": 4e-3 / 60, "at": 1e5, "z": 1.0},
            "runs.sink hot": {"from": "hot tee", "to": "sink", "bore": 0.008, "length": 1.0},
            "runs.sink cold": {"from": "cold tee", "to": "sink", "bore": 0.008, "length": 1.0},
            "outlets.sink": {"flow": 4e-3 / 60, "at": 1e5, "z": 1.0, "temperature": 313.15},
        },
        si=True,
    )
    solved = open_together(Batch(hot), [("hot tap",), ("sink",), ("hot tap", "sink")])
    for place, opened in enumerate((("hot tap",), ("sink",), ("hot tap", "sink"))):
        for outlet in opened:
            assert solved.flow[place, 0, solved.outlets.index(outlet)] > 1e-5


def test_a_node_held_at_the_pressure_that_it_has_changes_nothing() -> None:
    opened = ("shower", "galley tap")
    free = solve_cases(Batch(FAMILY), [Case(opened)]).flows
    at = float(free.at("tee")[0])
    held = solve_cases(Batch(FAMILY), [Case(opened, held=at), Case(opened, held=at + 1e4)], "tee").flows
    assert held.outlet("shower")[0] == pytest.approx(float(free.outlet("shower")[0]), rel=1e-9)
    assert held.sources[0, -1] == pytest.approx(0.0, abs=1e-12)
    assert held.sources[1, -1] > 0  # more pressure than the pump makes there: the node feeds the outlets
    assert held.outlet("shower")[1] > held.outlet("shower")[0]


def test_a_resting_pump_lets_nothing_through() -> None:
    rests = Case(("basin tap",), held=2e5, resting=("pump",))
    flows = solve_cases(Batch(FAMILY), [rests, Case(("basin tap",), held=2e5)], "pump outlet").flows
    assert flows.pump("pump")[0] == pytest.approx(0.0, abs=1e-12)
    assert flows.sources[0, -1] == pytest.approx(float(flows.outlet("basin tap")[0]), rel=1e-9)
    assert flows.outlet("basin tap")[0] == pytest.approx(float(flows.outlet("basin tap")[1]), rel=1e-9)
    assert flows.pump("pump")[1] > 0


def test_manifold_is_a_tee_with_any_number_of_runs() -> None:
    changes: dict[str, object] = {"tees.manifold": {"z": 0.3}}
    changes["runs.to manifold"] = {"from": "tee", "to": "manifold", "size": "pex 12 mm", "length": 0.5}
    names = [f"tap {number}" for number in range(6)]
    for metres, name in enumerate(names, 1):
        port = {
            "from": "manifold",
            "to": name,
            "bore": 0.009,
            "length": float(metres),
            "fittings": {"manifold port": 1},
        }
        changes |= {f"runs.{name} line": port, f"outlets.{name}": {"flow": 4e-3 / 60, "at": 1e5, "z": 1.0}}
    plan = FAMILY.changed(changes, si=True)
    for name in names:
        assert way_to(plan, name).trunk == ("trunk", "to manifold", f"{name} line")
    solved = open_together(Batch(plan), [tuple(names), names[:1]])
    flows = [solved.flow[0, 0, solved.outlets.index(name)] for name in names]
    assert np.all(np.diff(flows) < 0)  # the longer its run, the less
    assert flows[-1] > 0
    assert solved.flow[1, 0, solved.outlets.index(names[0])] > flows[0]
    without = FAMILY.changed(changes | {f"runs.{names[0]} line.fittings": {}}, si=True)
    assert open_together(Batch(without), [names[:1]]).flow[0, 0, 0] > solved.flow[1, 0, solved.outlets.index(names[0])]
