import csv
import json
from pathlib import Path

import fluids
import fluids.friction
import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from vanwater.physics.friction import (
    SMOOTH_PLASTIC,
    friction_factor,
    friction_loss,
    hazen_williams_loss,
    relative_roughness,
    reynolds,
    velocity,
)
from vanwater.physics.friction_law import LAMINAR_LIMIT, TURBULENT_LIMIT

PUBLISHED = Path(__file__).parents[2] / "data" / "validation" / "hydraulics.csv"
COLD = {"density": 999.1, "viscosity": 1.138e-3}
WALLS = st.floats(1e-8, 0.05) | st.just(0.0)
FLOWS = st.floats(1e-8, 1e-3)
BORES = st.floats(0.003, 0.05)


@given(st.floats(4000.0, 1e8), WALLS)
def test_turbulent_factor_is_the_root_that_fluids_finds(re, wall):
    judge = fluids.friction.friction_factor(Re=re, eD=wall, Method="Clamond")
    assert float(friction_factor(re, wall)) == pytest.approx(judge, rel=1e-9)


@given(st.floats(1e-3, 2000.0), WALLS)
def test_laminar_factor_is_that_of_fluids(re, wall):
    assert float(friction_factor(re, wall)) == pytest.approx(fluids.friction.friction_laminar(re), rel=1e-12)


@given(st.floats(0.0, 1.0), WALLS)
def test_the_transition_is_a_straight_line_between_its_ends(share, wall):
    end = fluids.friction.friction_factor(Re=TURBULENT_LIMIT, eD=wall, Method="Clamond")
    start = 64.0 / LAMINAR_LIMIT
    re = LAMINAR_LIMIT + share * (TURBULENT_LIMIT - LAMINAR_LIMIT)
    assert float(friction_factor(re, wall)) == pytest.approx(start + share * (end - start), rel=1e-9)


@given(WALLS)
def test_no_limit_makes_the_factor_jump(wall):
    for limit in (LAMINAR_LIMIT, TURBULENT_LIMIT):
        below, above = friction_factor(np.array([np.nextafter(limit, 0.0), np.nextafter(limit, np.inf)]), wall)
        assert above == pytest.approx(below, rel=1e-12)


def test_factor_at_rest_is_infinite_and_the_loss_nothing():
    assert float(friction_factor(0.0, 1e-4)) == np.inf
    assert float(friction_loss(0.0, 0.010, 3.0, SMOOTH_PLASTIC, **COLD)) == 0.0


@given(st.floats(4000.0, 3e5), BORES)
def test_loss_is_that_of_fluids(re, bore):
    flow = re * np.pi * bore * COLD["viscosity"] / (4.0 * COLD["density"])
    judge = fluids.one_phase_dP(
        m=flow * COLD["density"],
        rho=COLD["density"],
        mu=COLD["viscosity"],
        D=bore,
        roughness=SMOOTH_PLASTIC,
        L=2.0,
        Method="Clamond",
    )
    ours = friction_loss(flow, bore, 2.0, SMOOTH_PLASTIC, COLD["density"], COLD["viscosity"])
    assert float(ours) == pytest.approx(judge, rel=1e-9)


@given(FLOWS, FLOWS, BORES, st.floats(0.0, 1e-4))
def test_more_flow_loses_more(first, second, bore, wall):
    low, high = sorted((first, second))
    loss = friction_loss(np.array([low, high]), bore, 1.0, wall, COLD["density"], COLD["viscosity"])
    assert loss[1] >= loss[0] * (1.0 - 1e-12)


@given(FLOWS, BORES, st.floats(0.0, 30.0), st.floats(1.0, 5.0))
def test_loss_follows_flow_length_and_multiplier(flow, bore, length, multiplier):
    one = float(friction_loss(flow, bore, 1.0, SMOOTH_PLASTIC, **COLD))
    assert float(friction_loss(-flow, bore, 1.0, SMOOTH_PLASTIC, **COLD)) == -one
    more = friction_loss(flow, bore, length, SMOOTH_PLASTIC, **COLD, friction_multiplier=multiplier)
    assert float(more) == pytest.approx(one * length * multiplier, rel=1e-12)


def test_a_published_plastic_tube_loss_lies_below_darcy_weisbach():
    """It follows Hazen-Williams with C = 150; at a van's flows the exact law loses more."""
    with PUBLISHED.open(encoding="utf-8", newline="") as file:
        (row,) = (row for row in csv.DictReader(file) if row["id"].startswith("hyd-28-1_2"))
    gpm = float(json.loads(row["inputs"])["flow"].removesuffix(" gpm"))
    assert gpm <= 4.0
    printed = float(row["expected"]) * 6894.757  # psi of one foot
    exact = friction_loss(gpm * 6.30902e-5, 0.475 * 0.0254, 0.3048, SMOOTH_PLASTIC, 999.0, 1.12e-3)
    assert 0.07 < 1.0 - printed / float(exact) < 0.20


@given(FLOWS, BORES)
def test_hazen_williams_turns_with_the_flow(flow, bore):
    forth = float(hazen_williams_loss(flow, bore, 2.0, 150.0, 999.1))
    assert forth > 0.0
    assert float(hazen_williams_loss(-flow, bore, 2.0, 150.0, 999.1)) == -forth


def test_quantities_of_the_flow():
    assert float(velocity(1e-4, 0.010)) == pytest.approx(1e-4 / (np.pi / 4 * 1e-4), rel=1e-12)
    assert float(reynolds(-1e-4, 0.010, **COLD)) == pytest.approx(
        fluids.Reynolds(V=float(velocity(1e-4, 0.010)), D=0.010, rho=999.1, mu=1.138e-3), rel=1e-12
    )
    assert float(relative_roughness(1.5e-6, 0.010)) == pytest.approx(1.5e-4)


def test_shapes_broadcast():
    loss = friction_loss(np.full((3, 1), 1e-4), np.array([0.008, 0.010]), 1.0, 0.0, **COLD)
    assert loss.shape == (3, 2)
    assert np.all(loss[:, 0] > loss[:, 1])


@pytest.mark.parametrize(
    ("call", "name"),
    [
        (lambda: velocity(1e-4, 0.0), "bore"),
        (lambda: reynolds(1e-4, 0.01, -1.0, 1e-3), "density"),
        (lambda: reynolds(1e-4, 0.01, 999.0, 0.0), "viscosity"),
        (lambda: friction_factor(-1.0, 0.0), "reynolds"),
        (lambda: friction_factor(1e4, -1e-9), "relative_roughness"),
        (lambda: relative_roughness(5e-3, 0.010), "roughness"),
        (lambda: friction_loss(1e-4, 0.01, -1.0, 0.0, **COLD), "length"),
        (lambda: friction_loss(1e-4, 0.01, 1.0, 0.0, **COLD, friction_multiplier=-1.0), "friction_multiplier"),
        (lambda: friction_loss(1e-4, 0.01, 1.0, 0.0, **COLD, friction_multiplier=0.03), "friction_multiplier"),
        (lambda: friction_loss(1e-4, 0.01, 1.0, 0.0, **COLD, friction_multiplier=np.nan), "friction_multiplier"),
        (lambda: friction_loss(1e-4, np.nan, 1.0, 0.0, **COLD), "bore"),
        (lambda: hazen_williams_loss(1e-4, 0.01, 1.0, 0.0, 999.0), "coefficient"),
    ],
)
def test_impossible_numbers_are_named(call, name):
    with pytest.raises(ValueError, match=rf"^{name} is "):
        call()
