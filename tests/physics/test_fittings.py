import fluids.fittings
import numpy as np
import pytest
from fluids.core import dP_from_K
from hypothesis import given
from hypothesis import strategies as st

from vanwater.physics.fittings import (
    equivalent_length,
    k_from_length,
    k_from_loss,
    k_loss,
    k_on_bore,
    sudden_contraction_k,
    sudden_enlargement_k,
)
from vanwater.physics.friction import friction_factor, friction_loss, relative_roughness, reynolds, velocity

FLOWS = st.floats(1e-6, 5e-4)
BORES = st.floats(0.004, 0.04)
KS = st.floats(0.01, 50.0)


@given(FLOWS, BORES, KS)
def test_loss_agrees_with_fluids(flow, bore, k):
    judge = dP_from_K(K=k, rho=998.2, V=float(velocity(flow, bore)))
    assert float(k_loss(flow, bore, k, 998.2)) == pytest.approx(judge, rel=1e-12)


@given(FLOWS, BORES, KS)
def test_k_from_a_measured_loss_gives_the_loss_back(flow, bore, k):
    loss = k_loss(flow, bore, k, 998.2)
    assert float(k_from_loss(loss, flow, bore, 998.2)) == pytest.approx(k)
    assert float(k_loss(-flow, bore, k, 998.2)) == -float(loss)


@given(FLOWS, BORES, BORES, KS)
def test_a_loss_is_the_same_on_either_bore(flow, insert, hose, k):
    on_hose = k_on_bore(k, insert, hose)
    assert float(k_loss(flow, hose, on_hose, 998.2)) == pytest.approx(float(k_loss(flow, insert, k, 998.2)))
    assert float(k_on_bore(on_hose, hose, insert)) == pytest.approx(k)


@given(FLOWS, BORES, KS)
def test_the_equivalent_length_loses_as_much_as_the_fitting(flow, bore, k):
    factor = friction_factor(reynolds(flow, bore, 998.2, 1e-3), relative_roughness(1.5e-6, bore))
    length = equivalent_length(k, bore, factor)
    assert float(friction_loss(flow, bore, length, 1.5e-6, 998.2, 1e-3)) == pytest.approx(
        float(k_loss(flow, bore, k, 998.2)), rel=1e-9
    )
    assert float(k_from_length(length, bore, factor)) == pytest.approx(k)


@given(BORES, st.floats(1.0, 5.0))
def test_sudden_steps_agree_with_fluids(bore, ratio):
    wide = bore * ratio
    narrow_on_wide = fluids.fittings.diffuser_sharp(Di1=bore, Di2=wide)
    assert float(sudden_enlargement_k(bore, wide)) == pytest.approx(narrow_on_wide, abs=1e-12)
    crane = fluids.fittings.contraction_conical(Di1=wide, Di2=bore, angle=180.0, fd=0.02, method="Crane")
    assert float(sudden_contraction_k(bore, wide)) == pytest.approx(crane, abs=1e-12)


def test_the_ends_of_a_pipe_in_a_tank():
    assert float(sudden_contraction_k(0.01, 1e3)) == pytest.approx(0.5)
    assert float(sudden_enlargement_k(0.01, 1e3)) == pytest.approx(1.0)
    assert float(sudden_enlargement_k(0.01, 0.01)) == 0.0


def test_arrays_broadcast():
    assert k_loss(np.ones((3, 1)) * 1e-4, np.array([0.01, 0.02]), 2.0, 998.2).shape == (3, 2)


@pytest.mark.parametrize(
    "call",
    [
        lambda: k_loss(1e-4, 0.0, 1.0, 998.0),
        lambda: k_from_loss(1e3, 0.0, 0.01, 998.0),
        lambda: k_on_bore(1.0, -0.01, 0.01),
        lambda: equivalent_length(1.0, 0.01, 0.0),
        lambda: k_from_length(1.0, 0.01, -0.03),
        lambda: sudden_contraction_k(0.02, 0.01),
        lambda: sudden_enlargement_k(0.02, 0.01),
    ],
)
def test_the_impossible_is_refused(call):
    with pytest.raises(ValueError, match=r"must lie above zero|is narrower"):
        call()
