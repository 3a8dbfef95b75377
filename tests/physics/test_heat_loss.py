import json
from pathlib import Path

import ht
import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from vanwater.physics._skin import settled_film
from vanwater.physics.film import Facing, combined_film, still_film, wind_film
from vanwater.physics.frost import holding_power, lowest_cold, pad_duty
from vanwater.physics.heat_loss import face_transmittance, surface_loss, surface_temperature, transmittance
from vanwater.physics.tank_faces import Faces, Layers
from vanwater.physics.tank_loss import conductance
from vanwater.quantities import Array

ZERO = 273.15
VANS = json.loads((Path(__file__).parents[2] / "data" / "validation" / "worked_vans.json").read_text(encoding="utf-8"))
SCENARIOS = {scenario["id"]: scenario for scenario in VANS["scenarios"]}

FILMS = st.floats(2.0, 300.0)
THICK = st.floats(0.0, 0.1)
CONDUCTS = st.floats(0.02, 0.6)


def expected(scenario, quantity):
    return next(row for row in scenario["expected"] if row["quantity"] == quantity)


def within(found, judge):
    margin = judge["tolerance"] * abs(judge["value"]) if judge["tolerance_kind"] == "rel" else judge["tolerance"]
    return abs(found - judge["value"]) <= margin


def foamed(foam):
    """A plastic wall of 5 mm with foam around it."""
    return Layers(wall=5e-3, wall_conductivity=0.4, foam=foam, foam_conductivity=0.036)


def losses(scenario):
    """Conductance of the van's tank parked and driving."""
    given = scenario["inputs"]["frost"]
    tank = given["tank"]
    layers = Layers(
        wall=tank["wall_mm"] * 1e-3,
        wall_conductivity=tank["k_wall"],
        foam=tank["foam_mm"] * 1e-3,
        foam_conductivity=tank["k_foam"],
        inside_film=tank["h_in"],
    )
    faces = Faces.of_box(tank["L"], tank["W"], tank["H"])
    speeds = given["wind_parked_m_s"], given["speed_km_h"] / 3.6 * given["underbody_share"]
    hold, outside = given["T_hold"] + ZERO, given["T_out"] + ZERO
    return [conductance(faces.area, face_transmittance(hold, outside, layers, faces, speed)) for speed in speeds]


@pytest.mark.parametrize("scenario", SCENARIOS.values(), ids=SCENARIOS.keys())
def test_worked_van_tank(scenario):
    given = scenario["inputs"]["frost"]
    hold, outside = given["T_hold"] + ZERO, given["T_out"] + ZERO
    parked, driving = losses(scenario)
    pad, share = given["pad_W"], given["pad_share_into_water"]
    found = {
        "tank heat loss at hold temperature, parked": holding_power(parked, hold, outside),
        "tank heat loss at hold temperature, driving": holding_power(driving, hold, outside),
        "ratio of loss driving to parked": driving / parked,
        "lowest cold the pad holds, parked": lowest_cold(hold, pad, share, parked) - ZERO,
        "lowest cold the pad holds, driving": lowest_cold(hold, pad, share, driving) - ZERO,
        "pad duty parked at design cold (over 1 = does not hold)": pad_duty(
            holding_power(parked, hold, outside), pad, share
        ),
    }
    for quantity, value in found.items():
        assert within(float(value), expected(scenario, quantity)), quantity


@pytest.mark.parametrize("scenario", SCENARIOS.values(), ids=SCENARIOS.keys())
@pytest.mark.parametrize("which", [0, 1], ids=["parked", "driving"])
def test_worked_van_tank_with_the_film_of_its_own_correlation(scenario, which):
    """With the hand sum's own film everything else agrees to its printed digits."""
    given, tank = scenario["inputs"]["frost"], scenario["inputs"]["frost"]["tank"]
    celsius = given["T_out"]
    speed = (given["wind_parked_m_s"], given["speed_km_h"] / 3.6 * given["underbody_share"])[which]
    reynolds = speed * tank["L"] / ((1.33 + 0.0090 * celsius) * 1e-5)
    laminar, turbulent = 0.664 * reynolds**0.5, 0.037 * reynolds**0.8
    film = (laminar if reynolds < 5e5 else turbulent) * 0.71 ** (1 / 3) * (0.0243 + 7.2e-5 * celsius) / tank["L"]
    film += 4 * 0.9 * 5.670374419e-8 * (celsius + 1 + ZERO) ** 3
    u = transmittance(
        tank["h_in"], tank["wall_mm"] * 1e-3, tank["k_wall"], tank["foam_mm"] * 1e-3, tank["k_foam"], film
    )
    area = Faces.of_box(tank["L"], tank["W"], tank["H"]).area
    loss = holding_power(conductance(area, np.broadcast_to(u, (6,))), given["T_hold"] + ZERO, celsius + ZERO)
    judge = expected(scenario, f"tank heat loss at hold temperature, {('parked', 'driving')[which]}")
    assert float(loss) == pytest.approx(judge["value"], rel=1e-4)


@given(FILMS, THICK, CONDUCTS, THICK, CONDUCTS, FILMS)
def test_layers_in_series_agree_with_ht(inside, wall, wall_conducts, foam, foam_conducts, outside):
    resistance = 1 / inside + 1 / outside
    for thick, conducts in ((wall, wall_conducts), (foam, foam_conducts)):
        resistance += ht.k_to_R(k=conducts, t=thick)
    ours = float(transmittance(inside, wall, wall_conducts, foam, foam_conducts, outside))
    assert ours == pytest.approx(1 / resistance, rel=1e-9)


