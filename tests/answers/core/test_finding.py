from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from vanwater.answers.core.finding import Finding, Verdict, judge, worst_first
from vanwater.answers.core.number import difference_of
from vanwater.answers.core.statement import Amount, Range, say
from vanwater.quantities import FLOW, MASS, PRESSURE, PRESSURE_DIFFERENCE, TEMPERATURE

PER_MINUTE = 1e-3 / 60


def found(verdict: Verdict = Verdict.WATCH, key: str = "k", **more: object) -> Finding:
    return Finding(key, verdict, say("So it is."), **more)


def test_marks_and_words_are_distinct_and_ranked():
    assert [str(one) for one in sorted(Verdict, key=lambda one: -one.rank)] == [
        "✕ fails",
        "! watch",
        "… not decided",
        "~ agreed",
        "✓ fine",
    ]
    assert len({one.mark for one in Verdict}) == len({one.rank for one in Verdict}) == 5


def test_worst_first_keeps_the_order_of_those_alike():
    findings = [
        found(Verdict.FINE, "a"),
        found(Verdict.FAILS, "b"),
        found(Verdict.NOT_DECIDED, "c"),
        found(Verdict.FAILS, "d"),
        found(Verdict.WATCH, "e"),
    ]
    assert [one.key for one in worst_first(findings)] == ["b", "d", "e", "c", "a"]


def test_what_has_no_number_stands_as_one_that_is_beyond_by_the_whole_of_its_limit():
    def told(share: float | None) -> Finding:
        if share is None:
            return Finding("weight.total", Verdict.FAILS, say("too heavy"))
        return Finding("weight.total", Verdict.FAILS, say("too heavy"), Amount(share, MASS), Amount(1.0, MASS))

    beyond = [told(share) for share in (2.1, None, 1.9)]
    assert [each.beyond for each in beyond] == pytest.approx([1.1, 1.0, 0.9])
    assert list(worst_first(reversed(beyond))) == beyond
    assert Finding("weight.total", Verdict.FAILS, say("x"), Amount(2.0, MASS), Amount(0.0, MASS)).beyond == 1.0


def test_margin_is_the_room_on_the_good_side():
    flow = found(value=Amount(5 * PER_MINUTE, FLOW), limit=Amount(4 * PER_MINUTE, FLOW), bound="at least")
    assert flow.margin is not None
    assert flow.margin.value == pytest.approx(1 * PER_MINUTE)
    load = found(Verdict.FAILS, value=Amount(3600.0, MASS), limit=Amount(3500.0, MASS))
    assert load.margin == Amount(-100.0, MASS)
    assert found().margin is None


def test_margin_of_temperatures_and_pressures_is_a_difference():
    scald = found(value=Amount(313.15, TEMPERATURE), limit=Amount(318.15, TEMPERATURE))
    assert scald.margin is not None
    assert scald.margin.quantity is difference_of(TEMPERATURE)
    assert scald.margin.text(us=True).startswith("9\N{NO-BREAK SPACE}")
    line = found(value=Amount(1e5, PRESSURE), limit=Amount(2e5, PRESSURE))
    assert line.margin is not None
    assert line.margin.quantity is PRESSURE_DIFFERENCE


def test_margin_of_a_range_is_that_of_the_likely_value():
    ranged = found(value=Range(90.0, 100.0, 120.0, MASS), limit=Amount(110.0, MASS))
    assert ranged.margin == Amount(10.0, MASS)


def test_a_finding_that_contradicts_itself_is_refused():
    with pytest.raises(ValueError, match="verdict is fine"):
        found(Verdict.FINE, value=Amount(3600.0, MASS), limit=Amount(3500.0, MASS))
    with pytest.raises(ValueError, match="different quantities"):
        found(value=Amount(3600.0, MASS), limit=Amount(1e-4, FLOW))


def test_advice_says_what_to_change_and_what_that_brings():
    change = say("Use sweep bends.")
    assert found(change=change).advice == change
    assert found(gain=Amount(8e3, PRESSURE)).advice is None
    advice = found(change=change, gain=Amount(8e3, PRESSURE)).advice
    assert advice is not None
    assert advice.text().replace("\N{NO-BREAK SPACE}", " ") == "Use sweep bends: 0.08 bar."
    assert found(change=say("Use sweep bends"), gain=Amount(8e3, PRESSURE)).advice.text() == advice.text()


@pytest.mark.parametrize(
    ("low", "likely", "high", "bound", "verdict"),
    [
        (80.0, 90.0, 95.0, "at most", Verdict.FINE),
        (80.0, 90.0, 105.0, "at most", Verdict.WATCH),
        (80.0, 101.0, 105.0, "at most", Verdict.FAILS),
        (105.0, 110.0, 120.0, "at least", Verdict.FINE),
        (95.0, 110.0, 120.0, "at least", Verdict.WATCH),
        (80.0, 99.0, 120.0, "at least", Verdict.FAILS),
        (math.nan, 110.0, math.nan, "at least", Verdict.WATCH),
        (math.nan, math.nan, math.nan, "at most", Verdict.NOT_DECIDED),
        (120.0, math.inf, math.inf, "at least", Verdict.FINE),
    ],
)
def test_judging_a_range(low, likely, high, bound, verdict):
    assert judge(Range(low, likely, high, MASS), Amount(100.0, MASS), bound) is verdict


@given(st.floats(-1e6, 1e6), st.floats(-1e6, 1e6))
def test_judging_a_single_number_agrees_with_the_margin(value, limit):
    verdict = judge(Amount(value, MASS), Amount(limit, MASS))
    finding = found(verdict, value=Amount(value, MASS), limit=Amount(limit, MASS))
    assert finding.margin is not None
    assert (verdict is Verdict.FINE) == (finding.margin.value >= -1e-9 * abs(limit))


def test_a_value_at_its_limit_is_fine():
    assert judge(Amount(0.1 + 0.2, MASS), Amount(0.3, MASS)) is Verdict.FINE
