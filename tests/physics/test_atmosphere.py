import pytest
from fluids.atmosphere import ATMOSPHERE_1976
from hypothesis import given
from hypothesis import strategies as st

from vanwater.physics.atmosphere import air_pressure


@pytest.mark.parametrize("altitude", [-300.0, 0.0, 450.0, 1000.0, 2300.0, 4000.0])
def test_pressure_agrees_with_the_us_standard_atmosphere_of_fluids(altitude):
    """Judge: it takes the geometric altitude."""
    geometric = altitude / (1.0 - altitude / 6356766.0)
    assert float(air_pressure(altitude)) == pytest.approx(ATMOSPHERE_1976(geometric).P, rel=2e-5)


@given(st.floats(-1900.0, 10900.0), st.floats(1.0, 90.0))
def test_higher_is_thinner(altitude, more):
    assert air_pressure(altitude + more) < air_pressure(altitude)


@pytest.mark.parametrize("altitude", [-2500.0, 12000.0, float("nan")])
def test_an_altitude_beyond_the_standard_is_refused(altitude):
    with pytest.raises(ValueError, match="altitude"):
        air_pressure(altitude)
