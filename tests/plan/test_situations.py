"""Situations of a plan: other values below a name, read like the file's own, each a plan of its own."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.examples import NAMES, example
from vanwater.plan.file import read
from vanwater.plan.model import Plan
from vanwater.plan.problems import PlanError
from vanwater.plan.situations import moved

PLAN = """\
[van]
name = "Small van"

[household]
people = 2
habits = "careful"
days_wanted = "3 days"

[tanks.fresh]
holds = "fresh"
capacity = "90 L"

[loads.skis]
mass = "20 kg"
x = "2 m"

"""

WEEK = """\
[situations."ski week"]
household.days_wanted = "4 days"
site = { coldest = "-12 °C", cold_water = "45 °F" }
left_out = ["loads.skis"]

[situations.summer.uses.hands]
a_day = "20 a day"

[situations.summer.loads.bicycles]
mass = "30 kg"
x = "4 m"
"""


def plan_of(folder: Path, text: str) -> Plan:
    path = folder / "van.toml"
    path.write_text(PLAN + text, encoding="utf-8")
    return read(path).plan


def test_a_situation_is_a_plan_with_its_values_made_once(tmp_path: Path) -> None:
    plan = plan_of(tmp_path, WEEK)
    week = plan.in_situation("ski week")
    assert week is plan.in_situation("ski week")
    assert (week.household.days_wanted, plan.household.days_wanted) == (4 * 86400.0, 3 * 86400.0)
    assert week.site.coldest == pytest.approx(261.15)
    assert week.site.cold_water == pytest.approx(280.372, abs=1e-3)
    assert not week.loads and list(plan.loads) == ["skis"]
    assert (week.situation, plan.situation) == ("ski week", "")
    assert not week.situations and list(plan.situations) == ["ski week", "summer"]
    summer = plan.in_situation("summer")
    assert list(summer.loads) == ["skis", "bicycles"]
    assert summer.uses["hands"].a_day == pytest.approx(20 / 86400.0)
    assert summer.uses["hands"].volume == plan.uses["hands"].volume  # what it does not say stays


def test_its_values_are_those_of_a_changed_plan() -> None:
    plan = example("family-winter")
    for name, overlay in plan.overlays.items():
        assert plan.in_situation(name) == plan.changed(overlay.values)


@pytest.mark.parametrize("name", NAMES)
def test_every_example_has_situations_that_differ(name: str) -> None:
    plan = example(name)
    assert len(plan.situations) >= 2
    assert all(plan.in_situation(situation) != plan for situation in plan.situations)


def test_a_plan_without_situations_has_none(tmp_path: Path) -> None:
    plan = plan_of(tmp_path, "")
    assert not plan.situations and not plan.overlays
    with pytest.raises(KeyError, match='no situation "winter"; it has: none'):
        plan.in_situation("winter")


def test_a_changed_plan_keeps_its_situations(tmp_path: Path) -> None:
    plan = plan_of(tmp_path, WEEK).changed({"household.people": 3})
    assert plan.in_situation("ski week").household.people == 3


@pytest.mark.parametrize(
    ("situation", "address", "line", "told"),
    [
        ("site.coldest = -12", "situations.w.site.coldest", 18, 'Did you mean "-12 °C"?'),
        ('site.coldset = "-12 °C"', "situations.w.site.coldset", 18, '"coldset" is not known here'),
        ('household.people = "4"', "situations.w.household.people", 18, "not a whole number"),
        ('tanks.fresh.capacity = "90 bar"', "situations.w.tanks.fresh.capacity", 18, "90 bar"),
        ('syte.coldest = "-12 °C"', "situations.w.syte.coldest", 18, '"syte" is not known here'),
        ('left_out = ["loads.sky"]', "situations.w.loads.sky", 17, 'Did you mean "loads.skis"?'),
        ("left_out = 3", "situations.w.left_out", 18, "no list of addresses"),
        ('van.name = "other"', "situations.w.van", 18, 'cannot change "van"'),
        ("situations.x = {}", "situations.w.situations", 18, 'cannot change "situations"'),
        ('loads.bag = { x = "2 m" }', "situations.w.loads.bag.mass", 18, "mass"),
    ],
)
def test_what_is_wrong_in_it_is_told_at_its_place(
    tmp_path: Path, situation: str, address: str, line: int, told: str
) -> None:
    with pytest.raises(PlanError) as caught:
        plan_of(tmp_path, f"[situations.w]\n{situation}\n")
    (problem,) = caught.value.problems
    assert (problem.address, problem.line, problem.file) == (address, line, "van.toml")
    assert told in str(problem)


def test_every_situation_tells_what_is_wrong_in_one_go(tmp_path: Path) -> None:
    with pytest.raises(PlanError) as caught:
        plan_of(tmp_path, '[situations.a]\nsite.wind = "5"\n[situations.b]\nsite.wind = "6"\n')
    assert [problem.line for problem in caught.value.problems] == [18, 20]


@pytest.mark.parametrize("text", ["situations = 3\n", "[situations]\nwinter = 3\n", '[situations."a.b"]\n'])
def test_what_is_no_situation_is_refused(tmp_path: Path, text: str) -> None:
    path = tmp_path / "van.toml"
    path.write_text(text + PLAN if text.startswith("situations") else PLAN + text, encoding="utf-8")
    with pytest.raises(PlanError, match="situations"):
        read(path)


def test_a_situation_named_twice_is_refused_with_its_line(tmp_path: Path) -> None:
    with pytest.raises(PlanError) as caught:
        plan_of(tmp_path, '[situations.w]\nsite.wind = "5 m/s"\n[situations.w]\nsite.wind = "6 m/s"\n')
    (problem,) = caught.value.problems
    assert problem.line == 19


def test_where_a_situation_decides_otherwise_is_told_by_value(tmp_path: Path) -> None:
    plan = plan_of(tmp_path, WEEK + '[situations.same.household]\ndays_wanted = "72 h"\n')
    week, summer = plan.in_situation("ski week"), plan.in_situation("summer")
    assert (
        moved(week, plan) == moved(plan, week) == {"household.days_wanted", "site.coldest", "site.cold_water", "loads"}
    )
    assert moved(summer, plan) == {"uses", "loads"}
    assert moved(plan.in_situation("same"), plan) == moved(plan, plan) == frozenset()
    lived_in = plan.changed({"battery": {"chemistry": "agm", "volts": "12 V", "charge": "100 Ah", "usable": "50 %"}})
    assert moved(lived_in, plan) == {"battery"}  # nothing that stands once is compared with none