@given(FILMS, THICK, CONDUCTS, THICK, CONDUCTS, FILMS, st.floats(240, 320), st.floats(240, 320))
def test_the_surface_passes_on_what_the_layers_pass(
    inside, wall, wall_conducts, foam, foam_conducts, outside, warm, cold
):
    u = transmittance(inside, wall, wall_conducts, foam, foam_conducts, outside)
    surface = surface_temperature(u, outside, warm, cold)
    assert float(outside * (surface - cold)) == pytest.approx(float(u) * (warm - cold), rel=1e-6, abs=1e-9)
    assert min(warm, cold) - 1e-9 <= float(surface) <= max(warm, cold) + 1e-9


@given(
    st.floats(275, 290),
    st.floats(240, 274),
    THICK,
    st.floats(0.0, 30.0),
    st.sampled_from(list(Facing)),
    st.floats(0.1, 1.0),
)
def test_the_face_found_by_repeating_is_in_balance(inside, cold, foam, speed, facing, size):
    """What passes the layers leaves the skin by wind, buoyancy and radiation: a second way to the same heat."""
    faces = Faces(np.array([1.0]), np.array([0.8]), np.array([size]), (facing,))
    layers = foamed(foam)
    u = face_transmittance(inside, cold, layers, faces, speed)
    heat = u * (inside - cold)
    inner = 1 / layers.inside_film + layers.wall / layers.wall_conductivity + foam / layers.foam_conductivity
    surface = inside - heat * inner
    convection = combined_film(wind_film(speed, 0.8, cold), still_film(surface, cold, faces.size, (facing,)))
    leaves = surface_loss(1.0, convection, surface, cold, layers.emissivity)
    assert float(heat[0]) == pytest.approx(float(leaves[0]), rel=2e-5, abs=1e-6)


@given(st.floats(275, 290), st.floats(240, 274), THICK, THICK, st.floats(0.0, 30.0))
def test_foam_on_a_cold_face_never_draws_more(inside, cold, one, other, speed):
    thin, thick = sorted([one, other])
    faces = Faces.of_box(0.8, 0.45, 0.2)
    less, more = (face_transmittance(inside, cold, foamed(e), faces, speed) for e in (thick, thin))
    assert np.all(less <= more * (1 + 1e-6))


@given(st.floats(275, 290), st.floats(238, 273), st.floats(238, 273), THICK, st.floats(0.0, 30.0))
def test_colder_air_never_draws_less(inside, one, other, foam, speed):
    colder, milder = sorted([one, other])
    faces, layers = (
        Faces.of_box(0.8, 0.45, 0.2),
        foamed(foam),
    )
    drawn = [
        float(conductance(faces.area, face_transmittance(inside, t, layers, faces, speed))) * (inside - t)
        for t in (colder, milder)
    ]
    assert drawn[0] >= drawn[1] * (1 - 1e-6)


def test_driving_multiplies_a_bare_tank_and_hardly_moves_a_foamed_one():
    faces = Faces.of_box(0.8, 0.45, 0.2)
    for foam, low, high in ((0.0, 2.0, 4.0), (20e-3, 1.05, 1.2)):
        layers = foamed(foam)
        parked, driving = (
            conductance(faces.area, face_transmittance(277.15, 265.15, layers, faces, v)) for v in (1.5, 12.5)
        )
        assert low < float(driving / parked) < high


def test_a_row_for_each_design_and_a_speed_for_each_face():
    faces = Faces.of_box(np.array([0.8, 1.0]), 0.45, 0.2)
    layers = foamed(np.array([[0.0], [0.02]]))
    speed = np.array([1.5, 0.0, 1.5, 1.5, 1.5, 1.5])
    together = face_transmittance(277.15, 265.15, layers, faces, speed)
    assert together.shape == (2, 6)
    alone = face_transmittance(
        277.15,
        265.15,
        foamed(0.02),
        Faces.of_box(1.0, 0.45, 0.2),
        speed,
    )
    np.testing.assert_allclose(together[1], alone, rtol=1e-6)


def test_the_upward_plate_of_a_textbook_lies_where_its_law_ends():
    """Cengel, example 9-2, prints 128 W for the hot face up with 0.54 Ra^¼ at Ra = 1.2e7; ours takes the larger law."""
    found = float(still_film(363.15, 303.15, 0.15, Facing.UP)) * 0.36 * 60
    assert 1.05 * 128 < found < 1.12 * 128


@pytest.mark.parametrize(
    ("call", "message"),
    [
        (lambda: transmittance(0.0, 5e-3, 0.4, 0.02, 0.036, 10.0), "inside_film"),
        (lambda: transmittance(150.0, -5e-3, 0.4, 0.02, 0.036, 10.0), "wall"),
        (lambda: transmittance(150.0, 5e-3, 0.4, 0.02, 0.0, 10.0), "foam_conductivity"),
        (lambda: surface_temperature(1.0, 0.0, 280.0, 260.0), "outside_film"),
    ],
)
def test_the_impossible_is_refused_by_name(call, message):
    with pytest.raises(ValueError, match=message):
        call()


def test_a_film_settles_the_same_whatever_is_asked_with_it() -> None:
    difference, resistance = np.array([0.01, 1.0, 8.0, 40.0, 90.0]), np.array([0.02, 0.3, 1.2, 0.05, 3.0])

    def settled(places: slice) -> Array:
        usual = np.full(5, 8.0)[places]
        return settled_film(difference[places], resistance[places], lambda skin: 1.4 * np.abs(skin) ** 0.25, usual)

    together = settled(slice(None))
    assert [settled(slice(place, place + 1))[0] for place in range(5)] == together.tolist()
    skin = difference / (1.0 + resistance * together)
    assert together == pytest.approx(1.4 * skin**0.25, rel=3e-5)
