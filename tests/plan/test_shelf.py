"""The builder's own shelf: parts taken from it, and every way in which its file can be wrong."""

from __future__ import annotations

from pathlib import Path

import pytest

from vanwater.plan.file import read
from vanwater.plan.problems import PlanError, Problem

VAN = """shelf = "my-shelf.toml"
[van]
name = "x"
[household]
people = 2
[tanks.grey]
stock = "galley tank"
[pumps.pump]
stock = "old pump"
cut_in = "1.2 bar"
[tees.a]
[tees.b]
[runs.r]
from = "a"
to = "b"
stock = "blue hose"
length = "1 m"
fittings = { "brass filter" = 1 }
[battery]
stock = "my bank"
"""
SHELF = """# my own parts
[tanks."galley tank"]
holds = "grey"
capacity = "38 L"
price = "80 EUR"
mass = "4 kg"
about = "the flat one"

[pumps."old pump"]
curve = [["0 L/min", "2.6 bar"], ["9 L/min", "0 bar"]]
curve_volts = "13 V"
cut_in = "1.1 bar"
cut_out = "1.9 bar"

[runs."blue hose"]
bore = "12 mm"

[fittings."brass filter"]
loss = "0.1 bar"
loss_at = "6 L/min"

[battery."my bank"]
volts = "12.8 V"
charge = "150 Ah"
usable = "80 %"
"""
CSV = """table,name,holds,capacity,curve,curve_volts,cut_in,cut_out,bore,loss,loss_at,volts,charge,usable,price,mass
tanks,galley tank,grey,38 L,,,,,,,,,,,80 EUR,4 kg
# a remark
pumps,old pump,,,0 L/min at 2.6 bar; 9 L/min at 0 bar,13 V,1.1 bar,1.9 bar,,,,,,,,

runs,blue hose,,,,,,,12 mm,,,,,,,
fittings,brass filter,,,,,,,,0.1 bar,6 L/min,,,,,
battery,my bank,,,,,,,,,,12.8 V,150 Ah,80 %,,
"""


def refused(folder: Path, shelf: str, van: str = VAN, name: str = "my-shelf.toml") -> list[Problem]:
    (folder / "van.toml").write_text(van.replace("my-shelf.toml", name), encoding="utf-8")
    (folder / name).write_text(shelf, encoding="utf-8")
    with pytest.raises(PlanError) as caught:
        read(folder / "van.toml")
    return list(caught.value.problems)


@pytest.mark.parametrize(("name", "shelf"), [("my-shelf.toml", SHELF), ("my-shelf.csv", CSV), ("b.csv", CSV)])
def test_its_parts_are_used_like_stock(tmp_path: Path, name: str, shelf: str) -> None:
    if name == "b.csv":  # as programs for tables write it where a comma is the decimal mark
        shelf = (
            shelf.replace(";", " #")
            .replace(",", ";")
            .replace(" #", ";")
            .replace("0 L/min at 2.6 bar; 9 L/min at 0 bar", '"0 L/min at 2.6 bar; 9 L/min at 0 bar"')
        )
    (tmp_path / "van.toml").write_text(VAN.replace("my-shelf.toml", name), encoding="utf-8")
    (tmp_path / name).write_text(shelf, encoding="utf-8")
    plan = read(tmp_path / "van.toml").plan
    assert plan.tanks["grey"].capacity == pytest.approx(0.038)
    assert plan.pumps["pump"].cut_in == pytest.approx(1.2e5)
    assert plan.pumps["pump"].cut_out == pytest.approx(1.9e5)
    assert plan.pumps["pump"].curve is not None and len(plan.pumps["pump"].curve) == 2
    assert plan.runs["r"].bore == pytest.approx(0.012)
    assert plan.fittings["brass filter"].loss == pytest.approx(1e4)
    assert plan.battery is not None and plan.battery.charge == pytest.approx(150 * 3600)
    part = plan.stocked("tanks", "grey")
    assert part is not None
    assert (part.price, part.mass) == (80.0, 4.0)
    assert part.basis == "the builder's own shelf"
    assert plan.changed({"tanks.grey.capacity": "40 L"}).tanks["grey"].capacity == pytest.approx(0.040)


def test_one_value_of_a_plan_with_a_shelf_is_written_back(tmp_path: Path) -> None:
    (tmp_path / "van.toml").write_text(VAN, encoding="utf-8")
    (tmp_path / "my-shelf.toml").write_text(SHELF, encoding="utf-8")
    revised = read(tmp_path / "van.toml").revised("pumps.pump.cut_in", "1.3 bar")
    assert revised.text == VAN.replace("1.2 bar", "1.3 bar")
    assert revised.plan.tanks["grey"].capacity == pytest.approx(0.038)


