from __future__ import annotations

import copy
import warnings
from typing import Any

import numpy as np
import pytest

from tests.examples import NAMES, example
from vanwater.plan.change import CappedWarning, as_written, misplaced, put
from vanwater.plan.model import Plan
from vanwater.plan.problems import PlanError

FAMILY = example("family-winter")
LITRES = {"tanks.grey": {"holds": "grey", "capacity": "60 L"}}


def refused(plan: Plan, values: dict[str, Any], si: bool = False) -> dict[str, str]:
    own = copy.deepcopy(dict(plan.own))
    with pytest.raises(PlanError) as caught:
        plan.changed(values, si=si)
    assert plan.own == own
    return {problem.address: str(problem) for problem in caught.value.problems}


@pytest.mark.parametrize(
    ("address", "value", "words"),
    [
        ("tanks.frsh.length", "1 m", "no [tanks.frsh]. Expected one that it has (fresh, grey); a new one is a whole"),
        ("tanks.frsh.length", "1 m", 'Did you mean "tanks.fresh.length"?'),
        ("tanks.third.capacity", "9 L", 'as in "tanks.third": {...}.'),
        ("tanks.third", None, "The plan has no [tanks.third]."),
        ("tanks.third", "9 L", "The plan has no [tanks.third]."),
        ("tanks.fresh.lenght", "1 m", '"lenght" is not known here.'),
        ("tanks.fresh.lenght", None, 'Did you mean "tanks.fresh.length"?'),
        ("tank.fresh.length", "1 m", 'Did you mean "tanks.fresh.length"?'),
        ("tanks.fresh.faces.left.foam", "9 mm", "The plan has no [tanks.fresh.faces.left]."),
        ("tanks.fresh.length.metres", "1 m", "There is no such place in the plan."),
        ("van.name.first", "x", "There is no such place in the plan."),
        ("frost.box.side", "x", "There is no such place in the plan."),
        ("pumps.pump.curve.9.0", "1 L/min", "There is no such place in the plan."),
        ("pumps.pump.curve.-1", None, "There is no such place in the plan."),
        ("runs.suction.fittings.spanner", None, "The plan has no [runs.suction.fittings.spanner]."),
        ("runs.suction.start", "fresh", '"start" is not known here.'),
        ("", "x", '"" is not known here.'),
        ("tanks.", None, "The plan has no [tanks.]."),
        (f"pumps.pump.curve.{'9' * 5000}", None, "There is no such place in the plan."),
    ],
)
@pytest.mark.parametrize("si", [False, True])
def test_a_place_that_the_plan_lacks_is_refused_with_what_was_meant(
    address: str, value: object, words: str, si: bool
) -> None:
    problems = refused(FAMILY, {address: value}, si)
    assert problems.keys() == {address}
    assert words in problems[address]


def test_a_part_that_may_be_missing_is_added_whole_only() -> None:
    bare = FAMILY.changed(
        {"battery": None, "inverter": None, "heaters.heater.source": "gas", "heaters.heater.volts": None}
    )
    assert bare.battery is None
    assert (
        'no table [battery]. Expected a whole one, as in "battery": {...}.'
        in refused(bare, {"battery.charge": "90 Ah"})["battery.charge"]
    )
    whole = bare.changed(
        {"battery": {"volts": "12.8 V", "charge": "90 Ah", "usable": "85 %"}, "battery.charge": "100 Ah"}
    )
    assert whole.at("battery.charge") == 360_000.0
    assert (
        bare.changed({"battery.charge": "100 Ah", "battery": {"volts": "12.8 V", "charge": "90 Ah", "usable": "85 %"}})
        == whole
    )
    assert bare.changed({"battery": None}) == bare


def test_tables_that_always_stand_and_uses_of_a_habit_have_their_places() -> None:
    plan = Plan.of({"van": {"name": "x"}, "household": {"people": 1, "habits": "careful"}, "tanks": {}})
    other = plan.changed({"frost.hold": "5 °C", "site.altitude": "300 m", "uses.shower.volume": "9 L"})
    assert (other.frost.hold, other.site.altitude) == (278.15, 300.0)
    assert other.uses["shower"].volume == pytest.approx(9e-3)
    assert plan.changed({"site.altitude": None}) == plan
    assert "Did you mean" in refused(plan, {"uses.shover.volume": "9 L"})["uses.shover.volume"]


def test_a_fitting_more_is_no_new_part() -> None:
    assert FAMILY.changed({"runs.suction.fittings.push-fit elbow": 1}).at("runs.suction.fittings.push-fit elbow") == 1


@pytest.mark.parametrize(
    ("values", "address", "words"),
    [
        ({"tanks.fresh.length": 1}, "tanks.fresh.length", '1 has no unit. Expected a length such as "'),
        ({"tanks.fresh.length": np.float64(0.9)}, "tanks.fresh.length", "has no unit"),
        ({"tanks.fresh.length": "75"}, "tanks.fresh.length", '"75" has no unit.'),
        ({"frost.hold": 4.0}, "frost.hold", 'Did you mean "4 °C"?'),
        ({"heaters.heater.hours_on": 3}, "heaters.heater.hours_on", 'Did you mean "3 h"?'),
        ({"tanks.grey": {"holds": "grey", "capacity": 60}}, "tanks.grey.capacity", 'Did you mean "60 L"?'),
        ({"pumps.pump.curve": [[0, "3 bar"], ["9 L/min", "0 bar"]]}, "pumps.pump.curve.0.0", "0 has no unit."),
        ({"pumps.pump.curve.1.1": 2.5}, "pumps.pump.curve.1.1", 'Did you mean "2.5 bar"?'),
        ({"household.people": "two"}, "household.people", "not a whole number"),
        ({"household.people": 2.5}, "household.people", "not a whole number"),
    ],
)
def test_a_number_is_refused_where_a_unit_is_due_as_the_file_refuses_it(
    values: dict[str, Any], address: str, words: str
) -> None:
    problems = refused(FAMILY, values)
    assert problems.keys() == {address}
    assert words in problems[address]


