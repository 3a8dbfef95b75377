import numpy as np
import pytest

from vanwater.physics._moving_layers import Layers, drawn, equal_layers, heated, settled, temperature_at

ONE = np.ones((1, 1))


def layers(*parts):
    volume, warmth = np.array(parts, dtype=float).T
    return Layers(volume[None], warmth[None])


def heat(column, above=0.0):
    return float(np.sum(column.volume * (column.warmth - above)))


def test_a_front_moves_with_the_water():
    start = layers((2, 300), (8, 330), (0, 330))
    column, taken, gone = drawn(start, 3 * ONE, np.inf * ONE, 280 * ONE, 0 * ONE)
    assert (float(taken[0, 0]), float(gone[0, 0])) == (3.0, 150.0)
    np.testing.assert_allclose(column.volume, [[3, 2, 5]])
    further, _, _ = drawn(column, 6 * ONE, np.inf * ONE, 280 * ONE, 0 * ONE)
    np.testing.assert_allclose(further.volume, [[6, 3, 1]])
    np.testing.assert_allclose(further.warmth, [[280, 280, 300]])


def test_where_layers_are_one_too_many_those_join_that_lose_least():
    column, _, _ = drawn(layers((2, 300), (2, 301), (6, 330)), ONE, np.inf * ONE, 280 * ONE, 0 * ONE)
    np.testing.assert_allclose(column.volume, [[1, 4, 5]])
    np.testing.assert_allclose(column.warmth, [[280, 300.5, 330]])


def test_rows_that_draw_nothing_stay_as_they_are():
    both = Layers(np.array([[2.0, 8.0], [2.0, 8.0]]), np.array([[300.0, 330.0], [300.0, 330.0]]))
    column, taken, _ = drawn(both, np.array([[0.0], [1.0]]), np.array([[20.0]]), 280 * ONE, 4 * ONE)
    np.testing.assert_allclose(column.warmth[0], [300.0, 330.0])
    assert taken[0, 0] == 0.0 < taken[1, 0]


@pytest.mark.parametrize(
    ("rise", "litres"), [(4.89, 9.78), (4.99, 9.8 + 0.2 * np.log(10)), (5.01, 100.0), (5.2, 100.0)]
)
def test_a_little_more_heat_than_there_is_takes_all_that_is_asked(rise, litres):
    """10 L at 50 K above the inlet hold 500 K·L, a hundred litres are asked for, and 0.2 L are stirred."""
    _, taken, gone = drawn(layers((10, 330)), 100 * ONE, rise * ONE, 280 * ONE, 0.2 * ONE)
    assert float(taken[0, 0]) == pytest.approx(litres, rel=1e-9)
    assert float(gone[0, 0]) == pytest.approx(min(100 * rise, 500), rel=1e-9)


def test_heat_fills_up_the_coldest_water_above_the_element():
    before = layers((4, 280), (3, 290), (3, 330))
    column = heated(before, 30 * ONE, 2 * ONE)  # 2 of them by 10 K, then 5 of them by 2 K
    np.testing.assert_allclose(column.volume, [[2, 5, 3]])
    np.testing.assert_allclose(column.warmth, [[280, 292, 330]])
    assert heat(column) == pytest.approx(heat(before) + 30)
    assert float(temperature_at(column, 3 * ONE)[0, 0]) == pytest.approx(292)


def test_warm_water_rises_and_keeps_its_heat_whatever_the_volumes():
    column = settled(layers((1, 320), (3, 290), (6, 330)))
    np.testing.assert_allclose(column.warmth, [[297.5, 297.5, 330.0]])
    assert heat(column) == pytest.approx(320 + 3 * 290 + 6 * 330)


def test_equal_layers_hold_the_same_heat():
    column = layers((1, 280), (2, 300), (7, 330))
    equal = equal_layers(column)
    assert float(equal.sum()) * 10 / 3 == pytest.approx(heat(column))
    np.testing.assert_allclose(equal, [[(280 + 2 * 300 + 330 / 3) / (10 / 3), 330, 330]])
