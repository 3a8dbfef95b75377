import numpy as np
import pytest
from CoolProp.CoolProp import PropsSI
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import brentq

from vanwater.physics.accumulator import water_held
from vanwater.physics.expansion import expansion_volume, pressure_after_expansion


def test_ten_litres_warmed_by_55_kelvin_grow_by_a_fifth_of_a_litre():
    assert float(expansion_volume(10e-3, 285.15, 340.15)) == pytest.approx(0.2e-3, abs=0.01e-3)


@pytest.mark.parametrize(("cold", "hot"), [(278.15, 333.15), (288.15, 338.15), (283.15, 353.15)])
def test_growth_agrees_with_coolprop(cold, hot):
    dense = [PropsSI("D", "T", t, "P", 1e5, "Water") for t in (cold, hot)]
    assert float(expansion_volume(1.0, cold, hot)) == pytest.approx(dense[0] / dense[1] - 1.0, rel=1e-4)


def test_water_shrinks_between_0_and_4_degrees():
    assert float(expansion_volume(1.0, 273.15, 277.15)) < 0


@given(
    st.floats(0.0, 0.4e-3),
    st.floats(0.0, 3e5),
    st.floats(1e-12, 2e-10),
    st.floats(0.2e-3, 2e-3),
    st.floats(0.3e5, 3e5),
    st.floats(0.7e5, 1.03e5),
)
def test_what_line_and_gas_take_up_is_the_growth(growth, start, soft, volume, precharge, air):
    after = float(pressure_after_expansion(growth, start, soft, volume, precharge, air))
    taken = soft * (after - start)
    taken += float(water_held(volume, precharge, after, air) - water_held(volume, precharge, start, air))
    assert taken == pytest.approx(growth, rel=1e-9, abs=1e-14)


def test_the_quadratic_agrees_with_a_root_finder():
    def left(p):
        return 6e-11 * (p - 2e5) + float(water_held(1e-3, 1.3e5, p) - water_held(1e-3, 1.3e5, 2e5)) - 0.25e-3

    judged = brentq(left, 2e5, 1e8, xtol=1e-6)
    assert float(pressure_after_expansion(0.25e-3, 2e5, 6e-11, 1e-3, 1.3e5)) == pytest.approx(judged, rel=1e-9)


def test_an_accumulator_never_lets_the_pressure_rise_further_than_the_line_alone():
    growth = np.linspace(0.0, 0.3e-3, 13)
    with_gas = pressure_after_expansion(growth, 2e5, 6e-11, 1e-3, 1.3e5)
    assert np.all(with_gas <= pressure_after_expansion(growth, 2e5, 6e-11) + 1e-9)
    assert float(with_gas[-1]) < 5e5 < float(pressure_after_expansion(growth, 2e5, 6e-11)[-1])


def test_nothing_that_yields_means_no_end_of_pressure():
    assert np.isinf(pressure_after_expansion(0.2e-3, 2e5, 0.0))
    assert float(pressure_after_expansion(0.0, 2e5, 0.0)) == pytest.approx(2e5)
    assert np.isinf(pressure_after_expansion(2e-3, 2e5, 0.0, 1e-3, 1.3e5))


def test_a_storage_without_any_line_follows_boyle():
    after = float(pressure_after_expansion(0.2e-3, 2.4e5, 0.0, 1e-3, 1.3e5))
    assert float(water_held(1e-3, 1.3e5, after) - water_held(1e-3, 1.3e5, 2.4e5)) == pytest.approx(0.2e-3, rel=1e-12)


def test_negative_growth_is_refused():
    with pytest.raises(ValueError, match="expansion"):
        pressure_after_expansion(-1e-6, 2e5, 6e-11)
