from __future__ import annotations

from dataclasses import replace

from tests.examples import example_answers
from vanwater.answers.core.statement import Amount, Range, say
from vanwater.answers.core.working import limit
from vanwater.document.sources import Sources
from vanwater.document.sums import Sums
from vanwater.document.words import Words
from vanwater.quantities import FLOW


def sums_of(told, sources=None):
    return Sums(told.each.values(), Words(), sources or Sources())


def test_every_step_of_every_answer_is_there_once(told):
    sums = sums_of(told)
    steps = [one for answer in told.each.values() for top in answer.numbers.values() for _, one in top.walk()]
    assert {one.step.name for one in sums.each} == {one.name for one in steps}
    assert [one.number for one in sums.each] == list(range(1, len(sums.each) + 1))
    assert len({one.step.name for one in sums.each}) == len(sums.each) == 4
    assert all(sums.each[sums.number(one) - 1].step.result == one.result for one in steps)


def test_what_was_put_in_points_to_the_sum_it_comes_from(told):
    sums = sums_of(told)
    by_name = {one.step.name: one for one in sums.each}
    put = {put.symbol: put for put in by_name["days of grey"].put}
    assert put["q"].sum == by_name["into grey a day"].number
    assert put["q"].value == by_name["into grey a day"].step.result
    assert put["V_u"].sum == 0
    assert by_name["days off-grid"].put[0].sum == by_name["days of grey"].number


def test_two_steps_that_say_the_same_are_one_sum(told, lasts):
    first, again = lasts(), lasts()
    other = replace(first, name="days of fresh")
    verdict = say("{a}, {b}, {c}", a=first, b=again, c=other)
    answer = replace(told.each["stay"], verdict=verdict, findings=(), make_tables=tuple)
    sums = Sums([answer], Words(), Sources())
    assert again is not first
    assert [one.step.name for one in sums.each] == ["days of grey", "days of fresh"]
    assert sums.number(again) == sums.number(first) == 1


def test_sums_by_one_formula_stand_below_it_and_what_is_the_same_in_all_is_told_once(told, lasts):
    numbers = [replace(lasts(), name=f"days of {name}") for name in ("grey", "fresh", "black")]
    verdict = say("{a}, {b}, {c}", **dict(zip("abc", numbers, strict=True)))
    answer = replace(told.each["stay"], verdict=verdict, findings=(), make_tables=tuple)
    ((key, (way,)),) = Sums([answer], Words(), Sources()).by_answer()
    assert (key, way.formula, way.meaning) == ("stay", "V_u / q", "Days until a store is empty.")
    assert way.tabular and [head.text for head in way.laid.heads] == ["which", "is"]
    assert [(put.symbol, alike) for put, alike in way.letters] == [("V_u", True), ("q", True)]
    assert [row[0].text for row in way.laid.rows] == ["days of grey", "days of fresh", "days of black"]
    assert all(way.differing(each) == () for each in way.sums)


def test_a_single_sum_tells_all_that_was_put_in_beside_it(told):
    for _, ways in sums_of(told).by_answer():
        for way in ways:
            assert not way.tabular
            assert all(way.differing(each) == each.put for each in way.sums)


def test_a_letter_that_the_formula_does_without_is_a_letter_too(told):
    ways = Sums(example_answers("weekend-cans").each.values(), Words(), Sources()).formulas
    (friction,) = (way for way in ways if way.formula.startswith("Δp = k f (L/D)"))
    assert {"Q", "D", "L", "ε", "ρ", "μ"} <= {put.symbol for put, _ in friction.letters}


def test_sums_are_found_by_the_number_itself(told):
    sums = sums_of(told)
    stay = told.each["stay"].numbers["stay.days"]
    by_name = {one.step.name: one.number for one in sums.each}
    assert sums.behind(told.each["stay"].verdict) == sums.behind(stay) == sums.behind(stay.shown)
    assert sums.behind(stay, stay.amount) == (by_name["days off-grid"],)
    flow = told.each["supply"].numbers["outlet.shower.flow"]
    both = sums.behind(say("{a} and {b}", a=flow, b=stay))
    assert both == (by_name["days off-grid"], by_name["flow at the shower"])
    assert sums.behind(None, "stay.days", say("nothing")) == ()


def test_a_number_like_another_one_is_not_taken_for_it(told):
    sums = sums_of(told)
    flow = told.each["supply"].numbers["outlet.shower.flow"]
    assert sums.behind(Amount(flow.likely, FLOW), Range(*flow.range, flow.likely, FLOW)) == ()
    assert sums.behind(replace(flow, name="flow at the tap")) == ()


def test_what_is_given_or_counted_has_no_sum_to_print(told):
    sums = sums_of(told)
    assert sums.number(limit("most", 1.0, FLOW, "plate")) == 0
    assert sums.behind(limit("most", 1.0, FLOW, "plate")) == ()


def test_sources_are_noted(told):
    sources = Sources()
    sums = sums_of(told, sources)
    assert sources.texts == ["A. Author (1999), Book of Balances, equation (7)."]
    by_name = {one.step.name: way for way in sums.formulas for one in way.sums}
    assert by_name["days of grey"].source.number == by_name["flow at the shower"].source.number == 1
    assert by_name["into grey a day"].source.number == 0
    assert by_name["days off-grid"].source is None
