"""What is ordered is enough, and no more than a step above."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from vanwater.physics.cutting import order_length


@given(st.floats(0, 100), st.floats(0, 1), st.sampled_from([0.3048, 0.5, 1.0, 5.0]))
def test_enough_and_less_than_a_step_too_much(pieces: float, spare: float, step: float) -> None:
    ordered, wanted = float(order_length(pieces, spare, step)), pieces * (1 + spare)
    assert wanted - 1e-6 <= ordered < wanted + step
    assert ordered / step == pytest.approx(round(ordered / step))


def test_a_whole_number_of_steps_is_ordered_as_it_is() -> None:
    assert float(order_length(3 * 0.1, 0.0, 0.1)) == pytest.approx(0.3)


@pytest.mark.parametrize(("pieces", "spare", "step"), [(-1.0, 0.1, 0.5), (1.0, -0.1, 0.5), (1.0, 0.1, 0.0)])
def test_what_cannot_be(pieces: float, spare: float, step: float) -> None:
    with pytest.raises(ValueError, match="expected"):
        order_length(pieces, spare, step)
