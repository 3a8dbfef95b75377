from __future__ import annotations

import copy
from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.drawn import WHOLE_PLANS
from tests.examples import NAMES, example
from tests.strategies import Raw, measured, plans
from vanwater.plan.model import Plan
from vanwater.plan.problems import PlanError
from vanwater.plan.tables import habits

RAW: dict[str, Any] = {
    "van": {"name": "Otter"},
    "household": {"people": 2, "habits": "moderate"},
    "tanks": {
        "fresh": {"holds": "fresh", "capacity": "90 L"},
        "grey": {"holds": "grey", "capacity": 0.06},
    },
    "pumps": {"pump": {"curve": [["0 L/min", "2.9 bar"], ["11 L/min", "0 bar"]], "curve_volts": 13.6}},
    "runs": {"suction": {"from": "fresh", "to": "pump", "fittings": {"dip tube": 1}}},
    "uses": {"dishes": {"volume": "4 L"}},
}


def complaints(raw: dict[str, Any], file: bool = False) -> dict[str, str]:
    with pytest.raises(PlanError) as caught:
        Plan.of(raw, file=file)
    return {problem.address: problem.message for problem in caught.value.problems}


def test_numbers_are_taken_from_python_as_si_and_refused_from_a_file() -> None:
    plan = Plan.of(RAW)
    assert plan.at("tanks.grey.capacity") == 0.06
    assert plan.at("pumps.pump.curve_volts") == 13.6
    assert plan.at("tanks.fresh.capacity") == pytest.approx(0.09)
    assert complaints(RAW, file=True).keys() == {"tanks.grey.capacity", "pumps.pump.curve_volts"}
    assert Plan.of({**RAW, "tanks": {"t": {"holds": "grey", "capacity": np.float64(0.06)}}, "runs": {}})


@pytest.mark.parametrize("value", [float("nan"), float("inf"), -0.1, 60.0, True, None, [], "60"])
def test_numbers_that_cannot_be_are_refused_from_python(value: object) -> None:
    raw = copy.deepcopy(RAW)
    raw["tanks"]["grey"]["capacity"] = value
    assert list(complaints(raw)) == ["tanks.grey.capacity"]


def test_of_leaves_what_it_is_given_alone_and_is_not_changed_through_it() -> None:
    raw = copy.deepcopy(RAW)
    plan = Plan.of(raw)
    assert raw == RAW
    raw["tanks"]["fresh"]["capacity"] = "1 L"
    raw["tanks"]["fresh"].clear()
    assert plan.at("tanks.fresh.capacity") == pytest.approx(0.09)
    assert plan.own == RAW


def test_least_plan_has_its_defaults() -> None:
    plan = Plan.of({"van": {"name": "x"}, "household": {"people": 1}})
    assert plan.at("site.altitude") == 0.0
    assert plan.at("battery") is None
    assert plan.at("battery.volts") is None
    assert plan.uses == {}
    assert not plan.us
    assert plan.changed({"van.units": "us"}).us


@pytest.mark.parametrize(
    ("address", "value"),
    [
        ("van.name", "Otter"),
        ("tanks.fresh", None),
        ("runs.suction.from", "fresh"),
        ("runs.suction.fittings.dip tube", 1),
        ("pumps.pump.curve.1.0", pytest.approx(11e-3 / 60)),
        ("uses.dishes.volume", pytest.approx(4e-3)),
        ("uses.dishes.flow", None),
        ("inverter.efficiency", None),
    ],
)
def test_value_at_an_address(address: str, value: object) -> None:
    plan = Plan.of(RAW)
    found = plan.at(address)
    assert found == (plan.tanks["fresh"] if address == "tanks.fresh" else value)
    assert plan.at(address) == found


@pytest.mark.parametrize(
    ("address", "words"),
    [
        ("tanks.frsh.capacity", 'The plan has no "tanks.frsh.capacity". Did you mean "tanks.fresh"?'),
        ("tanks.fresh.capcity", 'The plan has no "tanks.fresh.capcity". Did you mean "tanks.fresh.capacity"?'),
        ("tank.fresh", 'The plan has no "tank.fresh". Did you mean "tanks"?'),
        ("battery.vlots", 'The plan has no "battery.vlots".'),
        ("van.name.first", 'The plan has no "van.name.first".'),
        ("runs.suction.start", 'The plan has no "runs.suction.start".'),
        ("pumps.pump.curve.2", 'The plan has no "pumps.pump.curve.2".'),
        ("pumps.pump.curve.-1", 'The plan has no "pumps.pump.curve.-1".'),
        ("pumps.pump.curve.²", 'The plan has no "pumps.pump.curve.²".'),
        (f"pumps.pump.curve.{'9' * 5000}", "The plan has no"),
        ("runs.suction.fittings.strainer", 'The plan has no "runs.suction.fittings.strainer".'),
        ("", 'The plan has no "".'),
        ("tanks.", 'The plan has no "tanks."'),
    ],
)
def test_address_that_is_none_is_told_with_the_nearest(address: str, words: str) -> None:
    with pytest.raises(KeyError) as caught:
        Plan.of(RAW).at(address)
    assert caught.value.args[0].startswith(words)
    assert len(caught.value.args[0]) < 200


