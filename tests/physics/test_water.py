import numpy as np
import pytest
from CoolProp.CoolProp import PropsSI
from hypothesis import given
from hypothesis import strategies as st
from iapws._iapws import _Ice, _Liquid
from iapws.iapws97 import _PSat_T

from vanwater.physics import water

CELSIUS = np.array([0.5, 5.0, 12.0, 20.0, 38.0, 62.0, 85.0, 95.0])
"""From a cold night to a hot heater [°C]."""


@pytest.mark.parametrize(
    ("function", "name", "relative"),
    [
        (water.density, "D", 1e-6),
        (water.heat_capacity, "C", 1e-4),
        (water.viscosity, "V", 1e-4),
        (water.conductivity, "L", 1e-4),
    ],
)
def test_liquid_agrees_with_iapws_95_of_coolprop(function, name, relative):
    kelvin = CELSIUS + 273.15
    judge = [PropsSI(name, "T", t, "P", 1e5, "Water") for t in kelvin]
    np.testing.assert_allclose(function(kelvin), judge, rtol=relative)


@pytest.mark.parametrize(
    ("function", "name", "factor"),
    [
        (water.density, "rho", 1.0),
        (water.heat_capacity, "cp", 1e3),
        (water.viscosity, "mu", 1.0),
        (water.conductivity, "k", 1.0),
    ],
)
@pytest.mark.parametrize("kelvin", [273.2, 280.0, 298.15, 330.0, 375.0])
def test_liquid_is_the_release_as_iapws_codes_it(function, name, factor, kelvin):
    assert float(function(kelvin)) == pytest.approx(_Liquid(kelvin)[name] * factor, rel=1e-12)


@pytest.mark.parametrize("kelvin", [255.0, 260.0, 270.0])
def test_supercooled_water_is_the_release_too(kelvin):
    judge = _Liquid(kelvin)
    assert float(water.density(kelvin)) == pytest.approx(judge["rho"], rel=1e-12)
    assert float(water.heat_capacity(kelvin)) == pytest.approx(judge["cp"] * 1e3, rel=1e-12)
    assert float(water.viscosity(kelvin)) == pytest.approx(judge["mu"], rel=1e-12)


def test_vapour_pressure_against_two_programs():
    kelvin = CELSIUS + 273.15
    by_iapws = [_PSat_T(t) * 1e6 for t in kelvin]
    by_coolprop = [PropsSI("P", "T", t, "Q", 0, "Water") for t in kelvin]
    np.testing.assert_allclose(water.vapour_pressure(kelvin), by_iapws, rtol=1e-12)
    np.testing.assert_allclose(water.vapour_pressure(kelvin), by_coolprop, rtol=2e-4)


def test_ice_agrees_with_the_release_on_ice():
    ice = _Ice(273.15, 0.101325)
    assert pytest.approx(ice["rho"], rel=1e-4) == water.ICE_DENSITY
    assert pytest.approx(ice["cp"] * 1e3, rel=1e-3) == water.ICE_HEAT_CAPACITY
    heat = PropsSI("H", "T", 273.16, "Q", 0, "Water") - ice["h"] * 1e3
    assert pytest.approx(heat, rel=5e-3) == water.LATENT_HEAT_OF_FUSION


def test_water_is_densest_near_four_degrees():
    celsius = np.linspace(0.1, 10.0, 991)
    assert celsius[np.argmax(water.density(celsius + 273.15))] == pytest.approx(3.98, abs=0.02)


@given(st.floats(273.16, 383.0), st.floats(0.01, 0.1))
def test_warmer_water_runs_easier_and_boils_sooner(kelvin, more):
    assert water.viscosity(kelvin + more) < water.viscosity(kelvin)
    assert water.vapour_pressure(kelvin + more) > water.vapour_pressure(kelvin)


@pytest.mark.parametrize(
    ("function", "kelvin"),
    [
        (water.density, 253.0),
        (water.density, 383.2),
        (water.heat_capacity, 20.0),
        (water.viscosity, float("nan")),
        (water.conductivity, 273.0),
        (water.vapour_pressure, 647.2),
    ],
)
def test_out_of_range_is_an_error_and_never_a_nan(function, kelvin):
    with pytest.raises(ValueError, match=r"temperature: .* outside the range"):
        function(kelvin)
    with pytest.raises(ValueError, match=r"temperature: .* outside the range"):
        function(np.array([300.0, kelvin]))


def test_shape_is_kept():
    kelvin = np.full((3, 4), 300.0)
    for function in (water.density, water.heat_capacity, water.viscosity, water.conductivity, water.vapour_pressure):
        assert function(kelvin).shape == (3, 4)
