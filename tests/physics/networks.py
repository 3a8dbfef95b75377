"""Networks to test with: the published small van, the van with two mixers, and random ones of every shape.

How to extend: a new kind of piece gets a line in ``random_network`` (structure) and one in ``wide_inputs`` (numbers);
``gaps`` then judges it with the public formulas only.
"""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import numpy as np

from vanwater.physics.fittings import k_loss
from vanwater.physics.friction import friction_loss
from vanwater.physics.network import Flows, Mixer, Network, NetworkInputs, Outlet, Pump, Run, Source

GRAVITY = 9.80665
PUBLISHED = json.loads(
    (Path(__file__).parents[2] / "data" / "validation" / "network_cases.json").read_text(encoding="utf-8")
)
OUTLETS = tuple(PUBLISHED["outlets"])


def small_van() -> Network:
    """The published network: 17 runs, a pump, five outlets."""
    runs = tuple(Run(pipe["id"], pipe["frm"], pipe["to"]) for pipe in PUBLISHED["pipes"])
    return Network(
        runs,
        (Source("tank", "TANK"),),
        tuple(Outlet(name, name) for name in OUTLETS),
        (Pump("pump", PUBLISHED["pump"]["frm"], PUBLISHED["pump"]["to"]),),
        nodes=tuple(PUBLISHED["nodes_elevation_m"]),
    )


def small_van_numbers(celsius: int = 15) -> dict[str, Any]:
    """Its numbers; ``openness`` is left to the case."""
    water, pipes = PUBLISHED["water"][str(celsius)], PUBLISHED["pipes"]
    head = PUBLISHED["tank_head_m"] - PUBLISHED["nodes_elevation_m"]["TANK"]
    return {
        "elevation": np.array(list(PUBLISHED["nodes_elevation_m"].values())),
        "length": np.array([pipe["length_m"] for pipe in pipes]),
        "bore": np.array([pipe["bore_m"] for pipe in pipes]),
        "loss_coefficient": np.array([pipe["K"] for pipe in pipes]),
        "roughness": PUBLISHED["roughness_m"],
        "density": water["rho"],
        "viscosity": water["mu"],
        "source_pressure": water["rho"] * PUBLISHED["g"] * head,
        "outlet_constant": np.array([PUBLISHED["outlets"][name]["k"] for name in OUTLETS]),
        "outlet_limit": np.array([PUBLISHED["outlets"][name].get("qset", np.inf) for name in OUTLETS]),
        "pump_flow": np.array([[0.0, PUBLISHED["pump"]["q0"]]]),
        "pump_rise": np.array([[PUBLISHED["pump"]["p0"], 0.0]]),
    }


def outlet_sets() -> np.ndarray:
    """All 31 sets of open outlets, one a row."""
    return np.array([[float(number >> i & 1) for i in range(5)] for number in range(1, 32)])


def two_mixers(split: bool) -> tuple[Network, dict[str, Any]]:
    """A van whose basin and shower mix hot and cold: two loops, as mixers of given share or as plain tees."""
    basin, shower = ("bh", "bc", "bm"), ("sh", "sc", "sm")
    tees = {"bh": "bm", "bc": "bm", "sh": "sm", "sc": "sm"} if not split else {}
    ends = [
        ("suction", "tank", "pin"),
        ("trunk", "pout", "n"),
        ("cold", "n", "c1"),
        ("to heater", "n", "heater"),
        ("heater", "heater", "h1"),
        ("cold basin", "c1", "bc"),
        ("hot basin", "h1", "bh"),
        ("cold on", "c1", "c2"),
        ("hot on", "h1", "h2"),
        ("cold shower", "c2", "sc"),
        ("hot shower", "h2", "sh"),
        ("spout", "bm", "basin"),
        ("hose", "sm", "shower"),
        ("outside", "c2", "outside"),
    ]
    network = Network(
        tuple(Run(name, tees.get(start, start), tees.get(end, end)) for name, start, end in ends),
        (Source("tank", "tank"),),
        (Outlet("basin", "basin"), Outlet("shower", "shower"), Outlet("outside", "outside")),
        (Pump("pump", "pin", "pout"),),
        (Mixer("basin", *basin), Mixer("shower", *shower)) if split else (),
    )
    height = {"shower": 1.8, "basin": 0.9, "outside": 0.5}
    hot = np.array([name.startswith(("hot", "heater")) for name, *_ in ends])
    return network, {
        "elevation": np.array([height.get(node, 0.3) for node in network.nodes]),
        "length": np.array([1.2, 0.6, 1.0, 0.5, 1.0, 1.2, 1.4, 1.5, 1.5, 1.0, 1.1, 0.2, 1.5, 2.5]),
        "bore": np.array(
            [0.013, 0.012, 0.010, 0.010, 0.010, 0.010, 0.010, 0.010, 0.010, 0.010, 0.010, 0.008, 0.008, 0.010]
        ),
        "loss_coefficient": np.array([7.5, 3.5, 2.0, 4.0, 6.0, 9.0, 9.0, 1.0, 1.0, 9.0, 9.0, 1.0, 1.5, 3.0]),
        "density": np.where(hot, 983.2, 999.1),
        "viscosity": np.where(hot, 4.66e-4, 1.138e-3),
        "source_pressure": 3000.0,
        "outlet_constant": np.array([2.6e-7, 3.1e-7, 4.5e-7]),
        "pump_flow": np.array([[0.0, 8e-5, 1.75e-4, 2e-4]]),
        "pump_rise": np.array([[2.9e5, 1.9e5, 0.6e5, 0.0]]),
        **({"hot_share": np.array([0.4, 0.55])} if split else {}),
    }


