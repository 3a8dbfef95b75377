import numpy as np
import pytest

from tests.physics.networks import random_network, two_mixers, wide_inputs
from vanwater.physics.friction_law import friction_terms
from vanwater.physics.network import Network, NetworkInputs, Run, solve
from vanwater.physics.network.guess import draws
from vanwater.physics.network.laws import Laws
from vanwater.physics.network.newton import Newton


def test_a_node_comes_after_all_that_it_feeds():
    links = [(0, 1), (1, 2), (1, 3), (2, 4), (3, 5), (6, 7)]
    order = draws(8, [0], links, [(4, 5, 6)])
    place = {draw.node: number for number, draw in enumerate(order)}
    assert sorted(place) == list(range(1, 8))
    for start, end in links:
        assert start == 0 or place[start] > place[end]
    assert place[6] < place[4]
    assert place[6] < place[5]


def test_where_water_may_come_on_several_ways_no_order_is_told():
    assert draws(3, [0], [(0, 1), (0, 2), (1, 2)], []) == ()  # a ring
    assert draws(3, [0], [(0, 1), (2, 1)], []) == ()  # drawn towards the source
    assert draws(4, [0, 3], [(0, 1), (1, 2), (2, 3)], []) == ()  # between two sources
    assert draws(3, [0], [(1, 2), (2, 1)], []) == ()  # a circle that hangs on nothing


def test_the_first_guess_adds_up_at_every_node_and_is_near():
    network, numbers = two_mixers(split=True)
    assert network.draws
    inputs = NetworkInputs(**numbers)
    state = Newton(network, inputs.shaped(network), 1, friction_terms)
    state._lead()
    assert state.imbalance()[0].max() < 1e-12
    flows = solve(network, inputs)
    assert flows.iterations.max() <= 4
    assert state.flow[-3:, 0] == pytest.approx(flows.outlets[0], rel=0.4)


def test_the_guess_changes_no_result():
    """A run drawn the other way round has no order of draws, so that the solve sets out from straight lines."""
    rng = np.random.default_rng(3)
    tree = random_network(rng, "tree")
    inputs = wide_inputs(tree, rng, 50)
    turn = next(number for number, run in enumerate(tree.runs) if not run.check_valve)
    runs = tuple(Run(r.name, r.end, r.start) if i == turn else r for i, r in enumerate(tree.runs))
    turned = Network(runs, tree.sources, tree.outlets, tree.pumps, nodes=tree.nodes)
    assert tree.draws
    assert not turned.draws
    assert solve(tree, inputs).outlets == pytest.approx(solve(turned, inputs).outlets, rel=1e-7, abs=1e-12)


def test_outlets_are_guessed_below_what_the_pump_can_give():
    network, numbers = two_mixers(split=True)
    laws = Laws(network, NetworkInputs(**numbers).shaped(network), 1, friction_terms)
    level = laws.at_outlets()
    assert np.all((level > 0.0) & (level < laws.drive()))
