import math

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from vanwater.physics.tees import joining_branch_k, joining_run_k, parting_branch_k, parting_run_k

SHARES = st.floats(0.01, 0.99)
TEES = (joining_branch_k, joining_run_k, parting_branch_k, parting_run_k)


@given(SHARES, st.floats(1e-5, 5e-4))
def test_the_share_decides_and_not_the_flow(share, flow):
    assume(abs(share - 0.4) > 1e-9)  # there the book's coefficient jumps, and rounding decides on which side
    for tee in TEES:
        once = tee((1 - share) * 1e-4, share * 1e-4, 0.01, 0.01)
        again = tee((1 - share) * flow, share * flow, 0.02, 0.02)
        assert float(once) == pytest.approx(float(again), abs=1e-9)


@given(SHARES)
def test_equal_tee_by_the_book_s_formulas(share):
    """Written out again from the handbook's pieces for an equal 90° tee (β = 1)."""
    run, branch = (1 - share) * 1e-4, share * 1e-4
    c = 0.9 * (1 - share) if share <= 0.4 else 0.55
    assert float(joining_branch_k(run, branch, 0.01, 0.01)) == pytest.approx(
        c * (1 + share**2 - 2 * (1 - share) ** 2), abs=1e-12
    )
    assert float(joining_run_k(run, branch, 0.01, 0.01)) == pytest.approx(1.55 * share - share**2, abs=1e-12)
    m = 2 * (2 * share - 1) if share <= 0.5 else 0.3 * (2 * share - 1)
    assert float(parting_run_k(run, branch, 0.01, 0.01)) == pytest.approx(m * share**2, abs=1e-12)
    assert float(parting_branch_k(run, branch, 0.01, 0.01)) == pytest.approx(
        (1 + 0.3 * share**2) * (1 + 0.3 * share**2), abs=1e-12
    )


def test_a_small_branch_flow_is_pulled_along():
    assert float(joining_branch_k(9e-5, 1e-5, 0.01, 0.01)) < 0.0


def test_rows_are_taken_one_by_one():
    branch = np.array([1e-5, 5e-5, 9e-5])
    rows = parting_branch_k(1e-4 - branch, branch, 0.01, 0.01, math.pi / 4)
    alone = [float(parting_branch_k(1e-4 - b, b, 0.01, 0.01, math.pi / 4)) for b in branch]
    assert rows.shape == (3,) and rows.tolist() == alone


@pytest.mark.parametrize("tee", TEES)
def test_impossible_flows_and_bores_are_refused(tee):
    with pytest.raises(ValueError, match="run_flow"):
        tee(-1e-4, 1e-4, 0.01, 0.01)
    with pytest.raises(ValueError, match="run_flow"):
        tee(0.0, 0.0, 0.01, 0.01)
    with pytest.raises(ValueError, match="bore"):
        tee(1e-4, 1e-4, 0.01, 0.0)
