from dataclasses import replace
from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import quad

from vanwater.physics.accumulator import drawdown
from vanwater.physics.circuit import water_behind
from vanwater.physics.cycling import worst_draw
from vanwater.physics.pump import PumpCurve, pump_flow
from vanwater.physics.switch_cycle import cycle_pressures
from vanwater.physics.switching import ElasticStorage, Pieces, Switch, about_mean_state, line_give, volume_between

L_MIN = 1e-3 / 60
FLOW = np.array([0.0, 4.0, 8.0, 10.5, 12.0]) * L_MIN
RISE = np.array([2.9, 2.4, 1.7, 0.9, 0.0]) * 1e5


def a_switch(cut_in=1.4e5, cut_out=2.4e5, volts=12.0, flow=FLOW, rise=RISE):
    return Switch(cut_in, cut_out, PumpCurve(flow, rise, volts, 12.0))


def by_quadrature(draw, power, switch, storage):
    """∫ dV / (Q − q)ᵏ by scipy, piece by piece between the bends of curve and gas."""
    c = storage

    def gas(p, one):
        absolute, p0, n = p + one.atmosphere, one.precharge + one.atmosphere, one.exponent
        return one.volume / (n * absolute) * (p0 / absolute) ** (1 / n) if absolute >= p0 else 0.0

    def yields(p):
        return gas(p, c) + sum(gas(p, other) for other in c.beside) + c.compliance

    def integrand(p):
        return yields(p) / (float(pump_flow(p, switch.curve)) - draw) ** power

    charges = {c.precharge, *(other.precharge for other in c.beside)}
    bends = sorted({switch.cut_in, switch.cut_out, *charges, *switch.curve.rise.tolist()})
    inside = [p for p in bends if switch.cut_in <= p <= switch.cut_out]
    parts = [quad(integrand, a, b, epsabs=0, epsrel=1e-12, limit=200)[0] for a, b in pairwise(inside)]
    return sum(parts)


STORAGES = [
    ElasticStorage(1e-3, 1.3e5, 98945.0),
    ElasticStorage(compliance=6e-11),
    ElasticStorage(0.75e-3, 1.1e5, 100725.0, 14e-11),
    ElasticStorage(1e-3, 1.8e5, 101325.0, 2e-11),  # pre-charge above cut-in
    ElasticStorage(1e-3, 1.3e5, 98945.0, 6e-11, 1.4),
    ElasticStorage(1e-3, 1.9e5, 98945.0, 0.0, 1.2),
    ElasticStorage(1e-3, 1.3e5, 98945.0, 6e-11, 1.0, (ElasticStorage(0.5e-3, 1.8e5, 98945.0),)),
    ElasticStorage(1e-3, 1.1e5, 98945.0, 2e-11, 1.4, (ElasticStorage(0.5e-3, 1.6e5, 98945.0, 0.0, 1.4),)),
]


@pytest.mark.parametrize("storage", STORAGES)
@pytest.mark.parametrize("power", [1, 2, 3])
@pytest.mark.parametrize("draw", [0.2, 2.0, 3.7])
def test_the_integrals_agree_with_scipy(storage, power, draw):
    switch = a_switch()
    ours = Pieces.of(switch, storage).moments(np.asarray(draw * L_MIN), 3)[power - 1]
    assert float(ours) == pytest.approx(by_quadrature(draw * L_MIN, power, switch, storage), rel=1e-10)


@pytest.mark.parametrize("storage", [storage for storage in STORAGES if storage.exponent == 1.0])
@pytest.mark.parametrize("left", [1e-3, 1e-6, 1e-9])
def test_closed_form_and_quadrature_agree_however_near_the_draw_comes_to_the_pump(storage, left):
    """Two of our own methods: partial fractions for n = 1, Gauss in the logarithm just beside it."""
    pieces = Pieces.of(a_switch(), storage)
    near = about_mean_state(a_switch(), storage, 1.0 + 1e-13)
    beside = Pieces.of(a_switch(), near)
    draw = pieces.least * (1.0 - left)
    for exact, gauss in zip(pieces.moments(draw, 3), beside.moments(draw, 3), strict=True):
        assert float(gauss) == pytest.approx(float(exact), rel=1e-8)


def test_a_pump_of_one_flow_needs_no_logarithm():
    """Level pieces: the integral is the volume over the net flow."""
    switch = a_switch(flow=np.array([1.0, 1.0 + 1e-9]) * 1e-4, rise=np.array([3e5, 0.0]))
    storage = ElasticStorage(1e-3, 1.3e5)
    (time,) = Pieces.of(switch, storage).moments(np.asarray(4e-5), 1)
    assert float(time) == pytest.approx(float(volume_between(switch, storage)) / 6e-5, rel=1e-8)


def test_the_flow_at_cut_out_and_the_pieces_are_those_of_the_curve():
    pieces = Pieces.of(a_switch(), ElasticStorage(1e-3, 1.3e5))
    assert float(pieces.least) == pytest.approx(4.0 * L_MIN)
    spans = (pieces.high - pieces.low)[(pieces.high > pieces.low)]
    assert float(np.sum(spans)) == pytest.approx(1e5)
    weaker = Pieces.of(a_switch(volts=10.8), ElasticStorage(1e-3, 1.3e5))
    assert float(weaker.least) == pytest.approx(4.0 * L_MIN - 1.2 * L_MIN)


@pytest.mark.parametrize(("cut_out", "flow"), [(3.1e5, -1.6), (2.65e5, 2.0), (0.4e5, 12 - 1.5 * 0.4 / 0.9)])
def test_the_last_line_is_drawn_on(cut_out, flow):
    pieces = Pieces.of(a_switch(-0.2e5, cut_out), ElasticStorage(1e-3, 1.3e5))
    assert float(pieces.least) == pytest.approx(flow * L_MIN)


