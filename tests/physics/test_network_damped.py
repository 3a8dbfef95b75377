"""The damped way, which rows take that plain Newton does not settle: here every row is sent along it."""

from __future__ import annotations

import numpy as np
import pytest

from tests.physics.networks import random_network, wide_inputs
from vanwater.physics.network import solve, solver


@pytest.mark.parametrize(("kind", "most"), [("tree", 45), ("loops", 38), ("mixers", 70)])
def test_the_damped_way_leads_to_the_same_balance_in_few_steps(
    kind: str, most: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    """In fewer steps than stand there; at present in 37, 31 and 58."""
    rng = np.random.default_rng([3, len(kind)])
    network = random_network(rng, kind)
    inputs = wide_inputs(network, rng, 30)
    plain = solve(network, inputs)
    monkeypatch.setattr(solver, "FAST_STEPS", 0)
    damped = solve(network, inputs)
    assert damped.converged.all() and plain.converged.all()
    for slow, quick in ((damped.outlets, plain.outlets), (damped.runs, plain.runs)):
        np.testing.assert_allclose(slow, quick, atol=1e-7 * float(plain.outlets.max()))
    assert damped.iterations.max() <= most
