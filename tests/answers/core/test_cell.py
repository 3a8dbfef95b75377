from __future__ import annotations

import math
from html import escape

import pytest

from vanwater.answers.core.cell import Cell, column_values, in_cell, shown_of, stand_for_numbers, units_of
from vanwater.answers.core.statement import Amount, Range, say
from vanwater.quantities import DAY, ENERGY, NO_BREAK, RATIO, STAY, TEMPERATURE, VOLUME

LITRES = Amount(0.09, VOLUME)
LASTS = Range(DAY, 2 * DAY, 4 * DAY, STAY)


def values_of(*cells: Cell, us: bool = False, si: bool = False) -> dict[str, list[str | float | None]]:
    return dict(column_values("it", None, cells, us, si, escape))


def test_only_amounts_and_ranges_are_numbers() -> None:
    assert shown_of(LITRES) is LITRES
    assert shown_of(LASTS) is LASTS
    assert [shown_of(cell) for cell in ("90 L", say("{it}", it=LITRES), None)] == [None] * 3


def test_a_cell_leaves_out_the_unit_of_its_head_only() -> None:
    assert in_cell(LITRES, "L") == ("90", "")
    assert in_cell(LITRES, "gal") == (f"90{NO_BREAK}L", "")
    assert in_cell(LITRES, "gal", us=True) == ("23.8", "")
    assert in_cell(LASTS, "days") == ("2", "(1 to 4)")
    assert in_cell(Amount(DAY, STAY), "days") == ("1", "")
    assert in_cell(Amount(math.inf, STAY), "days") == ("unlimited", "")
    assert in_cell(None, "L") == ("", "")


def test_what_a_cell_says_is_escaped() -> None:
    assert in_cell("<b>", escape=escape) == ("&lt;b&gt;", "")
    assert in_cell(say("a {name}", name="<b>"), escape=escape) == ("a &lt;b&gt;", "")
    assert in_cell(LASTS, escape=str.upper) == (f"2{NO_BREAK}DAYS", "(1 TO 4)")


def test_a_sentence_may_stand_for_a_number_and_a_name_may_not() -> None:
    assert stand_for_numbers([LITRES, None, "", say("any cold")])
    assert not stand_for_numbers([LITRES, "urine container"])
    assert not stand_for_numbers([say("any cold"), None])
    assert units_of([LITRES, None, Amount(3.6e6, ENERGY), LITRES]) == ("L", "Wh")
    assert units_of([LITRES], us=True) == ("gal",)
    assert units_of([LITRES, Amount(2.0, RATIO)], si=True) == ("m³", "")


def test_numbers_become_floats_below_a_heading_that_names_their_unit() -> None:
    assert values_of(LITRES, None, say("none")) == {"it [L]": [90.0, None, "none"]}
    assert values_of(Amount(0.003785411784, VOLUME), us=True) == {"it [gal]": [pytest.approx(1.0)]}
    assert values_of(Amount(280.0, TEMPERATURE), si=True) == {"it [K]": [280.0]}
    assert values_of(Amount(2.0, RATIO), si=True) == {"it": [2.0]}
    assert dict(column_values("it", VOLUME, (None,), True, False, escape)) == {"it [gal]": [None]}


def test_ranges_become_two_further_columns() -> None:
    assert values_of(LASTS, Amount(3 * DAY, STAY), Range(math.nan, DAY, 2 * DAY, STAY)) == {
        "it [days]": [2.0, 3.0, 1.0],
        "it low [days]": [1.0, None, None],
        "it high [days]": [4.0, None, 2.0],
    }


def test_each_row_says_its_unit_where_a_column_has_several() -> None:
    several = (LITRES, Amount(3.6e6, ENERGY), None)
    assert values_of(*several) == {"it": [90.0, 1000.0, None], "it unit": ["L", "Wh", None]}
    assert values_of(*several, si=True) == {"it": [0.09, 3.6e6, None], "it unit": ["m³", "J", None]}


def test_a_column_with_names_stays_text() -> None:
    assert values_of("<fresh>", None, LASTS) == {"it": ["&lt;fresh&gt;", None, f"2{NO_BREAK}days (1 to 4)"]}
    assert [heading for heading, _ in column_values("<it>", None, ("a",), False, False, escape)] == ["&lt;it&gt;"]
