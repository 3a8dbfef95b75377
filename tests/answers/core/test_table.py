from __future__ import annotations

import math
import re

import pytest

from vanwater.answers.core.cell import Cell
from vanwater.answers.core.escaping import harmless
from vanwater.answers.core.statement import Amount, Range, say
from vanwater.answers.core.table import BLANKS, Column, Table
from vanwater.quantities import (
    DAY,
    ENERGY,
    FLOW,
    LENGTH,
    NO_BREAK,
    RATIO,
    STAY,
    TEMPERATURE,
    THICKNESS,
    VOLUME,
    Quantity,
)

DIGIT, POINT = BLANKS
HOSTILE = "<img src=x onerror=alert(1)>"


def column(*cells: Cell, quantity: Quantity | None = None) -> Table:
    return Table("t", say("What to see."), (Column("it", quantity),), tuple((cell,) for cell in cells))


def stores() -> Table:
    return Table(
        "stores",
        say("How long {what} lasts.", what=HOSTILE),
        (Column("store"), Column("usable"), Column("lasts", STAY)),
        (
            (HOSTILE, Amount(0.0905, VOLUME), Range(DAY, 2.5 * DAY, 4 * DAY, STAY)),
            ("battery", Amount(3.6e6, ENERGY), Amount(12 * DAY, STAY)),
        ),
        say("A note on {what}.", what=HOSTILE),
    )


def heads(table: Table, us: bool = False) -> list[tuple[str, str, bool, bool]]:
    return [(head.text, head.unit, head.numeric, head.ranged) for head in table.cells(us).heads]


def texts(table: Table, us: bool = False) -> list[str]:
    return [row[0].text for row in table.cells(us).rows]


def test_units_stand_in_the_heads_and_ranges_beside_their_numbers() -> None:
    assert heads(stores()) == [
        ("store", "", False, False),
        ("usable", "", True, False),
        ("lasts", "days", True, True),
    ]
    (_, usable, lasts), (_, battery, longer) = stores().cells().rows
    assert (usable.text, battery.text) == (f"90.5{NO_BREAK}L", f"1\u202f000{NO_BREAK}Wh")
    assert (lasts.text, lasts.ends, longer.text, longer.ends) == ("2.5", "(1.0 to 4.0)", "12", "")
    assert usable.cell == Amount(0.0905, VOLUME)


def test_a_unit_that_all_numbers_share_stands_in_the_head_though_the_column_names_no_quantity() -> None:
    shared = column(Amount(0.09, VOLUME), None, say("none"), Amount(0.1, VOLUME))
    assert heads(shared) == [("it", "L", True, False)]
    assert texts(shared) == ["90", "", "none", "100"]
    assert heads(shared, us=True) == [("it", "gal", True, False)]
    assert texts(shared, us=True)[0] == "23.8"


def test_the_unit_of_all_numbers_goes_before_that_of_the_columns_quantity() -> None:
    thin = column(Amount(0.02, THICKNESS), Amount(0.03, THICKNESS), quantity=LENGTH)
    assert (heads(thin)[0][1], texts(thin)) == (THICKNESS.metric, ["20", "30"])


def test_a_number_in_another_unit_than_its_head_shows_its_own() -> None:
    mixed = column(Amount(0.09, VOLUME), Amount(3.6e6, ENERGY), quantity=VOLUME)
    assert (heads(mixed)[0][1], texts(mixed)) == ("L", ["90", f"1\u202f000{NO_BREAK}Wh"])


def test_a_column_with_names_is_text_and_an_empty_one_keeps_its_quantitys_unit() -> None:
    assert heads(column("full", Amount(DAY, STAY))) == [("it", "", False, False)]
    assert texts(column("full", Amount(DAY, STAY))) == ["full", f"1{NO_BREAK}day"]
    assert heads(column(quantity=STAY)) == [("it", "days", True, False)]


def test_a_range_without_width_needs_no_room_beside_it() -> None:
    assert heads(column(Range(1e-4, 1e-4, 1e-4, FLOW), quantity=FLOW)) == [("it", "L/min", True, False)]


def test_decimal_points_stand_in_line_and_words_at_the_right_end() -> None:
    rows = [0.568, 1.2, -30.0, 1234.0, math.inf, 0.0]
    laid = column(*(Amount(value, LENGTH) for value in rows), quantity=LENGTH).cells()
    shown = [row[0].text + row[0].blank for row in laid.rows]
    assert shown == [
        "0.568",
        f"1.2{DIGIT * 2}",
        f"−30{POINT}{DIGIT * 3}",
        f"1\u202f230{POINT}{DIGIT * 3}",
        "unlimited",
        f"0{POINT}{DIGIT * 3}",
    ]
    several = column(Amount(7.25, RATIO), Amount(1.0, RATIO), Amount(2.0, LENGTH)).cells()
    assert [row[0].blank for row in several.rows] == ["", "", ""]
    ratios = column(Amount(7.25, RATIO), Amount(1.0, RATIO)).cells()
    assert [row[0].blank for row in ratios.rows] == ["", POINT + DIGIT * 2]
    names = column("7", "0.25").cells()
    assert [row[0].blank for row in names.rows] == ["", ""]
    whole = column(Amount(7.0, LENGTH), Amount(12.0, LENGTH)).cells()
    assert [row[0].blank for row in whole.rows] == ["", ""]


