from __future__ import annotations

from dataclasses import replace

import numpy as np

from vanwater.answers.core.statement import Amount, Range
from vanwater.document.sources import Sources
from vanwater.document.sums import Sums
from vanwater.document.words import Words
from vanwater.quantities import DAILY_VOLUME, DAY, STAY


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
    put = {put.symbol: put for put in by_name["days of grey"].given}
    assert put["q"].sum == by_name["into grey a day"].number
    assert put["q"].value == by_name["into grey a day"].step.result
    assert put["V_u"].sum == 0
    assert by_name["days off-grid"].facts[0].sum == by_name["days of grey"].number


def test_two_steps_that_say_the_same_are_one_sum(told, lasts):
    first, again = lasts(), lasts()
    other = replace(first, name="days of fresh")
    answer = replace(told.each["stay"], make_numbers=lambda: {"a": first, "b": again, "c": other})
    sums = Sums([answer], Words(), Sources())
    assert again is not first
    assert [one.step.name for one in sums.each] == ["days of grey", "days of fresh"]
    assert sums.number(again) == sums.number(first) == 1


def test_sums_are_found_by_the_key_and_by_the_number_itself(told):
    sums = sums_of(told)
    stay = told.each["stay"].numbers["stay.days"]
    by_name = {one.step.name: one for one in sums.each}
    assert sums.behind("stay", "stay.days") == (by_name["days off-grid"],)
    assert sums.behind("stay", "", [stay.result]) == (by_name["days off-grid"],)
    assert sums.behind("stay", "", [Amount(30e-3 / DAY, DAILY_VOLUME)]) == (by_name["into grey a day"],)
    assert sums.behind("supply", "stay.days", [stay.result]) == ()
    assert sums.behind("stay", "stay.unknown", [None, Amount(0.0, STAY), Amount(np.nan, STAY)]) == ()


def test_numbers_that_are_alike_but_of_another_quantity_are_not_taken_for_each_other(told):
    sums = sums_of(told)
    flow = told.each["supply"].verdict.amounts[0]
    assert isinstance(flow, Range)
    assert [one.step.name for one in sums.behind("supply", "", [flow])] == ["flow at the shower"]
    assert sums.behind("supply", "", [Amount(flow.likely, STAY)]) == ()


def test_sources_are_noted(told):
    sources = Sources()
    sums = sums_of(told, sources)
    assert sources.texts == ["A. Author (1999), Book of Balances, equation (7)."]
    by_name = {one.step.name: one for one in sums.each}
    assert by_name["days of grey"].source.number == by_name["flow at the shower"].source.number == 1
    assert by_name["into grey a day"].source.number == 0
    assert by_name["days off-grid"].source is None


def test_of_sums_with_the_same_number_those_that_speak_of_the_same_thing_are_meant(told):
    sums = sums_of(told)
    stay = told.each["stay"].numbers["stay.days"].result

    def names(*spoken: str) -> list[str]:
        return [one.step.name for one in sums.behind("stay", "", [stay], spoken)]

    assert names() == names("fresh") == names("") == ["days off-grid"]
    assert names("grey") == ["days of grey"]
    assert names("off-grid", "grey") == ["days off-grid", "days of grey"]
