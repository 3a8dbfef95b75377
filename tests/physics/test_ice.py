import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import solve_ivp

from vanwater.physics.cooling import temperature_after, time_until
from vanwater.physics.frost import freezing_time
from vanwater.physics.ice import heat_after, heat_content, ice_share, lump_temperature, time_to_ice

ZERO = 273.15
MASS = st.floats(0.05, 120.0)
WALL = st.floats(0.0, 5.0)
PASSES = st.floats(0.05, 5.0)
STATE = st.floats(-1.4, 0.6)  # of m r: cold ice, freezing, warm water
FUSION = 334e3


def test_ice_that_cools_a_drink():
    """Mooney, Introduction to Thermodynamics and Heat Transfer, example 3.4, prints 7.68 lb.

    40 lb of water at 70 °F, ice at 22 °F (c 0.501, latent 143.3 Btu/lb; ours 0.5008 and 143.6), all at 40 °F after.
    """
    fahrenheit = {f: (f + 459.67) * 5 / 9 for f in (22, 40, 70)}
    water = float(heat_content(fahrenheit[70], 0.0, 40.0) - heat_content(fahrenheit[40], 0.0, 40.0))
    each = float(heat_content(fahrenheit[40], 0.0, 1.0) - heat_content(fahrenheit[22], 1.0, 1.0))
    assert water / each == pytest.approx(7.68, rel=0.003)


@given(st.one_of(st.floats(240.0, 273.0), st.floats(273.2, 340.0)), MASS, WALL)
def test_heat_and_temperature_are_one_law(kelvin, mass, wall):
    heat = heat_content(kelvin, float(kelvin < ZERO), mass, wall)
    assert float(lump_temperature(heat, mass, wall)) == pytest.approx(kelvin, rel=1e-12)
    assert float(ice_share(heat, mass)) == float(kelvin < ZERO)


@given(st.floats(0.0, 1.0), MASS, WALL)
def test_ice_and_water_lie_together_at_zero(share, mass, wall):
    heat = heat_content(ZERO, share, mass, wall)
    assert float(ice_share(heat, mass)) == pytest.approx(share, abs=1e-12)
    assert float(lump_temperature(heat, mass, wall)) == pytest.approx(ZERO, abs=1e-9)


def marched(heat, seconds, outside, passes, mass, wall, power):
    """A second method: the enthalpy marched in time."""

    def rate(_, h):
        return [passes * (outside - float(lump_temperature(h[0], mass, wall))) + power]

    scale = mass * FUSION
    return solve_ivp(rate, (0.0, seconds), [heat], rtol=1e-9, atol=1e-9 * scale, max_step=seconds / 400).y[0, -1]


@pytest.mark.parametrize(
    ("state", "outside", "power", "hours"),
    [
        (0.2, 258.15, 0.0, 10.0),  # cools only
        (0.05, 288.15, 0.0, 10.0),  # warms only
        (0.05, 258.15, 0.0, 60.0),  # cools and freezes in part
        (0.01, 243.15, 0.0, 400.0),  # through to cold ice
        (-1.2, 283.15, 0.0, 700.0),  # thaws through to warm water
        (-0.4, 265.15, 51.0, 100.0),  # a pad thaws in the cold
        (-0.4, 273.15, 0.0, 50.0),  # nothing moves
        (0.1, 273.15, 0.0, 500.0),  # never quite there
        (-1.1, 263.15, 18.0, 500.0),  # rest at 0 °C: power is just what is lost
    ],
)
def test_the_step_agrees_with_marching_in_time(state, outside, power, hours):
    mass, wall, passes = 20.0, 1.5, 1.8
    start = state * mass * FUSION
    ours = float(heat_after(start, hours * 3600.0, outside, passes, mass, wall, power))
    assert ours == pytest.approx(
        marched(start, hours * 3600.0, outside, passes, mass, wall, power), abs=2e-5 * mass * FUSION
    )


