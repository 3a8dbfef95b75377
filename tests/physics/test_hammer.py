import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from iapws import IAPWS95

from vanwater.physics.hammer import (
    WATER_BULK_MODULUS,
    hammer,
    joukowsky,
    reflection_time,
    slow_closing,
    tube_compliance,
    wave_speed,
)

SIZES = st.floats(4e-3, 30e-3)


def test_the_bulk_modulus_of_cold_water_is_that_of_iapws():
    cold = IAPWS95(T=283.15, P=0.2)
    assert 1e6 / cold.kappa == pytest.approx(WATER_BULK_MODULUS, rel=0.01)  # kappa in 1/MPa


def test_a_rigid_tube_carries_sound_as_fast_as_free_water():
    assert float(wave_speed(999.7, 0.01, 0.002, 1e20)) == pytest.approx(1448.0, rel=0.005)
    assert IAPWS95(T=283.15, P=0.2).w == pytest.approx(1448.0, rel=0.001)


@given(SIZES, st.floats(0.5e-3, 5e-3), st.floats(1e7, 2e11), st.floats(1e7, 2e11))
def test_a_softer_wall_never_carries_faster(bore, wall, one, other):
    soft, stiff = sorted([one, other])
    assert float(wave_speed(998.0, bore, wall, soft)) <= float(wave_speed(998.0, bore, wall, stiff))


@given(SIZES, st.floats(2e6, 1e9))
def test_a_thin_wall_gives_the_compliance_of_the_hoop(bore, modulus):
    """dV / dp = L π/4 d² · d / (E e), for a wall of a five-hundredth of the bore."""
    wall = bore / 500.0
    thin = np.pi / 4.0 * bore**2 * bore / (modulus * wall)
    assert float(tube_compliance(1.0, bore, bore + 2 * wall, modulus)) == pytest.approx(thin, rel=4e-3)


@given(SIZES, st.floats(1.05, 3.0), st.floats(2e6, 1e9), st.floats(0.3, 0.499))
def test_compliance_is_the_growth_of_the_bore_in_lames_solution(bore, ratio, modulus, poisson):
    """A second way: hoop stress and pressure at the inner wall give the strain, twice that the volume."""
    outside = bore * ratio
    squares = outside**2 - bore**2
    hoop = (outside**2 + bore**2) / squares  # for each pascal
    strain = (hoop + poisson) / modulus
    grown = np.pi / 4.0 * (bore * (1.0 + strain)) ** 2 - np.pi / 4.0 * bore**2
    assert float(tube_compliance(1.0, bore, outside, modulus, poisson)) == pytest.approx(grown, rel=1e-3)


def test_the_wave_in_a_soft_tube_is_set_by_its_compliance():
    """Korteweg: a = √(A / (ρ C')) with C' the compliance of a metre, water itself left out."""
    bore, wall, modulus = 0.01, 1e-5, 1e7
    compliance = float(tube_compliance(1.0, bore, bore + 2 * wall, modulus))
    soft = np.sqrt(np.pi / 4 * bore**2 / (998.0 * compliance))
    assert float(wave_speed(998.0, bore, wall, modulus)) == pytest.approx(soft, rel=2e-3)


@given(st.floats(100, 1400), st.floats(0.3, 15), st.floats(0.1, 3), st.floats(0.0, 1.0))
def test_hammer_is_the_lesser_of_both_and_changes_at_half_the_reflection_time(wave, length, speed, closing):
    rise = float(hammer(998.0, wave, length, speed, closing))
    full = float(joukowsky(998.0, wave, speed))
    assert rise <= full * (1 + 1e-12)
    if closing <= 0.5 * float(reflection_time(length, wave)):
        assert rise == pytest.approx(full)
    else:
        assert rise == pytest.approx(float(slow_closing(998.0, length, speed, closing)))


def test_a_hand_tap_is_gentler_than_a_solenoid():
    rise = hammer(998.0, 400.0, 4.0, 1.5, np.array([0.3, 0.02, 0.0]))
    assert float(rise[0]) < 0.25e5 < 2e5 < float(rise[1]) < float(rise[2]) == pytest.approx(998.0 * 400.0 * 1.5)


@pytest.mark.parametrize(
    ("call", "message"),
    [
        (lambda: wave_speed(998.0, 0.01, 0.0, 1e9), "wall"),
        (lambda: tube_compliance(1.0, 0.015, 0.010, 1e9), "outside"),
        (lambda: slow_closing(998.0, 4.0, 1.5, -0.1), "closing"),
        (lambda: reflection_time(4.0, 0.0), "wave"),
    ],
)
def test_the_impossible_is_refused_by_name(call, message):
    with pytest.raises(ValueError, match=message):
        call()
