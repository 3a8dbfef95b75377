import pytest
from hypothesis import given
from hypothesis import strategies as st

from vanwater.physics.statics import column_height, column_pressure


@given(st.floats(-5.0, 20.0), st.floats(950.0, 1000.0))
def test_column_there_and_back(height, density):
    assert float(column_height(column_pressure(height, density), density)) == pytest.approx(height)


def test_ten_metres_of_water_are_about_a_bar():
    assert float(column_pressure(10.0, 1000.0)) == pytest.approx(98066.5)
