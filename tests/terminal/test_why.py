from __future__ import annotations

import pytest

from tests.examples import PLANS, example_answers
from tests.terminal.made import piped
from vanwater.plan.file import read
from vanwater.terminal.refusal import RefusedError
from vanwater.terminal.why import why


def told(wanted: str) -> str:
    file = read(PLANS / "family-winter.toml")
    return "\n".join(why(wanted, file, example_answers("family-winter"), piped()))


def test_a_key_a_part_of_one_and_an_address_are_unfolded() -> None:
    assert told("tank.grey.days").endswith("Key: tank.grey.days")
    assert "Key: heater.heater.recovery" in told("heater.recovery")
    assert told("tanks.grey.height").startswith("tanks.grey.height = 0.22 m")
    assert "tank.grey.days" in told("")


def test_what_was_measured_stands_below_number_and_address() -> None:
    assert "6.4 L/min" in told("outlet.shower.flow").rpartition("On the van:")[2]
    assert "2.65 bar" in told("pumps.pump.cut_out").rpartition("On the van:")[2]


def test_nonsense_is_refused() -> None:
    with pytest.raises(RefusedError, match="no number and no address"):
        told("nonsense")