def random_network(rng: np.random.Generator, kind: str) -> Network:
    """A random van: "tree", and with "loops", "two" sources, "mixers" in the name those as well."""
    runs = [Run("s1", "tank", "a"), Run("s2", "a", "pin"), Run("t", "pout", "n0")]
    nodes = ["n0"]
    for i in range(1, int(rng.integers(4, 38))):
        near = rng.random() < 0.7
        parent = nodes[int(rng.integers(max(0, len(nodes) - 6) if near else 0, len(nodes)))]
        runs.append(Run(f"r{i}", parent, f"n{i}", bool(rng.random() < 0.12)))
        nodes.append(f"n{i}")
    for i in range(int(rng.integers(1, 6)) if "loops" in kind else 0):
        first, second = rng.choice(len(nodes), 2, replace=False)
        runs.append(Run(f"l{i}", nodes[first], nodes[second], bool(rng.random() < 0.15)))
    sources, mixers, inner = [Source("tank", "tank")], [], list(nodes)
    if "two" in kind:
        runs.append(Run("m", "mains", nodes[int(rng.integers(len(nodes)))], bool(rng.random() < 0.7)))
        sources.append(Source("mains", "mains"))
    for i in range(int(rng.integers(1, 4)) if "mixers" in kind else 0):
        first, second = rng.choice(len(inner), 2, replace=False)
        runs += [Run(f"h{i}", inner[first], f"mh{i}"), Run(f"c{i}", inner[second], f"mc{i}")]
        runs.append(Run(f"x{i}", f"mm{i}", f"mo{i}"))
        mixers.append(Mixer(f"mix{i}", f"mh{i}", f"mc{i}", f"mm{i}", bool(rng.random() < 0.4)))
        nodes.append(f"mo{i}")
    used = {run.start for run in runs}
    outlets = [Outlet(f"o{node}", node) for node in nodes if node not in used]
    outlets += [Outlet(f"i{node}", node) for node in nodes if node in used and rng.random() < 0.08]
    return Network(tuple(runs), tuple(sources), tuple(outlets), (Pump("p", "pin", "pout"),), tuple(mixers))


def spread(rng: np.random.Generator, low: float, high: float, shape: tuple[int, ...]) -> np.ndarray:
    """Numbers whose logarithm is spread evenly."""
    return np.exp(rng.uniform(np.log(low), np.log(high), shape))


