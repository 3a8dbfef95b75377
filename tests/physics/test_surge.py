from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from vanwater.physics.hammer import hammer, tube_compliance, wave_speed
from vanwater.physics.surge import surge, wave_speed_of_run

RHO = 999.0


def test_a_thin_wall_gives_the_published_wave_speed() -> None:
    """Subramanya, example 14.15: 0.6 m of steel with a 12 mm wall, through the give of the wall."""
    content = 0.25 * np.pi * 0.6**2
    thin = content * 0.6 / (2.1e11 * 0.012)  # V d / (E e)
    assert float(wave_speed_of_run(998.0, thin, content)) == pytest.approx(1184.4, abs=0.5)
    assert float(wave_speed_of_run(998.0, thin, content)) == pytest.approx(
        float(wave_speed(998.0, 0.6, 0.012, 2.1e11)), rel=1e-9
    )


def test_a_rigid_run_carries_sound_as_water_does_and_a_hose_far_slower() -> None:
    assert float(wave_speed_of_run(RHO, 0.0, 1e-4)) == pytest.approx(np.sqrt(2.1e9 / RHO), rel=1e-12)
    give = tube_compliance(1.0, 10e-3, 15e-3, 60e6)
    assert 80 < float(wave_speed_of_run(RHO, give, 0.25 * np.pi * 0.01**2)) < 120


def test_one_run_is_the_plain_hammer() -> None:
    for closing in (0.0, 0.005, 0.02, 0.3):
        one = float(surge(RHO, np.array([280.0]), np.array([4.0]), np.array([1.5]), closing))
        assert one == pytest.approx(float(hammer(RHO, 280.0, 4.0, 1.5, closing)), rel=1e-12)


@given(
    st.lists(st.tuples(st.floats(60, 1400), st.floats(0.1, 8), st.floats(0.05, 4)), min_size=1, max_size=5),
    st.floats(0.001, 1.0),
)
def test_runs_cut_in_two_or_padded_change_nothing_and_slower_is_never_worse(
    runs: list[tuple[float, float, float]], closing: float
) -> None:
    wave, length, speed = (np.array(part) for part in zip(*runs, strict=True))
    whole = float(surge(RHO, wave, length, speed, closing))
    cut = float(surge(RHO, np.repeat(wave, 2), np.repeat(length / 2, 2), np.repeat(speed, 2), closing))
    padded = float(surge(RHO, np.append(wave, 1.0), np.append(length, 0.0), np.append(speed, 0.0), closing))
    assert whole == pytest.approx(cut, rel=1e-12) and whole == pytest.approx(padded, rel=1e-12)
    assert float(surge(RHO, wave, length, speed, 2 * closing)) <= whole * (1 + 1e-12)
    assert whole <= float(np.max(RHO * wave * speed)) * (1 + 1e-12)


@given(st.floats(60, 1400), st.floats(60, 1400), st.floats(0.3, 3.0))
def test_a_wave_that_goes_into_the_next_run_is_below_the_larger_of_both(
    first: float, second: float, wide: float
) -> None:
    flow, area = 1e-4, np.array([1e-4, 1e-4 * wide])
    stiff = RHO * np.array([first, second]) / area  # impedance of each run
    passed = stiff[0] * flow * 2 * stiff[1] / stiff.sum()
    bound = float(surge(RHO, np.array([first, second]), np.array([3.0, 3.0]), flow / area, 0.0))
    assert passed <= bound * (1 + 1e-12)


def test_impossible_runs_are_refused() -> None:
    with pytest.raises(ValueError, match="content"):
        wave_speed_of_run(RHO, 1e-12, 0.0)
    with pytest.raises(ValueError, match="give"):
        wave_speed_of_run(RHO, -1e-12, 1e-4)
    with pytest.raises(ValueError, match="closing"):
        surge(RHO, np.array([280.0]), np.array([4.0]), np.array([1.5]), -1.0)
