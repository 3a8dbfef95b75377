from __future__ import annotations

import pytest

from tests.answers.frosty import frosty
from vanwater.answers.core.battery_number import usable_number
from vanwater.system.batch import Batch
from vanwater.system.power import bank_of


def usable(**changes: object) -> tuple[float, str]:
    batch = Batch(frosty(**changes))
    bank = bank_of(batch)
    assert bank is not None
    number = usable_number(batch, bank)
    return number.likely / 3600.0, "\n".join(number.lines(depth=3))


def test_a_battery_of_unsaid_cells_gives_its_share_at_any_cold() -> None:
    energy, told = usable(battery__beside="outside")
    assert energy == pytest.approx(12.8 * 100 * 0.9)
    assert "left in the cold" not in told


def test_cells_in_the_cold_give_less_and_say_why() -> None:
    """At a mean cold of −4 °C, between 92 % at 0 °C and 82 % at −10 °C."""
    energy, told = usable(battery__beside="outside", battery__chemistry="lithium iron phosphate")
    assert energy == pytest.approx(12.8 * 100 * 0.9 * 0.88)
    assert "left in the cold = 88" in told.replace("\N{NO-BREAK SPACE}", " ")


def test_a_bank_gives_the_volts_of_a_row_and_the_charge_of_all_rows() -> None:
    assert usable(battery__series=2, battery__parallel=3)[0] == pytest.approx(25.6 * 300 * 0.9)
