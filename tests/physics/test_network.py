import json
import tracemalloc
from pathlib import Path

import fluids.friction
import numpy as np
import pytest
from scipy.optimize import root

from tests.physics.networks import (
    GRAVITY,
    OUTLETS,
    PUBLISHED,
    gaps,
    outlet_sets,
    small_van,
    small_van_numbers,
    two_mixers,
)
from vanwater.physics.fittings import k_loss
from vanwater.physics.friction import friction_loss
from vanwater.physics.friction_law import FrictionTerms
from vanwater.physics.network import Mixer, Network, NetworkInputs, Outlet, Pump, Run, Source, solve

VANS = json.loads((Path(__file__).parents[2] / "data" / "validation" / "worked_vans.json").read_text(encoding="utf-8"))
CASES = [pytest.param(case, id=f"{case['T_C']}C-{'-'.join(case['open'])}") for case in PUBLISHED["cases"]]
EPANET_LOSSES = 32.174048556430444 / 32.2  # standard gravity in ft/s² against the rounded one of EPANET


def published_case(case, **solving):
    opened = np.array([[float(name in case["open"]) for name in OUTLETS]])
    numbers = small_van_numbers(case["T_C"])
    scale = solving.pop("losses", 1.0)
    numbers["loss_coefficient"] = numbers["loss_coefficient"] * scale
    flows = solve(small_van(), NetworkInputs(**numbers, openness=opened), **solving)
    assert flows.converged.all()
    return {name: float(flows.outlet(name)[0]) for name in OUTLETS}, {
        node: float(flows.at(node)[0]) for node in PUBLISHED["nodes_elevation_m"]
    }


def turbulent(case):
    return min(case["Re"].values()) > 4000.0


@pytest.mark.parametrize("case", CASES)
def test_epanet_agrees_within_its_law(case):
    flow, pressure = published_case(case)
    other = case["epanet22"]
    for name in OUTLETS:
        throttled = flow[name] == PUBLISHED["outlets"][name].get("qset")
        wanted = 5e-4 if throttled else 1e-3 if turbulent(case) else 1.5e-2
        assert flow[name] == pytest.approx(other["q_outlet"][name], rel=wanted, abs=0.0)
    if turbulent(case):
        for node, level in other["p_node"].items():
            assert pressure[node] == pytest.approx(level, abs=max(100.0, 5e-3 * abs(level)))


@pytest.mark.parametrize("case", [case for case in CASES if turbulent(case.values[0])])
def test_pandapipes_agrees_above_its_missing_laminar_branch(case):
    flow, _ = published_case(case)
    for name in OUTLETS:
        assert flow[name] == pytest.approx(case["pandapipes_colebrook"]["q_outlet"][name], rel=1e-3, abs=0.0)


@pytest.mark.parametrize("case", [case for case in CASES if turbulent(case.values[0])])
def test_a_root_finder_with_exact_colebrook_gives_the_same(case):
    flow, pressure = published_case(case)
    other = case["fluids_clamond_lam2040"]
    for name in OUTLETS:
        assert flow[name] == pytest.approx(other["q_outlet"][name], rel=1e-9, abs=0.0)
    for node, level in other["p_node"].items():
        assert pressure[node] == pytest.approx(level, rel=1e-9, abs=1e-5)


def epanet_law(re, wall):
    """EPANET 2.2: 64/Re to 2000, Dunlop's cubic to 4000, Swamee and Jain above; losses with its own gravity."""
    # the constants as Rossman (2000), EPANET 2 Users Manual, appendix D, prints them
    y2 = wall / 3.7 + 5.74 / np.clip(re, 2000.0, 4000.0) ** 0.9
    y3 = -0.86859 * np.log(wall / 3.7 + 5.74 / 4000.0**0.9)
    fa = y3**-2.0
    fb = fa * (2.0 - 0.00514215 / (y2 * y3))
    r = re / 2000.0
    x1, x2, x3, x4 = 7 * fa - fb, 0.128 - 17 * fa + 2.5 * fb, -0.128 + 13 * fa - 2 * fb, 0.032 - 3 * fa + 0.5 * fb
    dunlop = x1 + r * (x2 + r * (x3 + r * x4))
    swamee_jain = 0.25 / np.log10(wall / 3.7 + 5.74 / np.maximum(re, 4000.0) ** 0.9) ** 2
    drag = np.where(re < 2000.0, 64.0, re * np.where(re < 4000.0, dunlop, swamee_jain))
    slope = np.where(re < 2000.0, 64.0, 1.8 * drag)  # near enough: it only steers Newton
    return FrictionTerms(EPANET_LOSSES * drag, EPANET_LOSSES * slope)