def test_numbers_that_need_no_unit_are_taken_as_they_are() -> None:
    other = FAMILY.changed({"household.people": np.int64(3), "frost.under_floor": 0.4, "runs.suction.k": 2})
    assert (other.household.people, other.frost.under_floor, other.runs["suction"].k) == (3, 0.4, 2.0)
    assert type(other.household.people) is int
    assert type(other.frost.under_floor) is float
    assert other.changed({"frost.nights": 3}).own["household"]["people"] == 3
    assert as_written((True, "x", None)) == [True, "x", None]


def test_every_problem_is_told_in_one_go() -> None:
    problems = refused(
        FAMILY,
        {"tanks.nowhere.z": "1 m", "tanks.fresh.length": 1, "runs.suction.to": "pmp", "site.altitude": "9 km", "x": 1},
    )
    assert problems.keys() == {"tanks.nowhere.z", "tanks.fresh.length", "runs.suction.to", "site.altitude", "x"}


def test_si_values_go_in_as_they_come_out() -> None:
    other = FAMILY.changed({"tanks.fresh.length": 0.9, "site.altitude": 300}, si=True)
    assert other == FAMILY.changed({"tanks.fresh.length": "90 cm", "site.altitude": "300 m"})
    assert FAMILY.changed({"site.altitude": FAMILY.site.altitude}, si=True) == FAMILY


@pytest.mark.parametrize("name", NAMES)
def test_a_part_that_is_taken_out_and_put_back_leaves_the_plan_as_it_was(name: str) -> None:
    plan = example(name)
    taken = {f"{table}.{name}": part for table in ("loads", "pads") for name, part in plan.own.get(table, {}).items()}
    assert taken
    without = plan.changed(dict.fromkeys(taken))
    assert (without.loads, without.pads) == ({}, {})
    assert without.changed(taken) == plan


@pytest.mark.parametrize(
    ("values", "words"),
    [
        (
            {"capacity": "140 L"},
            ["tanks.fresh.capacity does not count: to its overflow the inside sides hold less, 137"],
        ),
        (
            {"capacity": "148 L"},
            ["tanks.fresh.capacity does not count: to its overflow the inside sides hold less, 137"],
        ),
        ({"capacity": "125 L"}, []),
        ({"capacity": "130 L", "length": "1 m"}, []),
        ({"length": "1 m"}, []),
        ({"capacity": "125 L", "pickup": "1 cm"}, []),
        ({"capacity": None}, []),
    ],
)
def test_a_value_that_another_one_caps_is_told(values: dict[str, Any], words: list[str]) -> None:
    with warnings.catch_warnings(record=True) as told:
        warnings.simplefilter("always")
        FAMILY.changed({f"tanks.fresh.{field}": value for field, value in values.items()})
    assert [
        str(warning.message).replace("\N{NO-BREAK SPACE}", " ")[: len(word)]
        for warning, word in zip(told, words, strict=True)
    ] == words
    assert all(warning.category is CappedWarning and warning.filename == __file__ for warning in told)


def test_a_side_that_the_capacity_caps_is_told() -> None:
    small = FAMILY.changed({"tanks.fresh.capacity": "130 L"})
    with pytest.warns(CappedWarning, match=r"tanks\.fresh\.length does not count: it holds its capacity, 130.L\."):
        small.changed({"tanks.fresh.length": "1 m"})


def test_a_whole_new_tank_that_caps_itself_is_told() -> None:
    box = {
        "holds": "fresh",
        "length": "1 m",
        "width": "50 cm",
        "height": "30 cm",
        "overflow": "29 cm",
        "capacity": "150 L",
    }
    with pytest.warns(CappedWarning, match=r"tanks\.third\.capacity does not count"):
        FAMILY.changed({"tanks.third": box, "runs.suction.from": "fresh"})


def test_where_an_address_leads_is_asked_of_tables() -> None:
    raw = {"tanks": {"fresh": {"capacity": "9 L"}}}
    assert misplaced(Plan, raw, "tanks.fresh.capacity", "8 L") is None
    assert misplaced(Plan, raw, "tanks.grey.capacity", "8 L") is not None


def test_put_sets_and_takes_out() -> None:
    raw: dict[str, Any] = {"a": {"b": 1, "c": ((1, 2), [3, 4])}}
    put(raw, "a.b", 2)
    put(raw, "x.y.z", "new")
    put(raw, "a.c.0.1", 9)
    put(raw, "a.c.1", "whole")
    assert raw == {"a": {"b": 2, "c": [[1, 9], "whole"]}, "x": {"y": {"z": "new"}}}
    put(raw, "a.b", None)
    put(raw, "x", None)
    put(raw, "not.there.at.all", None)
    assert raw == {"a": {"c": [[1, 9], "whole"]}}


@pytest.mark.parametrize("address", ["a.b.c", "a.b.c.d", "a.c.2", "a.c.x", "a.c.-1", "a.c.0.0.0"])
def test_put_where_no_value_can_stand(address: str) -> None:
    with pytest.raises(PlanError) as caught:
        put({"a": {"b": 1, "c": [[1, 2]]}}, address, 5)
    assert caught.value.problems[0].address == address
