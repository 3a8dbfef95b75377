import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from vanwater.physics.cooling import WATER_HEAT_CAPACITY, temperature_after
from vanwater.physics.frost import holding_power, pad_duty
from vanwater.physics.frost_run import Pad, frost_run, held_step
from vanwater.physics.ice import heat_after, heat_content, lump_temperature

ZERO, HOUR = 273.15, 3600.0
WEATHER = ZERO - 4.0 + 9.0 * np.sin(np.arange(240) * 2 * np.pi / 24) - 3.0 * np.sin(np.arange(240) * 2 * np.pi / 240)
STATE = st.floats(-1.2, 0.3)
COLD = st.floats(243.15, 288.15)


def marched(heat, seconds, outside, passes, mass, wall, pad, band=0.02, step=0.5):
    """A second method: a switching thermostat with a narrow band, in small steps of time."""
    on, drawn = False, 0.0
    for _ in range(int(seconds / step)):
        kelvin = float(lump_temperature(heat, mass, wall))
        on = kelvin < pad.hold + band / 2 if on else kelvin < pad.hold - band / 2
        drawn += step * on
        heat = float(heat_after(heat, step, outside, passes, mass, wall, pad.power * pad.net_share * on))
    return heat, drawn


@pytest.mark.parametrize(
    ("celsius", "ice", "outside"),
    [(6.0, 0.0, -8.0), (4.0, 0.0, -8.0), (2.0, 0.0, -8.0), (4.0, 0.0, -40.0), (0.0, 0.02, -8.0), (3.0, 0.0, 12.0)],
)
def test_a_step_agrees_with_a_switching_thermostat(celsius, ice, outside):
    mass, wall, passes, pad = 2.0, 0.3, 0.5, Pad(15.0, 0.8, ZERO + 4.0)
    start = float(heat_content(ZERO + celsius, ice, mass, wall))
    seconds = 1.5 * HOUR
    after, on = held_step(start, seconds, ZERO + outside, passes, mass, wall, pad)
    judged, judged_on = marched(start, seconds, ZERO + outside, passes, mass, wall, pad)
    assert float(after) == pytest.approx(judged, abs=0.05 * (mass + wall) * WATER_HEAT_CAPACITY)
    assert float(on) == pytest.approx(judged_on, abs=0.02 * seconds)


@given(STATE, COLD, st.floats(0.05, 3.0), st.floats(0.1, 80.0), st.floats(0.0, 100.0), st.floats(274.15, 281.15))
def test_heat_in_is_what_the_pad_gave_and_never_more_than_the_hold_needs(state, outside, passes, mass, power, hold):
    pad = Pad(power, 0.8, hold)
    start = state * mass * 334e3
    after, on = (float(x) for x in held_step(start, HOUR, outside, passes, mass, 0.0, pad))
    off = float(heat_after(start, HOUR, outside, passes, mass))
    full = float(heat_after(start, HOUR, outside, passes, mass, 0.0, 0.8 * power))
    slack = 1e-9 * mass * 334e3
    assert 0.0 <= on <= HOUR * (1 + 1e-12)
    assert off - slack <= after <= full + slack
    top = max(start, float(heat_content(max(hold, outside), 0.0, mass)))
    assert after <= top + slack


@given(st.floats(243.15, 273.0), st.floats(0.2, 3.0), st.floats(5.0, 80.0), st.floats(274.15, 281.15))
def test_held_for_an_hour_the_duty_is_the_closed_one(outside, passes, mass, hold):
    pad = Pad(200.0, 0.85, hold)
    needed = holding_power(passes, hold, outside)
    start = float(heat_content(hold, 0.0, mass))
    after, on = held_step(start, HOUR, outside, passes, mass, 0.0, pad)
    assert float(after) == pytest.approx(start, rel=1e-12)
    assert float(on) / HOUR == pytest.approx(float(pad_duty(needed, 200.0, 0.85)), rel=1e-9)


def test_without_a_pad_the_run_is_the_enthalpy_stepped_hour_by_hour():
    mass, wall, passes = 20.0, 1.0, 2.5
    run = frost_run(ZERO + 6.0, WEATHER, passes, mass, wall, Pad())
    heat = heat_content(ZERO + 6.0, 0.0, mass, wall)
    for hour, outside in enumerate(WEATHER):
        heat = heat_after(heat, HOUR, float(outside), passes, mass, wall)
        assert float(run.temperature[hour + 1]) == pytest.approx(float(lump_temperature(heat, mass, wall)), abs=1e-9)
    assert float(run.ice_share.max()) > 0.05
    assert float(run.pad_energy.sum()) == 0.0


