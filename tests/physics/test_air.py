import numpy as np
import pytest
from CoolProp.CoolProp import PropsSI

from vanwater.physics.air import AIR_HEAT_CAPACITY, air_conductivity, air_density, air_prandtl, air_viscosity

KELVIN = np.linspace(213.15, 393.15, 13)


@pytest.mark.parametrize(
    ("function", "name", "near"),
    [
        (air_density, "D", 0.002),
        (air_viscosity, "V", 0.01),
        (air_conductivity, "L", 0.02),
        (air_prandtl, "Prandtl", 0.022),
    ],
)
def test_air_agrees_with_coolprop_from_minus_60_to_120_degrees(function, name, near):
    judged = PropsSI(name, "T", KELVIN, "P", 101325.0, "Air")
    np.testing.assert_allclose(function(KELVIN), judged, rtol=near)


def test_the_heat_capacity_is_that_of_coolprop():
    judged = PropsSI("C", "T", np.linspace(223.15, 333.15, 5), "P", 101325.0, "Air")
    np.testing.assert_allclose(judged, AIR_HEAT_CAPACITY, rtol=0.003)


def test_thin_air_is_lighter_by_its_pressure():
    assert float(air_density(280.0, 79495.0) / air_density(280.0)) == pytest.approx(79495.0 / 101325.0)


def test_values_of_the_standard_atmosphere():
    """ISO 2533 prints 1.225 kg/m³, 17.894 µPa·s and 0.025343 W/(m·K) at 15 °C (from memory)."""
    found = [float(f(288.15)) for f in (air_density, air_viscosity, air_conductivity)]
    assert found == pytest.approx([1.225, 17.894e-6, 0.025343], rel=2e-4)
