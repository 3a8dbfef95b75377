import numpy as np
import pytest
from fluids.geometry import TANK
from hypothesis import given
from hypothesis import strategies as st

from vanwater.physics.level import (
    box_level,
    dip_level,
    dip_volume,
    horizontal_cylinder_level,
    vertical_cylinder_level,
)
from vanwater.physics.vessel import box_volume, horizontal_cylinder_volume, vertical_cylinder_volume

LEVELS = np.array([0.0, 0.03, 0.1, 0.22])
VOLUMES = np.array([0.0, 0.008, 0.042, 0.11])
SIDES = st.floats(0.1, 1.5)
SHARES = st.floats(0.0, 1.0)


@given(SIDES, SIDES, st.floats(0.0, 0.6))
def test_box_and_standing_cylinder_there_and_back(length, width, level):
    assert float(box_level(box_volume(level, length, width), length, width)) == pytest.approx(level)
    assert float(vertical_cylinder_level(vertical_cylinder_volume(level, width), width)) == pytest.approx(level)


@given(SIDES, SIDES, SHARES)
def test_lying_cylinder_there_and_back(diameter, length, share):
    volume = horizontal_cylinder_volume(share * diameter, diameter, length)
    level = horizontal_cylinder_level(volume, diameter, length)
    assert float(horizontal_cylinder_volume(level, diameter, length)) == pytest.approx(float(volume), rel=1e-12)
    assert float(level) == pytest.approx(share * diameter, abs=1e-8 * diameter)


@pytest.mark.parametrize("share", [0.02, 0.3, 0.5, 0.81, 0.99])
def test_lying_cylinder_agrees_with_fluids(share):
    tank = TANK(D=0.32, L=0.9, horizontal=True)
    volume = share * tank.V_total
    assert float(horizontal_cylinder_level(volume, 0.32, 0.9)) == pytest.approx(
        tank.h_from_V(volume, method="brenth"), rel=1e-9
    )


def test_lying_cylinder_rows_with_empty_full_and_beyond():
    full = float(horizontal_cylinder_volume(0.3, 0.3, 1.0))
    levels = horizontal_cylinder_level(np.array([-1.0, 0.0, 0.5 * full, full, 2.0 * full]), 0.3, 1.0)
    np.testing.assert_allclose(levels, [0.0, 0.0, 0.15, 0.3, 0.3], atol=1e-12)


@given(st.floats(0.0, 0.22))
def test_dip_table_is_numpy_s_straight_lines_and_comes_back(level):
    volume = dip_volume(level, LEVELS, VOLUMES)
    assert float(volume) == pytest.approx(float(np.interp(level, LEVELS, VOLUMES)), abs=1e-15)
    assert float(dip_level(volume, LEVELS, VOLUMES)) == pytest.approx(level, abs=1e-12)


def test_dip_table_ends_where_it_ends():
    assert float(dip_volume(0.5, LEVELS, VOLUMES)) == pytest.approx(0.11)
    assert float(dip_level(0.5, LEVELS, VOLUMES)) == pytest.approx(0.22)
    assert float(dip_volume(-0.1, LEVELS, VOLUMES)) == 0.0


@pytest.mark.parametrize(
    ("levels", "volumes", "message"),
    [
        (LEVELS[::-1], VOLUMES, "does not rise"),
        (LEVELS, VOLUMES * 0.0, "does not rise"),
        (LEVELS[:1], VOLUMES[:1], "two points"),
        (LEVELS[:2], VOLUMES, "two points"),
    ],
)
def test_an_impossible_dip_table_is_refused(levels, volumes, message):
    with pytest.raises(ValueError, match=message):
        dip_volume(0.1, levels, volumes)


def test_impossible_sides_are_refused():
    for call in (
        lambda: box_level(0.01, 0.0, 1.0),
        lambda: vertical_cylinder_level(0.01, 0.0),
        lambda: horizontal_cylinder_level(0.01, 0.3, 0.0),
    ):
        with pytest.raises(ValueError, match="must lie above zero"):
            call()
