import json
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from vanwater.physics.mass import centre_behind, centre_right, front_load, left_load, rear_load, right_load

VANS = json.loads((Path(__file__).parents[2] / "data" / "validation" / "worked_vans.json").read_text(encoding="utf-8"))
MASSES = st.floats(0.0, 500.0)
PLACES = st.floats(-1.5, 6.0)


@given(MASSES, PLACES, st.floats(2.0, 5.0))
def test_the_axles_carry_the_whole_mass_about_the_same_point(mass, place, wheelbase):
    front, rear = float(front_load(mass, place, wheelbase)), float(rear_load(mass, place, wheelbase))
    assert front + rear == pytest.approx(mass, abs=1e-9)
    assert rear * wheelbase == pytest.approx(mass * place, abs=1e-9)


@given(MASSES, st.floats(-1.0, 1.0), st.floats(1.3, 2.2))
def test_the_sides_carry_the_whole_mass_and_mirror(mass, offset, track):
    assert float(left_load(mass, offset, track)) == pytest.approx(float(right_load(mass, -offset, track)), abs=1e-9)
    assert float(left_load(mass, offset, track) + right_load(mass, offset, track)) == pytest.approx(mass, abs=1e-9)


@given(st.lists(st.tuples(st.floats(0.1, 300.0), PLACES, st.floats(-1.0, 1.0)), min_size=1, max_size=6))
def test_the_centre_of_several_masses_is_their_mean_by_weight(masses):
    weights, places, sides = (np.array(each) for each in zip(*masses, strict=True))
    behind = centre_behind(rear_load(weights, places, 3.6).sum(), weights.sum(), 3.6)
    right = centre_right((right_load(weights, sides, 1.8) - left_load(weights, sides, 1.8)).sum(), weights.sum(), 1.8)
    assert float(behind) == pytest.approx(np.average(places, weights=weights), abs=1e-9)
    assert float(right) == pytest.approx(np.average(sides, weights=weights), abs=1e-9)
    assert np.isnan(centre_behind(0.0, 0.0, 3.6)) and np.isnan(centre_right(0.0, 0.0, 1.8))


def test_a_mass_over_an_axle_rests_on_it_alone():
    assert float(front_load(80.0, 0.0, 3.6)) == 80.0
    assert float(rear_load(80.0, 0.0, 3.6)) == 0.0
    assert float(rear_load(80.0, 3.6, 3.6)) == 80.0


@pytest.mark.parametrize("scenario", VANS["scenarios"], ids=lambda scenario: scenario["id"])
@pytest.mark.parametrize("axle", ["front", "rear"])
@pytest.mark.parametrize("state", ["fresh and heater full, grey empty", "grey full, fresh empty, heater full"])
def test_worked_van_axles(scenario, axle, state):
    given_, load = scenario["inputs"]["axles"], front_load if axle == "front" else rear_load
    name = "fresh" if state.startswith("fresh") else "grey"
    mass = given_["fresh_kg" if name == "fresh" else "grey_full_kg"]
    change = load(mass, given_[f"{name}_x_m"], given_["wheelbase_m"]) + load(
        scenario["inputs"]["heater"]["volume_L"], given_["heater_x_m"], given_["wheelbase_m"]
    )
    quantity = f"change against all dry: {axle} axle, {state}"
    judge = next(row for row in scenario["expected"] if row["quantity"] == quantity)
    assert judge["tolerance_kind"] == "abs"
    assert float(change) == pytest.approx(judge["value"], abs=0.001)


def test_wheels_must_stand_apart():
    with pytest.raises(ValueError, match="wheelbase"):
        rear_load(80.0, 1.0, 0.0)
    with pytest.raises(ValueError, match="track"):
        left_load(80.0, 0.3, -1.0)
