from __future__ import annotations

import numpy as np
import pytest
from scipy.interpolate import PchipInterpolator

from vanwater.physics.battery import capacity_at_current, capacity_in_cold

ZERO = 273.15
CELLS = (0.92, 0.82, 0.65)


def test_capacity_goes_through_the_points_of_the_data_sheet() -> None:
    at = [ZERO + t for t in (40, 25, 0, -10, -20)]
    assert capacity_in_cold(np.array(at), *CELLS) == pytest.approx([1.0, 1.0, 0.92, 0.82, 0.65])


def test_capacity_between_the_points_is_near_a_smooth_curve_through_them() -> None:
    smooth = PchipInterpolator([-20, -10, 0, 25], [0.65, 0.82, 0.92, 1.0])
    degrees = np.linspace(-20, 25, 91)
    assert capacity_in_cold(ZERO + degrees, *CELLS) == pytest.approx(smooth(degrees), abs=0.02)


def test_colder_never_gives_more_and_never_less_than_nothing() -> None:
    left = capacity_in_cold(ZERO + np.linspace(-80, 50, 400), *CELLS)
    assert np.all(np.diff(left) >= 0.0) and left[0] == 0.0 and left[-1] == 1.0


def test_a_lead_battery_gives_some_two_thirds_in_an_hour() -> None:
    """Handbooks: 55 to 65 % of the capacity of 20 h is left at a discharge within an hour (common practice)."""
    share = capacity_at_current(100 * 3600.0, np.array([5.0, 50.0, 100.0]), 20 * 3600.0, 1.17)
    assert share[0] == 1.0
    assert 0.55 < share[2] < share[1] < 0.7
    assert capacity_at_current(100 * 3600.0, 2.0, 20 * 3600.0, 1.17) == 1.0


def test_peukert_keeps_the_time_of_his_law() -> None:
    """I^k t is the same at every current."""
    currents = np.array([10.0, 20.0, 60.0])
    time = capacity_at_current(3.6e5, currents, 72e3, 1.2) * 3.6e5 / currents
    assert currents**1.2 * time == pytest.approx(5.0**1.2 * 72e3)


@pytest.mark.parametrize("charge, current, rated", [(0.0, 5.0, 1.0), (1.0, 0.0, 1.0), (1.0, 5.0, 0.0)])
def test_nothing_to_divide_by_is_refused(charge: float, current: float, rated: float) -> None:
    with pytest.raises(ValueError, match="more than zero"):
        capacity_at_current(charge, current, rated, 1.1)
    with pytest.raises(ValueError, match="at_freezing"):
        capacity_in_cold(ZERO, 1.2, 0.5, 0.4)