def test_html_is_harmless_and_sets_numbers_right_with_their_ranges_beside() -> None:
    page = stores().html()
    assert "<img" not in page
    assert page.count("&lt;img") == 3
    assert '<th scope="col" colspan="2" style="text-align:left">lasts, days</th>' in page
    assert '<th scope="col" style="text-align:right">usable</th>' in page
    assert page.startswith('<table class="vw-table" style="font-variant-numeric:tabular-nums">')
    right, left = (f"text-align:{side}" for side in ("right", "left"))
    assert f'<td style="{right}">12{POINT}{DIGIT}</td><td style="{left}"></td></tr>' in page
    whole = f'<td style="{left};white-space:nowrap">(1.0 to 4.0)</td></tr>'  # it has spaces at which it could break
    assert f'<td style="{right}">2.5</td>{whole}' in page
    assert '<td style="text-align:left">battery</td>' in page
    assert "A note on" in page
    assert "23.9" in stores().html(us=True)
    assert stores()._repr_html_() == page


def test_plain_text_sets_numbers_right_below_two_lines_of_heads() -> None:
    table = Table(
        "t",
        say("c"),
        (Column("name"), Column("lasts", STAY), Column("then")),
        (
            ("fresh", Range(DAY, 2.5 * DAY, 4 * DAY, STAY), "grey"),
            ("a longer one", Amount(12 * DAY, STAY), "battery"),
        ),
    )
    assert table.text() == "\n".join(
        (
            "              lasts",
            "name           days                then",
            "fresh           2.5  (1.0 to 4.0)  grey",
            "a longer one   12                  battery",
        )
    )
    assert Table("t", say("c"), (Column("a"),), (("b",),)).text() == "a\nb"


def test_escapes_reach_every_text() -> None:
    laid = stores().cells(escape=lambda text: f"[{text}]" if text else "")
    assert [head.text for head in laid.heads] == ["[store]", "[usable]", "[lasts]"]
    assert laid.heads[2].unit == "[days]"
    assert laid.rows[0][0].text == f"[{HOSTILE}]"
    assert laid.rows[0][2].ends == "[(1.0 to 4.0)]"
    (heading, values), *_ = column("=1+1").values(escape=harmless("csv"))
    assert (heading, values) == ("it", ["'=1+1"])


def test_a_frame_holds_floats_under_heads_with_units() -> None:
    pd = pytest.importorskip("pandas")
    frame = stores().frame()
    assert list(frame.columns) == [
        "store",
        "usable",
        "usable unit",
        "lasts [days]",
        "lasts low [days]",
        "lasts high [days]",
    ]
    assert frame["lasts [days]"].tolist() == [2.5, 12.0]
    assert frame["lasts high [days]"].dtype == float
    assert frame["lasts high [days]"][0] == 4.0
    assert pd.isna(frame["lasts high [days]"][1])
    assert frame["store"].tolist() == [HOSTILE, "battery"]
    assert frame["usable unit"].tolist() == ["L", "Wh"]
    si = stores().frame(si=True)
    assert si["lasts [s]"].tolist() == [2.5 * DAY, 12 * DAY]
    assert si["usable"].tolist() == [0.0905, 3.6e6]
    us = column(Amount(273.15, TEMPERATURE)).frame(us=True)
    assert us["it [°F]"].tolist() == pytest.approx([32.0])


def test_a_frame_keeps_columns_of_one_heading_apart() -> None:
    table = Table("t", say("c"), (Column("a", STAY), Column("a", STAY)), ((Amount(DAY, STAY), Amount(2 * DAY, STAY)),))
    frame = table.frame()
    assert [re.sub(r"\W", "", heading) for heading in frame.columns] == ["adays", "adays"]
    assert frame.to_numpy().tolist() == [[1.0, 2.0]]


def test_only_columns_stay_in_which_something_stands() -> None:
    table = Table("t", say("It."), tuple(map(Column, "abc")), (("x", None, None), (None, None, "y")))
    assert [column.heading for column in table.known().columns] == ["a", "c"]
    assert table.known().rows == (("x", None), (None, "y")) == table.known(always=1).rows
    assert table.known(always=2).columns == table.columns
    bare = Table("t", say("It."), table.columns, ())
    assert bare.known(always=1).columns == table.columns[:1] and bare.known(always=1).rows == ()
