import json
from pathlib import Path

import numpy as np
import pytest
from fluids.geometry import V_from_h, V_horiz_conical
from hypothesis import given
from hypothesis import strategies as st

from vanwater.physics.vessel import (
    box_usable,
    box_volume,
    box_volume_below,
    horizontal_cylinder_volume,
    horizontal_cylinder_volume_below,
    run_content,
    surface_slope,
    vertical_cylinder_volume,
    vertical_cylinder_volume_below,
)
from vanwater.quantities import INCH, US_GALLON

VANS = json.loads((Path(__file__).parents[2] / "data" / "validation" / "worked_vans.json").read_text(encoding="utf-8"))
S3 = {row["quantity"]: row for scenario in VANS["scenarios"] if scenario["id"] == "S3" for row in scenario["expected"]}

SIDES = st.tuples(st.floats(0.2, 1.5), st.floats(0.2, 0.8), st.floats(0.1, 0.5))
SHARES = st.tuples(st.floats(0.0, 1.0), st.floats(0.0, 1.0), st.floats(0.0, 1.0))
TILTS = st.tuples(st.floats(-20.0, 20.0), st.floats(-20.0, 20.0))


def below(sides, shares, tilt):
    point = (side * share for side, share in zip(sides, shares, strict=True))
    return float(box_volume_below(*sides, *point, *np.radians(tilt)))


def by_corners(sides, shares, tilt):
    """A second method: the corner cut off by a plane, less what reaches beyond each of the seven other corners."""
    along, across = np.sin(np.radians(tilt))
    up = np.sqrt(1.0 - along**2 - across**2)
    long, wide, tall = sides
    x, y, z = (side * share for side, share in zip(sides, shares, strict=True))
    x, y = (x if along >= 0 else long - x), (y if across >= 0 else wide - y)
    a, b = abs(along) / up, abs(across) / up
    reach = z + a * x + b * y
    total = 0.0
    for i in (0, 1):
        for j in (0, 1):
            for k in (0, 1):
                total += (-1) ** (i + j + k) * max(reach - i * a * long - j * b * wide - k * tall, 0.0) ** 3
    return total / (6.0 * a * b)


@given(SIDES, SHARES, TILTS)
def test_tilted_box_agrees_with_the_sum_over_corners(sides, shares, tilt):
    if min(map(abs, tilt)) > 0.5:  # the other method divides by both slopes
        assert below(sides, shares, tilt) == pytest.approx(by_corners(sides, shares, tilt), rel=1e-7, abs=1e-9)


@pytest.mark.parametrize("tilt", [(3.0, 0.0), (0.0, -2.0), (1e-9, 0.0), (4.0, 7.0), (-12.0, 1e-6), (15.0, -15.0)])
@pytest.mark.parametrize("shares", [(0.5, 0.5, 0.4), (1.0, 0.5, 0.05), (0.0, 1.0, 0.9)])
def test_tilted_box_agrees_with_a_fine_grid(tilt, shares):
    long, wide, tall = sides = (0.9, 0.45, 0.24)
    x, y = (np.arange(1500) + 0.5) / 1500 * long, (np.arange(1500) + 0.5) / 1500 * wide
    along, across = np.sin(np.radians(tilt))
    up = np.sqrt(1.0 - along**2 - across**2)
    surface = shares[2] * tall - (x[:, None] - shares[0] * long) * along / up - (y - shares[1] * wide) * across / up
    judge = np.clip(surface, 0.0, tall).mean() * long * wide
    assert below(sides, shares, tilt) == pytest.approx(judge, rel=1e-5)


@given(SIDES, SHARES)
def test_a_level_box_is_a_box(sides, shares):
    judge = float(box_volume(sides[2] * shares[2], sides[0], sides[1]))
    assert below(sides, shares, (0.0, 0.0)) == pytest.approx(judge, abs=1e-15)


@given(SIDES, SHARES, TILTS)
def test_tilting_the_other_way_mirrors(sides, shares, tilt):
    mirrored = (1.0 - shares[0], shares[1], shares[2])
    assert below(sides, shares, tilt) == pytest.approx(below(sides, mirrored, (-tilt[0], tilt[1])), abs=1e-12)
    swapped = (sides[1], sides[0], sides[2]), (shares[1], shares[0], shares[2]), (tilt[1], tilt[0])
    assert below(sides, shares, tilt) == pytest.approx(below(*swapped), abs=1e-12)


@given(SIDES, SHARES, TILTS)
def test_water_and_air_fill_the_box(sides, shares, tilt):
    air = below(sides, (shares[0], shares[1], 1.0 - shares[2]), (-tilt[0], -tilt[1]))
    assert below(sides, shares, tilt) + air == pytest.approx(np.prod(sides), rel=1e-9)


