import json
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from vanwater.physics.cooling import time_until
from vanwater.physics.frost import (
    freezing_time,
    holding_power,
    lowest_cold,
    pad_duty,
    pad_energy,
    smallest_pad,
)
from vanwater.physics.heat_loss import face_transmittance
from vanwater.physics.pipe_loss import Pipe, pipe_conductance_in_air
from vanwater.physics.tank_faces import Faces, Layers
from vanwater.physics.tank_loss import conductance

ZERO, HOUR = 273.15, 3600.0
VANS = json.loads((Path(__file__).parents[2] / "data" / "validation" / "worked_vans.json").read_text(encoding="utf-8"))
SCENARIOS = {scenario["id"]: scenario for scenario in VANS["scenarios"]}
PASSES = st.floats(0.1, 10.0)
PADS = st.floats(5.0, 200.0)
SHARES = st.floats(0.3, 1.0)
COLD = st.floats(238.15, 273.0)


def expected(scenario, quantity):
    return next(row for row in scenario["expected"] if row["quantity"] == quantity)


def within(found, judge):
    margin = judge["tolerance"] * abs(judge["value"]) if judge["tolerance_kind"] == "rel" else judge["tolerance"]
    return abs(found - judge["value"]) <= margin


def worked(scenario):
    given, tank = scenario["inputs"]["frost"], scenario["inputs"]["frost"]["tank"]
    layers = Layers(
        wall=tank["wall_mm"] * 1e-3,
        wall_conductivity=tank["k_wall"],
        foam=tank["foam_mm"] * 1e-3,
        foam_conductivity=tank["k_foam"],
        inside_film=tank["h_in"],
    )
    faces = Faces.of_box(tank["L"], tank["W"], tank["H"])
    speeds = given["wind_parked_m_s"], given["speed_km_h"] / 3.6 * given["underbody_share"]
    start, outside, mass = given["T_start"] + ZERO, given["T_out"] + ZERO, tank["litres"]
    passes = [
        conductance(faces.area, face_transmittance(given["T_hold"] + ZERO, outside, layers, faces, speed))
        for speed in speeds
    ]
    hours = [float(time_until(start, ZERO, outside, ua, mass)) / HOUR for ua in passes]
    return {
        "hours to 0 C, tank at stated litres, parked, no heat": hours[0],
        "hours to 0 C, tank at stated litres, driving, no heat": hours[1],
        "hours at 0 C until the stated share of the tank is ice, parked": float(
            freezing_time(given["ice_share"], mass, passes[0], outside)
        )
        / HOUR,
    }


@pytest.mark.parametrize("name", SCENARIOS)
@pytest.mark.parametrize("quantity", list(worked(SCENARIOS["S1"])))
def test_worked_van_frost(name, quantity):
    assert within(worked(SCENARIOS[name])[quantity], expected(SCENARIOS[name], quantity))


@pytest.mark.parametrize("name", SCENARIOS)
def test_worked_van_the_pipe_freezes_first(name):
    scenario = SCENARIOS[name]
    given, pipe = scenario["inputs"]["frost"], scenario["inputs"]["frost"]["pipe"]
    bore = pipe["bore_mm"] * 1e-3
    built = Pipe(
        length=1.0,
        bore=bore,
        outside=pipe["od_mm"] * 1e-3,
        wall_conductivity=pipe["k_wall"],
        foam=pipe["foam_mm"] * 1e-3,
        foam_conductivity=pipe["k_foam"],
    )
    start, outside = given["T_start"] + ZERO, given["T_out"] + ZERO
    passes = pipe_conductance_in_air(start, outside, built, given["wind_parked_m_s"])
    hours = {
        "pipe": float(time_until(start, ZERO, outside, passes, np.pi / 4 * bore**2 * 1000.0)) / HOUR,
        "tank": worked(scenario)["hours to 0 C, tank at stated litres, parked, no heat"],
    }
    assert min(hours, key=hours.get) == expected(scenario, "freezes first")["value"]


@pytest.mark.parametrize(("name", "ua"), [("S1", 1.787), ("S3", 1.833)])
def test_worked_van_sums_with_its_own_conductance(name, ua):
    """With the hand sum's own conductance (four digits) every sum agrees to 0.1 %."""
    scenario = SCENARIOS[name]
    given = scenario["inputs"]["frost"]
    hold, outside = given["T_hold"] + ZERO, given["T_out"] + ZERO
    needed = holding_power(ua, hold, outside)
    duty = pad_duty(needed, given["pad_W"], given["pad_share_into_water"])
    lowest = lowest_cold(hold, given["pad_W"], given["pad_share_into_water"], ua)
    ice = freezing_time(given["ice_share"], given["tank"]["litres"], ua, outside)
    found = {
        "tank heat loss at hold temperature, parked": needed,
        "pad duty parked at design cold (over 1 = does not hold)": duty,
        "lowest cold the pad holds, parked": lowest - ZERO,
        "hours at 0 C until the stated share of the tank is ice, parked": ice / HOUR,
    }
    for quantity, value in found.items():
        assert float(value) == pytest.approx(expected(scenario, quantity)["value"], rel=1e-3), quantity


@given(PASSES, st.floats(274.15, 283.15), PADS, SHARES)
def test_at_the_lowest_cold_the_pad_is_always_on(passes, hold, pad, share):
    lowest = lowest_cold(hold, pad, share, passes)
    needed = holding_power(passes, hold, lowest)
    assert float(pad_duty(needed, pad, share)) == pytest.approx(1.0)
    assert float(smallest_pad(needed, share)) == pytest.approx(pad)


@given(PASSES, st.floats(274.15, 283.15), COLD, COLD)
def test_colder_never_draws_less(passes, hold, one, other):
    colder, milder = sorted([one, other])
    assert float(holding_power(passes, hold, colder)) >= float(holding_power(passes, hold, milder))


@given(st.floats(0.0, 3.0), PADS)
def test_a_pad_never_draws_more_than_its_power(duty, pad):
    drawn = float(pad_energy(duty, pad))
    assert drawn == pytest.approx(min(duty, 1.0) * pad)


def test_warm_surroundings_need_nothing():
    assert float(holding_power(1.8, 277.15, 285.15)) == 0.0
    assert np.isinf(freezing_time(0.1, 70.0, 1.8, 274.15))
    assert np.isinf(freezing_time(0.1, 70.0, 1.8, 265.15, 51.0))
    assert float(freezing_time(0.0, 70.0, 1.8, 274.15)) == 0.0


def test_the_last_tenth_freezes_ten_times_sooner_than_the_full_tank():
    full, tenth = freezing_time(0.1, np.array([70.0, 7.0]), 1.8, 265.15)
    assert float(full) == pytest.approx(10 * float(tenth))


@pytest.mark.parametrize(
    ("call", "message"),
    [
        (lambda: pad_duty(20.0, 0.0, 0.85), "pad"),
        (lambda: pad_duty(20.0, 60.0, 0.0), "net_share"),
        (lambda: lowest_cold(277.15, 60.0, 0.85, 0.0), "conductance"),
        (lambda: freezing_time(1.2, 70.0, 1.8, 265.15), "ice_share: 1.2"),
    ],
)
def test_the_impossible_is_refused_by_name(call, message):
    with pytest.raises(ValueError, match=message):
        call()
