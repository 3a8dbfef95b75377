from __future__ import annotations

import numpy as np
import pytest
from CoolProp.CoolProp import PropsSI

from vanwater.physics.fuel import BUTANE, DIESEL, PROPANE, burner_power, fuel_mass

# Standard heats of formation, kJ/mol (NIST, from memory): the products' water as vapour.
CARBON_DIOXIDE, VAPOUR = -393.51, -241.83


@pytest.mark.parametrize(
    ("value", "carbon", "formed", "molar"), [(PROPANE, 3, -104.7, 44.096), (BUTANE, 4, -125.6, 58.122)]
)
def test_heating_values_by_the_heats_of_formation(value: float, carbon: int, formed: float, molar: float) -> None:
    burnt = -(carbon * CARBON_DIOXIDE + (carbon + 1) * VAPOUR - formed)
    assert value == pytest.approx(burnt / molar * 1e6, rel=2e-3)


def test_diesel_lies_below_the_gases() -> None:
    assert 42e6 < DIESEL < 43.5e6 < BUTANE < PROPANE


def test_fuel_of_a_day_of_hot_water_by_hand() -> None:
    """40 L from 10 to 60 °C are 8.37 MJ; at 78 % of 46.3 MJ/kg 232 g of propane."""
    assert fuel_mass(40 * 4186 * 50, 0.78, PROPANE) == pytest.approx(0.2318, rel=1e-3)
    with pytest.raises(ValueError, match="efficiency"):
        fuel_mass(1.0, 0.0, PROPANE)
    with pytest.raises(ValueError, match="heating_value"):
        fuel_mass(1.0, 0.8, 0.0)


def test_thin_air_leaves_less_and_never_less_than_nothing() -> None:
    power = burner_power(1000.0, np.array([0.0, 600.0, 900.0, 2100.0, 20_000.0]))
    assert power == pytest.approx([1000.0, 1000.0, 965.0, 825.0, 0.0])


def test_butane_gives_no_gas_below_freezing_and_propane_does() -> None:
    """Boiling points at one atmosphere: what a bottle in frost can give."""
    assert PropsSI("T", "P", 101325, "Q", 0, "n-Butane") - 273.15 == pytest.approx(-0.5, abs=0.3)
    assert PropsSI("T", "P", 101325, "Q", 0, "n-Propane") - 273.15 == pytest.approx(-42.1, abs=0.3)