def test_a_shelf_that_is_not_there_is_told_at_its_line_of_the_plan(tmp_path: Path) -> None:
    (problem,) = refused(tmp_path, SHELF, VAN.replace("my-shelf.toml", "my-shef.toml"))
    assert (problem.file, problem.line, problem.address) == ("van.toml", 1, "shelf")
    assert "no file" in problem.message
    assert problem.slip == 'Did you mean "my-shelf.toml"?'


@pytest.mark.parametrize(
    ("name", "old", "new", "line", "address", "told"),
    [
        ("my-shelf.toml", 'capacity = "38 L"', "capacity = 38 L", 4, "", "goes on behind its end"),
        ("my-shelf.toml", 'capacity = "38 L"', 'capacity = "38"', 4, "tanks.galley tank.capacity", "has no unit"),
        ("my-shelf.toml", 'capacity = "38 L"', 'capcity = "38 L"', 4, "tanks.galley tank.capcity", '"capcity" is not'),
        ("my-shelf.toml", 'price = "80 EUR"', 'price = "80 L"', 5, "tanks.galley tank.price", "not a unit of money"),
        ("my-shelf.toml", "[runs.", "[hoses.", 15, "hoses", "no table of a shelf"),
        ("my-shelf.toml", '[runs."blue hose"]', '[runs."blue, hose"]', 15, "runs.blue, hose", "cannot be a name"),
        (
            "my-shelf.toml",
            '[runs."blue hose"]',
            '[pumps."old pump"]',
            15,
            "pumps.old pump",
            "stands twice: first in line 9",
        ),
        ("my-shelf.toml", "galley tank", "fresh tank 70 L", 2, "tanks.fresh tank 70 L", "name of a part of the stock"),
        ("my-shelf.toml", "brass filter", "strainer", 18, "fittings.strainer", "name of a part of the stock"),
        ("my-shelf.toml", 'bore = "12 mm"', 'stock = "other"', 16, "runs.blue hose.stock", "no other stock"),
        ("my-shelf.toml", 'usable = "80 %"', 'usable = "8 %"', 25, "battery.my bank.usable", "not believable"),
        ("my-shelf.csv", "38 L", "38", 2, "tanks.galley tank.capacity", "has no unit"),
        ("my-shelf.csv", "table,name", "kind,name", 1, "", 'no column "table"'),
        ("my-shelf.csv", "runs,blue hose", "runs,", 6, "", "says no name"),
        ("my-shelf.csv", "runs,blue hose", "pumps,old pump", 6, "pumps.old pump", "stands twice: first in line 4"),
        ("my-shelf.csv", "brass filter", "strainer", 7, "fittings.strainer", "a part of the stock"),
        ("my-shelf.csv", "80 %,,", "80 %,,,,,", 8, "", "cells under"),
        ("my-shelf.csv", "brass filter", '"brass filter', 7, "", "cannot be read as CSV"),
    ],
)
def test_what_is_wrong_on_a_shelf_is_named_with_its_line(
    tmp_path: Path, name: str, old: str, new: str, line: int, address: str, told: str
) -> None:
    text = SHELF if name.endswith("toml") else CSV
    assert text.count(old) == 1
    problems = refused(tmp_path, text.replace(old, new), name=name)
    assert [(problem.file, problem.line, problem.address) for problem in problems] == [(name, line, address)]
    assert told in problems[0].message


def test_a_shelf_that_is_no_text_is_told_by_its_name(tmp_path: Path) -> None:
    (tmp_path / "van.toml").write_text(VAN, encoding="utf-8")
    (tmp_path / "my-shelf.toml").write_bytes(b"[tanks.a]\n\xff")
    with pytest.raises(PlanError) as caught:
        read(tmp_path / "van.toml")
    (problem,) = caught.value.problems
    assert (problem.file, problem.line) == ("my-shelf.toml", 2)


def test_a_shelf_stands_at_the_top_of_the_plan(tmp_path: Path) -> None:
    van = VAN.split("\n", 1)[1].replace('name = "x"', 'name = "x"\nshelf = "my-shelf.toml"')
    problem = next(problem for problem in refused(tmp_path, SHELF, van) if problem.address == "van.shelf")
    assert "at the top of the file" in problem.expected


def test_prices_in_two_currencies_are_refused_at_the_second(tmp_path: Path) -> None:
    two = CSV.replace("80 %,,", "80 %,900 USD,")
    assert two.count("USD") == 1
    (problem,) = refused(tmp_path, two, name="my-shelf.csv")
    assert problem.address == "battery.my bank.price" and '"900 USD" and a price in EUR' in problem.message
