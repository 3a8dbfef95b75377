from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.examples import example
from vanwater.panels.field import Field, alike, decided
from vanwater.plan.file import PlanFile
from vanwater.plan.problems import PlanError

FAMILY = example("family-winter")


@given(st.floats(0.05, 3.9), st.booleans())
def test_what_is_shown_in_a_box_is_read_back_as_the_same_value(metres: float, us: bool) -> None:
    field = Field(FAMILY, "tanks.fresh.length", us)
    shown = field.read(field.typed(metres))
    assert shown == pytest.approx(metres, rel=1e-9)
    assert field.read(field.typed(shown)) == shown


@pytest.mark.parametrize(
    ("address", "us", "text", "value"),
    [
        ("tanks.grey.foam", False, "20", 0.02),
        ("tanks.grey.foam", False, "3/4 in", 0.01905),
        ("tanks.grey.foam", True, "3/4", 0.01905),
        ("heaters.heater.volume", False, "3 gal", 3 * 3.785411784e-3),
        ("household.people", False, " 3 ", 3),
        ("frost.design_cold", True, "10", 273.15 + (10 - 32) / 1.8),
        ("frost.design_cold", False, "-12 °C", 261.15),
        ("household.habits", False, "careful", "careful"),
    ],
)
def test_a_text_is_read_in_the_unit_that_is_shown_or_in_its_own(address: str, us: bool, text: str, value: Any) -> None:
    read = Field(FAMILY, address, us).read(text)
    assert read == (pytest.approx(value, rel=1e-9) if isinstance(value, float) else value)


@pytest.mark.parametrize(
    ("address", "text", "why"),
    [
        ("tanks.fresh.length", "99", "believable"),
        ("tanks.fresh.length", "2 gal", "gal"),
        ("household.people", "99", "1 to 12"),
        ("household.people", "few", "1 to 12"),
    ],
)
def test_what_is_refused_says_why(address: str, text: str, why: str) -> None:
    with pytest.raises(PlanError, match=why):
        Field(FAMILY, address).read(text)


def test_values_are_told_and_written_with_their_unit() -> None:
    field = Field(FAMILY, "tanks.fresh.length", us=True)
    assert field.text(0.3048) == "1\N{NO-BREAK SPACE}ft"
    assert field.written(0.3048) == "1 ft"
    assert Field(FAMILY, "household.people").text(None) == "not decided"
    assert Field(FAMILY, "uses.shower.hot").text(True) == "yes"
    assert Field(FAMILY, "household.people").written(3) == 3


def test_it_is_called_by_its_part_and_its_own_words() -> None:
    field = Field(FAMILY, "pumps.pump.volts")
    assert field.name.startswith("pump, volts that reach")
    assert field.full.endswith("(V)")


def test_a_value_of_a_part_that_is_not_planned_is_not_decided(family: PlanFile) -> None:
    assert decided(family.plan, "household.people") == 4
    assert decided(family.plan, "pumps.second.volts") is None


def test_arithmetic_makes_no_other_value() -> None:
    assert alike(0.1 + 0.2, 0.3)
    assert not alike(0.3, 0.3001)
    assert alike(None, None) and not alike(None, 0.0) and not alike(3, 4)
