"""Vanwater's network against EPANET 2.2, run here and now.

Two questions. Is the answer the same within what the two laws of friction may differ by (``fair_tolerance`` of
``data/validation/network_cases.json``)? And is it the same to 3e-5 where both use EPANET's laws, so that nothing but
the arithmetic is left to differ: EPANET counts 28.317 L to the cubic foot, and lets 1e-8 ft³/s pass for every foot of
head across a shut check valve.
"""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import closing
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from tests.peers.designs import any_van, looped_vans, running, small_vans
from tests.peers.epanet import Epanet, Numbers, run_sim
from tests.peers.law import LOCAL, epanet_law
from tests.physics.networks import OUTLETS, PUBLISHED, outlet_sets, small_van, small_van_numbers
from vanwater.physics.network import Flows, Network, NetworkInputs, solve

ANY = [(kind, seed) for kind in ("tree", "loops", "loops two") for seed in range(12)]


def asked(
    network: Network, inputs: NetworkInputs, folder: Path
) -> Iterator[tuple[int, np.ndarray, Flows, np.ndarray, dict[str, float]]]:
    """Row, Reynolds numbers and flows by vanwater; outlet flows and pressures by EPANET."""
    with closing(Epanet(network, inputs, folder)) as program:
        for row, numbers, flows in running(network, inputs):
            design = Numbers(network, inputs, row)
            program.set_design(design.length.tolist(), design.bore.tolist(), design.k.tolist())
            program.set_outlets(design.emitter.tolist())
            program.solve()
            yield row, numbers, flows, np.array(program.outlets()), program.pressures()


def compare(row: int, reynolds: np.ndarray, flows: Flows, limit: np.ndarray, flow: np.ndarray, level: dict) -> None:
    """The fair tolerances: closer where every pipe is turbulent or still, and at the limit of a regulator."""
    still = np.abs(reynolds) < 1e-6
    turbulent = bool(np.all(still | (reynolds > 4000.0)))
    ours = flows.outlets[row]
    for i, outlet in enumerate(flows.network.outlets):
        wanted = 5e-4 if ours[i] == limit[i] else 1e-3 if turbulent else 1.5e-2
        assert flow[i] == pytest.approx(ours[i], rel=wanted, abs=1e-12), (row, outlet.name)
    if turbulent:
        for node, pressure in level.items():
            assert pressure == pytest.approx(float(flows.at(node)[row]), rel=5e-3, abs=100.0), (row, node)


def compare_all(network: Network, inputs: NetworkInputs, folder: Path) -> int:
    """Every row; how many there were."""
    limit = np.broadcast_to(np.asarray(inputs.outlet_limit, dtype=float), len(network.outlets))
    count = 0
    for row, reynolds, flows, flow, level in asked(network, inputs, folder):
        compare(row, reynolds, flows, limit, flow, level)
        count += 1
    return count


@pytest.mark.parametrize("celsius", [15, 55])
def test_the_published_van_with_every_set_of_outlets(celsius: int, tmp_path: Path) -> None:
    inputs = NetworkInputs(**small_van_numbers(celsius), openness=outlet_sets())
    assert compare_all(small_van(), inputs, tmp_path) == 31


@pytest.mark.parametrize("celsius", [15, 55])
def test_the_written_down_flows_are_those_of_today(celsius: int, tmp_path: Path) -> None:
    network = small_van()
    inputs = NetworkInputs(**small_van_numbers(celsius), openness=outlet_sets())
    written = {tuple(case["open"]): case["epanet22"] for case in PUBLISHED["cases"] if case["T_C"] == celsius}
    seen = 0
    for row, _, _, flow, level in asked(network, inputs, tmp_path):
        case = written.get(tuple(name for name, share in zip(OUTLETS, outlet_sets()[row], strict=True) if share))
        if case is None:
            continue
        seen += 1
        for name, value in zip(OUTLETS, flow, strict=True):
            assert value == pytest.approx(case["q_outlet"][name], rel=2e-6, abs=1e-12)
        for node, pressure in case["p_node"].items():
            assert level[node] == pytest.approx(pressure, rel=1e-6, abs=0.1)
    assert seen == len(written) > 8


@pytest.mark.parametrize("celsius", [15, 55])
@pytest.mark.parametrize("row", [0, 4, 14, 30])
def test_wntr_run_sim_gives_the_same(celsius: int, row: int, tmp_path: Path) -> None:
    network = small_van()
    inputs = NetworkInputs(**small_van_numbers(celsius), openness=outlet_sets())
    reynolds = {number: found for number, found, _ in running(network, inputs)}[row]
    flow, level = run_sim(network, inputs, row, tmp_path)
    limit = np.asarray(inputs.outlet_limit)
    compare(row, reynolds, solve(network, inputs), limit, np.array(flow), level)


@pytest.mark.parametrize("celsius", [15, 55])
def test_random_designs_of_the_published_van(celsius: int, tmp_path: Path) -> None:
    assert compare_all(*small_vans(celsius, 200, seed=celsius), tmp_path) > 180


@pytest.mark.parametrize("celsius", [15, 55])
def test_random_designs_with_two_mixing_loops(celsius: int, tmp_path: Path) -> None:
    assert compare_all(*looped_vans(celsius, 150, seed=celsius), tmp_path) > 140


@pytest.mark.parametrize(("kind", "seed"), ANY)
def test_random_structures(kind: str, seed: int, tmp_path: Path) -> None:
    assert compare_all(*any_van(kind, seed, 20), tmp_path) > 4


def same_laws(network: Network, inputs: NetworkInputs, folder: Path) -> int:
    """Both with EPANET's laws and without flow limits: flows to 3e-5, pressures to 2 Pa."""
    inputs = replace(inputs, outlet_limit=np.inf)
    local = np.asarray(inputs.loss_coefficient) * LOCAL
    twin = solve(network, replace(inputs, loss_coefficient=local), tolerance=1e-7, friction=epanet_law)
    assert twin.converged.all()
    count = 0
    for row, _, _, flow, level in asked(network, inputs, folder):
        assert flow == pytest.approx(twin.outlets[row], rel=3e-5, abs=1e-12), row
        for node, pressure in level.items():
            assert pressure == pytest.approx(float(twin.at(node)[row]), abs=2.0), (row, node)
        count += 1
    return count


@pytest.mark.parametrize("celsius", [15, 55])
def test_with_the_same_laws_only_arithmetic_is_left(celsius: int, tmp_path: Path) -> None:
    assert same_laws(*small_vans(celsius, 150, seed=celsius + 1), tmp_path) > 130
    assert same_laws(*looped_vans(celsius, 100, seed=celsius + 1), tmp_path) > 90


@pytest.mark.parametrize("kind", ["tree", "loops"])
@pytest.mark.parametrize("seed", range(10))
def test_with_the_same_laws_random_structures_too(kind: str, seed: int, tmp_path: Path) -> None:
    assert same_laws(*any_van(kind, seed + 50, 10, roughness=(1.5e-6, 5e-5)[seed % 2]), tmp_path) > 1


def test_what_epanet_cannot_do_is_refused() -> None:
    numbers = small_van_numbers()
    numbers["viscosity"] = np.linspace(5e-4, 1e-3, 17)
    with pytest.raises(ValueError, match="viscosity differs"):
        Numbers(small_van(), NetworkInputs(**numbers), 0)
