from itertools import pairwise

import numpy as np
import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st
from scipy.integrate import quad, solve_ivp

from vanwater.physics.cooling import WATER_HEAT_CAPACITY, mean_temperature, temperature_after, time_until
from vanwater.physics.water import density, heat_capacity

START = st.floats(274.15, 340.0)
OUTSIDE = st.floats(243.15, 300.0)
PASSES = st.floats(0.05, 10.0)
MASS = st.floats(0.05, 150.0)
POWER = st.floats(0.0, 1500.0)


def test_the_heat_of_a_litre_stays_near_the_one_figure():
    """The claim beside the constant: +0.8 to −2.1 % from 0 to 70 °C by IAPWS."""
    kelvin = np.linspace(273.15, 343.15, 71)
    apart = density(kelvin) * 1e-3 * heat_capacity(kelvin) / WATER_HEAT_CAPACITY - 1.0
    assert apart.min() == pytest.approx(-0.021, abs=5e-4)
    assert apart.max() == pytest.approx(0.008, abs=5e-4)


@pytest.mark.parametrize(("power", "passes"), [(0.0, 1.787), (51.0, 1.787), (1300.0, 0.6), (300.0, 0.0)])
def test_the_step_agrees_with_marching_in_time(power, passes):
    def rate(_, t):
        return [(passes * (258.15 - t[0]) + power) / (70.0 * WATER_HEAT_CAPACITY)]

    judged = solve_ivp(rate, (0.0, 36000.0), [281.15], rtol=1e-11, atol=1e-9).y[0, -1]
    assert float(temperature_after(281.15, 36000.0, 258.15, passes, 70.0, power)) == pytest.approx(judged, abs=1e-6)


@given(START, OUTSIDE, PASSES, MASS, POWER, st.floats(1.0, 1e5), st.floats(1.0, 1e5))
def test_two_steps_are_one(start, outside, passes, mass, power, one, other):
    there = temperature_after(start, one, outside, passes, mass, power)
    apart = temperature_after(there, other, outside, passes, mass, power)
    assert float(apart) == pytest.approx(
        float(temperature_after(start, one + other, outside, passes, mass, power)), abs=1e-6
    )


@given(START, OUTSIDE, PASSES, MASS, POWER, st.floats(1.0, 1e5))
def test_what_is_lost_and_put_in_is_what_the_water_holds(start, outside, passes, mass, power, seconds):
    """The mean excess over the step follows from the step itself; heat in, out and held balance to 1e-9."""
    after = float(temperature_after(start, seconds, outside, passes, mass, power))
    holds = mass * WATER_HEAT_CAPACITY
    rest = outside + power / passes
    mean = rest + (start - rest) * holds / (passes * seconds) * -np.expm1(-passes * seconds / holds)
    balance = holds * (after - start) + passes * (mean - outside) * seconds - power * seconds
    assert abs(balance) <= 1e-9 * max(holds * start, power * seconds)


@given(START, st.floats(273.15, 340.0), OUTSIDE, PASSES, MASS, POWER)
def test_time_and_temperature_are_one_law(start, final, outside, passes, mass, power):
    seconds = float(time_until(start, final, outside, passes, mass, power))
    rest = outside + power / passes
    if np.isinf(seconds):
        assert (final - start) * (rest - start) <= 0 or abs(final - start) >= abs(rest - start) * (1 - 1e-12)
    else:
        assert float(temperature_after(start, seconds, outside, passes, mass, power)) == pytest.approx(final, abs=1e-6)


def test_it_is_there_already_or_never_comes():
    assert float(time_until(281.15, 281.15, 265.15, 1.8, 70.0)) == 0.0
    assert np.isinf(time_until(281.15, 273.15, 274.15, 1.8, 70.0))
    assert np.isinf(time_until(281.15, 285.15, 265.15, 1.8, 70.0))
    assert np.isinf(time_until(281.15, 265.15, 265.15, 1.8, 70.0))


