from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

import numpy as np
import numpy.typing as npt
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from vanwater.physics.hammer import hammer, tube_compliance, wave_speed
from vanwater.physics.surge import CELLS, PERIODS, _instant, surge, wave_speed_of_run

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


def waves(runs: Sequence[tuple[float, int]], closing: npt.ArrayLike, after: int = 8) -> npt.NDArray[np.float64]:
    """Greatest pressure at a tap whose flow falls evenly, by nodes with pressure and flow along the runs before it.

    Each run is its rho a v and how many steps of time a wave needs along it, from the vessel to the tap; the flow
    counts in that before. ``closing``: one or several times in steps. ``after``: how many ways of the
    wave are followed.
    """
    times = np.atleast_1d(np.asarray(closing, dtype=float))
    pressure = [np.zeros((len(times), cells + 1)) for _, cells in runs]
    flow = [np.ones((len(times), cells + 1)) for _, cells in runs]
    full = [each for each, _ in runs]
    most = np.zeros(len(times))
    for time in range(1, after * sum(cells for _, cells in runs) + 1):
        forth = [p[:, :-1] + z * q[:, :-1] for p, q, z in zip(pressure, flow, full, strict=True)]
        back = [p[:, 1:] - z * q[:, 1:] for p, q, z in zip(pressure, flow, full, strict=True)]
        for p, q, z, to_tap, to_vessel in zip(pressure, flow, full, forth, back, strict=True):
            p[:, 1:-1] = (to_tap[:, :-1] + to_vessel[:, 1:]) / 2.0
            q[:, 1:-1] = (to_tap[:, :-1] - to_vessel[:, 1:]) / (2.0 * z)
        pressure[0][:, 0], flow[0][:, 0] = 0.0, -back[0][:, 0] / full[0]
        for run in range(len(runs) - 1):
            before, behind = full[run], full[run + 1]
            joint = (forth[run][:, -1] / before + back[run + 1][:, 0] / behind) / (1.0 / before + 1.0 / behind)
            pressure[run][:, -1] = pressure[run + 1][:, 0] = joint
            flow[run][:, -1] = flow[run + 1][:, 0] = (forth[run][:, -1] - joint) / before
        flow[-1][:, -1] = np.maximum(1.0 - np.divide(time, times, out=np.ones_like(times), where=times > 0), 0.0)
        pressure[-1][:, -1] = forth[-1][:, -1] - full[-1] * flow[-1][:, -1]
        most = np.maximum(most, pressure[-1][:, -1])
    return most


CUTS = [(40,), (20, 20), (8, 32), (33, 7), (4, 16, 20), (25, 10, 5), (8, 8, 12, 12)]
"""Ways of forty steps, as many as the physics cuts them into, so that both stand on the same times."""

RUNS = st.sampled_from(CUTS).flatmap(
    lambda cut: st.tuples(*(st.tuples(st.floats(0.2, 5.0), st.just(cells)) for cells in cut))
)


def by_surge(runs: Sequence[tuple[float, int]], closing: float) -> float:
    """The same by the physics: density and wave speed of one, so that lengths are times and speeds are rho a v."""
    full, cells = (np.array(part, dtype=float) for part in zip(*runs, strict=True))
    return float(surge(1.0, np.ones(len(runs)), cells, full, closing))


@settings(deadline=None, max_examples=20)
@given(RUNS, st.integers(1, 79))
def test_a_fast_closing_is_that_of_characteristics(runs: Sequence[tuple[float, int]], closing: int) -> None:
    """The most of all that take so long or longer, up to the return of the wave; never below what is slower."""
    followed = waves(runs, np.arange(closing, 81)).max()
    twice = 2 * sum(full * cells for full, cells in runs) / 80
    assert by_surge(runs, closing) == pytest.approx(max(followed, twice), rel=1e-9)
    assert by_surge(runs, closing) >= by_surge(runs, closing + 0.5)


@settings(deadline=None, max_examples=20)
@given(RUNS, st.integers(80, 240))
def test_a_slow_closing_is_twice_the_rigid_column_and_waves_come_near_it(
    runs: Sequence[tuple[float, int]], closing: int
) -> None:
    rise = by_surge(runs, closing)
    assert rise == pytest.approx(2 * sum(full * cells for full, cells in runs) / closing)
    assert 0.5 * rise <= float(waves(runs, closing)[0]) <= rise * (1 + 1e-9)


@pytest.mark.parametrize("closing", [1, 40, 80, 120, 200])
def test_one_run_by_characteristics_is_the_plain_law(closing: int) -> None:
    assert float(waves([(1.5, 40)], closing)[0]) == pytest.approx(float(hammer(1.0, 1.0, 40.0, 1.5, closing)))


def test_waves_thrown_back_where_runs_meet_exceed_the_sum_of_all() -> None:
    """A long thin run to the tap behind two wide soft ones: no simple bound by rho a v holds."""
    runs = [(0.4, 4), (0.3, 18), (9.0, 18)]
    rise = by_surge(runs, 0.0)
    assert rise == pytest.approx(float(waves(runs, 0.0)[0]), rel=1e-9)
    assert rise > 1.5 * sum(full for full, _ in runs)


