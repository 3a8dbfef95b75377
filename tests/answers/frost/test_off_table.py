from __future__ import annotations

from typing import Any

from tests.answers.frosty import frosty
from vanwater.answers.frost.answer import frost
from vanwater.answers.frost.cold import cold_of
from vanwater.answers.frost.off_table import nobody

LINE = {"from": "fresh", "to": "tap", "size": "pex 12 mm", "length": "2 m"}


def table(**changes: Any) -> list[list[str]]:
    found = next(table for table in frost(frosty(**changes)).tables if table.key == "heating_off")
    assert found.caption.text().startswith("Heating off, pads too: ")
    assert max(map(len, found.text().splitlines())) <= 76
    return [
        ["" if cell is None else cell if isinstance(cell, str) else cell.text() for cell in row] for row in found.rows
    ]


def test_each_piece_with_its_three_times_what_blocks_first_first() -> None:
    rows = table(runs__hose=LINE, tanks__fresh__faces={"top": {"beside": "room"}})
    assert [row[:2] for row in rows] == [
        ["hose", "indoors"],
        ["fresh tank, last tenth", "outside"],
        ["fresh tank, half", "outside"],
        ["fresh tank, full", "outside"],
    ]
    assert all(row[2] and row[3] for row in rows)
    assert [bool(row[4]) for row in rows] == [True, False, False, True]


def test_what_takes_weeks_is_told_as_weeks() -> None:
    rows = table(tanks__fresh__foam="100 mm", frost__design_cold="-2 °C")
    assert rows[-1][4] == "weeks"


def test_a_van_that_is_left_comes_to_the_mean_of_the_day() -> None:
    assert "what is not drained freezes" in nobody(cold_of(frosty())).text()
    assert "only where" in nobody(cold_of(frosty(frost__mean_cold="2 °C"))).text()


def test_what_is_not_decided_is_named() -> None:
    plan = frosty(tanks__grey={"holds": "grey", "capacity": "40 L", "beside": "room"})
    note = next(table for table in frost(plan).tables if table.key == "heating_off").note
    assert note is not None and "grey tank" in note.text()