def test_changed_makes_another_plan_and_leaves_this_one() -> None:
    plan = Plan.of(RAW)
    before = copy.deepcopy(plan.own)
    other = plan.changed({"tanks.fresh.capacity": 0.1, "household.people": 3, "pumps.pump.curve.0.1": "3 bar"}, si=True)
    assert (plan.at("tanks.fresh.capacity"), plan.at("household.people")) == (pytest.approx(0.09), 2)
    assert (other.at("tanks.fresh.capacity"), other.at("household.people")) == (0.1, 3)
    assert other.at("pumps.pump.curve.0.1") == pytest.approx(3e5)
    assert plan.own == before == RAW
    assert other != plan
    assert (
        other.changed({"tanks.fresh.capacity": "90 L", "household.people": 2, "pumps.pump.curve.0.1": 2.9e5}, si=True)
        == plan
    )


def test_a_value_given_to_changed_is_not_shared() -> None:
    can = {"holds": "fresh", "capacity": "20 L", "refills": "fresh"}
    plan = Plan.of(RAW).changed({"tanks.can": can})
    can["capacity"] = "10 L"
    assert plan.changed({"household.people": 3}).at("tanks.can.capacity") == pytest.approx(0.02)


def test_none_takes_a_value_or_a_table_out() -> None:
    plan = Plan.of(RAW)
    assert plan.changed({"tanks.grey": None}).tanks.keys() == {"fresh"}
    assert plan.changed({"site.altitude": 300.0}, si=True).changed({"site.altitude": None}, si=True) == plan
    assert plan.changed({"battery": None, "tanks.grey.overflow": None}).own == plan.own
    assert plan.changed({"household.habits": None, "uses": None}).uses == {}
    with pytest.raises(PlanError, match="neither its capacity"):
        plan.changed({"tanks.grey.capacity": None})


@pytest.mark.parametrize(
    ("changes", "address"),
    [
        ({"tanks.fresh.capacity": 90.0}, "tanks.fresh.capacity"),
        ({"tanks.fresh.capcity": 0.09}, "tanks.fresh.capcity"),
        ({"tanks.fresh.capacity.litres": 90}, "tanks.fresh.capacity.litres"),
        ({"pumps.pump.curve.2": 1}, "pumps.pump.curve.2"),
        ({"pumps.pump.curve.x.0": 1}, "pumps.pump.curve.x.0"),
        ({"runs.suction.from": "frsh"}, "runs.suction.from"),
        ({"household.people": 2.5}, "household.people"),
    ],
)
def test_change_that_is_not_possible_is_refused_at_its_address(changes: dict[str, Any], address: str) -> None:
    plan = Plan.of(RAW)
    with pytest.raises(PlanError) as caught:
        plan.changed(changes, si=True)
    assert [problem.address for problem in caught.value.problems] == [address]
    assert plan.own == RAW


def test_habits_fill_the_uses_below_the_builders_own() -> None:
    plan = Plan.of(RAW)
    assert plan.at("uses.dishes.volume") == pytest.approx(4e-3)
    table = habits("moderate")
    assert set(plan.uses) == set(table) - {"urine", "cassette-flush"}
    assert plan.uses["dishes"].a_day == pytest.approx(float(str(table["dishes"]["a_day"]).split()[0]) / 86400)


def test_habits_are_filled_anew_when_they_or_the_tanks_change() -> None:
    plan = Plan.of(RAW)
    careful = plan.changed({"household.habits": "careful"})
    assert careful.uses["shower"] == Plan.of({**RAW, "household": {"people": 2, "habits": "careful"}}).uses["shower"]
    assert careful.uses["shower"] != plan.uses["shower"]
    assert careful.at("uses.dishes.volume") == plan.at("uses.dishes.volume")
    dry = plan.changed({"tanks.can": {"holds": "urine", "capacity": "10 L"}})
    assert set(dry.uses) - set(plan.uses) == {"urine"}
    assert dry.changed({"tanks.can": None}) == plan
    assert plan.changed({"uses.dishes": None}).at("uses.dishes.volume") != plan.at("uses.dishes.volume")


