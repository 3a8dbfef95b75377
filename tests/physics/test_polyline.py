import numpy as np
from hypothesis import given
from hypothesis import strategies as st

from vanwater.physics._polyline import polyline, rises

STEPS = st.lists(st.tuples(st.floats(0.01, 3.0), st.floats(-3.0, 3.0)), min_size=2, max_size=7)


@given(STEPS, st.floats(0.0, 1.0))
def test_between_the_points_it_is_numpy_s_interpolation(steps, share):
    x, y = np.cumsum([s[0] for s in steps]), np.array([s[1] for s in steps])
    at = x[0] + share * (x[-1] - x[0])
    value, _ = polyline(x, y).at(np.array(at))
    np.testing.assert_allclose(value, np.interp(at, x, y), atol=1e-9)


def test_end_lines_go_on():
    line = polyline(np.array([0.0, 1.0, 3.0]), np.array([2.0, 1.0, 0.0]))
    value, slope = line.at(np.array([-1.0, 5.0]))
    np.testing.assert_allclose(value, [3.0, -1.0])
    np.testing.assert_allclose(slope, [-1.0, -0.5])


def test_rows_of_lines_take_rows_and_more_of_values():
    x = np.array([[0.0, 1.0, 3.0], [0.0, 2.0, 3.0]])
    y = np.array([[2.0, 1.0, 0.0], [0.0, 1.0, 5.0]])
    at = np.array([[0.5, 0.5], [2.0, 2.5], [3.0, 1.0]])
    value, _ = polyline(x, y).at(at)
    judge = [[np.interp(at[i, j], x[j], y[j]) for j in (0, 1)] for i in range(3)]
    np.testing.assert_allclose(value, judge)


def test_rising():
    assert rises(np.array([1.0, 2.0]))
    assert not rises(np.array([1.0, 1.0]))
    assert not rises(np.array([1.0, np.nan]))
    assert not rises(np.array([[1.0, 2.0], [2.0, 1.0]]))
