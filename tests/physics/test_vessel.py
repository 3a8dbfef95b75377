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
    run_content,
    vertical_cylinder_volume,
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
