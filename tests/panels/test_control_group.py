from __future__ import annotations

import pytest

from vanwater.panels.bench import Bench
from vanwater.panels.control_group import ControlGroup
from vanwater.panels.page import Page
from vanwater.plan.file import PlanFile

SIGHT = ("household.people", "tanks.fresh.length")


def group_of(bench: Bench, sight: tuple[str, ...] = SIGHT, rest: tuple[str, ...] = ()) -> ControlGroup:
    return ControlGroup(bench, sight, rest, Page(bench, "stay").verdict())


def test_a_control_moves_the_bench_and_the_bench_the_control(family: PlanFile) -> None:
    bench = Bench(family)
    group = group_of(bench)
    people = group.controls["household.people"]
    people.turn(3)
    assert bench.values == {"household.people": 3}
    bench.undo()
    group.moved()
    assert (people.value, people.handed) == (4, False)
    people.turn(2)
    people.home.click()
    assert bench.values == {}


def test_folded_controls_are_made_when_they_are_unfolded_and_stand_where_the_bench_stands(family: PlanFile) -> None:
    bench = Bench(family)
    bench.set("battery.charge", 100 * 3600.0)
    group = group_of(bench, rest=("battery.charge",))
    assert "battery.charge" not in group.controls
    group.more.button.value = True
    assert group.controls["battery.charge"].value == 100 * 3600.0
    assert len(group.unfold()) == 3


def test_an_untouched_control_follows_the_plan_and_stays_while_it_is_impossible(family: PlanFile) -> None:
    bench = Bench(family)
    group = group_of(bench, ("uses.teeth.a_day", "uses.teeth.volume"))
    saved = family.plan.at("uses.teeth.a_day"), family.plan.at("uses.teeth.volume")
    bench.set("household.habits", "home-like")
    group.moved()
    followed = bench.plan.at("uses.teeth.a_day"), bench.plan.at("uses.teeth.volume")
    assert followed != saved
    assert tuple(control.value for control in group.controls.values()) == followed
    bench.set("tanks.grey.height", 0.15)
    assert bench.refused is not None
    group.moved()
    assert tuple(control.value for control in group.controls.values()) == followed


def test_more_than_seven_in_sight_are_too_many(family: PlanFile) -> None:
    many = tuple(f"uses.{name}.a_day" for name in family.plan.uses)
    assert len(many) > 7
    with pytest.raises(ValueError, match="at most 7"):
        group_of(Bench(family), many)


def test_a_tanks_controls_have_its_litres_beside_them(family: PlanFile) -> None:
    group = group_of(Bench(family))
    assert len(group.sizes) == 1
    assert "usable" in group.sizes[0].widget.value
