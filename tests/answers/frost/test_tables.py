from __future__ import annotations

from tests.answers.frosty import frosty
from vanwater.answers.core.statement import Amount, Range, Say
from vanwater.answers.frost.answer import frost
from vanwater.answers.frost.off_table import WEEKS
from vanwater.quantities import HOURS


def rows(key: str, **changes: object) -> list[list[str]]:
    table = next(table for table in frost(frosty(**changes)).tables if table.key == key)
    return [
        ["" if cell is None else cell if isinstance(cell, str) else cell.text() for cell in row] for row in table.rows
    ]


def test_tanks_with_and_without_a_pad() -> None:
    grey = {"holds": "grey", "length": "0.6 m", "width": "0.5 m", "height": "0.25 m", "z": "-0.3 m"}
    fresh, other = rows("tanks", tanks__grey=grey)
    assert fresh[0] == "fresh tank" and all(fresh)
    assert other[0] == "grey tank" and other[3:] == ["", "", "", ""]
    assert rows("tanks", tanks__fresh__beside="room")[0][3:5] == ["any cold", "any cold"]


def test_hours_the_soonest_first_and_never_in_words() -> None:
    table = next(table for table in frost(frosty()).tables if table.key == "hours")
    assert [row[0] for row in table.rows] == ["hose", "fresh tank, last tenth", "fresh tank, half", "fresh tank, full"]
    for row in table.rows:
        assert isinstance(row[1], Amount) and abs(row[1].value - 281.15) < 1e-9
        for cell, column in zip(row[2:], table.columns[2:], strict=True):
            assert cell in (None, WEEKS) or (isinstance(cell, Amount) and cell.quantity is column.quantity is HOURS)
    assert str(table.caption.text()).startswith("Pads off, van heated: hours until still water")
    assert ["hose", "8\N{NO-BREAK SPACE}°C", "never", "never", "never"] in rows("hours", runs__hose__beside="box")


def test_remedies_tell_now_and_then() -> None:
    told = rows("remedies")
    assert [row[0] for row in told] == [
        "20\N{NO-BREAK SPACE}mm more foam on the cold faces of the fresh tank",
        "a sleeve of 13\N{NO-BREAK SPACE}mm on the hose",
        "the hose in the heated room",
    ]
    assert told[0][1].startswith("held to −")
    assert told[2][2] == "never"
    unheated = rows("remedies", pads=None)
    assert unheated[0][1].startswith("last tenth ")


def test_every_cell_is_text_or_a_number_of_its_column() -> None:
    for table in frost(frosty(tanks__fresh__faces={"top": {"beside": "room"}})).tables:
        for row in table.rows:
            for cell, column in zip(row, table.columns, strict=True):
                if isinstance(cell, Amount | Range):
                    assert column.quantity is cell.quantity
                else:
                    assert cell is None or isinstance(cell, str | Say)