@given(START, st.floats(243.15, 273.0), st.floats(243.15, 273.0), PASSES, MASS)
def test_colder_air_is_never_slower(start, one, other, passes, mass):
    colder, milder = sorted([one, other])
    early, late = (float(time_until(start, 273.15, t, passes, mass)) for t in (colder, milder))
    assert early <= late * (1 + 1e-12)


def test_a_heater_recovers_slower_with_its_loss():
    """1 W/K at 40 K above the room takes 3 % of 1300 W."""
    ideal = 10.0 * WATER_HEAT_CAPACITY * 2.0 / 1300.0
    real = float(time_until(332.15, 334.15, 293.15, 1.0, 10.0, 1300.0))
    assert real / ideal == pytest.approx(1.032, abs=0.002)


def test_no_mass_has_the_temperature_of_rest_and_no_time_changes_nothing():
    assert float(temperature_after(300.0, 10.0, 260.0, 2.0, 0.0, 20.0)) == pytest.approx(270.0)
    assert float(temperature_after(300.0, 0.0, 260.0, 2.0, 0.0, 20.0)) == 300.0


@pytest.mark.parametrize(
    ("call", "message"),
    [
        (lambda: temperature_after(280.0, 10.0, 260.0, -1.0, 70.0), "conductance"),
        (lambda: temperature_after(280.0, 10.0, 260.0, 1.0, -70.0), "mass"),
        (lambda: time_until(280.0, 273.15, 260.0, 0.0, 70.0), "conductance"),
    ],
)
def test_the_impossible_is_refused_by_name(call, message):
    with pytest.raises(ValueError, match=message):
        call()


PAST = st.floats(0.0, 2e6)


@given(START, PAST, OUTSIDE, PASSES, MASS, st.floats(268.0, 300.0))
@example(290.15, 2e5, 265.15, 2.0, 40.0, 277.15)  # falls past the least
@example(275.15, 2e5, 295.15, 2.0, 40.0, 283.15)  # rises past it
@example(275.15, 2e5, 280.15, 2.0, 40.0, 283.15)  # is never let so low
@example(290.15, 2e5, 280.15, 2.0, 40.0, 277.15)  # never comes so low
@settings(max_examples=40)
def test_the_mean_is_the_integral_of_the_step(start, lasting, outside, passes, mass, least):
    def at(seconds):
        return max(float(temperature_after(start, seconds, outside, passes, mass)), least)

    mean = float(mean_temperature(start, lasting, outside, passes, mass, least))
    if lasting == 0.0:
        assert mean == max(start, least)
        return
    kink = float(time_until(start, least, outside, passes, mass))
    pace = mass * WATER_HEAT_CAPACITY / passes
    marks = sorted({mark for mark in (kink, pace, 10 * pace) if 0.0 < mark < lasting})
    ends = [0.0, *marks, lasting]
    judged = sum(quad(at, low, high, epsabs=0.0, epsrel=1e-10)[0] for low, high in pairwise(ends)) / lasting
    assert mean == pytest.approx(judged, abs=1e-6)


@given(START, OUTSIDE, PASSES, MASS)
def test_the_mean_goes_from_the_start_to_rest(start, outside, passes, mass):
    pace = mass * WATER_HEAT_CAPACITY / passes
    assert float(mean_temperature(start, 0.0, outside, passes, mass, 200.0)) == start
    assert float(mean_temperature(start, 1e-9 * pace, outside, passes, mass, 200.0)) == pytest.approx(start, abs=1e-5)
    assert float(mean_temperature(start, 1e8 * pace, outside, passes, mass, 200.0)) == pytest.approx(outside, abs=1e-4)
    held = float(mean_temperature(start, 1e8 * pace, outside, passes, mass, 277.15))
    assert held == pytest.approx(max(outside, 277.15), abs=1e-4)


def test_what_cannot_be_has_no_mean():
    for wrong in ({"conductance": 0.0}, {"mass": 0.0}, {"duration": -1.0}):
        given_ = {"start": 283.0, "duration": 1.0, "outside": 270.0, "conductance": 1.0, "mass": 1.0, "least": 273.15}
        with pytest.raises(ValueError, match=next(iter(wrong))):
            mean_temperature(**(given_ | wrong))
