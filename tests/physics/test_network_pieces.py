import numpy as np
import pytest

from tests.physics.networks import GRAVITY
from vanwater.physics.network import Network, NetworkInputs, Outlet, Pump, Run, Source, fixed_flow_points, solve

WATER = {"density": 999.1, "viscosity": 1.138e-3}


def simple(length=2.0, bore=0.010, **more):
    runs = (Run("first", "tank", "middle"), Run("second", "middle", "tap"))
    given = {**WATER, "source_pressure": 1e5, "outlet_constant": 3e-7} | more
    network = Network(runs, (Source("tank", "tank"),), (Outlet("tap", "tap"),))
    return solve(network, NetworkInputs(elevation=0.0, length=length, bore=bore, **given))


def test_hoses_without_length_leave_the_outlet_alone():
    assert float(simple(length=0.0).outlet("tap")[0]) == pytest.approx(3e-7 * np.sqrt(1e5), rel=1e-12)


def test_one_hose_in_two_pieces_is_one_hose():
    halves = simple(length=np.array([0.7, 1.3])).outlet("tap")
    assert simple(length=np.array([2.0, 0.0])).outlet("tap") == pytest.approx(halves, rel=1e-10)


def test_two_equal_runs_side_by_side_carry_half_each():
    given = {"elevation": 0.0, "length": 2.0, **WATER, "source_pressure": 1e5}
    pair = Network(
        (Run("a", "tank", "tap"), Run("b", "tap", "tank")), (Source("tank", "tank"),), (Outlet("tap", "tap"),)
    )
    flows = solve(pair, NetworkInputs(**given, bore=0.006, outlet_constant=3e-7))
    assert flows.run("a") == pytest.approx(-flows.run("b"), rel=1e-10)
    alone = Network((Run("a", "tank", "tap"),), (Source("tank", "tank"),), (Outlet("tap", "tap"),))
    half = solve(alone, NetworkInputs(**given, bore=0.006, outlet_constant=1.5e-7))
    assert flows.run("a") == pytest.approx(half.run("a"), rel=1e-10)


def test_no_water_comes_back_through_an_outlet():
    flows = simple(source_pressure=np.array([[-500.0], [0.0], [500.0]]))
    assert flows.outlets[:2].tolist() == [[0.0], [0.0]]
    assert flows.outlets[2, 0] > 0.0
    assert flows.converged.all()
    assert flows.at("tap")[0] == pytest.approx(-500.0, abs=1e-6)


def test_a_shut_tap_is_exactly_dry_and_holds_the_pressure():
    flows = simple(openness=0.0)
    assert flows.outlets.tolist() == [[0.0]]
    assert float(flows.at("tap")[0]) == pytest.approx(1e5, rel=1e-12)
    assert np.abs(flows.runs).max() < 1e-16


def test_a_regulated_outlet_holds_its_flow_and_gives_less_below():
    flows = simple(source_pressure=np.array([[2e5], [1e5], [2e3]]), outlet_limit=4e-5)
    assert flows.outlets[:2, 0].tolist() == [4e-5, 4e-5]
    free = simple(source_pressure=2e3).outlets[0, 0]
    assert flows.outlets[2, 0] == pytest.approx(free, rel=1e-12)


def test_a_check_valve_keeps_the_mains_from_filling_the_tank():
    runs = (Run("from tank", "tank", "tee", check_valve=True), Run("mains", "inlet", "tee"), Run("on", "tee", "tap"))
    network = Network(runs, (Source("tank", "tank"), Source("mains", "inlet")), (Outlet("tap", "tap"),))
    given = {"elevation": 0.0, "length": 1.0, "bore": 0.01, **WATER, "outlet_constant": 3e-7}
    pressure, shut = np.array([[4e3, 2.5e5], [4e3, -1e3]]), np.array([[False, False, False], [False, True, False]])
    flows = solve(network, NetworkInputs(**given, source_pressure=pressure, shut=shut))
    assert flows.converged.all()
    assert flows.run("from tank")[0] == 0.0
    assert flows.sources[0] == pytest.approx([0.0, flows.outlets[0, 0]], rel=1e-12)
    assert flows.sources[1] == pytest.approx([flows.outlets[1, 0], 0.0], rel=1e-12, abs=0.0)
    assert flows.run("mains")[1] == 0.0


