from __future__ import annotations

from dataclasses import replace

import numpy as np

from vanwater.answers.core.finding import Finding, Verdict, worst_first
from vanwater.answers.core.statement import Amount, say
from vanwater.answers.core.table import Column, Table
from vanwater.answers.questions import answers_to
from vanwater.document.first_page import key_numbers, to_know
from vanwater.quantities import DAY, STAY


def keys_of(*answers):
    return key_numbers(answers)


def test_stores_come_first_then_the_numbers_of_the_other_verdicts(told):
    stay, supply = told.each.values()
    keys = keys_of(stay, supply)
    assert [one.name for one in keys] == ["grey", "fresh", "battery", "flow at the shower"]
    assert [one.value for one in keys[:2]] == [row[2] for row in stay.tables[0].rows[:2]]
    assert keys[3].value == supply.verdict.amounts[0]
    assert [one.remark for one in keys] == ["ends the stay", "", "", ""]
    assert keys[0].about == stay.tables[0].caption


def test_nothing_ends_a_stay_that_is_unlimited(told):
    rows = (("fresh", Amount(np.inf, STAY)),)
    table = Table("stores", say("Stores."), (Column("store"), Column("lasts", STAY)), rows)
    (key,) = keys_of(replace(told.each["stay"], make_tables=lambda: (table,)))
    assert key.remark == ""


def test_there_are_never_more_than_six(told):
    rows = tuple((f"can {number}", Amount(number * DAY, STAY)) for number in range(1, 9))
    table = Table("stores", say("Stores."), (Column("store"), Column("lasts", STAY)), rows)
    others = [told.each["supply"]] * 4
    keys = keys_of(replace(told.each["stay"], make_tables=lambda: (table,)), *others)
    assert [one.name for one in keys[:4]] == ["can 1", "can 2", "can 3", "can 4"]
    assert len(keys) == 6


def test_an_answer_that_is_not_decided_gives_no_number(told):
    undecided = replace(told.each["supply"], decided=False)
    assert [one.name for one in keys_of(told.each["stay"], undecided)] == ["grey", "fresh", "battery"]
    assert keys_of() == ()


def test_all_that_fails_and_every_danger_is_to_know(told):
    fails = tuple(Finding(f"outlets.tap {place}.flow", Verdict.FAILS, say("Little.")) for place in range(9))
    danger = Finding("hot_water.heater.scald", Verdict.WATCH, say("Hot."))
    many = replace(told.each["supply"], findings=worst_first((*fails, danger)))
    known = [finding for _, finding in to_know((told.each["stay"], many))]
    assert known[0] is danger and len(known) == 11 and all(finding.urgent for finding in known)


def test_the_worst_three_findings_are_to_know_in_the_order_of_the_answers(told):
    known = to_know(tuple(told.each.values()))
    assert [finding.verdict for _, finding in known] == [Verdict.FAILS, Verdict.WATCH, Verdict.NOT_DECIDED]
    assert [answer.key for answer, _ in known] == ["stay", "supply", "stay"]
    assert to_know(()) == ()


def test_a_key_number_is_no_finer_than_its_verdict_tells_it(family):
    answers = list(answers_to(family).values())
    keys = keys_of(*answers)
    verdicts = " ".join(answer.verdict.text() for answer in answers)
    assert len(keys) == 6
    assert all(key.value.text() in verdicts for key in keys[3:])