@given(SIDES, SHARES, TILTS, st.floats(0.0, 0.3))
def test_a_higher_point_never_holds_less_nor_more_than_the_box(sides, shares, tilt, more):
    higher = (shares[0], shares[1], shares[2] + more)
    assert -1e-15 <= below(sides, shares, tilt) <= below(sides, higher, tilt) + 1e-12
    assert below(sides, higher, tilt) <= np.prod(sides) * (1 + 1e-12)


@given(SIDES, SHARES, TILTS)
def test_usable_is_what_lies_between_pick_up_and_overflow(sides, shares, tilt):
    pick, over = (0.9 * sides[0], 0.5 * sides[1], 0.05 * sides[2]), tuple(np.multiply(sides, shares))
    usable = float(box_usable(*sides, *pick, *over, *np.radians(tilt)))
    full, left = below(sides, shares, tilt), below(sides, (0.9, 0.5, 0.05), tilt)
    assert usable == pytest.approx(max(full - left, 0.0), abs=1e-12)


@pytest.mark.parametrize(
    ("quantity", "pitch"),
    [
        ("litres out of reach, level (box 1.00 x 0.50 m, pick-up inlet 15 mm above the floor at the rear end)", 0.0),
        ("litres out of reach, 3 degrees nose down (pick-up at the high end)", 3.0),
    ],
)
def test_worked_van_keeps_its_last_litres(quantity, pitch):
    out_of_reach = 1e3 * float(box_volume_below(1.0, 0.5, 0.25, 1.0, 0.25, 0.015, np.radians(pitch), 0.0))
    assert out_of_reach == pytest.approx(S3[quantity]["value"], rel=5e-5)


def test_rows_of_tanks_and_tilts():
    pitch = np.radians([0.0, 3.0, -3.0])
    rows = box_volume_below(1.0, 0.5, 0.25, 1.0, 0.25, 0.015, pitch, 0.0)
    alone = [float(box_volume_below(1.0, 0.5, 0.25, 1.0, 0.25, 0.015, angle, 0.0)) for angle in pitch]
    np.testing.assert_allclose(rows, alone, rtol=1e-14)
    assert rows[1] > rows[0] > rows[2]


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


@given(st.floats(0.1, 0.6), st.floats(0.2, 2.0), st.floats(0.0, 1.0))
def test_lying_cylinder_agrees_with_fluids(diameter, length, share):
    judge = V_from_h(share * diameter, D=diameter, L=length, horizontal=True)
    volume = float(horizontal_cylinder_volume(share * diameter, diameter, length))
    assert volume == pytest.approx(judge, rel=1e-9, abs=1e-9)  # fluids rounds near an empty tank


def test_published_tank_with_conical_heads():
    """Jones, Calculating Tank Volume: 2041 US gal; the heads beyond the flat ends are those of fluids."""
    diameter, length, head, level = (inches * INCH for inches in (108, 156, 42, 36))
    with_heads = V_horiz_conical(D=diameter, L=length, a=head, h=level)
    heads = with_heads - V_horiz_conical(D=diameter, L=length, a=0.0, h=level)
    volume = float(horizontal_cylinder_volume(level, diameter, length)) + heads
    assert volume / US_GALLON == pytest.approx(2041, rel=1e-3)


def test_half_a_lying_cylinder_is_half_of_it():
    full = float(vertical_cylinder_volume(1.2, 0.3))
    assert float(horizontal_cylinder_volume(0.15, 0.3, 1.2)) == pytest.approx(full / 2)
    assert float(horizontal_cylinder_volume(9.0, 0.3, 1.2)) == pytest.approx(full)
    assert float(horizontal_cylinder_volume(-1.0, 0.3, 1.2)) == 0.0


@given(st.floats(0.004, 0.04), st.floats(0.0, 12.0))
def test_a_run_holds_a_long_cylinder(bore, length):
    assert float(run_content(bore, length)) == pytest.approx(float(vertical_cylinder_volume(length, bore)))


@pytest.mark.parametrize(
    "call",
    [
        lambda: box_volume_below(0.0, 0.5, 0.2, 0.1, 0.1, 0.1, 0.0, 0.0),
        lambda: vertical_cylinder_volume(0.1, 0.0),
        lambda: horizontal_cylinder_volume(0.1, -0.3, 1.0),
        lambda: run_content(0.0, 1.0),
    ],
)
def test_a_tank_without_sides_is_refused(call):
    with pytest.raises(ValueError, match="must lie above zero"):
        call()


def test_a_tank_on_its_head_is_refused():
    with pytest.raises(ValueError, match="beyond the vertical"):
        box_volume_below(1.0, 0.5, 0.2, 0.5, 0.2, 0.1, np.radians(60.0), np.radians(60.0))