@pytest.mark.parametrize("case", CASES)
def test_with_the_laws_of_epanet_its_twin_gives_the_same(case):
    flow, pressure = published_case(case, friction=epanet_law, losses=EPANET_LOSSES, tolerance=1e-7)
    other = case["twin_of_epanet"]
    for name in OUTLETS:
        assert flow[name] == pytest.approx(other["q_outlet"][name], rel=1e-9, abs=0.0)
    for node, level in other["p_node"].items():
        assert pressure[node] == pytest.approx(level, rel=1e-9, abs=1e-5)


def loss_by_fluids(flow, bore, length, k, rough, rho, mu):
    """One run's loss with fluids' friction factors and our named transition between them."""
    if flow == 0.0:
        return 0.0
    speed = flow / (np.pi / 4.0 * bore**2)
    re = rho * abs(speed) * bore / mu
    laminar = fluids.friction.friction_laminar(min(re, 2000.0))
    turbulent = fluids.friction.friction_factor(Re=max(re, 4000.0), eD=rough / bore, Method="Clamond")
    share = min(max((re - 2000.0) / 2000.0, 0.0), 1.0)
    factor = laminar + share * (turbulent - laminar)
    return (factor * length / bore + k) * rho * speed * abs(speed) / 2.0


def test_random_designs_agree_with_fluids_and_a_root_finder():
    rng = np.random.default_rng(7)
    network, rows = small_van(), 25
    numbers = small_van_numbers()
    for name in ("length", "bore", "loss_coefficient"):
        numbers[name] = numbers[name] * rng.uniform(0.8, 1.5, (rows, len(network.runs)))
    numbers["outlet_limit"] = np.inf
    opened = outlet_sets()[rng.integers(0, 31, rows)]
    flows = solve(network, NetworkInputs(**numbers, openness=opened))
    feeds = {run.end: (i, run.start) for i, run in enumerate(network.runs)}
    height = dict(zip(network.nodes, numbers["elevation"], strict=True))
    p0, q0, rho, mu = 3e5, PUBLISHED["pump"]["q0"], numbers["density"], numbers["viscosity"]

    def level(row, node, carried):
        """Pressure at a node from the tank on, for flows carried by each run."""
        if node == "TANK":
            return numbers["source_pressure"]
        if node == "POUT":
            return level(row, "PIN", carried) + p0 * (1.0 - carried[feeds["PIN"][0]] / q0)
        i, start = feeds[node]
        walls = (numbers["bore"][row, i], numbers["length"][row, i], numbers["loss_coefficient"][row, i])
        lost = loss_by_fluids(carried[i], *walls, numbers["roughness"], rho, mu)
        return level(row, start, carried) + rho * GRAVITY * (height[start] - height[node]) - lost

    for row in range(rows):
        taps = [name for name, share in zip(OUTLETS, opened[row], strict=True) if share]
        k = dict(zip(OUTLETS, numbers["outlet_constant"], strict=True))

        def misses(guess, row=row, taps=taps, k=k):
            carried = dict.fromkeys(range(len(network.runs)), 0.0)
            for name, flow in zip(taps, guess, strict=True):
                node = name
                while node != "TANK":
                    i, node = feeds["PIN"] if node == "POUT" else feeds[node]
                    carried[i] += flow * 1e-4
            return [
                level(row, name, carried) - (flow * 1e-4 / k[name]) ** 2 for name, flow in zip(taps, guess, strict=True)
            ]

        found = root(misses, [float(flows.outlet(name)[row]) * 1.02e4 for name in taps], tol=1e-13)
        ours = [float(flows.outlet(name)[row]) * 1e4 for name in taps]
        assert ours == pytest.approx(list(found.x), rel=1e-9)


