import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from iapws import IAPWS95

from vanwater.physics.hammer import (
    WATER_BULK_MODULUS,
    effective_closing,
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
def test_hammer_is_joukowskys_up_to_the_reflection_time_and_michauds_beyond(wave, length, speed, closing):
    rise = float(hammer(998.0, wave, length, speed, closing))
    full = 998.0 * wave * speed
    if closing <= 2.0 * length / wave:
        assert rise == pytest.approx(full)
    else:
        assert rise == pytest.approx(2.0 * 998.0 * length * speed / closing)
    assert rise <= full * (1 + 1e-12)
    assert float(hammer(998.0, wave, length, speed, closing * 1.1)) <= rise * (1 + 1e-12)


def test_both_laws_meet_at_the_reflection_time():
    returns = float(reflection_time(4.0, 400.0))
    assert float(slow_closing(998.0, 4.0, 1.5, returns)) == pytest.approx(float(joukowsky(998.0, 400.0, 1.5)))


def test_a_hand_tap_is_gentler_than_a_solenoid():
    rise = hammer(998.0, 400.0, 4.0, 1.5, np.array([0.3, 0.02, 0.0]))
    assert float(rise[0]) < 0.45e5 < 5e5 < float(rise[1]) == float(rise[2]) == pytest.approx(998.0 * 400.0 * 1.5)


def tap(share, full, returns, nodes=30):
    """Greatest rise at a tap that is shut evenly by its opening, over the pressure that drives the water.

    One run by the method of characteristics, the losses on the way spread over its nodes; pressure and speed count in
    those before, time in the wave's way along the run. ``share``: of the losses in the open tap; ``full``: rho a v over
    the pressure; ``returns``: the closing time over the reflection time.
    """
    step, lost = 1.0 / nodes, (1.0 - share) / nodes
    speed, pressure = np.ones(nodes + 1), 1.0 - (1.0 - share) * np.linspace(0.0, 1.0, nodes + 1)
    most = 0.0
    for count in range(1, round((2.0 * returns + 4.0) / step) + 1):
        forth = pressure[:-1] + full * speed[:-1] - lost * speed[:-1] * abs(speed[:-1])
        back = pressure[1:] - full * speed[1:] + lost * speed[1:] * abs(speed[1:])
        pressure[1:-1], speed[1:-1] = (forth[:-1] + back[1:]) / 2.0, (forth[:-1] - back[1:]) / (2.0 * full)
        pressure[0], speed[0] = 1.0, (1.0 - back[0]) / full
        opening = max(1.0 - count * step / (2.0 * returns), 0.0)
        passes = opening**2 / share  # speed squared at a pressure of one
        speed[-1] = (np.sqrt((full * passes) ** 2 + 4.0 * passes * max(forth[-1], 0.0)) - full * passes) / 2.0
        pressure[-1] = forth[-1] - full * speed[-1]
        most = max(most, pressure[-1])
    return most - 1.0


@pytest.mark.parametrize("full", [2.0, 4.0])
def test_a_slow_tap_without_losses_before_it_follows_allievis_formula(full):
    """Allievi (1903): h = m/2 (m + sqrt(m² + 4)) with m = rho L v / (p t), for a rigid column and an even opening."""
    returns = 16.0
    m = full / (2.0 * returns)
    assert tap(1.0, full, returns) == pytest.approx(0.5 * m * (m + np.sqrt(m**2 + 4.0)), rel=0.05)


@pytest.mark.parametrize("share", [0.03, 0.1, 0.25, 0.6])
@pytest.mark.parametrize("full", [0.5, 1.0, 2.0])
@pytest.mark.parametrize("returns", [1.0, 2.5, 6.0, 16.0])
def test_a_real_tap_stays_between_half_of_michauds_and_the_effective_closing(share, full, returns):
    """By own characteristics: the time is that over the wave's way along a run of one, 2 for its return."""
    rise = tap(share, full, returns)
    late = float(effective_closing(2.0 * returns, share))
    assert rise <= float(hammer(full, 1.0, 1.0, 1.0, late))
    assert rise >= 0.5 * float(slow_closing(full, 1.0, 1.0, 2.0 * returns)) or returns < 2.0


def test_the_slow_tap_that_takes_little_exceeds_michauds():
    assert tap(0.05, 1.0, 16.0) > 2.5 * float(slow_closing(1.0, 1.0, 1.0, 32.0))


@given(st.floats(0.01, 1.0), st.floats(0.0, 1.0))
def test_less_share_in_the_tap_stops_the_water_in_less_time(closing, share):
    share = 0.01 + 0.99 * share
    time = float(effective_closing(closing, share))
    assert float(effective_closing(closing, 0.5 * share)) <= time <= closing
    assert float(effective_closing(closing, 1.0)) == closing


@pytest.mark.parametrize(
    ("call", "message"),
    [
        (lambda: wave_speed(998.0, 0.01, 0.0, 1e9), "wall"),
        (lambda: tube_compliance(1.0, 0.015, 0.010, 1e9), "outside"),
        (lambda: slow_closing(998.0, 4.0, 1.5, -0.1), "closing"),
        (lambda: reflection_time(4.0, 0.0), "wave"),
        (lambda: effective_closing(0.1, 0.0), "share"),
    ],
)
def test_the_impossible_is_refused_by_name(call, message):
    with pytest.raises(ValueError, match=message):
        call()
