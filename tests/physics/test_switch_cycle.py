from __future__ import annotations

import numpy as np
import pytest

from vanwater.physics.accumulator import drawdown
from vanwater.physics.switch_cycle import cycle_pressures, cycle_times
from vanwater.physics.switching import ElasticStorage

AIR = 98945.0
CUT_IN, CUT_OUT = 1.2e5, 2.0e5


@pytest.mark.parametrize("crossing", [2.05e5, 2.1e5, 4e5])
@pytest.mark.parametrize("precharge", [0.9e5, 1.6e5])
def test_the_water_about_all_pressures_is_what_the_store_gives(crossing: float, precharge: float) -> None:
    pressure, water = cycle_pressures(crossing, CUT_IN, CUT_OUT, ElasticStorage(1e-3, precharge, AIR, 2e-10))
    given = drawdown(1e-3, precharge, CUT_IN, CUT_OUT, AIR) + 2e-10 * (CUT_OUT - CUT_IN)
    assert water.sum() == pytest.approx(float(given), rel=1e-4)
    assert CUT_IN < pressure.min() < pressure.max() < CUT_OUT


def test_a_line_alone_is_looked_at_in_a_single_stretch_and_a_vessel_in_two() -> None:
    assert len(cycle_pressures(2.1e5, CUT_IN, CUT_OUT, ElasticStorage(compliance=1e-10))[0]) == 6
    assert len(cycle_pressures(2.1e5, CUT_IN, CUT_OUT, ElasticStorage(1e-3, 1.6e5, AIR, 1e-10))[0]) == 12


def test_filling_by_a_straight_line_takes_a_logarithm_of_time() -> None:
    """A pump whose flow falls evenly to nothing at the crossing, no draw: t = C (p_x - p_in)/Q ln(...)."""
    crossing, flow = 2.4e5, 1e-4
    pressure, water = cycle_pressures(crossing, CUT_IN, CUT_OUT, ElasticStorage(compliance=1e-10))
    running, _ = cycle_times(water, flow * (crossing - pressure) / (crossing - CUT_IN), np.zeros(len(pressure)))
    by_hand = 1e-10 * (crossing - CUT_IN) / flow * np.log((crossing - CUT_IN) / (crossing - CUT_OUT))
    assert running.sum() == pytest.approx(by_hand, rel=1e-12)


def test_a_steady_draw_empties_in_water_over_draw() -> None:
    running, resting = cycle_times(1e-5, 1e-4, 2.5e-5)
    assert running == pytest.approx(1e-5 / 7.5e-5)
    assert resting == pytest.approx(1e-5 / 2.5e-5)


def test_nothing_that_gives_is_refused() -> None:
    with pytest.raises(ValueError, match="neither accumulator nor line"):
        cycle_pressures(2.1e5, CUT_IN, CUT_OUT, ElasticStorage())
