from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from vanwater.physics import _balance
from vanwater.physics._balance import Balance, Runs
from vanwater.physics.pump import PumpCurve

L_MIN = 1e-3 / 60
ROLES = np.eye(4)[[0, 1, 2, 0]]
ROLES[0, 3] = 1.0
CURVE = PumpCurve(np.array([0.0, 4.0, 8.0, 12.0]) * L_MIN, np.array([2.9, 2.4, 1.7, 0.0]) * 1e5, 12.0, 12.0)


def some_runs(**changes):
    given_ = {
        "bore": np.array([0.0125, 0.010, 0.009, 0.008]),
        "length": np.array([1.3, 3.4, 2.2, 1.5]),
        "k": np.array([7.5, 13.0, 9.0, 1.5]),
        "roughness": np.full(4, 1.5e-6),
        "density": np.full(4, 995.0),
        "viscosity": np.full(4, 8e-4),
        "share": np.array([1.0, 0.6, 0.4, 1.0]),
    }
    return Runs.of(**{**given_, **changes}, columns=ROLES)


@given(st.floats(0.05, 20.0), st.floats(0.0, 1.0))
def test_the_slope_is_that_of_the_balance(litres_a_minute, x):
    balance = Balance(some_runs(share=np.array([1.0, x, 1.0 - x, 1.0])), np.array(2e4), CURVE, np.array(3e-7))
    flow, step = np.array(litres_a_minute * L_MIN), 1e-5 * L_MIN
    around = [balance.excess(flow + sign * step) for sign in (-1.0, 0.0, 1.0)]
    by_difference = float(around[2][0] - around[0][0]) / (2.0 * step)
    slopes = [float(slope) for _, slope in around]
    # a pump's point, a limit of the friction law or the change of the governing leg may lie between
    assert min(slopes) * 1.001 <= by_difference <= max(slopes) * 0.999


@st.composite
def wild_curves(draw):
    steps = draw(st.lists(st.tuples(st.floats(0.01, 6.0), st.floats(10.0, 2e5)), min_size=1, max_size=6))
    flow = np.cumsum([0.0, *(q for q, _ in steps)]) * L_MIN
    rise = np.cumsum([0.0, *(p for _, p in steps)])[::-1]
    return PumpCurve(flow, np.ascontiguousarray(rise), draw(st.floats(8.0, 15.0)), 12.0)


@settings(max_examples=200, deadline=None)
@given(wild_curves(), st.floats(-3e5, 3e5), st.floats(-9.5, -5.0), st.floats(1e-3, 0.02))
def test_any_falling_curve_is_solved_however_it_bends(curve, head, exponent, bore):
    balance = Balance(some_runs(bore=np.full(4, bore)), np.array(head), curve, np.array(10.0**exponent))
    flow, reaches = balance.solve()
    excess, _ = balance.excess(flow)
    at_rest, _ = balance.excess(np.zeros(()))
    assert bool(reaches) == (float(at_rest) > 0.0)
    assert abs(float(excess)) < 1e-6 if reaches else float(flow) == 0.0


@settings(max_examples=100, deadline=None)
@given(wild_curves(), st.floats(-3e5, 3e5), st.floats(-9.5, -5.0))
def test_no_step_is_needed_but_halving(curve, head, exponent):
    """Newton only speeds it up: with a slope that is never to be used the bracket alone finds the same flow."""

    class Blind(Balance):
        def excess(self, flow):
            excess, slope = super().excess(flow)
            return excess, np.zeros_like(slope)

    balance = Balance(some_runs(), np.array(head), curve, np.array(10.0**exponent))
    flow, reaches = balance.solve()
    blind_flow, blind_reaches = Blind(*balance).solve()
    assert bool(reaches) == bool(blind_reaches)
    assert float(blind_flow) == pytest.approx(float(flow), rel=1e-9, abs=1e-15)


def test_newton_needs_few_steps(monkeypatch):
    calls = []
    losses = Runs.losses
    monkeypatch.setattr(Runs, "losses", lambda self, flow: calls.append(1) or losses(self, flow))
    rows = np.linspace(0.6, 1.4, 70)
    runs = some_runs(k=np.array([7.5, 13.0, 9.0, 1.5]) * rows[:, None])
    Balance(runs, np.full(70, -2e4), CURVE, 3e-7 * rows).solve()
    assert len(calls) <= 9


def test_the_smallest_head_counts():
    runs = some_runs()
    for head, flows in ((1e-3, True), (0.0, False), (-1e-3, False)):
        flow, reaches = Balance(runs, np.array(head), None, np.array(3e-7)).solve()
        assert bool(reaches) is flows and (float(flow) > 0.0) is flows


def test_picked_segments_keep_their_losses():
    runs = some_runs()
    picked = runs.only(np.array([False, True, True, False]))
    flow = np.array([5.0 * L_MIN])
    np.testing.assert_allclose(picked.losses(flow).each, runs.losses(flow).each[:, 1:3])
    assert float(picked.losses(flow).total[0]) == pytest.approx(float(runs.losses(flow).each[0, 1:3].max()))
    assert _balance.CLOSE < 1e-6


def test_an_unlike_voltage_moves_the_root():
    weak = replace(CURVE, voltage=10.0)
    flows = [float(Balance(some_runs(), np.array(0.0), c, np.array(3e-7)).solve()[0]) for c in (weak, CURVE)]
    assert flows[0] < flows[1]
