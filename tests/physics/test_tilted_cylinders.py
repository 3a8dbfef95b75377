import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from vanwater.physics.tilted_cylinders import (
    horizontal_cylinder_volume_below,
    surface_slope,
    vertical_cylinder_volume_below,
)
from vanwater.physics.vessel import box_volume_below, horizontal_cylinder_volume, vertical_cylinder_volume

SHARES = st.tuples(st.floats(0.0, 1.0), st.floats(0.0, 1.0), st.floats(0.0, 1.0))
TILTS = st.tuples(st.floats(-20.0, 20.0), st.floats(-20.0, 20.0))


def sown(inside, sides, point, tilt, count=400_000):
    """Water below a plane by points sown in a box around a tank: it is level, so the point's height decides.

    Each point is turned into the earth's frame; sines of the slopes are what a spirit level shows.
    """
    seeds = np.random.default_rng(7).random((count, 3)) * sides
    along, across = np.sin(np.radians(tilt))
    up = np.array([along, across, np.sqrt(1.0 - along**2 - across**2)])
    below_it = (seeds - np.asarray(point)) @ up <= 0.0
    share = np.mean(inside(seeds) & below_it)
    return share * np.prod(sides), np.sqrt(share * (1 - share) / count) * np.prod(sides)


CYLINDER_TILTS = [(0.0, 0.0), (3.0, 0.0), (0.0, -4.0), (5.0, 6.0), (-15.0, 2.0), (1e-9, 0.0), (12.0, -15.0)]


@pytest.mark.parametrize("tilt", CYLINDER_TILTS)
@pytest.mark.parametrize("share", [(0.5, 0.5, 0.03), (1.0, 0.5, 0.1), (0.1, 0.8, 0.95), (0.5, 0.5, 0.5)])
def test_tilted_cylinders_agree_with_points_sown_at_random(tilt, share):
    wide, long = 0.3, 0.9
    angles = np.radians(tilt)

    def lying(at):
        return np.hypot(at[:, 1] - wide / 2, at[:, 2] - wide / 2) <= wide / 2

    def standing(at):
        return np.hypot(at[:, 0] - wide / 2, at[:, 1] - wide / 2) <= wide / 2

    for inside, sides, ours in (
        (lying, (long, wide, wide), horizontal_cylinder_volume_below),
        (standing, (wide, wide, long), vertical_cylinder_volume_below),
    ):
        point = np.multiply(sides, share)
        judged, scatter = sown(inside, sides, point, tilt)
        assert float(ours(wide, long, *point, *angles)) == pytest.approx(judged, abs=5 * scatter + 1e-6)


@given(st.floats(0.1, 0.6), st.floats(0.2, 2.0), SHARES, TILTS)
def test_tilted_cylinders_agree_with_fine_slices(wide, long, shares, tilt):
    angles = np.radians(tilt)
    along, across = np.sin(angles)
    up = np.sqrt(1.0 - along**2 - across**2)
    cut = (np.arange(4000) + 0.5) / 4000
    x, y, z = long * shares[0], wide * shares[1], wide * shares[2]
    surface = z - (cut * long - x) * along / up - (wide / 2 - y) * across / up  # above the axis, along the van
    reach = np.clip((surface - wide / 2) / np.hypot(1.0, across / up), -wide / 2, wide / 2)
    segment = (wide / 2) ** 2 * (np.arccos(-2 * reach / wide) + 2 * reach / wide * np.sqrt(1 - (2 * reach / wide) ** 2))
    ours = float(horizontal_cylinder_volume_below(wide, long, x, y, z, *angles))
    assert ours == pytest.approx(segment.mean() * long, rel=1e-3, abs=2e-7)
    x, z = wide * shares[0], long * shares[2]
    fall = np.hypot(along, across) / up
    at_axis = z + (x - wide / 2) * along / up + (y - wide / 2) * across / up
    chord = wide * (cut - 0.5)
    depth = np.clip(at_axis - fall * chord, 0.0, long)
    slices = np.sum(depth * 2 * np.sqrt((wide / 2) ** 2 - chord**2)) * wide / 4000
    ours = float(vertical_cylinder_volume_below(wide, long, x, y, z, *angles))
    assert ours == pytest.approx(slices, rel=1e-3, abs=2e-7)


@given(st.floats(0.1, 0.6), st.floats(0.2, 2.0), SHARES, TILTS)
def test_water_and_air_fill_a_cylinder_however_it_stands(wide, long, shares, tilt):
    angles = np.radians(tilt)
    whole = np.pi / 4 * wide**2 * long
    for ours, sides in (
        (horizontal_cylinder_volume_below, (long, wide, wide)),
        (vertical_cylinder_volume_below, (wide, wide, long)),
    ):
        x, y, z = np.multiply(sides, shares)
        water = float(ours(wide, long, x, y, z, *angles))
        air = float(ours(wide, long, x, y, sides[2] - z, *-angles))
        assert water + air == pytest.approx(whole, rel=1e-9)
        assert -1e-12 <= water <= whole * (1 + 1e-12)


@given(st.floats(0.1, 0.6), st.floats(0.2, 2.0), st.floats(0.0, 1.0))
def test_level_cylinders_are_the_level_sums(wide, long, share):
    lying = float(horizontal_cylinder_volume_below(wide, long, 0.3, 0.1, share * wide, 0.0, 0.0))
    assert lying == pytest.approx(float(horizontal_cylinder_volume(share * wide, wide, long)), abs=1e-12)
    standing = float(vertical_cylinder_volume_below(wide, long, 0.3, 0.1, share * long, 0.0, 0.0))
    assert standing == pytest.approx(float(vertical_cylinder_volume(share * long, wide)), abs=1e-12)


def test_the_slope_between_two_places_is_that_of_the_boxes():
    pitch, roll = np.radians([4.0, -2.0])
    lower = float(surface_slope(pitch, roll, 0.7, -0.3))
    at = [float(box_volume_below(0.9, 0.5, 0.4, 0.1, 0.4, 0.2, pitch, roll))]
    at.append(float(box_volume_below(0.9, 0.5, 0.4, 0.8, 0.1, 0.2 - lower, pitch, roll)))
    assert at[0] == pytest.approx(at[1], rel=1e-12)
    with pytest.raises(ValueError, match="beyond the vertical"):
        surface_slope(np.radians(60.0), np.radians(60.0), 1.0, 1.0)