def pumped(flow, rise, **more):
    network = Network(
        (Run("in", "tank", "a"), Run("out", "b", "tap")),
        (Source("tank", "tank"),),
        (Outlet("tap", "tap"),),
        (Pump("pump", "a", "b"),),
    )
    given = {**WATER, "source_pressure": 0.0, "outlet_constant": 5e-7} | more
    return solve(network, NetworkInputs(elevation=0.0, length=1.0, bore=0.01, pump_flow=flow, pump_rise=rise, **given))


def test_a_pump_stands_on_its_curve_also_beyond_the_last_point():
    x, y = np.array([[0.0, 5e-5, 1e-4]]), np.array([[2e5, 1.5e5, 0.5e5]])
    flows = pumped(x, y, outlet_constant=np.array([[2e-7], [5e-7], [5e-6]]))
    rise = flows.at("b") - flows.at("a")
    at = flows.pump("pump")
    assert at[0] < 1e-4 < at[2]
    inside = at <= 1e-4
    assert rise[inside] == pytest.approx(np.interp(at, x[0], y[0])[inside], rel=1e-9)
    assert rise[2] == pytest.approx(0.5e5 - 2e9 * (at[2] - 1e-4), rel=1e-9)


def test_points_may_be_repeated_to_fill_up():
    short = pumped(np.array([[0.0, 1e-4]]), np.array([[2e5, 0.5e5]]))
    filled = pumped(np.array([[0.0, 1e-4, 1e-4, 1e-4]]), np.array([[2e5, 0.5e5, 0.5e5, 0.5e5]]))
    assert filled.outlets == pytest.approx(short.outlets, rel=1e-12)


def test_a_centrifugal_pump_falls_with_the_square():
    flows = pumped(np.array([[0.0, 1e-4]]), np.array([[6e4, 6e4]]), pump_quadratic=3e12)
    rise, at = float(flows.at("b")[0] - flows.at("a")[0]), float(flows.pump("pump")[0])
    assert rise == pytest.approx(6e4 - 3e12 * at**2, rel=1e-9)


def test_a_hand_pump_gives_its_flow_until_it_stalls():
    points = fixed_flow_points(np.array([6e-5]), np.array([8e4]))
    wide, narrow = (pumped(points[0], points[1], outlet_constant=k) for k in (5e-7, 1e-7))
    assert float(wide.outlet("tap")[0]) == pytest.approx(6e-5, rel=2e-6)
    assert float(narrow.outlet("tap")[0]) < 6e-5
    assert float(narrow.at("b")[0] - narrow.at("a")[0]) == pytest.approx(8e4, rel=1e-9)


def test_a_stalled_pump_lets_nothing_back():
    flows = pumped(np.array([[0.0, 1e-4]]), np.array([[1e4, 0.0]]), source_pressure=-3e4)
    assert flows.pumps.tolist() == [[0.0]]
    assert flows.outlets.tolist() == [[0.0]]


def test_hot_and_cold_water_weigh_differently():
    runs = (Run("up", "tank", "top"), Run("down", "top", "tap"))
    network = Network(runs, (Source("tank", "tank"),), (Outlet("tap", "tap"),), nodes=("tank", "top", "tap"))
    inputs = NetworkInputs(
        elevation=np.array([0.0, 2.0, 0.0]),
        length=2.0,
        bore=0.01,
        density=np.array([980.0, 1000.0]),
        viscosity=1e-3,
        source_pressure=0.0,
        outlet_constant=1e-9,
    )
    flows = solve(network, inputs)
    assert float(flows.at("tap")[0]) == pytest.approx(20.0 * GRAVITY * 2.0, rel=1e-3)
    assert float(flows.outlet("tap")[0]) > 0.0
