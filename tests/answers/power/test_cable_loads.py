from __future__ import annotations

import numpy as np
import pytest

from tests.examples import example
from vanwater.answers.power.cable_loads import current_of
from vanwater.system.batch import Batch

FAMILY = example("family-winter")


def test_the_strongest_load_counts_behind_the_inverter_and_the_planned_current_of_a_pump() -> None:
    batch = Batch(FAMILY)
    bank = np.array([12.8])
    pump, inverter = (current_of(batch, to, bank, np.array([1e-9])) for to in ("pump", "inverter"))
    assert pump is not None and pump.likely == 5.6
    assert inverter is not None and inverter.likely == pytest.approx(1800 / 0.91 / 12.8, rel=1e-6)
    thin = current_of(batch, "inverter", bank, np.array([4e-3]))
    assert thin is not None
    left = 12.8 - thin.likely * 4e-3
    assert thin.likely * left == pytest.approx(1800 / 0.91, rel=1e-6)


def test_an_inverter_without_a_known_load_draws_nothing_that_is_known() -> None:
    bare = FAMILY.changed({"appliances": {}, "heaters.heater.power": None})
    assert current_of(Batch(bare), "inverter", np.array([12.8]), np.array([1e-3])) is None
