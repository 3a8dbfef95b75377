import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from vanwater.physics.film import Facing
from vanwater.physics.tank_faces import INSIDE_FILM, Faces, Layers

SIZES = st.floats(0.1, 1.5)


@given(SIZES, SIZES, SIZES)
def test_a_full_box_shows_its_whole_surface(length, width, height):
    faces = Faces.of_box(length, width, height)
    surface = 2 * (length * width + length * height + width * height)
    assert float(faces.area.sum()) == pytest.approx(surface)
    assert faces.area.shape == faces.along.shape == faces.size.shape == (6,)
    assert float(faces.size[0]) == pytest.approx(length * width / (2 * (length + width)))
    assert list(faces.facing) == [Facing.DOWN, Facing.UP] + 4 * [Facing.SIDE]


@given(SIZES, SIZES, SIZES, st.one_of(st.just(0.0), st.floats(0.001, 1.0)))
def test_a_part_full_box_wets_its_sides_by_the_level(length, width, height, fill):
    full, part = Faces.of_box(length, width, height), Faces.of_box(length, width, height, fill)
    np.testing.assert_allclose(part.area[:2], full.area[:2])
    np.testing.assert_allclose(part.area[2:], fill * full.area[2:])


def test_rows_of_boxes():
    faces = Faces.of_box(np.array([0.8, 1.0]), 0.45, np.array([0.2, 0.26]))
    assert faces.area.shape == (2, 6)
    np.testing.assert_allclose(faces.area[1], Faces.of_box(1.0, 0.45, 0.26).area)


def test_the_inside_film_hardly_counts_behind_foam():
    """The note's claim: 100 to 300 W/(m²·K) inside moves the transmittance behind 20 mm of foam by less than 1 %."""
    layers = Layers(wall=5e-3, wall_conductivity=0.4, foam=20e-3, foam_conductivity=0.036)
    rest = layers.wall / layers.wall_conductivity + layers.foam / layers.foam_conductivity + 1 / 9.3
    usual = 1 / (rest + 1 / INSIDE_FILM)
    for film in (100.0, 300.0):
        assert 1 / (rest + 1 / film) == pytest.approx(usual, rel=0.01)
