import ht
import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from vanwater.physics.nusselt import (
    cylinder_nusselt,
    plate_nusselt,
    still_cylinder_nusselt,
    still_down_nusselt,
    still_side_nusselt,
    still_up_nusselt,
)

REYNOLDS = st.floats(1e2, 1e7)
RAYLEIGH = st.floats(1e3, 1e11)
PRANDTL = 0.71


@given(REYNOLDS, st.floats(0.65, 8.0))
def test_the_plate_joins_the_laminar_and_the_turbulent_part_of_ht(reynolds, prandtl):
    laminar = 0.664 * np.sqrt(reynolds) * prandtl ** (1.0 / 3.0)
    turbulent = ht.Nu_horizontal_plate_turbulent_Schlichting(reynolds, prandtl)
    assert float(plate_nusselt(reynolds, prandtl)) == pytest.approx(np.hypot(laminar, turbulent), rel=1e-9)
    assert laminar == pytest.approx(ht.Nu_horizontal_plate_laminar_Baehr(reynolds, prandtl), rel=0.04)


@given(st.floats(1.0, 1e7), st.floats(0.65, 8.0))
def test_the_cylinder_agrees_with_ht_where_its_first_law_holds(reynolds, prandtl):
    judged = ht.Nu_cylinder_Churchill_Bernstein(reynolds, prandtl)
    ours = float(cylinder_nusselt(reynolds, prandtl))
    if reynolds <= 1e4:
        assert ours == pytest.approx(judged, rel=1e-9)
    assert judged * (1 - 1e-9) <= ours <= 1.2 * judged  # the first law reads up to 20 % low


@given(st.floats(2e4, 4e5))
def test_the_cylinder_takes_the_second_law_where_its_source_asks_for_it(reynolds):
    judged = 0.3 + 0.62 * reynolds**0.5 * 0.71 ** (1 / 3) / (1 + (0.4 / 0.71) ** (2 / 3)) ** 0.25 * (
        1 + (reynolds / 282000) ** 0.5
    )
    assert float(cylinder_nusselt(reynolds, 0.71)) == pytest.approx(judged, rel=1e-9)
    assert judged > 1.05 * ht.Nu_cylinder_Churchill_Bernstein(reynolds, 0.71)


def test_the_cylinder_agrees_with_other_correlations_within_their_scatter():
    """Incropera, example 7.4 (Re = 7992, air): Zukauskas prints 50.5, measured 102 W/(m²·K) means 49.3."""
    ours = float(cylinder_nusselt(7992.0, 0.7))
    assert ht.Nu_cylinder_Zukauskas(7992.0, 0.707, 0.690) == pytest.approx(50.5, rel=0.005)
    assert ours == pytest.approx(50.5, rel=0.2)
    assert ours == pytest.approx(102.0 * 0.0127 / 0.0263, rel=0.2)


@given(RAYLEIGH)
def test_upright_faces_and_cylinders_agree_with_ht(rayleigh):
    grashof = rayleigh / PRANDTL
    assert float(still_side_nusselt(rayleigh, PRANDTL)) == pytest.approx(
        ht.Nu_vertical_plate_Churchill(PRANDTL, grashof), rel=1e-6
    )
    assert float(still_cylinder_nusselt(rayleigh, PRANDTL)) == pytest.approx(
        ht.Nu_horizontal_cylinder_Churchill_Chu(PRANDTL, grashof), rel=1e-4
    )


@given(RAYLEIGH)
def test_level_faces_agree_with_ht_but_for_its_step(rayleigh):
    up = ht.Nu_horizontal_plate_McAdams(PRANDTL, rayleigh / PRANDTL, buoyancy=True)
    ours = float(still_up_nusselt(rayleigh))
    if 4.8e6 < rayleigh < 1.01e7:
        assert up <= ours <= 1.07 * up
    else:
        assert ours == pytest.approx(up, rel=1e-9)
    if rayleigh < 0.99e10:
        down = ht.Nu_horizontal_plate_McAdams(PRANDTL, rayleigh / PRANDTL, buoyancy=False)
        assert float(still_down_nusselt(rayleigh)) == pytest.approx(down, rel=1e-9)


@given(REYNOLDS, REYNOLDS)
def test_more_wind_never_takes_less(one, other):
    low, high = sorted([one, other])
    for function in (plate_nusselt, cylinder_nusselt):
        assert float(function(low, PRANDTL)) <= float(function(high, PRANDTL))


@given(RAYLEIGH, RAYLEIGH)
def test_more_buoyancy_never_takes_less(one, other):
    low, high = sorted([one, other])
    for function in (still_up_nusselt, still_down_nusselt):
        assert float(function(low)) <= float(function(high))
    for function in (still_side_nusselt, still_cylinder_nusselt):
        assert float(function(low, PRANDTL)) <= float(function(high, PRANDTL))


def test_there_is_no_step_and_no_wind_is_no_film():
    reynolds = np.geomspace(1.0, 1e7, 4000)
    steps = np.diff(plate_nusselt(reynolds, PRANDTL)) / plate_nusselt(reynolds[:-1], PRANDTL)
    assert np.max(np.abs(steps)) < 0.02
    across = cylinder_nusselt(reynolds, PRANDTL)
    assert np.max(np.abs(np.diff(across)) / across[:-1]) < 0.02
    assert float(plate_nusselt(0.0, PRANDTL)) == 0.0
