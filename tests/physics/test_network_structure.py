import numpy as np
import pytest

from tests.physics.networks import small_van, small_van_numbers
from vanwater.physics.network import (
    Mixer,
    Network,
    NetworkInputs,
    Outlet,
    Pump,
    Run,
    Source,
    fixed_flow_points,
    solve,
)

TANK = (Source("tank", "tank"),)
TAP = (Outlet("tap", "tap"),)
HOSE = Run("hose", "tank", "tap")


def run(name, start, end, **more):
    return Run(name, start, end, **more)


@pytest.mark.parametrize(
    ("build", "said"),
    [
        (lambda: Network((HOSE, run("ring", "tap", "tap")), TANK, TAP), "run 'ring' joins node 'tap' to itself"),
        (lambda: Network((HOSE, run("hose", "tap", "x")), TANK, TAP), "run 'hose' comes twice"),
        (lambda: Network((HOSE,), (), TAP), "no source"),
        (lambda: Network((HOSE,), (*TANK, Source("mains", "tank")), TAP), "node 'tank' has two sources"),
        (lambda: Network((HOSE,), TANK, TAP, nodes=("tank", "tap", "tap")), "node 'tap' comes twice"),
        (lambda: Network((HOSE,), TANK, TAP, nodes=("tank", "tap", "attic")), "node 'attic' is cut off"),
        (lambda: Network((HOSE,), TANK, TAP, nodes=("tank",)), "node 'tap' of a piece is not among nodes"),
        (
            lambda: Network((HOSE,), TANK, (*TAP, Outlet("sink", "sink"))),
            "outlet 'sink' at node 'sink' is fed by nothing",
        ),
        (lambda: Network((HOSE, run("far", "a", "b")), TANK, TAP), "node 'a' is cut off"),
        (
            lambda: Network((run("hose", "tap", "tank", check_valve=True),), TANK, TAP),
            "outlet 'tap' at node 'tap' is fed by nothing",
        ),
        (
            lambda: Network((run("in", "tank", "a"), run("out", "b", "tap")), TANK, TAP, (Pump("pump", "b", "a"),)),
            "pump 'pump' draws from node 'b', which no source feeds: it faces backwards",
        ),
        (
            lambda: Network((HOSE,), TANK, TAP, (Pump("pump", "a", "b"),)),
            "pump 'pump' draws from node 'a', which no source feeds: its suction side is fed by nothing",
        ),
        (
            lambda: Network((HOSE, run("c", "tap", "m")), TANK, TAP, mixers=(Mixer("mixer", "tap", "tap", "x"),)),
            "mixer 'mixer' joins node 'tap' to itself",
        ),
    ],
)
def test_a_structure_that_cannot_be_is_refused_by_name(build, said):
    with pytest.raises(ValueError, match=said.replace("(", r"\(")):
        build()


@pytest.mark.parametrize(
    ("changed", "said"),
    [
        ({"bore": 0.0}, "bore of 'L01' is 0 in row 0; expected above zero"),
        ({"length": np.full(3, 1.0)}, r"length has shape \(3,\); expected \(rows, 17\)"),
        ({"length": np.ones((2, 2, 17))}, "length has shape"),
        ({"density": np.nan}, "density of 'L01' is nan"),
        ({"roughness": -1e-6}, "roughness of 'L01' is -1e-06"),
        ({"friction_multiplier": 0.0}, "friction_multiplier of 'L01' is 0 in row 0; expected 1 or above"),
        ({"friction_multiplier": 0.03}, "friction_multiplier of 'L01' is 0.03 in row 0; expected 1 or above"),
        (
            {"openness": np.array([[1, 1, 1, 1, 1], [1, 1, 2, 1, 1.0]])},
            "openness of 'BC' is 2 in row 1; expected from 0 to 1",
        ),
        ({"outlet_constant": -1.0}, "outlet_constant of 'GC' is -1"),
        ({"source_pressure": np.inf}, "source_pressure of 'tank' is inf"),
        ({"pump_rise": np.array([[0.0, 1e5]])}, "a rise that never grows with the flow"),
        ({"pump_flow": np.array([[1e-4, 0.0]])}, "flows that rise from point to point"),
        ({"pump_flow": np.array([[1e-4, 1e-4]])}, "one rise at each flow"),
        ({"pump_flow": None}, "pump_flow is missing; expected the points of pump 'pump'"),
        ({"pump_flow": np.array([[0.0, 1e-4, 2e-4]])}, "differ in their count of points"),
        ({"openness": np.ones((3, 5)), "bore": np.full((2, 17), 0.01)}, "the arrays have 2 and 3 rows"),
        ({"elevation": np.arange(19) * 0.1}, "nodes of pump 'pump' differ in elevation"),
    ],
)
def test_numbers_that_cannot_be_are_refused_with_the_piece(changed, said):
    with pytest.raises(ValueError, match=said):
        solve(small_van(), NetworkInputs(**(small_van_numbers() | changed)))


def test_what_is_not_there_is_named():
    flows = solve(small_van(), NetworkInputs(**small_van_numbers()))
    for ask in (flows.run, flows.pump, flows.outlet, flows.mixer, flows.at):
        with pytest.raises(ValueError, match="is named 'attic'; expected one of"):
            ask("attic")


def test_a_hand_pump_needs_a_flow_and_a_lift():
    with pytest.raises(ValueError, match="greatest_rise is 0; expected above zero"):
        fixed_flow_points(1e-4, 0.0)


def test_a_tree_is_eliminated_without_a_mesh_and_a_loop_with_a_small_one():
    tree = small_van().elimination
    assert all(len(step.neighbours) <= 1 and not step.fills for step in tree.steps)
    assert len(tree.steps) == len(small_van().nodes) - 1
    runs = tuple(Run(str(i), f"n{i}", f"n{(i + 1) % 100}") for i in range(100))
    ring = Network((*runs, Run("feed", "tank", "n0")), TANK, (Outlet("tap", "n50"),)).elimination
    assert sum(len(step.fills) for step in ring.steps) < 100
