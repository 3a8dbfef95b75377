from __future__ import annotations

from dataclasses import replace

from vanwater.answers.core.answer import Caution
from vanwater.answers.core.finding import Finding, Verdict
from vanwater.answers.core.statement import Amount, Range, say
from vanwater.document.sections import FindingEntry, Section, sections
from vanwater.document.sources import Sources
from vanwater.document.sums import Sums
from vanwater.document.words import Words
from vanwater.quantities import FLOW, STAY, TEMPERATURE

WORDS = Words()


def sections_of(*answers):
    sources = Sources()
    return sections(answers, WORDS, {}, Sums(answers, WORDS, sources), sources)


def room(finding: Finding, us: bool = False) -> str | None:
    said = FindingEntry(finding, (), None, 1).room
    return None if said is None else said.text(us).replace("\xa0", " ")


def test_each_answer_is_a_section_with_everything_it_says(told):
    stay, supply = sections_of(*told.each.values())
    assert (stay.number, supply.number) == (1, 2)
    for section in (stay, supply):
        assert [one.finding for one in section.findings] == list(section.answer.findings)
        assert [one.table for one in section.sheets] == list(section.answer.tables)
        assert [one.assumption for one in section.assumptions] == list(section.answer.assumptions)
        assert all(one.section == section.number for one in section.findings)
    sums = Sums(told.each.values(), WORDS, Sources()).each
    assert [sums[place - 1].step.name for place in stay.sums] == ["days off-grid"]
    assert [sums[place - 1].step.name for place in supply.findings[0].sums] == ["flow at the shower"]


def test_a_caution_stands_in_each_section_that_has_it_and_the_grave_ones_first(told):
    stay, supply = sections_of(*told.each.values())
    assert [(one.caution.key, one.before) for one in stay.cautions] == [("grey", 0)]
    assert [(one.caution.key, one.before) for one in supply.cautions] == [("scald", 0), ("grey", 1)]
    both = replace(told.each["stay"], cautions=(Caution("a", "Mind."), Caution("b", "Stop.", grave=True)))
    (section,) = sections_of(both)
    assert [one.caution.key for one in section.cautions] == ["b", "a"]


def test_a_caution_that_any_answer_calls_grave_is_grave_where_it_stands(told):
    first = replace(told.each["stay"], cautions=(Caution("heat", "Warm."),))
    second = replace(told.each["supply"], cautions=(Caution("heat", "Hot!", grave=True),))
    one, other = sections_of(first, second)
    assert [(warned.caution.text, warned.caution.grave) for warned in one.cautions] == [("Hot!", True)]
    assert [(warned.caution.text, warned.before) for warned in other.cautions] == [("Hot!", 1)]


def test_an_assumption_that_was_made_before_points_back(told):
    stay, supply = sections_of(*told.each.values())
    assert [one.before for one in stay.assumptions] == [0]
    assert [one.before for one in supply.assumptions] == [1]
    assert [one.number for one in (*stay.assumptions, *supply.assumptions)] == [1, 1]


def test_the_room_to_a_limit_is_said_on_both_sides():
    flow, limit = Range(5e-5, 6e-5, 7e-5, FLOW), Amount(5.5e-5, FLOW)
    enough = Finding("k", Verdict.WATCH, say("x"), value=flow, limit=limit, bound="at least")
    assert room(enough) == "3.6 L/min (3.0 to 4.2) against at least 3.3 L/min: 0.3 L/min to spare."
    short = replace(enough, verdict=Verdict.FAILS, limit=Amount(7e-5, FLOW))
    assert room(short) == "3.6 L/min (3.0 to 4.2) against at least 4.2 L/min: 0.6 L/min short."
    over = replace(short, limit=limit, bound="at most")
    assert room(over) == "3.6 L/min (3.0 to 4.2) against at most 3.3 L/min: 0.3 L/min over."


def test_the_room_between_temperatures_is_a_difference():
    warm = Finding("k", Verdict.FINE, say("x"), value=Amount(318.15, TEMPERATURE), limit=Amount(323.15, TEMPERATURE))
    assert room(warm) == "45 °C against at most 50 °C: 5 K to spare."
    assert "9 " in room(warm, us=True) and "41" not in room(warm, us=True)


def test_no_room_is_said_where_nothing_was_judged_or_nothing_ends():
    assert room(Finding("k", Verdict.FINE, say("x"))) is None
    endless = Finding("k", Verdict.FINE, say("x"), Amount(float("inf"), STAY), Amount(1.0, STAY), bound="at least")
    assert room(endless) is None


def test_charts_and_tables_come_by_turns(told):
    (section,) = sections_of(told.each["stay"])
    table = section.sheets[0]
    mixed = Section(
        number=1,
        answer=section.answer,
        sums=(),
        pictures=("first", "second"),
        sheets=(table,),
        pieces=(),
        rules=(),
        findings=(),
        assumptions=(),
        cautions=(),
    )
    assert mixed.shown == (("first", table), ("second", None))
