from __future__ import annotations

from typing import Any

import pytest

from tests.panels.following import Watcher
from vanwater.answers.core.number import Number
from vanwater.answers.questions import answers_to
from vanwater.panels.bench import Bench
from vanwater.panels.part_picks import fitting
from vanwater.panels.variants import side_by_side
from vanwater.plan.file import PlanFile, read
from vanwater.plan.model import Plan
from vanwater.plan.problems import PlanError
from vanwater.plan.tables import resource


def likely(numbers: Any) -> dict[str, str]:
    """Every number of a plan, as it can be compared to the last digit."""
    told: dict[str, Number] = dict(numbers)
    return {key: repr(number.likely) for key, number in told.items()}


@pytest.fixture(scope="module")
def small() -> Plan:
    """A van of which all questions are asked in a moment."""
    return read(resource("data", "plans", "weekend-cans.toml")).plan


def test_a_variant_has_the_numbers_of_its_own_plan(family: PlanFile) -> None:
    bench = Bench(family)
    bench.set("household.people", 2)
    bench.set("tanks.grey.length", "1.1 m")
    assert bench.keep("two of them") == "B"
    bench.home()
    comparison = bench.side_by_side
    assert comparison is not None
    assert (comparison.name, list(comparison.possible)) == ("A", ["B"])
    own = answers_to(family.plan.changed({"household.people": 2, "tanks.grey.length": "1.1 m"}))
    assert likely(comparison.possible["B"].numbers) == likely(own.numbers)
    assert likely(comparison.base.numbers) == likely(answers_to(family.plan).numbers)


def test_going_on_from_a_variant_is_one_step_and_gives_its_numbers(family: PlanFile) -> None:
    bench = Bench(family)
    bench.set("household.people", 2)
    bench.set("tanks.grey.length", "1.1 m")
    kept = bench.ask("stay").verdict.text()
    bench.keep()
    bench.home()
    bench.set("household.people", 6)
    bench.go_on("B")
    assert (bench.ask("stay").verdict.text(), bench.kept_as) == (kept, "B")
    bench.undo()
    assert dict(bench.values) == {"household.people": 6}
    bench.redo()
    assert bench.ask("stay").verdict.text() == kept


def test_three_are_kept_beside_the_plan_and_a_fourth_is_refused_with_the_reason(small: Plan) -> None:
    bench = Bench(small)
    assert bench.keep("nothing") == "A" and bench.kept == ()
    for people, letter in ((1, "B"), (3, "C"), (4, "D")):
        bench.set("household.people", people)
        assert bench.keep() == bench.keep(f"for {people}") == letter
    assert [kept.name for kept in bench.kept] == ["for 1", "for 3", "for 4"] and bench.next_letter == ""
    bench.set("household.people", 5)
    with pytest.raises(PlanError, match="B, C, D are taken"):
        bench.keep()
    bench.drop("C")
    assert bench.keep() == "C"
    assert bench.kept_changes("C") == ("household, people who live in the van: 2 → 5",)
    with pytest.raises(KeyError, match="No variant is called"):
        bench.drop("E")


def test_an_impossible_plan_is_not_kept(family: PlanFile) -> None:
    bench = Bench(family)
    bench.set("tanks.grey.height", "10 cm")
    with pytest.raises(PlanError, match="overflow"):
        bench.keep()
    assert bench.kept == () and bench.side_by_side is None


def test_all_plans_are_looked_at_in_the_situation_that_is_chosen(family: PlanFile) -> None:
    bench = Bench(family)
    bench.set("household.people", 2)
    bench.keep()
    bench.choose("summer lake")
    comparison = bench.side_by_side
    assert comparison is not None
    there = family.plan.in_situation("summer lake")
    base, other = comparison.base, comparison.possible["B"]
    assert repr(base.numbers["stay.days"].likely) == repr(answers_to(there).numbers["stay.days"].likely)
    own = answers_to(there.changed({"household.people": 2}))
    assert repr(other.numbers["stay.days"].likely) == repr(own.numbers["stay.days"].likely)


def test_saving_leaves_a_variant_the_plan_that_it_was(own_file: PlanFile) -> None:
    bench = Bench(own_file)
    bench.set("household.people", 2)
    bench.keep("two")
    before = bench.ask("stay").verdict.text()
    bench.set("tanks.grey.length", "1.1 m")
    bench.keep("and a longer tank")
    bench.save()
    assert [kept.head for kept in bench.kept] == ["B, two", "C, and a longer tank"]
    assert bench.kept_changes("C") == ()  # as the plan is saved now
    (told,) = bench.kept_changes("B")
    assert told.endswith("1.1\u00a0m → 0.8\u00a0m")
    bench.go_on("B")
    assert bench.ask("stay").verdict.text() == before