@pytest.mark.parametrize("van", VANS["scenarios"], ids=lambda van: van["id"])
def test_a_worked_van_gives_its_shower(van):
    """Every input is given, so that the flow must agree far closer than the 5 % that the table asks for."""
    supply, expected = van["inputs"]["supply"], {item["quantity"]: item for item in van["expected"]}
    legs = [supply[name] for name in ("suction", "trunk", "hot_leg", "cold_leg", "mixed_hose")]
    cold, hot, mixed = (VANS["water"][str(supply[name])] for name in ("T_cold", "T_hot", "T_mix"))
    waters = np.array([cold[:2], cold[:2], hot[:2], cold[:2], mixed[:2]])
    ends = [("tank", "in"), ("out", "tee"), ("tee", "h"), ("tee", "c"), ("m", "handset")]
    network = Network(
        tuple(Run(f"leg {i}", *pair) for i, pair in enumerate(ends)),
        (Source("tank", "tank"),),
        (Outlet("handset", "handset"),),
        (Pump("pump", "in", "out"),),
        (Mixer("tap", "h", "c", "m"),),
    )
    points = np.array(supply["pump"])
    handset = supply["handset"]
    lift = cold[0] * GRAVITY * (supply["z_tank_surface"] - supply["z_handset"])
    inputs = NetworkInputs(
        elevation=0.0,  # the worked sum takes one density for the whole lift
        length=np.array([leg["length_m"] + leg.get("equivalent_m", 0.0) for leg in legs]),
        bore=np.array([leg["bore_mm"] * 1e-3 for leg in legs]),
        loss_coefficient=np.array([leg["K"] for leg in legs]),
        density=waters[:, 0],
        viscosity=waters[:, 1],
        source_pressure=lift,
        outlet_constant=handset["flow_L_min"] / 6e4 / np.sqrt(handset["at_bar"] * 1e5),
        pump_flow=points[None, :, 0] / 6e4,
        pump_rise=points[None, :, 1] * 1e5,
        hot_share=(supply["T_mix"] - supply["T_cold"]) / (supply["T_hot"] - supply["T_cold"]),
    )
    flows = solve(network, inputs)
    shower = next(item for name, item in expected.items() if name.startswith("shower flow at the handset"))
    assert float(flows.outlet("handset")[0]) * 6e4 == pytest.approx(shower["value"], rel=2e-4)
    level = next(item for name, item in expected.items() if name.startswith("pressure at the handset"))
    assert float(flows.at("handset")[0]) / 1e5 == pytest.approx(level["value"], rel=5e-4)


@pytest.mark.parametrize("split", [True, False])
def test_energy_is_kept_along_every_loop(split):
    network, numbers = two_mixers(split)
    inputs = NetworkInputs(**numbers, openness=np.array([[1, 1, 1], [1, 1, 0], [0, 1, 0], [1, 0, 1.0]]))
    flows = solve(network, inputs)
    assert flows.converged.all()
    assert gaps(flows, inputs).max() < 1e-5
    if split:  # the thinner supply stands wide open, the other side is throttled to it
        hot, cold, mixed = (np.stack([flows.at(f"{tap}{side}") for tap in "bs"]) for side in "hcm")
        running = flows.mixers.T > 0.0
        assert mixed[running] == pytest.approx(np.minimum(hot, cold)[running], rel=1e-9)
        share = np.stack([flows.run("hot basin"), flows.run("hot shower")]) / flows.mixers.T.clip(1e-30)
        assert share[running] == pytest.approx(np.array([[0.4], [0.55]]).repeat(4, 1)[running], rel=1e-9)
    else:  # round both loops the losses cancel
        full = inputs.shaped(network)
        walls = [full[name] for name in ("bore", "length", "roughness", "density", "viscosity")]
        lost = friction_loss(flows.runs, *walls) + k_loss(
            flows.runs, full["bore"], full["loss_coefficient"], full["density"]
        )
        at = {run.name: i for i, run in enumerate(network.runs)}
        up = {node: full["elevation"][0, i] for i, node in enumerate(network.nodes)}
        drop = np.array([up[run.start] - up[run.end] for run in network.runs])
        weight = full["density"] * GRAVITY * drop
        fall = lost - weight
        for one, other in (
            (("to heater", "heater", "hot basin"), ("cold", "cold basin")),
            (("to heater", "heater", "hot on", "hot shower"), ("cold", "cold on", "cold shower")),
        ):
            way = [fall[:, [at[name] for name in names]].sum(axis=1) for names in (one, other)]
            assert way[0] == pytest.approx(way[1], rel=1e-9, abs=1e-5)


def test_rows_do_not_disturb_each_other():
    network, numbers, opened = small_van(), small_van_numbers(), outlet_sets()
    together = solve(network, NetworkInputs(**numbers, openness=np.tile(opened, (60, 1))))
    alone = np.stack([solve(network, NetworkInputs(**numbers, openness=row)).outlets[0] for row in opened])
    assert together.outlets == pytest.approx(np.tile(alone, (60, 1)), rel=1e-9, abs=1e-18)
    taken = NetworkInputs(**numbers, openness=opened).taken(slice(3, 5))
    assert solve(network, taken).outlets == pytest.approx(alone[3:5], rel=1e-9, abs=1e-18)


def test_ten_thousand_designs_fit_into_little_memory():
    numbers = small_van_numbers()
    numbers["bore"] = numbers["bore"] * np.random.default_rng(3).uniform(0.8, 1.3, (10_000, 17))
    inputs, network = NetworkInputs(**numbers), small_van()
    tracemalloc.start()
    flows = solve(network, inputs)
    _, peak = tracemalloc.get_traced_memory()
    tracemalloc.stop()
    assert flows.converged.all()
    assert peak < 30e6