def wide_inputs(network: Network, rng: np.random.Generator, rows: int) -> NetworkInputs:
    """Numbers far wider than any van: weak pumps, taps nearly shut, heads near zero, clogged filters, no length."""
    runs, taps, mixers, sources = (len(p) for p in (network.runs, network.outlets, network.mixers, network.sources))
    height = rng.uniform(0.0, 2.0, (rows, len(network.nodes)))
    at = {node: index for index, node in enumerate(network.nodes)}
    height[:, at["pout"]] = height[:, at["pin"]]
    for mixer in network.mixers:
        height[:, at[mixer.cold]] = height[:, at[mixer.mixed]] = height[:, at[mixer.hot]]
    some = lambda share, shape: rng.random(shape) < share  # noqa: E731
    weak = some(0.3, (rows, 1))
    shut_off = np.where(weak, spread(rng, 1e2, 1e4, (rows, 1)), rng.uniform(5e4, 4e5, (rows, 1)))
    shut_off = shut_off * ~some(0.03, (rows, 1))
    x, y = np.sort(rng.uniform(0.0, 1.0, (rows, 5)), axis=1), -np.sort(-rng.uniform(0.0, 1.0, (rows, 5)), axis=1)
    x[:, [0, -1]], y[:, [0, -1]] = (0.0, 1.0), (1.0, 0.0)
    coefficient = np.where(
        some(0.05, (rows, runs)), spread(rng, 1e2, 1e6, (rows, runs)), rng.uniform(0, 8, (rows, runs))
    )
    opened = np.where(some(0.3, (rows, taps)), spread(rng, 1e-5, 1.0, (rows, taps)), 1.0)
    given = rng.uniform(-3e3, 8e3, (rows, sources))
    if sources > 1:
        given[:, 1] = np.where(some(0.5, rows), spread(rng, 1e3, 3e5, (rows,)), 0.0)
    hot = some(0.3, (rows, runs))
    return NetworkInputs(
        elevation=height,
        length=np.where(some(0.03, (rows, runs)), 0.0, spread(rng, 0.1, 30.0, (rows, runs))),
        bore=rng.uniform(0.004, 0.025, (rows, runs)),
        density=np.where(hot, 985.7, 999.1),
        viscosity=np.where(hot, 5.04e-4, 1.1375e-3),
        roughness=spread(rng, 1e-7, 5e-4, (rows, runs)),
        loss_coefficient=np.where(some(0.1, (rows, runs)), 0.0, coefficient),
        shut=some(0.02, (rows, runs)),
        source_pressure=given,
        outlet_constant=spread(rng, 5e-8, 2e-6, (rows, taps)),
        outlet_limit=np.where(some(0.25, (rows, taps)), spread(rng, 5e-6, 3e-4, (rows, taps)), np.inf),
        openness=np.where(some(0.35, (rows, taps)), 0.0, opened),
        pump_flow=(x * spread(rng, 2e-5, 6e-4, (rows, 1)))[:, None],
        pump_rise=(y * shut_off)[:, None],
        hot_share=np.where(some(0.1, (rows, mixers)), some(0.5, (rows, mixers)), rng.uniform(0, 1, (rows, mixers))),
        mixer_constant=spread(rng, 2e-7, 3e-6, (rows, mixers)),
    )


def rise(flow: np.ndarray, x: np.ndarray, y: np.ndarray) -> np.ndarray:
    """A pump's rise at a flow, row by row, by search for its line; the last line goes on."""
    found = np.empty_like(flow)
    for row in range(len(flow)):
        line = int(np.clip(np.searchsorted(x[row], flow[row]) - 1, 0, x.shape[1] - 2))
        tilt = (y[row, line + 1] - y[row, line]) / (x[row, line + 1] - x[row, line])
        found[row] = y[row, line] + tilt * (flow[row] - x[row, line])
    return found


def gaps(flows: Flows, inputs: NetworkInputs) -> np.ndarray:
    """How far each run and outlet is from its law [Pa], with the public formulas; corners count what pushes out."""
    network, full = flows.network, inputs.shaped(flows.network)
    at = {node: index for index, node in enumerate(network.nodes)}
    start, end = (np.array([at[getattr(run, side)] for run in network.runs]) for side in ("start", "end"))
    height, pressure = np.broadcast_to(full["elevation"], flows.pressure.shape), flows.pressure
    lift = full["density"] * GRAVITY * (height[:, start] - height[:, end])
    walls = [full[name] for name in ("bore", "length", "roughness", "density", "viscosity", "friction_multiplier")]
    loss = friction_loss(flows.runs, *walls)
    loss = loss + k_loss(flows.runs, full["bore"], full["loss_coefficient"], full["density"])
    over = pressure[:, start] - pressure[:, end] + lift - loss
    one_way = np.array([run.check_valve for run in network.runs])
    over = np.where(one_way & (flows.runs == 0.0), np.maximum(over, 0.0), over)
    over = np.where(full["shut"] > 0.0, flows.runs / 1e-9, over)  # a shut run lets nothing pass
    level = pressure[:, [at[outlet.node] for outlet in network.outlets]]
    constant = full["outlet_constant"] * full["openness"]
    free = np.minimum(constant * np.sqrt(np.maximum(level, 0.0)), full["outlet_limit"])
    fall = np.divide(flows.outlets, constant, out=np.zeros_like(free), where=constant > 0.0) ** 2
    tap = np.where(flows.outlets >= full["outlet_limit"], np.minimum(level - fall, 0.0), level - fall)
    tap = np.where(flows.outlets == 0.0, np.maximum(level, 0.0), tap)
    tap = np.where(constant > 0.0, tap, flows.outlets / 1e-9)
    return np.abs(np.concatenate([over, tap], axis=1)).max(axis=1)