def test_own_flow_takes_the_place_of_a_habits_volume_and_the_other_way_round() -> None:
    plan = Plan.of(RAW)
    timed = plan.changed({"uses.dishes": {"flow": "3 L/min", "duration": "2 min"}})
    assert timed.uses["dishes"].volume is None
    assert timed.uses["dishes"].each_time == pytest.approx(6e-3)
    assert timed.uses["dishes"].temperature == plan.uses["dishes"].temperature
    poured = plan.changed({"uses.shower.volume": "7 L"})
    assert poured.uses["shower"].flow is None
    assert poured.uses["shower"].each_time == pytest.approx(7e-3)
    shorter = plan.changed({"uses.shower.duration": "10 s"})
    assert shorter.uses["shower"].flow == plan.uses["shower"].flow


@pytest.mark.parametrize("holds", [None, [], {}, 3, ["urine"]])
def test_odd_tables_do_not_trouble_the_habits(holds: object) -> None:
    assert list(complaints({**RAW, "tanks": {"t": {"holds": holds, "capacity": "9 L"}}, "runs": {}})) == [
        "tanks.t.holds"
    ]
    assert list(complaints({**RAW, "tanks": holds, "runs": {}} if holds else {**RAW, "uses": 3})) in (
        ["tanks"],
        ["uses"],
    )
    assert "uses.dishes" in complaints({**RAW, "uses": {"dishes": holds if holds != {} else 3}})


@pytest.mark.parametrize("habits", ["modest", "MODERATE", "", 3, [], {}, {"a": 1}])
def test_uses_are_not_called_incomplete_because_of_a_bad_habit(habits: object) -> None:
    raw = {**RAW, "household": {"people": 2, "habits": habits}}
    assert list(complaints(raw)) == ["household.habits"]
    raw = {**RAW, "household": {"people": 2, "habit": "moderate"}}
    assert list(complaints(raw)) == ["household.habit"]
    raw = {**RAW, "houshold": {"people": 2, "habits": "moderate"}}
    raw.pop("household")
    assert list(complaints(raw)) == ["houshold"]


def test_plans_that_decide_the_same_are_equal_however_written() -> None:
    assert Plan.of(RAW) == Plan.of(Plan.of(RAW).own)
    litres = copy.deepcopy(RAW)
    litres["tanks"]["grey"]["capacity"] = "60 L"
    looked_at = Plan.of(litres)
    assert looked_at.at("van.name") == "Otter"
    assert looked_at == Plan.of(RAW)
    assert looked_at != Plan.of(RAW).changed({"van.name": "Heron"})
    assert looked_at != RAW


@pytest.mark.parametrize("name", NAMES)
def test_examples_go_round(name: str) -> None:
    plan = example(name)
    assert Plan.of(plan.own, file=True) == plan
    assert plan.changed({}) == plan


@pytest.mark.filterwarnings("ignore::vanwater.plan.change.CappedWarning")
@WHOLE_PLANS
@given(raw=plans(), data=st.data())
def test_a_change_to_what_it_is_changes_nothing(raw: Raw, data: st.DataObject) -> None:
    plan = Plan.of(raw, file=True)
    ways = measured(raw, unit=False)
    for way, _ in data.draw(st.lists(st.sampled_from(ways), max_size=4)) if ways else ():
        address = ".".join(way)
        assert plan.changed({address: plan.at(address)}, si=True) == plan
    assert plan.own == raw


def test_what_is_made_of_a_plan_is_made_once_and_anew_for_a_changed_one():
    plan = example("family-winter")
    made = [plan.once("litres", lambda: plan.at("tanks.fresh.length") * 2) for _ in range(2)]
    other = plan.changed({"tanks.fresh.length": "0.9 m"})
    assert made == [plan.at("tanks.fresh.length") * 2] * 2
    assert plan.once("litres", lambda: 0.0) == made[0]
    assert other.once("litres", lambda: other.at("tanks.fresh.length") * 2) == 1.8


@pytest.mark.parametrize("household", [7, None, "two"])
def test_a_household_that_is_no_table_leaves_no_use_incomplete(household: object) -> None:
    raw = {"van": {"name": "t"}, "household": household, "uses": {"shower": {"temperature": "38 °C"}}}
    with pytest.raises(PlanError) as caught:
        Plan.of(raw, file=True)
    assert [problem.address for problem in caught.value.problems] == ["household"]


@pytest.mark.parametrize("fields", [{"bore": "8 mm"}, {"size": "pvc hose 8 mm"}])
def test_a_wall_so_rough_that_it_closes_the_bore_is_refused(fields: dict[str, Any]) -> None:
    raw = copy.deepcopy(RAW)
    raw["runs"]["suction"] |= fields
    raw["runs"]["suction"]["roughness"] = "1 mm"
    assert Plan.of(raw)
    raw["runs"]["suction"]["roughness"] = "4 mm"
    assert list(complaints(raw)) == ["runs.suction.roughness"]


def test_a_loss_below_nothing_is_refused() -> None:
    raw = copy.deepcopy(RAW)
    raw["fittings"] = {"own": {"k": -0.5}}
    assert list(complaints(raw)) == ["fittings.own.k"]
