import ht
import numpy as np
import pytest
from CoolProp.CoolProp import PropsSI
from hypothesis import given
from hypothesis import strategies as st

from vanwater.physics.film import (
    STEFAN_BOLTZMANN,
    Facing,
    combined_film,
    radiation_film,
    still_film,
    still_film_round,
    wind_film,
    wind_film_round,
)

COLD = st.floats(238.15, 288.15)
SPEED = st.floats(0.1, 30.0)
WARMER = st.floats(0.5, 30.0)


def air(name, kelvin):
    return PropsSI(name, "T", kelvin, "P", 101325.0, "Air")


@given(SPEED, st.floats(0.2, 1.5), COLD)
def test_wind_along_a_face_agrees_with_ht_and_coolprop(speed, length, cold):
    reynolds = speed * length * air("D", cold) / air("V", cold)
    laminar = ht.Nu_horizontal_plate_laminar_Baehr(reynolds, air("Prandtl", cold))
    turbulent = ht.Nu_horizontal_plate_turbulent_Schlichting(reynolds, air("Prandtl", cold))
    judged = np.hypot(laminar, turbulent) * air("L", cold) / length
    assert float(wind_film(speed, length, cold)) == pytest.approx(judged, rel=0.03)


@given(SPEED, st.floats(5e-3, 0.06), COLD)
def test_wind_across_a_hose_agrees_with_ht_and_coolprop(speed, diameter, cold):
    reynolds = speed * diameter * air("D", cold) / air("V", cold)
    judged = ht.Nu_cylinder_Churchill_Bernstein(reynolds, air("Prandtl", cold)) * air("L", cold) / diameter
    if reynolds < 9.9e3:
        assert float(wind_film_round(speed, diameter, cold)) == pytest.approx(judged, rel=0.02)
    else:
        assert 0.98 * judged <= float(wind_film_round(speed, diameter, cold)) <= 1.2 * judged


@pytest.mark.parametrize("facing", list(Facing))
@given(COLD, WARMER, st.floats(0.05, 0.5))
def test_still_air_agrees_with_ht_and_coolprop(facing, cold, warmer, size):
    mean = cold + warmer / 2
    nu = air("V", mean) / air("D", mean)
    grashof = 9.80665 / mean * warmer * size**3 / nu**2
    prandtl = air("Prandtl", mean)
    if facing is Facing.SIDE:
        judged = ht.Nu_vertical_plate_Churchill(prandtl, grashof)
        near = 0.02
    else:
        judged = ht.Nu_horizontal_plate_McAdams(prandtl, grashof, buoyancy=facing is Facing.UP)
        near = 0.08 if facing is Facing.UP else 0.02  # where ht has its step of 6 %
    found = float(still_film(cold + warmer, cold, size, facing))
    assert found == pytest.approx(judged * air("L", mean) / size, rel=near)


@given(COLD, WARMER, st.floats(0.05, 0.5))
def test_a_cold_face_is_a_warm_one_turned_over(cold, warmer, size):
    """Same mean temperature of the air, so the same film but for the side it looks to."""
    for facing, turned in ((Facing.UP, Facing.DOWN), (Facing.DOWN, Facing.UP), (Facing.SIDE, Facing.SIDE)):
        warm_face = float(still_film(cold + warmer, cold, size, facing))
        cold_face = float(still_film(cold, cold + warmer, size, turned))
        assert warm_face == pytest.approx(cold_face, rel=1e-12)


def test_a_sequence_of_faces_is_each_face_alone():
    facing = (Facing.UP, Facing.SIDE, Facing.DOWN)
    together = still_film(283.15, 263.15, np.array([0.2, 0.3, 0.2]), facing)
    alone = [float(still_film(283.15, 263.15, size, one)) for size, one in zip((0.2, 0.3, 0.2), facing, strict=True)]
    np.testing.assert_allclose(together, alone)
    assert float(still_film(283.15, 263.15, 0.2, Facing("up"))) == pytest.approx(alone[0])


