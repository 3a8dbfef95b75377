from __future__ import annotations

import pytest

from tests.answers.frosty import frosty
from vanwater.system.batch import Batch, Row
from vanwater.system.hours import hours_of


def test_what_is_left_of_the_day_is_parked_in_every_row() -> None:
    plan = frosty(day={"driving": "2 h", "away": "5 h"})
    hours = hours_of(Batch(plan, [Row("longer", {"day.driving": 4 * 3600.0})])) / 3600.0
    assert hours[:, 0] == pytest.approx([17, 2, 0, 5, 0])
    assert hours[:, 1] == pytest.approx([15, 4, 0, 5, 0])


def test_a_drained_van_spends_what_is_left_of_the_day_unheated() -> None:
    assert hours_of(Batch(frosty(water__drained=True, day={"shore": "4 h"})))[:, 0] / 3600.0 == pytest.approx(
        [0, 0, 4, 0, 20]
    )
    lived_in = frosty(water__drained=True, day={"parked": "20 h", "driving": "4 h"})
    assert hours_of(Batch(lived_in))[:, 0] / 3600.0 == pytest.approx([20, 4, 0, 0, 0])
