from __future__ import annotations

from vanwater.answers.core.statement import Amount, Range, say
from vanwater.answers.core.table import Column, Table
from vanwater.document.sheets import laid_out
from vanwater.document.sources import Sources
from vanwater.document.sums import Sums
from vanwater.document.words import Words
from vanwater.quantities import DAY, FLOW, STAY, VOLUME


def sheet_of(table, us=False, told=None):
    words = Words(us)
    return laid_out(table, words, Sums(told.each.values() if told else (), words, Sources()))


def test_units_stand_in_the_heading_and_numbers_are_set_right(told):
    sheet = sheet_of(told.each["stay"].tables[0], told=told)
    assert [(one.text, one.unit, one.numeric, one.ranged) for one in sheet.heads] == [
        ("store", "", False, False),
        ("usable", "L", True, False),
        ("lasts", "days", True, True),
    ]
    assert [[slot.text for slot in row.slots] for row in sheet.rows] == [
        ["grey", "80", "2.7"],
        ["fresh", "110", "4.6"],
        ["battery", "", "unlimited"],
    ]
    assert [row.slots[2].ends for row in sheet.rows] == ["(2.1 to 3.5)", "(3.9 to 5.2)", ""]


def test_in_us_units_heading_and_numbers_change_together(told):
    sheet = sheet_of(told.each["stay"].tables[0], us=True, told=told)
    assert sheet.heads[1].unit == "gal"
    assert [row.slots[1].text for row in sheet.rows] == ["21.1", "29.1", ""]


def test_rows_point_to_the_sums_of_their_numbers(told):
    sheet = sheet_of(told.each["stay"].tables[0], told=told)
    assert sheet.summed
    assert [row.sums for row in sheet.rows] == [(1,), (), ()]
    assert sheet.columns == "n2 n3 e4 summed"
    assert not sheet_of(told.each["supply"].tables[0], told=told).summed
    alone = laid_out(told.each["stay"].tables[0], Words())  # where the sums stand in another paper
    assert not alone.summed and [row.slots for row in alone.rows] == [row.slots for row in sheet.rows]


def test_a_column_of_amounts_without_a_quantity_is_set_right_below_their_unit():
    table = Table(
        "t",
        say("Stores."),
        (Column("store"), Column("a day"), Column("remark")),
        (("grey", Amount(1e-3, VOLUME), "full"), ("battery", None, Amount(2 * DAY, STAY))),
    )
    sheet = sheet_of(table)
    assert [one.numeric for one in sheet.heads] == [False, True, False]
    assert (sheet.heads[1].unit, sheet.rows[0].slots[1].text) == ("L", "1")
    assert sheet.rows[1].slots[2].text == "2\xa0days"


def test_a_range_without_width_needs_no_column_of_its_own():
    same = Range(1e-4, 1e-4, 1e-4, FLOW)
    sheet = sheet_of(Table("t", say("One."), (Column("flow", FLOW),), ((same,),)))
    assert not sheet.heads[0].ranged
    assert sheet.rows[0].slots[0].text == "6"
