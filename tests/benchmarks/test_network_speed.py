"""How fast a water network is solved; run with --benchmark-enable.

Aims on one core: the small van with all five outlets open 80 000 solves/s for 10 000 designs, two mixing loops
40 000 solves/s, all 31 sets of outlets below 3 ms, one solve below 3 ms, and a cost that grows with the count of
pieces and no faster.
"""

from __future__ import annotations

import numpy as np
import pytest
from pytest_benchmark.fixture import BenchmarkFixture

from tests.physics.networks import outlet_sets, random_network, small_van, small_van_numbers, two_mixers, wide_inputs
from vanwater.physics.network import Network, NetworkInputs, Outlet, Run, Source, solve

DESIGNS = 10_000


def designs(numbers: dict[str, object], rows: int) -> NetworkInputs:
    """Every length, bore and coefficient drawn anew, a row a design."""
    rng = np.random.default_rng(1)
    changed = dict(numbers)
    for name in ("length", "bore", "loss_coefficient", "outlet_constant"):
        array = np.asarray(numbers[name])
        changed[name] = array * rng.uniform(0.8, 1.3, (rows, array.size))
    return NetworkInputs(**changed)  # type: ignore[arg-type]


@pytest.mark.parametrize("rows", [1, 100, DESIGNS])
def test_small_van_all_outlets_open(benchmark: BenchmarkFixture, rows: int) -> None:
    network, inputs = small_van(), designs(small_van_numbers(), rows)
    assert benchmark(solve, network, inputs).converged.all()


def test_small_van_all_sets_of_outlets(benchmark: BenchmarkFixture) -> None:
    network, inputs = small_van(), NetworkInputs(**small_van_numbers(), openness=outlet_sets())
    assert benchmark(solve, network, inputs).converged.all()


@pytest.mark.parametrize("split", [False, True], ids=["tees", "mixers"])
@pytest.mark.parametrize("rows", [1, DESIGNS])
def test_two_mixing_loops(benchmark: BenchmarkFixture, split: bool, rows: int) -> None:
    network, numbers = two_mixers(split)
    inputs = designs(numbers, rows)
    assert benchmark(solve, network, inputs).converged.all()


def ladder(rungs: int) -> Network:
    """A hot and a cold line side by side with a tee joining them at every outlet: a loop a rung."""
    runs = [Run("feed c", "tank", "c0"), Run("feed h", "tank", "h0")]
    for i in range(rungs):
        runs += [Run(f"c{i}", f"c{i}", f"c{i + 1}"), Run(f"h{i}", f"h{i}", f"h{i + 1}")]
        runs += [Run(f"bc{i}", f"c{i + 1}", f"t{i}"), Run(f"bh{i}", f"h{i + 1}", f"t{i}")]
    return Network(tuple(runs), (Source("tank", "tank"),), tuple(Outlet(f"t{i}", f"t{i}") for i in range(rungs)))


@pytest.mark.parametrize("links", [25, 50, 100, 200])
def test_cost_grows_with_the_count_of_pieces(benchmark: BenchmarkFixture, links: int) -> None:
    network = ladder(round((links - 2) / 5))
    rng = np.random.default_rng(2)
    inputs = NetworkInputs(
        elevation=0.0,
        length=rng.uniform(0.5, 2.0, (2000, len(network.runs))),
        bore=0.012,
        density=999.1,
        viscosity=1.138e-3,
        source_pressure=1.5e5,
        outlet_constant=1e-7,
    )
    assert benchmark(solve, network, inputs).converged.all()


def test_building_the_structure(benchmark: BenchmarkFixture) -> None:
    assert len(benchmark(small_van).runs) == 17


@pytest.mark.parametrize("kind", ["tree", "loops", "loops two mixers"])
def test_designs_far_wider_than_any_van(benchmark: BenchmarkFixture, kind: str) -> None:
    rng = np.random.default_rng(3)
    network = random_network(rng, kind)
    inputs = wide_inputs(network, rng, 5000)
    assert benchmark.pedantic(solve, (network, inputs), rounds=3).converged.all()