def test_energy_balances_over_a_run_to_one_part_in_a_billion():
    """What the pad led in less what the water lost, by the closed mean of each hour, is what the water holds."""
    mass, passes, pad = 70.0, 1.8, Pad(60.0, 0.85, ZERO + 4.0)
    run = frost_run(ZERO + 8.0, WEATHER, passes, mass, 0.0, pad)
    assert float(run.temperature.min()) == pytest.approx(ZERO + 4.0)
    holds = mass * WATER_HEAT_CAPACITY
    lost = 0.0
    for hour, outside in enumerate(WEATHER):
        before, on = float(run.temperature[hour]), float(run.duty[hour]) * HOUR
        if on == 0:
            after = float(temperature_after(before, HOUR, float(outside), passes, mass))
            lost += holds * (before - after)
        else:  # falls to the hold, is held there, and leaves it again where the air warms
            lost += holds * (before - float(run.temperature[hour + 1])) + on * pad.power * pad.net_share
    given_heat = float(run.pad_energy.sum()) * pad.net_share
    kept = holds * float(run.temperature[-1] - run.temperature[0])
    assert abs(given_heat - lost - kept) <= 1e-9 * abs(lost)


def test_a_pad_of_which_no_share_is_said_loses_nothing():
    plain, whole = (frost_run(ZERO + 8.0, WEATHER, 1.8, 70.0, 0.0, pad) for pad in (Pad(60.0), Pad(60.0, 1.0)))
    np.testing.assert_array_equal(plain.pad_energy, whole.pad_energy)
    assert plain.pad_energy.sum() > 0


def test_the_pad_of_the_van_holds_through_the_week_and_a_small_one_does_not():
    pads = Pad(np.array([60.0, 5.0, 0.0]), 0.85, ZERO + 4.0)
    run = frost_run(ZERO + 8.0, WEATHER, 1.8, 10.0, 0.0, pads)
    assert run.temperature.shape == (3, 241) and run.duty.shape == (3, 240)
    lowest = run.temperature.min(axis=-1) - ZERO
    assert lowest[0] == pytest.approx(4.0) and lowest[1] < 4.0 and run.ice_share[2].max() > 0
    assert np.all(np.diff(run.pad_energy.sum(axis=-1)) < 0)


def test_driving_hours_draw_more_than_parked_ones():
    passes = np.where(np.arange(240) % 24 < 2, 2.06, 1.79)
    driving = frost_run(ZERO + 8.0, WEATHER, passes, 70.0, 0.0, Pad(60.0, 0.85, ZERO + 4.0))
    parked = frost_run(ZERO + 8.0, WEATHER, 1.79, 70.0, 0.0, Pad(60.0, 0.85, ZERO + 4.0))
    assert float(driving.pad_energy.sum()) > float(parked.pad_energy.sum())


def test_rows_are_worked_alone():
    passes = np.array([[0.8], [1.8], [4.0]])
    mass = np.array([7.0, 35.0, 70.0])
    together = frost_run(ZERO + 8.0, WEATHER, passes, mass, 0.5, Pad(20.0, 0.85, ZERO + 4.0))
    for row in range(3):
        alone = frost_run(
            ZERO + 8.0, WEATHER, float(passes[row, 0]), float(mass[row]), 0.5, Pad(20.0, 0.85, ZERO + 4.0)
        )
        np.testing.assert_allclose(together.temperature[row], alone.temperature, rtol=1e-12)
        np.testing.assert_allclose(together.pad_energy[row], alone.pad_energy, rtol=1e-9, atol=1e-6)


@pytest.mark.parametrize(
    ("call", "message"),
    [
        (lambda: frost_run(270.0, WEATHER, 1.8, 70.0, 0.0, Pad()), "start"),
        (lambda: frost_run(280.0, WEATHER, 1.8, 70.0, 0.0, Pad(60.0, 0.85, 273.15)), "pad.hold"),
        (lambda: held_step(0.0, 60.0, 260.0, 1.8, 70.0, 0.0, Pad(60.0, 0.85, 270.0)), "pad.hold"),
        (lambda: frost_run(280.0, WEATHER, 1.8, 0.0, 0.0, Pad()), "mass, wall"),
    ],
)
def test_the_impossible_is_refused_by_name(call, message):
    with pytest.raises(ValueError, match=message):
        call()