def test_a_pick_that_is_saved_counts_in_every_variant_and_is_told_in_those_without_their_own(
    own_file: PlanFile,
) -> None:
    bench, pick = Bench(own_file), "pumps.pump.stock"
    bench.set("household.people", 2)
    bench.keep()
    bench.set(pick, fitting(bench.base, pick)[0])
    bench.keep()
    name = bench.field(pick).name
    bench.save()
    assert [kept.followed for kept in bench.kept] == [(name,), ()]
    assert f"Saved since, and so here too: {name}." in side_by_side(bench).text


def test_a_variant_keeps_the_part_that_a_control_fitted_when_something_else_is_saved(own_file: PlanFile) -> None:
    bench = Bench(own_file)
    bench.fits["pads.one more"] = {"tank": "fresh", "power": "30 W"}
    bench.set("pads.one more.power", "40 W")
    bench.keep()
    bench.home()
    bench.set("household.people", 2)
    bench.save()
    stands = bench.stands("B").plan
    assert stands is not None and stands.pads["one more"].tank == "fresh"


def test_a_variant_that_is_no_plan_any_more_is_told_with_its_reason(own_file: PlanFile) -> None:
    bench = Bench(own_file)
    bench.set("tanks.grey.height", "21 cm")
    bench.keep("low")
    text = own_file.text.replace('overflow = "205 mm"', 'overflow = "215 mm"')
    own_file.path.write_text(text, encoding="utf-8")
    bench.load(own_file.path)
    comparison = bench.side_by_side
    assert comparison is not None and comparison.possible == {}
    assert "overflow" in comparison.impossible["B"]


def test_a_variant_of_a_part_that_is_gone_from_the_file_is_told_and_breaks_nothing(own_file: PlanFile) -> None:
    bench = Bench(own_file)
    bench.set("accumulators.accumulator.precharge", "0.8 bar")
    bench.keep()
    start = own_file.text.index("[accumulators.accumulator]")
    end = own_file.text.index("\n[", start)
    own_file.path.write_text(own_file.text[:start] + own_file.text[end + 1 :], encoding="utf-8")
    bench.load(own_file.path)
    comparison = bench.side_by_side
    assert comparison is not None
    assert "accumulator" in comparison.impossible["B"]
    bench.go_on("B")
    assert bench.refused is not None
    bench.undo()
    assert bench.refused is None


def test_another_plan_has_no_variants_of_the_old_one(family: PlanFile) -> None:
    bench = Bench(family)
    bench.set("household.people", 2)
    bench.keep()
    bench.load(family.path.with_name("touring-campsites.toml"))
    assert bench.kept == ()


def test_names_are_one_short_line(small: Plan) -> None:
    bench = Bench(small)
    bench.set("household.people", 1)
    bench.keep("  alone\n in\tspring " + "x" * 80)
    (kept,) = bench.kept
    assert kept.name == "alone in spring " + "x" * 24
    bench.rename("B", "\x1b[31mred")
    assert "\x1b" not in bench.kept[0].name
    bench.rename("B", " ")
    assert bench.kept[0].head == "B"


def test_values_may_be_kept_without_moving_anything(family: PlanFile) -> None:
    bench = Bench(family)
    watcher = Watcher()
    bench.follow(watcher)
    assert bench.keep("longer", {"tanks.grey.length": "1.1 m", "household.people": 4}) == "B"
    assert (dict(bench.values), bench.history.can_undo, watcher.shown) == ({}, False, 1)
    assert len(bench.kept_changes("B")) == 1
    with pytest.raises(PlanError, match="length"):
        bench.keep("", {"tanks.grey.length": "one"})
    with pytest.raises(PlanError, match="overflow"):
        bench.keep("", {"tanks.grey.height": "10 cm"})
    assert bench.keep("", {"household.people": 4}) == "A"


def test_a_change_order_begins_with_the_numbers_that_stand_side_by_side(small: Plan) -> None:
    bench = Bench(small)
    bench.set("household.people", 1)
    bench.keep()
    bench.set("household.people", 4)
    for situation in ("", "late frost"):
        bench.choose(situation)
        comparison = bench.side_by_side
        assert comparison is not None
        for letter, before in (("A", comparison.base), ("B", comparison.possible["B"])):
            change = bench.change_since(letter)
            assert likely(change.base.numbers) == likely(before.numbers)
            (now,) = change.possible.values()
            assert now.plan.situation == situation and dict(change.variants[0].values) == {"household.people": 4}
            assert {key: now[key] for key in now} == {key: bench.ask(key) for key in now}  # the very same objects
    with pytest.raises(KeyError, match="No variant is called"):
        bench.change_since("D")
