"""A plan beside its variants: what may be compared, and that each variant is the plan that it says."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given

from tests.compared import BARE, LONGER, OVERFLOWING, family
from tests.drawn import WHOLE_PLANS
from tests.examples import NAMES, example
from tests.strategies import plans
from vanwater.answers.questions import answers_to
from vanwater.options.variants import MOST, compare, compare_plans
from vanwater.plan.model import Plan
from vanwater.plan.overlay import Overlay
from vanwater.plan.problems import PlanError

FAMILY = example("family-winter")


def test_every_number_of_a_variant_is_that_of_its_own_plan() -> None:
    told = family()
    for place, overlay in enumerate((LONGER, BARE)):
        own = answers_to(FAMILY.changed(overlay.values)).numbers
        checked = 0
        for line in told.lines:
            number = line.each[place]
            assert (number is None) == (line.key not in own), line.key
            if number is not None:
                assert number.likely == pytest.approx(own[line.key].likely, rel=1e-12, nan_ok=True), line.key
                assert number.range == pytest.approx(own[line.key].range, nan_ok=True), line.key
                checked += 1
        assert checked > 60


def test_all_that_differs_is_among_the_lines_and_nothing_else_is() -> None:
    told = family()
    shown = {line.key for line in told.lines}
    for answers in told.possible.values():
        for key, number in answers.numbers.items():
            base = told.base.numbers.get(key)
            if number.along and (base is None or base.amount.text() != number.amount.text()):
                assert key in shown, key
    for line in told.lines:
        texts = {None if number is None else number.amount.text() for number in (line.base, *line.each)}
        assert line.headline or len(texts) > 1, line.key


@pytest.mark.parametrize("name", NAMES)
def test_a_plan_beside_itself_differs_in_nothing(name: str) -> None:
    plan = example(name)
    told = compare(plan, [Overlay("the same", {"household.people": plan.household.people})])
    assert all(line.headline for line in told.lines) and told.lines
    assert not any(any(line.sure) for line in told.lines)
    assert all(more is None or more.likely == 0.0 for line in told.lines for more in line.differences)
    assert told.turned == ()


@WHOLE_PLANS
@given(plans())
def test_any_plan_beside_itself_differs_in_nothing(raw: dict[str, Any]) -> None:
    told = compare(Plan.of(raw), [Overlay("the same")])
    assert all(line.headline and not any(line.sure) for line in told.lines) and told.turned == ()
    assert told.changes.rows == () and "the same" in told.headline.text()


def test_the_other_way_round_signs_are_turned_and_findings_change_places() -> None:
    there = compare(FAMILY, [LONGER])
    back = compare(LONGER.plan(FAMILY), [Overlay("shorter", {"tanks.grey.length": "0.80 m"})])
    one, other = ({line.key: line for line in told.lines} for told in (there, back))
    assert one.keys() == other.keys()
    for key, line in one.items():
        (more,), (less,) = line.differences, other[key].differences
        if more is not None and less is not None:
            assert less.likely == pytest.approx(-more.likely, rel=1e-9, abs=1e-15), key
            assert line.sure == other[key].sure, key
    turns = {"comes": "goes", "goes": "comes", "worse": "better", "better": "worse"}
    assert {(turn.finding.key, turns[turn.turn]) for turn in there.turned} == {
        (turn.finding.key, turn.turn) for turn in back.turned
    }


def test_a_variant_that_can_be_no_plan_is_told_with_its_reason() -> None:
    told = family()
    assert list(told.impossible) == [OVERFLOWING.name] and list(told.possible) == [LONGER.name, BARE.name]
    assert "The pick-up lies above the tank's top." in told.impossible[OVERFLOWING.name]
    assert any("cannot be built so" in note.text() for note in told.notes)


def test_a_situation_stands_beside_the_plan() -> None:
    told = compare(FAMILY, [FAMILY.overlays["summer lake"]], ["stay.days"])
    own = answers_to(FAMILY.in_situation("summer lake")).numbers["stay.days"]
    (number,) = told["stay.days"].each
    assert not told.impossible and number is not None and number.likely == own.likely


def test_whole_plans_stand_beside_each_other() -> None:
    cans = example("weekend-cans")
    told = compare_plans("winter", FAMILY, {"cans": cans})
    line = told["stay.days"]
    own = answers_to(cans).numbers["stay.days"]
    assert line.each[0] is not None and line.each[0].likely == pytest.approx(own.likely, rel=1e-12)
    assert told.variants[0].values["household.people"] == cans.household.people
    assert compare(FAMILY, [cans], ["stay.days"]).variants[0].name == cans.van.name


def test_wanted_numbers_are_told_whether_they_differ_or_not() -> None:
    told = compare(FAMILY, [LONGER], ["pump.pump.starts", "tank.grey.days"])
    keys = [line.key for line in told.lines]
    assert keys[-2:] == ["pump.pump.starts", "tank.grey.days"] and all(line.headline for line in told.lines)


@pytest.mark.parametrize(
    ("overlays", "words"),
    [
        ([], "There is no variant to compare with."),
        ([Overlay(str(place)) for place in range(MOST + 1)], "5 variants are too many to compare. Expected one to 4"),
        ([Overlay("a"), Overlay("a")], 'Two of them are called "a".'),
        ([Overlay("as planned")], 'Two of them are called "as planned".'),
        ([Overlay("slip", {"tanks.gray.length": "1 m"})], 'Did you mean "tanks.grey.length"?'),
        ([Overlay("bare", {"tanks.grey.length": 1.1})], "1.1 has no unit."),
        ([Overlay("unit", {"tanks.grey.length": "1 L"})], '"L" is not a unit of length.'),
    ],
)
def test_a_slip_is_refused_by_name_with_a_way_out(overlays: list[Overlay], words: str) -> None:
    with pytest.raises(PlanError) as caught:
        compare(FAMILY, overlays)
    assert words in str(caught.value)


def test_a_key_that_is_no_number_is_refused() -> None:
    with pytest.raises(KeyError, match=r'Did you mean \\?"stay\.days'):
        compare(FAMILY, [LONGER], ["stay.dais"])


def test_a_value_on_a_part_that_the_variant_brings_is_read() -> None:
    values: dict[str, Any] = {
        "accumulators.second": {"at": "tee", "stock": "accumulator 2 L"},
        "accumulators.second.precharge": "1 bar",
    }
    told = compare(FAMILY, [Overlay("two accumulators", values)], ["stay.days"])
    assert not told.impossible