@given(st.floats(230.0, 400.0), st.floats(230.0, 400.0), st.floats(0.0, 1.0))
def test_radiation_is_the_difference_of_fourth_powers(one, other, emissivity):
    heat = emissivity * STEFAN_BOLTZMANN * (one**4 - other**4)
    assert float(radiation_film(one, other, emissivity)) * (one - other) == pytest.approx(heat, rel=1e-9, abs=1e-9)
    assert float(radiation_film(one, one, emissivity)) == pytest.approx(4 * emissivity * STEFAN_BOLTZMANN * one**3)


@given(st.floats(1e-3, 100.0), st.floats(1e-3, 100.0))
def test_both_together_take_more_than_the_stronger_and_less_than_the_sum(wind, still):
    both = float(combined_film(wind, still))
    assert max(wind, still) * (1 - 1e-12) <= both <= (wind + still) * (1 + 1e-12)


@given(SPEED, SPEED, st.floats(0.7e5, 1.02e5), st.floats(0.7e5, 1.02e5))
def test_more_wind_and_thicker_air_never_take_less(one, other, thin, thick):
    slow, fast = sorted([one, other])
    thin, thick = sorted([thin, thick])
    for function, size in ((wind_film, 0.8), (wind_film_round, 0.02)):
        assert float(function(slow, size, 263.15, thin)) <= float(function(fast, size, 263.15, thick)) * (1 + 1e-12)


@pytest.mark.parametrize(
    ("film", "low", "high"),
    [
        (lambda air: wind_film(10.0, 0.8, 263.15, air), 0.5, 0.8),
        (lambda air: wind_film_round(10.0, 0.02, 263.15, air), 0.45, 0.8),
        (lambda air: still_film(273.15, 263.15, 0.2, Facing.DOWN, air), 0.499, 0.501),  # Ra^¼, and Ra goes by ρ²
        (lambda air: still_film(273.15, 263.15, 0.2, Facing.SIDE, air), 0.4, 0.67),
        (lambda air: still_film_round(273.15, 263.15, 0.02, air), 0.3, 0.67),
    ],
)
def test_thin_air_takes_less_by_the_power_of_its_law(film, low, high):
    thin, thick = 79495.0, 101325.0
    assert low < float(np.log(film(thick) / film(thin)) / np.log(thick / thin)) < high


@pytest.mark.parametrize("speed", [1.0, 1.5, 3.0, 5.0, 8.0, 12.5])
def test_wind_takes_what_building_practice_says(speed):
    """ISO 6946 counts 4 + 4 v W/(m²·K) for the convection of outside walls (from memory), whatever their size."""
    assert float(wind_film(speed, 0.8, 273.15)) == pytest.approx(4.0 + 4.0 * speed, rel=0.2)


@pytest.mark.parametrize("warmer", [2.0, 10.0, 30.0])
def test_still_air_takes_what_the_simple_formulas_say(warmer):
    """Holman, Heat Transfer, simplified equations for air (from memory): 1.42 (ΔT/L)^¼ upright, 1.32 (ΔT/d)^¼ round."""
    upright = float(still_film(273.15 + warmer, 273.15, 0.2, Facing.SIDE))
    hose = float(still_film_round(273.15 + warmer, 273.15, 0.03))
    assert upright == pytest.approx(1.42 * (warmer / 0.2) ** 0.25, rel=0.2)
    assert hose == pytest.approx(1.32 * (warmer / 0.03) ** 0.25, rel=0.2)


@pytest.mark.parametrize(
    ("call", "message"),
    [
        (lambda: wind_film(-1.0, 0.8, 265.15), "speed"),
        (lambda: wind_film(1.0, 0.0, 265.15), "size"),
        (lambda: still_film(270.0, 260.0, 0.0, Facing.UP), "size"),
    ],
)
def test_the_impossible_is_refused_by_name(call, message):
    with pytest.raises(ValueError, match=message):
        call()
