from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st
from rich.cells import cell_len

from tests.terminal.made import DAY, HOSTILE, days, numbers_only, piped
from vanwater.answers.core.cell import Cell
from vanwater.answers.core.statement import Amount, Range, Say, say
from vanwater.answers.core.table import Column, Table
from vanwater.quantities import ENERGY, FLOW, PRESSURE, STAY, TEMPERATURE, VOLUME, Quantity
from vanwater.terminal.screen import WIDTH, Screen
from vanwater.terminal.tables import set_in_columns, strips


def lines_of(table: Table, screen: Screen | None = None) -> list[str]:
    screen = screen or piped()
    return set_in_columns(strips(table, screen), screen)


def test_numbers_are_set_right_and_their_unit_stands_once_above() -> None:
    table = numbers_only(("fresh", Amount(3.4 * DAY, STAY), Amount(0.1, VOLUME)), ("a", Amount(12 * DAY, STAY), None))
    above, heads, first, second = lines_of(table)
    assert above.split() == ["lasts", "holds"] and heads.split() == ["store", "days", "L"]
    assert first.split() == ["fresh", "3.4", "100"] and second.split() == ["a", "12"]
    end = above.index("lasts") + len("lasts")
    assert {heads.index("days") + 4, first.index("3.4") + 3} == {end} and first.index(".") == second.index("12") + 2


def test_a_range_stands_beside_its_number_so_that_numbers_stay_in_line() -> None:
    table = numbers_only(("a", days(3.4, 2.6, 4.3), None), ("b", Amount(12 * DAY, STAY), None))
    *_, first, second = lines_of(table)
    assert first.split(None, 1)[1] == "3.4  (2.6 to 4.3)"
    assert first.index(".") == second.index("12") + 2


@pytest.mark.parametrize(
    ("value", "shown"), [(float("nan"), "not known"), (float("inf"), "unlimited")], ids=["nan", "inf"]
)
def test_what_is_no_number_is_said_in_words(value: float, shown: str) -> None:
    assert shown in lines_of(numbers_only(("a", Amount(value, STAY), None)))[-1]


@given(
    st.sampled_from([FLOW, VOLUME, PRESSURE, TEMPERATURE, STAY, ENERGY]),
    st.lists(st.floats(0.01, 0.99), min_size=1, max_size=4),
    st.booleans(),
)
def test_us_and_metric_show_the_same_values(quantity: Quantity, shares: list[float], us: bool) -> None:
    lowest = max(quantity.low, quantity.lowest_told)
    values = [lowest + share * (quantity.high - lowest) for share in shares]
    rows = tuple(("x", Amount(value, quantity)) for value in values)
    table = Table("t", say("c"), (Column("name"), Column("it", quantity)), rows)
    lines = lines_of(table, piped(us=us))
    assert quantity.unit(us).split() == lines[1].split()[1:]
    for line, value in zip(lines[-len(values) :], values, strict=True):
        shown = line.split(None, 1)[1].replace(" ", "").replace("−", "-")
        back = quantity.spellings[quantity.unit(us)].to_si(float(shown.replace("×10⁻", "e-")))
        span = abs(float(quantity.spellings[quantity.unit(us)].factor) * float(shown.split("×")[0]))
        unit = quantity.spellings[quantity.unit(us)]
        coarse, fine = quantity.steps.get(quantity.unit(us), (0.0, 0.0))  # the finest step that is told of it
        step = (coarse if abs(float(shown.split("×")[0])) >= 10 else fine) or float(quantity.places is not None)
        nearest = max(quantity.nothing, 0.5 * step * unit.factor)
        assert back == pytest.approx(value, abs=max(5.1e-3 * span * (quantity.places is None), nearest, 1e-12))


def test_a_column_without_a_quantity_keeps_each_units_own() -> None:
    rows = (("water", Amount(0.09, VOLUME)), ("battery", Amount(3.6e6, ENERGY)))
    table = Table("t", say("c"), (Column("store"), Column("usable")), rows)
    _, first, second = lines_of(table)
    assert first.endswith("90 L") and second.endswith("1 000 Wh")
    assert len(first) == len(second)


def test_a_number_in_another_unit_than_its_column_is_shown_in_full() -> None:
    table = Table("t", say("c"), (Column("a", VOLUME),), ((Amount(3600e3, ENERGY),), (Amount(0.1, VOLUME),)))
    assert [line.strip() for line in lines_of(table)[-2:]] == ["1 000 Wh", "100"]


