"""Random vans for the comparison: the published one varied, one with two mixing loops, structures of every shape."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from tests.physics.networks import (
    PUBLISHED,
    outlet_sets,
    random_network,
    small_van,
    small_van_numbers,
    spread,
    two_mixers,
)
from vanwater.physics.friction import reynolds
from vanwater.physics.network import Flows, Network, NetworkInputs, solve

WATERS = {
    celsius: (PUBLISHED["water"][celsius]["rho"], PUBLISHED["water"][celsius]["mu"]) for celsius in PUBLISHED["water"]
}
NEAR_DRY = 2e3
"""Pressure at an open outlet below which it counts as near dry, 0.2 m of water [Pa]: there the 100 Pa that two laws may
lie apart are more than the 1.5e-2 of the flow that they may, and below zero EPANET lets water in."""

VARIED = ("length", "bore", "loss_coefficient", "outlet_constant")


def varied(numbers: dict[str, object], rows: int, seed: int, low: float = 0.8, high: float = 1.3) -> NetworkInputs:
    """Every length, bore, coefficient and outlet constant drawn anew, a row a design."""
    rng = np.random.default_rng(seed)
    changed = dict(numbers)
    for name in VARIED:
        array = np.asarray(numbers[name])
        changed[name] = array * rng.uniform(low, high, (rows, array.size))
    return NetworkInputs(**changed)  # type: ignore[arg-type]


def small_vans(celsius: int, rows: int, seed: int) -> tuple[Network, NetworkInputs]:
    """The published van, half to twice as much of everything, any set of its outlets open."""
    numbers = small_van_numbers(celsius)
    numbers["openness"] = outlet_sets()[np.random.default_rng([seed, 1]).integers(0, 31, rows)]
    return small_van(), varied(numbers, rows, seed, 0.6, 1.6)


def looped_vans(
    celsius: int, rows: int, seed: int, low: float = 0.6, high: float = 1.6
) -> tuple[Network, NetworkInputs]:
    """The van whose taps join hot and cold in two loops, all of one water, any set of its three outlets open."""
    network, numbers = two_mixers(split=False)
    numbers["density"], numbers["viscosity"] = WATERS[str(celsius)]
    sets = np.array([[float(number >> i & 1) for i in range(3)] for number in range(1, 8)])
    numbers["openness"] = sets[np.random.default_rng([seed, 1]).integers(0, 7, rows)]
    return network, varied(numbers, rows, seed, low, high)


def any_van(kind: str, seed: int, rows: int, roughness: float = 1.5e-6) -> tuple[Network, NetworkInputs]:
    """A random structure with numbers as vans have them; ``kind`` as in ``random_network``, without mixers."""
    rng = np.random.default_rng([seed, len(kind)])
    network = random_network(rng, kind)
    runs, taps, sources = len(network.runs), len(network.outlets), len(network.sources)
    height = rng.uniform(0.0, 1.8, len(network.nodes))
    at = {node: index for index, node in enumerate(network.nodes)}
    height[at["pout"]] = height[at["pin"]]
    rho, mu = WATERS[("15", "55")[seed % 2]]
    most = rng.uniform(1e-4, 4e-4)
    return network, NetworkInputs(
        elevation=height,
        length=spread(rng, 0.2, 6.0, (rows, runs)),
        bore=rng.uniform(0.008, 0.016, (rows, runs)),
        loss_coefficient=rng.uniform(0.2, 8.0, (rows, runs)),
        roughness=roughness,
        density=rho,
        viscosity=mu,
        source_pressure=np.array([3e3, 2.5e5])[:sources],
        outlet_constant=spread(rng, 1e-7, 5e-7, (rows, taps)),
        outlet_limit=np.where(rng.random(taps) < 0.2, 7e-5, np.inf),
        openness=np.where(rng.random((rows, taps)) < 0.4, 1.0, 0.0),
        pump_flow=np.array([[0.0, 0.45, 0.8, 1.0]]) * most,
        pump_rise=np.array([[1.0, 0.62, 0.27, 0.0]]) * rng.uniform(2e5, 4.5e5),
    )


def running(network: Network, inputs: NetworkInputs) -> Iterator[tuple[int, np.ndarray, Flows]]:
    """The rows fit to be compared (an outlet open at least, none near dry): number, Reynolds numbers, flows."""
    flows, full = solve(network, inputs), inputs.shaped(network)
    assert flows.converged.all()
    opened = np.broadcast_to(full["openness"] > 0.0, flows.outlets.shape)
    level = flows.pressure[:, [network.nodes.index(outlet.node) for outlet in network.outlets]]
    sound = opened.any(axis=1) & (~opened | (level > NEAR_DRY)).all(axis=1)
    numbers = reynolds(flows.runs, full["bore"], full["density"], full["viscosity"])
    for row in np.flatnonzero(sound):
        yield int(row), numbers[row], flows