def test_a_fast_wave_at_a_joint_is_that_of_the_two_impedances() -> None:
    """Wylie and Streeter: of a wave f that meets a run of another impedance, (z2 - z1) / (z2 + z1) comes back."""
    first, second = 1.0, 2.5
    doubled = first + 2 * first * (second - first) / (second + first)  # thrown back by the joint, doubled at the tap
    assert by_surge([(second, 16), (first, 4)], 0.0) >= doubled * (1 - 1e-9)
    assert by_surge([(first, 4), (first, 16)], 0.0) == pytest.approx(first, rel=1e-9)


@given(
    st.lists(st.tuples(st.floats(60, 1400), st.floats(0.1, 8), st.floats(0.05, 4)), min_size=1, max_size=5),
    st.floats(0.001, 1.0),
)
@settings(deadline=None, max_examples=50)
def test_runs_cut_in_two_or_padded_change_nothing_and_slower_is_never_worse(
    runs: list[tuple[float, float, float]], closing: float
) -> None:
    wave, length, speed = (np.array(part) for part in zip(*runs, strict=True))
    whole = float(surge(RHO, wave, length, speed, closing))
    cut = float(surge(RHO, np.repeat(wave, 2), np.repeat(length / 2, 2), np.repeat(speed, 2), closing))
    padded = float(surge(RHO, np.append(wave, 1.0), np.append(length, 0.0), np.append(speed, 0.0), closing))
    assert whole == pytest.approx(cut, rel=1e-9) and whole == pytest.approx(padded, rel=1e-9)
    slower = [float(surge(RHO, wave, length, speed, factor * closing)) for factor in (1.01, 1.3, 2.0, 10.0)]
    assert all(later <= earlier * (1 + 1e-12) for earlier, later in pairwise([whole, *slower]))
    assert whole <= 2 * RHO * float(np.sum(length * speed)) / closing * (1 + 1e-12)


def test_many_rows_and_closings_at_once_are_those_one_by_one() -> None:
    wave, length, speed = (
        np.array([[280.0, 95.0, 0.0], [350.0, 90.0, 1300.0]]),
        np.array([[3.0, 1.5, 0.0], [1, 2, 3]]),
        1.2,
    )
    closings = np.array([[0.0, 0.0], [0.02, 0.01], [0.5, 0.03]])
    rises = surge(RHO, wave, length, speed, closings)
    assert rises.shape == (3, 2)
    for place, closing in np.ndenumerate(closings):
        row = place[-1]
        assert rises[place] == pytest.approx(float(surge(RHO, wave[row], length[row], speed, closing)), rel=1e-12)


def test_impossible_runs_are_refused() -> None:
    with pytest.raises(ValueError, match="content"):
        wave_speed_of_run(RHO, 1e-12, 0.0)
    with pytest.raises(ValueError, match="give"):
        wave_speed_of_run(RHO, -1e-12, 1e-4)
    with pytest.raises(ValueError, match="closing"):
        surge(RHO, np.array([280.0]), np.array([4.0]), np.array([1.5]), -1.0)


def _cell_by_cell(full: np.ndarray) -> np.ndarray:
    """The waves up and down, each moved on by a cell a step and thrown back in part where cells meet."""
    thrown = np.diff(full) / (full[1:] + full[:-1])
    up, down = np.zeros_like(full), np.zeros_like(full)
    told = []
    for _ in range(4 * PERIODS * CELLS):
        back = thrown * (up[:-1] - down[1:])
        at_tap, at_end = down[0], up[-1]
        up = np.concatenate([[at_tap + full[0]], up[:-1] + back])
        down = np.concatenate([down[1:] + back, [-at_end]])
        told.append(up[0] + at_tap)
    return np.array(told)


def test_the_meetings_of_cells_give_what_waves_up_and_down_give() -> None:
    full = 1e5 * np.random.default_rng(5).uniform(0.2, 6.0, (4, CELLS))
    by_waves = np.array([_cell_by_cell(row) for row in full])
    assert np.max(np.abs(_instant(full) - by_waves)) < 1e-11 * by_waves.max()
    assert np.all(_instant(np.zeros((1, CELLS))) == 0.0)


def test_what_is_asked_beside_changes_nothing() -> None:
    wave, length, stopped = np.array([[95.0, 280.0], [300.0, 120.0]]), np.array([[1.5, 3.0], [0.4, 0.2]]), 1.4
    times = np.array([[0.02, 0.02], [0.001, 0.5]])
    together = surge(999.0, wave, length, stopped, times)
    for place, row in np.ndindex(2, 2):
        alone = surge(999.0, wave[row : row + 1], length[row : row + 1], stopped, times[place, row : row + 1])
        assert alone[0] == together[place, row]