@given(st.floats(0.0, 2e-10), st.floats(0.2e-3, 3e-3), st.floats(0.5e5, 2.5e5), st.floats(0.3e5, 2e5))
def test_accumulator_and_line_add_up(soft, volume, precharge, cut_in):
    both = volume_between(a_switch(cut_in), ElasticStorage(volume, precharge, 1e5, soft))
    gas = drawdown(volume, precharge, cut_in, 2.4e5, 1e5)
    assert float(both) == pytest.approx(float(gas + line_give(soft, cut_in, 2.4e5)), rel=1e-12)


def test_rows_of_pumps_and_storages_go_together():
    scale = np.array([[1.0], [0.9]])
    switch = Switch(np.array([1.4e5, 1.3e5]), 2.2e5, PumpCurve(FLOW, RISE * scale, np.array([12.0, 11.5]), 12.0))
    storage = ElasticStorage(np.array([1e-3, 0.5e-3]), 1.2e5, 1e5, 6e-11)
    rows = Pieces.of(switch, storage).moments(np.asarray(1e-5), 1)[0]
    for row in range(2):
        alone = Switch(float(switch.cut_in[row]), 2.2e5, PumpCurve(FLOW, RISE * scale[row], [12.0, 11.5][row], 12.0))
        one = ElasticStorage(float(storage.volume[row]), 1.2e5, 1e5, 6e-11)
        assert float(rows[row]) == pytest.approx(
            float(Pieces.of(alone, one).moments(np.asarray(1e-5), 1)[0]), rel=1e-12
        )


def test_swapped_pressures_are_refused():
    with pytest.raises(ValueError, match="cut_out"):
        volume_between(a_switch(2.4e5, 1.4e5), ElasticStorage(1e-3))


@given(st.floats(0.5e5, 2.0e5), st.floats(0.05e5, 1.5e5), st.floats(0.7e5, 1.03e5), st.floats(1.0, 1.4))
def test_a_fast_swing_runs_through_the_mean_state_that_boyle_gives(cut_in, band, air, n):
    """Written anew in absolute pressures: v = v_m (p_m / p)^(1/n), v_m from Boyle's law."""
    switch = a_switch(cut_in, cut_in + band)
    slow = ElasticStorage(1e-3, cut_in - 0.1e5, air)
    p1, p2 = cut_in + air, cut_in + band + air
    middle = np.sqrt(p1 * p2)
    v_m = 1e-3 * (cut_in - 0.1e5 + air) / middle
    by_hand = v_m * ((middle / p1) ** (1 / n) - (middle / p2) ** (1 / n))
    assert float(volume_between(switch, about_mean_state(switch, slow, n))) == pytest.approx(by_hand, rel=1e-9)
    assert n - 1e-9 <= float(volume_between(switch, slow)) / by_hand <= 1.05 * n


def test_a_slow_swing_and_an_empty_vessel_keep_their_volume():
    assert float(about_mean_state(a_switch(), ElasticStorage(1e-3, 1.3e5), 1.0).volume) == 1e-3
    above = ElasticStorage(1e-3, 3e5)  # above cut-out: no water enters
    assert float(about_mean_state(a_switch(), above, 1.4).volume) == 1e-3


def test_what_yields_is_the_slope_of_what_is_held():
    storage = ElasticStorage(1e-3, 1.3e5, 98945.0, 6e-11, 1.2)
    low, high = 1.8e5, 1.8e5 + 10.0
    given_ = float(volume_between(a_switch(low, high), storage))
    assert float(storage.yields(low + 5.0)) == pytest.approx(given_ / 10.0, rel=1e-6)
    assert float(storage.yields(1.0e5)) == 6e-11


HALF, FULL = ElasticStorage(0.5e-3, 1.2e5, 98945.0), ElasticStorage(1e-3, 1.2e5, 98945.0, 6e-11)
HALVES = replace(HALF, compliance=6e-11, beside=(HALF,))


@pytest.mark.parametrize("exponent", [1.0, 1.4])
def test_two_halves_are_one_whole(exponent):
    whole, halves = (about_mean_state(a_switch(), storage, exponent) for storage in (FULL, HALVES))
    for function in (volume_between, worst_draw):
        assert float(function(a_switch(), halves)) == pytest.approx(float(function(a_switch(), whole)), rel=1e-12)
    for pressure in (1e5, 1.5e5, 2.2e5):
        assert float(halves.yields(pressure)) == pytest.approx(float(whole.yields(pressure)), rel=1e-12)
        assert float(water_behind(pressure, halves)) == pytest.approx(float(water_behind(pressure, whole)), rel=1e-12)
    (at, water), (there, held) = (cycle_pressures(2.6e5, 1.4e5, 2.4e5, storage) for storage in (halves, whole))
    assert at == pytest.approx(there, rel=1e-12) and water == pytest.approx(held, rel=1e-12)


def test_each_accumulator_counts_from_its_own_precharge_on():
    low, high = ElasticStorage(1e-3, 1.2e5, 1e5), ElasticStorage(1e-3, 2e5, 1e5)
    both = replace(low, beside=(high,))
    by_hand = 1e-3 * 2.2e5 * (1 / 2.4e5 - 1 / 3.4e5) + 1e-3 * 3e5 * (1 / 3e5 - 1 / 3.4e5)
    assert float(volume_between(a_switch(), both)) == pytest.approx(by_hand, rel=1e-12)
    assert float(both.yields(1.5e5)) == float(low.yields(1.5e5))
    pressure, water = cycle_pressures(2.6e5, 1.4e5, 2.4e5, both)
    assert float(water.sum()) == pytest.approx(by_hand, rel=1e-6)
    assert len(pressure) == 12  # below and above the higher pre-charge
