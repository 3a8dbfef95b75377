from __future__ import annotations

import csv as table_file
import io

import numpy as np
import pytest

from vanwater.answers.core.chart import Bars, Line, Mark, words
from vanwater.figures.data import csv, table_of


def table(text: str) -> list[list[str]]:
    return list(table_file.reader(io.StringIO(text)))


def headings(chart, us=False):
    return table(csv(chart, us))[0]


def test_headings_name_the_units(samples):
    water = "Water in the tank"
    assert headings(samples.levels()) == [
        "name",
        "Time [days]",
        *(f"{water}{end} [L]" for end in ("", " low", " high")),
    ]
    assert headings(samples.pump(), us=True) == ["name", "Flow [gal/min]", "Pressure [psi]"]
    assert headings(samples.days()) == [
        "kind",
        "Store",
        "Days [days]",
        "Days low [days]",
        "Days high [days]",
        "start [days]",
    ]


def test_the_same_numbers_are_a_table(samples):
    laid = table_of(samples.days()).cells()
    assert [head.text for head in laid.heads] == ["kind", "Store", "Days", "start"]
    assert ("fresh tank", "4.7", "(3.9 to 5.5)") in [(row[1].text, row[2].text, row[2].ends) for row in laid.rows]
    assert table_of(samples.levels()).caption.text() == words(samples.levels().title, "terminal")


@pytest.mark.parametrize("us", [False, True])
def test_every_point_of_a_line_comes_back_in_si(samples, us):
    chart = samples.levels()
    (fresh,) = (draw for draw in chart.draws if isinstance(draw, Line) and draw.role == "fresh")
    found = np.array([[float(cell) for cell in row[1:]] for row in table(csv(chart, us)) if row[0] == "fresh water"])
    volume, time = chart.y.quantity.spellings[chart.y.quantity.unit(us)], chart.x.quantity.spellings["days"]
    assert fresh.low is not None
    np.testing.assert_allclose(time.to_si(found[:, 0]), fresh.x, rtol=1e-8)
    np.testing.assert_allclose(volume.to_si(found[:, 1]), fresh.y, rtol=1e-8, atol=1e-12)
    np.testing.assert_allclose(volume.to_si(found[:, 2]), fresh.low, rtol=1e-8, atol=1e-12)


def test_limits_marks_and_bars_are_rows_too(samples):
    levels = table(csv(samples.levels()))
    assert ["grey tank full", "", "55", "", ""] in levels
    assert ["full", "3.4375", "55", "", ""] in levels
    days = table(csv(samples.days()))
    assert ["", "fresh tank", "4.7", "3.9", "5.5", ""] in days
    assert ["", "battery", "inf", "6", "inf", ""] in days
    assert ["wanted", "", "4", "", "", ""] in days
    assert ["dishes", "moderate", "13.5", "9"] in table(csv(samples.uses()))


def test_every_row_is_as_wide_as_the_headings_and_nothing_is_left_out(chart):
    lines = table(csv(chart))
    assert {len(row) for row in lines} == {len(lines[0])}
    points = 0
    for draw in chart.draws:
        points += draw.x.size if isinstance(draw, Line) else len(draw.names) if isinstance(draw, Bars) else 1
    assert len(lines) == 1 + points
    assert any(isinstance(draw, Line | Bars | Mark) for draw in chart.draws)


def test_names_of_a_plan_are_no_formulas(samples):
    cells = [cell for row in table(csv(samples.bars_named_badly())) for cell in row]
    assert "'=1+1" in cells
    assert not any(cell.startswith(("=", "+", "@")) for cell in cells)