@given(STATE, st.floats(238.15, 293.15), PASSES, MASS, WALL, st.floats(0, 60), st.floats(1, 3e6), st.floats(1, 3e6))
def test_two_steps_are_one(state, outside, passes, mass, wall, power, one, other):
    start = state * mass * FUSION
    there = heat_after(start, one, outside, passes, mass, wall, power)
    apart = float(heat_after(there, other, outside, passes, mass, wall, power))
    whole = float(heat_after(start, one + other, outside, passes, mass, wall, power))
    assert apart == pytest.approx(whole, abs=1e-9 * mass * FUSION)


@given(STATE, st.floats(238.15, 293.15), st.floats(0.0, 10.0), PASSES, MASS, WALL, st.floats(1, 3e6))
def test_colder_surroundings_never_leave_more_heat(state, outside, colder, passes, mass, wall, seconds):
    start = state * mass * FUSION
    mild, cold = (float(heat_after(start, seconds, t, passes, mass, wall)) for t in (outside, outside - colder))
    assert cold <= mild + 1e-9 * mass * FUSION


@given(st.floats(273.2, 300.0), st.floats(1.0, 35.0), PASSES, MASS, WALL, st.floats(1.0, 3e5))
def test_above_freezing_it_is_the_plain_exponential(start, below, passes, mass, wall, seconds):
    outside = ZERO - below
    until = float(time_until(start, ZERO, outside, passes, mass + wall))
    seconds = min(seconds, 0.999 * until)
    after = heat_after(heat_content(start, 0.0, mass, wall), seconds, outside, passes, mass, wall)
    judged = float(temperature_after(start, seconds, outside, passes, mass + wall))
    assert float(lump_temperature(after, mass, wall)) == pytest.approx(judged, abs=1e-8)


@given(st.floats(273.2, 300.0), st.floats(0.5, 35.0), PASSES, MASS, WALL, st.floats(0.0, 1.0))
def test_the_time_to_ice_is_cooling_and_freezing_one_after_the_other(start, below, passes, mass, wall, share):
    outside = ZERO - below
    found = float(time_to_ice(start, share, outside, passes, mass, wall))
    apart = float(time_until(start, ZERO, outside, passes, mass + wall) + freezing_time(share, mass, passes, outside))
    assert found == pytest.approx(apart, rel=1e-9)
    after = heat_after(heat_content(start, 0.0, mass, wall), found, outside, passes, mass, wall)
    assert float(ice_share(after, mass)) == pytest.approx(share, abs=1e-9)


def test_no_ice_comes_above_zero_outside():
    assert np.isinf(time_to_ice(281.15, 0.0, 273.15, 1.8, 70.0))
    assert np.isinf(time_to_ice(281.15, 0.1, 275.15, 1.8, 70.0))


def together_and_alone(states):
    rows = heat_after(states, 36000.0, 258.15, 1.8, 20.0, 1.0)
    alone = [float(heat_after(float(s), 36000.0, 258.15, 1.8, 20.0, 1.0)) for s in states]
    np.testing.assert_allclose(rows, alone, rtol=1e-12)
    return rows


def test_rows_of_water_some_of_which_freeze():
    rows = together_and_alone(np.array([0.5, 0.001, 0.4]) * 20.0 * FUSION)
    assert rows[1] < 0 < min(rows[0], rows[2])


def test_rows_mix_all_phases():
    states = np.array([0.3, 0.001, -0.5, -0.999, -1.2]) * 20.0 * FUSION
    rows = together_and_alone(states)
    assert np.all(rows[:-1] < states[:-1]) and rows[-1] > states[-1]  # the last is ice of −29 °C


@pytest.mark.parametrize(
    ("call", "message"),
    [
        (lambda: heat_content(265.15, 0.5, 70.0), "ice_share"),
        (lambda: heat_content(280.15, 0.5, 70.0), "ice_share"),
        (lambda: lump_temperature(0.0, 0.0, 0.0), "mass, wall"),
        (lambda: ice_share(-1.0, 0.0), "mass"),
        (lambda: heat_after(0.0, -1.0, 260.0, 1.0, 70.0), "duration"),
        (lambda: time_to_ice(281.15, 1.5, 265.15, 1.8, 70.0), "ice_share"),
    ],
)
def test_the_impossible_is_refused_by_name(call, message):
    with pytest.raises(ValueError, match=message):
        call()
