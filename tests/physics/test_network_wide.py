"""Designs far wider than any van, and what must hold for every one of them.

Fifteen thousand by default, fifty thousand with ``VANWATER_NETWORKS=all``.
"""

import os
from dataclasses import replace

import numpy as np
import pytest

from tests.physics.networks import gaps, random_network, rise, wide_inputs
from vanwater.physics.network import Network, Run, solve

KINDS = ("tree", "loops", "loops two", "mixers", "loops two mixers")
SEEDS = range(10 if os.environ.get("VANWATER_NETWORKS") == "all" else 3)
CLOSE = 1e-9


@pytest.mark.parametrize("kind", KINDS)
@pytest.mark.parametrize("seed", SEEDS)
def test_every_design_balances(kind, seed):
    rng = np.random.default_rng([seed, KINDS.index(kind)])
    network = random_network(rng, kind)
    inputs = wide_inputs(network, rng, 1000)
    flows = solve(network, inputs)
    assert flows.converged.all()
    assert flows.residual.max() < 1e-6
    assert gaps(flows, inputs).max() < 1e-5
    most = np.abs(np.concatenate([flows.runs, flows.pumps, flows.outlets], axis=1)).max(axis=1)
    assert np.all(flows.imbalance <= np.maximum(1e-9 * most, 1e-15))
    assert flows.sources.sum(axis=1) == pytest.approx(flows.outlets.sum(axis=1), rel=1e-9, abs=1e-13)
    assert flows.outlets.min() >= 0.0
    assert np.all(flows.outlets[inputs.openness == 0.0] == 0.0)
    one_way = [i for i, run in enumerate(network.runs) if run.check_valve]
    assert flows.runs[:, one_way].min(initial=0.0) >= 0.0


@pytest.mark.parametrize("kind", ["tree", "loops"])
@pytest.mark.parametrize("seed", range(3))
def test_pumps_stand_on_their_curves(kind, seed):
    rng = np.random.default_rng([seed, 77])
    network = random_network(rng, kind)
    inputs = wide_inputs(network, rng, 300)
    flows = solve(network, inputs)
    lift, at = flows.at("pout") - flows.at("pin"), flows.pump("p")
    curve = rise(at, inputs.pump_flow[:, 0], inputs.pump_rise[:, 0])
    running = at > 0.0
    assert lift[running] == pytest.approx(curve[running], abs=1e-4, rel=1e-9)
    assert np.all(lift[~running] >= curve[~running] - 1e-4)  # stalled: the pressure behind it is the higher one


@pytest.mark.parametrize("kind", ["tree", "loops", "loops two"])
@pytest.mark.parametrize("seed", range(4))
def test_opening_a_tap_takes_from_the_others_and_adds_to_the_whole(kind, seed):
    rng = np.random.default_rng([seed, 5])
    network = random_network(rng, kind)
    inputs = wide_inputs(network, rng, 400)
    tap = rng.integers(0, len(network.outlets), 400)
    wider = inputs.openness.copy()
    wider[np.arange(400), tap] = np.maximum(wider[np.arange(400), tap], rng.uniform(0.2, 1.0, 400))
    before, after = solve(network, inputs), solve(network, replace(inputs, openness=wider))
    others = np.ones_like(wider, dtype=bool)
    others[np.arange(400), tap] = False
    slack = CLOSE * before.outlets.max(axis=1, keepdims=True) + 1e-12
    assert np.all((after.outlets <= before.outlets + slack)[others])
    assert np.all(after.outlets.sum(axis=1) >= before.outlets.sum(axis=1) - slack[:, 0])


@pytest.mark.parametrize("kind", ["tree", "loops"])
@pytest.mark.parametrize("seed", range(4))
def test_a_wider_branch_never_gives_its_outlet_less(kind, seed):
    rng = np.random.default_rng([seed, 6])
    network = random_network(rng, kind)
    inputs = wide_inputs(network, rng, 400)
    ends = [run.end for run in network.runs]
    touched = [node for run in network.runs for node in (run.start, run.end)]
    own = [(i, ends.index(o.node)) for i, o in enumerate(network.outlets) if touched.count(o.node) == 1]
    assert own
    which = rng.integers(0, len(own), 400)
    tap, run = np.array(own)[which].T
    wider = inputs.bore.copy()
    wider[np.arange(400), run] *= rng.uniform(1.0, 2.0, 400)
    before, after = solve(network, inputs), solve(network, replace(inputs, bore=wider))
    gained = (after.outlets - before.outlets)[np.arange(400), tap]
    assert np.all(gained >= -CLOSE * before.outlets.max(axis=1) - 1e-12)


def test_a_run_drawn_the_other_way_round_carries_the_same_water():
    rng = np.random.default_rng(11)
    network = random_network(rng, "loops")
    inputs = wide_inputs(network, rng, 200)
    turn = [not run.check_valve and rng.random() < 0.5 for run in network.runs]
    runs = tuple(
        Run(r.name, r.end, r.start, r.check_valve) if t else r for r, t in zip(network.runs, turn, strict=True)
    )
    turned = Network(runs, network.sources, network.outlets, network.pumps, nodes=network.nodes)
    first, second = solve(network, inputs), solve(turned, inputs)
    sign = np.where(turn, -1.0, 1.0)
    assert second.outlets == pytest.approx(first.outlets, rel=1e-7, abs=1e-12)
    assert second.runs * sign == pytest.approx(first.runs, rel=1e-6, abs=1e-10)
