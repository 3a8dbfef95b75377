"""Judges: marching in time by scipy, the lumps in constant surroundings at both limits, heat balances."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.integrate import solve_ivp

from vanwater.physics.cooling import WATER_HEAT_CAPACITY, time_until
from vanwater.physics.ice import heat_after, heat_content, time_to_ice
from vanwater.physics.van_body import (
    body_time_constant,
    heat_lost_in_cooling_room,
    room_air_after,
    time_to_ice_in_cooling_room,
    water_in_cooling_room,
)
from vanwater.physics.water import LATENT_HEAT_OF_FUSION

ZERO, HOUR = 273.15, 3600.0

START = st.floats(0.5, 30.0).map(lambda celsius: ZERO + celsius)
FROST = st.floats(0.2, 30.0).map(lambda celsius: ZERO - celsius)
WARMER = st.floats(0.0, 45.0)
PASSES = st.floats(0.02, 10.0)
MASS = st.floats(0.03, 150.0)
BODY = st.floats(0.3, 30.0).map(lambda hours: HOUR * hours)
SHARE = st.floats(0.0, 1.0)


def test_the_air_falls_at_once_and_then_decays():
    assert float(room_air_after(291.15, 261.15, 0.0, 2 * HOUR, 0.2)) == pytest.approx(ZERO + 12)
    assert float(room_air_after(291.15, 261.15, 2 * HOUR, 2 * HOUR, 0.2)) == pytest.approx(ZERO - 12 + 24 / np.e)
    assert float(room_air_after(291.15, 261.15, 1e7, 2 * HOUR, 0.2)) == pytest.approx(261.15)


def test_a_body_with_quick_air_falls_as_the_two_nodes_do():
    """Air of next to no heat between outside and a heavy body: it falls by the share of the two resistances at once."""
    to_outside, to_body, body = 40.0, 160.0, 0.6e6
    air = 1e3

    def rate(_, t):
        return [
            (to_outside * (261.15 - t[0]) + to_body * (t[1] - t[0])) / air,
            to_body * (t[0] - t[1]) / body,
        ]

    at = np.array([600.0, HOUR, 4 * HOUR])
    judged = solve_ivp(rate, (0.0, at[-1]), [291.15, 291.15], t_eval=at, rtol=1e-9, atol=1e-9, method="LSODA").y[0]
    constant = body * (1 / to_outside + 1 / to_body)
    fallen = to_outside / (to_outside + to_body)
    assert room_air_after(291.15, 261.15, at, constant, fallen) == pytest.approx(judged, abs=0.05)


@given(st.floats(-20.0, 5.0), st.floats(1.0, 20.0), BODY, st.floats(0.1, 10.0))
def test_two_readings_give_the_time_constant_back(outside, apart, constant, hours):
    cold = ZERO + outside
    first, later = (float(room_air_after(cold + apart, cold, at, constant, 0.0)) for at in (0.0, hours * HOUR))
    if first - later > 0.01 and later - cold > 0.01:
        assert float(body_time_constant(first, later, hours * HOUR, cold)) == pytest.approx(constant, rel=1e-6)


@pytest.mark.parametrize("constant", [0.5 * HOUR, 20.0 * 4186 / 1.5, 30 * HOUR])  # the middle one as slow as the water
def test_the_water_agrees_with_marching_in_time(constant):
    def rate(t, water):
        return [1.5 * (261.15 + 24.0 * np.exp(-t / constant) - water[0]) / (20.0 * WATER_HEAT_CAPACITY)]

    at = np.array([0.0, HOUR, 10 * HOUR, 60 * HOUR])
    judged = solve_ivp(rate, (0.0, at[-1]), [283.15], t_eval=at, rtol=1e-11, atol=1e-9).y[0]
    assert water_in_cooling_room(283.15, at, 285.15, 261.15, 1.5, 20.0, constant) == pytest.approx(judged, abs=1e-6)


@given(START, FROST, PASSES, MASS, st.floats(0.0, 40.0), st.floats(0.1, 100.0), st.floats(-1e-7, 1e-7))
def test_nothing_happens_near_equal_time_constants(start, cold, passes, mass, warmer, hours, off):
    alike = mass * WATER_HEAT_CAPACITY / passes
    told = (start, hours * HOUR, cold + warmer, cold, passes, mass)
    exact, near = water_in_cooling_room(*told, alike), water_in_cooling_room(*told, alike * (1 + off))
    assert float(near) == pytest.approx(float(exact), abs=1e-5)


@settings(max_examples=60)
@given(START, FROST, WARMER, PASSES, MASS, BODY, SHARE)
def test_at_the_time_found_the_heat_is_gone(start, cold, warmer, passes, mass, constant, share):
    wall = 0.4 * mass
    beside = cold + warmer
    freezing, ice = (
        float(time_to_ice_in_cooling_room(start, x, beside, cold, passes, mass, constant, wall)) for x in (0.0, share)
    )
    assert 0 < freezing <= ice
    water = water_in_cooling_room(start, freezing, beside, cold, passes, mass + wall, constant)
    assert float(water) == pytest.approx(ZERO, abs=1e-9)
    lost = heat_lost_in_cooling_room(start, ice, beside, cold, passes, mass, constant, wall)
    held = (mass + wall) * WATER_HEAT_CAPACITY * (start - ZERO) + share * mass * LATENT_HEAT_OF_FUSION
    assert float(lost) == pytest.approx(held, rel=1e-9)


@pytest.mark.parametrize(("beside", "constant"), [(289.15, 2 * HOUR), (266.15, 2 * HOUR), (285.15, 0.2 * HOUR)])
def test_cooling_and_freezing_agree_with_marching_in_time(beside, constant):
    """The heat of the lump as state, through freezing, by scipy."""
    water, passes, cold = 0.5, 0.3, 261.15

    def rate(t, lost):
        above = max(0.5 * WATER_HEAT_CAPACITY * 10.0 - lost[0], 0.0) / (0.5 * WATER_HEAT_CAPACITY)
        return [passes * (ZERO + above - cold - (beside - cold) * np.exp(-t / constant))]

    def freezing(_, lost):
        return lost[0] - water * WATER_HEAT_CAPACITY * 10.0

    def frozen(_, lost):
        return freezing(0, lost) - 0.2 * water * LATENT_HEAT_OF_FUSION

    march = solve_ivp(rate, (0.0, 40 * HOUR), [0.0], events=(freezing, frozen), rtol=1e-9, atol=1e-6, max_step=200.0)
    for share, judged in zip((0.0, 0.2), march.t_events, strict=True):
        found = time_to_ice_in_cooling_room(ZERO + 10, share, beside, cold, passes, water, constant)
        assert float(found) == pytest.approx(judged[0], rel=1e-6)
    at = march.t[:: len(march.t) // 7]
    lost = heat_lost_in_cooling_room(ZERO + 10, at, beside, cold, passes, water, constant)
    most = water * (WATER_HEAT_CAPACITY * 10 + LATENT_HEAT_OF_FUSION)
    assert lost == pytest.approx(np.minimum(march.y[0, :: len(march.t) // 7], most), rel=1e-6, abs=1e-3)


@given(START, FROST, WARMER, PASSES, MASS, SHARE)
def test_a_body_that_holds_nothing_is_the_outside_and_one_without_end_is_the_room(
    start, cold, warmer, passes, mass, share
):
    at_once = float(time_to_ice_in_cooling_room(start, share, cold + warmer, cold, passes, mass, 1e-9))
    assert at_once == pytest.approx(float(time_to_ice(start, share, cold, passes, mass)), rel=1e-6)
    if share == 0:
        assert at_once == pytest.approx(float(time_until(start, ZERO, cold, passes, mass)), rel=1e-6)
    room = cold + 0.5 * min(warmer, ZERO - cold)
    never = float(time_to_ice_in_cooling_room(start, share, room, cold, passes, mass, 1e14))
    assert never == pytest.approx(float(time_to_ice(start, share, room, passes, mass)), rel=1e-4)


@settings(max_examples=60)
@given(START, FROST, WARMER, PASSES, MASS, BODY, SHARE, st.floats(1.01, 3.0))
def test_what_holds_back_makes_it_later(start, cold, warmer, passes, mass, constant, share, more):
    def hours(cold=cold, passes=passes, constant=constant, beside=cold + warmer, start=start):
        return float(time_to_ice_in_cooling_room(start, share, beside, cold, passes, mass, constant))

    slack = hours() * (1 + 1e-9)
    assert hours(constant=constant * more) >= hours() * (1 - 1e-9)
    assert hours(cold=cold - more, beside=cold + warmer - more) <= slack
    assert hours(beside=cold + warmer + more) >= hours() * (1 - 1e-9)
    assert hours(start=start + more) >= hours() * (1 - 1e-9)


@given(START, FROST, PASSES, MASS, SHARE, st.floats(1.0, 30.0))
def test_beside_the_outside_it_is_the_lump_in_constant_surroundings(start, cold, passes, mass, share, hours):
    told = (cold, cold, passes, mass, 2 * HOUR)
    found = float(time_to_ice_in_cooling_room(start, share, *told))
    assert found == pytest.approx(float(time_to_ice(start, share, cold, passes, mass)), rel=1e-9)
    lost = float(heat_lost_in_cooling_room(start, hours * HOUR, *told))
    first = heat_content(start, 0.0, mass)
    after = max(float(heat_after(first, hours * HOUR, cold, passes, mass)), -mass * LATENT_HEAT_OF_FUSION)
    assert lost == pytest.approx(float(first) - after, rel=1e-9, abs=1e-6)


def test_no_frost_outside_never_freezes_and_water_at_freezing_waits_for_the_room():
    assert np.isinf(time_to_ice_in_cooling_room(283.15, 0.0, 285.15, 273.15, 1.5, 20.0, HOUR))
    beside_frost, beside_warmth = time_to_ice_in_cooling_room(ZERO, 0.0, np.array([270.0, 280.0]), 261.15, 1, 2, HOUR)
    assert (beside_frost, beside_warmth > 0) == (0.0, True)


def test_any_argument_may_be_an_array():
    told = {"start": 283.15, "ice_share": 0.07, "beside": 285.15, "outside": 261.15, "conductance": 1.5, "mass": 20.0}
    told |= {"time_constant": HOUR, "wall": 1.0}
    alone = float(time_to_ice_in_cooling_room(**told))
    for name, value in told.items():
        assert time_to_ice_in_cooling_room(**told | {name: np.full(2, value)}).tolist() == [alone, alone]


def test_each_row_is_found_as_if_it_were_alone():
    beside, passes = np.array([262.0, 275.0, 290.0]), np.array([0.1, 1.0, 5.0])
    together = time_to_ice_in_cooling_room(283.15, 0.07, beside, 261.15, passes, 2.0, HOUR)
    alone = [
        time_to_ice_in_cooling_room(283.15, 0.07, b, 261.15, p, 2.0, HOUR) for b, p in zip(beside, passes, strict=True)
    ]
    assert together.tolist() == [float(x) for x in alone]


@pytest.mark.parametrize(
    ("call", "told"),
    [
        (lambda: room_air_after(291.15, 261.15, -1.0, HOUR, 0.2), "duration"),
        (lambda: room_air_after(291.15, 261.15, 1.0, 0.0, 0.2), "time_constant"),
        (lambda: room_air_after(291.15, 261.15, 1.0, HOUR, 1.2), "fall: 1.2"),
        (lambda: body_time_constant(280.0, 281.0, HOUR, 270.0), "first - later"),
        (lambda: body_time_constant(280.0, 269.0, HOUR, 270.0), "later - outside"),
        (lambda: body_time_constant(280.0, 275.0, 0.0, 270.0), "duration"),
        (lambda: water_in_cooling_room(280.0, HOUR, 280.0, 260.0, 1.0, 0.0, HOUR), "mass"),
        (lambda: time_to_ice_in_cooling_room(270.0, 0.1, 280.0, 260.0, 1.0, 1.0, HOUR), "start"),
        (lambda: time_to_ice_in_cooling_room(280.0, 1.1, 280.0, 260.0, 1.0, 1.0, HOUR), "ice_share"),
        (lambda: time_to_ice_in_cooling_room(280.0, 0.1, 250.0, 260.0, 1.0, 1.0, HOUR), "beside"),
        (lambda: heat_lost_in_cooling_room(280.0, HOUR, 280.0, 260.0, 0.0, 1.0, HOUR), "conductance"),
    ],
)
def test_what_cannot_be_is_refused(call, told):
    with pytest.raises(ValueError, match=told):
        call()