@given(st.lists(st.text(max_size=60), min_size=1, max_size=5), st.floats(1, 1e5))
def test_names_of_any_kind_keep_the_width_and_leave_numbers_whole(names: list[str], value: float) -> None:
    rows = tuple((name, Amount(value, STAY), say("{name}", name=name)) for name in [*names, HOSTILE])
    table = Table("t", say("c"), (Column("store"), Column("lasts", STAY), Column("then")), rows)
    lines = lines_of(table)
    assert all(cell_len(line) <= WIDTH for line in lines)
    assert sum(STAY.number(value).replace("\u202f", " ") in line for line in lines) >= len(rows)
    assert not [letter for line in lines for letter in line if ord(letter) < 32]


def test_columns_that_do_not_fit_are_told_row_by_row(monkeypatch: pytest.MonkeyPatch) -> None:
    columns = (Column("store"), *(Column(f"a rather long heading {place}", STAY) for place in range(9)))
    row: tuple[Cell, ...] = ("fresh", *(days(3.4 + place, 2.6, 14.3) for place in range(9)))
    lines = lines_of(Table("t", say("c"), columns, (row, row)))
    assert all(cell_len(line) <= WIDTH for line in lines)
    assert lines.count("store: fresh") == 2
    assert "a rather long heading 3, days: 6 (3 to 14)" in lines


def test_a_heading_is_broken_before_a_number_is() -> None:
    columns = (Column("name of it"), *(Column(f"pressure before part {place}", PRESSURE) for place in range(4)))
    lines = lines_of(Table("t", say("c"), columns, (("x" * 30, *(Amount(123456.0, PRESSURE),) * 4),)))
    assert all(cell_len(line) <= WIDTH for line in lines)
    assert sum(line.count("1.23") for line in lines) == 4


def test_only_some_rows_are_shown_where_so_asked() -> None:
    screen = piped()
    table = numbers_only(*((f"s{place}", Amount(DAY, STAY), None) for place in range(9)))
    shown = set_in_columns(strips(table, screen, most=2), screen)
    assert [line.split()[0] for line in shown[2:]] == ["s0", "s1"]


def test_numbers_of_many_quantities_have_their_ranges_beside_them() -> None:
    results: list[Amount | Range | Say] = [Range(1e-4, 2e-4, 3e-4, FLOW), Amount(0.1, VOLUME), say("none")]
    table = Table("t", say("c"), (Column(""),), tuple((result,) for result in results))
    first, second, third = lines_of(table)
    assert first.split("  ") == ["12 L/min", "(6 to 18)"]
    assert second.strip() == "100 L" and third.strip() == "none"
    assert len(second) == len(third) == len("12 L/min")


def test_decimal_points_stand_in_line() -> None:
    table = Table("t", say("c"), (Column("a", PRESSURE),), ((Amount(1.2e6, PRESSURE),), (Amount(56800.0, PRESSURE),)))
    assert lines_of(table)[2:] == ["12", " 0.568"]


def test_a_number_told_row_by_row_keeps_no_room_for_decimals() -> None:
    columns = (Column("store"), *(Column(f"a rather long heading {place}", STAY) for place in range(9)))
    rows: tuple[tuple[Cell, ...], ...] = (("a", *(days(12, 11, 14),) * 9), ("b", *(days(2.5, 2.2, 2.9),) * 9))
    assert "a rather long heading 3, days: 12 (11 to 14)" in lines_of(Table("t", say("c"), columns, rows))


def test_columns_stand_nearer_and_names_are_broken_at_spaces_before_a_table_is_told_row_by_row() -> None:
    columns = (Column("open together"), Column("outlet"), *(Column(f"n{place}", PRESSURE) for place in range(8)))
    row: tuple[Cell, ...] = ("evening", "galley tap", *(Amount(123456.0, PRESSURE),) * 8)
    (fitting,) = lines_of(Table("t", say("c"), columns[:-1], (row[:-1],)))[2:]
    assert fitting.startswith("evening        galley tap  1.23  1.23")
    wide = tuple(Amount(1.23456e13 + place, PRESSURE) for place in range(5))
    *_, first, second = lines_of(
        Table("t", say("c"), columns[:8], (("evening", "galley tap", *wide, Amount(1e5, PRESSURE)),))
    )
    assert first.split()[:3] == ["evening", "galley", "123"] and second.split() == ["tap"]
