from __future__ import annotations

from tests.answered import answered, stay
from vanwater.answers.core.answer import Assumption, Caution
from vanwater.answers.core.finding import Finding, Verdict
from vanwater.answers.core.statement import Amount, Range, say
from vanwater.answers.core.working import limit, stated
from vanwater.panels import markup
from vanwater.plan.file import PlanFile
from vanwater.quantities import DAY, NO_BREAK, STAY, VOLUME

HOSTILE = "<img src=x onerror=alert(1)>"


def test_numbers_are_bold_and_a_plans_own_text_is_only_text() -> None:
    words = say("The {name} lasts {days}.", name=HOSTILE, days=Range(DAY, 2 * DAY, 3 * DAY, STAY))
    text = markup.said(words, strong=True)
    assert text == f"The &lt;img src=x onerror=alert(1)&gt; lasts <b>2{NO_BREAK}days</b> (1 to 3)."
    assert "<img" not in markup.said(HOSTILE)
    assert markup.said(None) == ""


def test_a_finding_says_mark_word_and_what_to_change() -> None:
    found = Finding(
        "a.b", Verdict.FAILS, say("It is {name}.", name=HOSTILE), change=say("Mend it."), gain=Amount(1e-3, VOLUME)
    )
    text = markup.finding_html(found)
    assert f"✕{NO_BREAK}fails" in text
    assert f"Mend it: 1{NO_BREAK}L" in text
    assert "<img" not in text
    assert "vw-fails" in text


def test_the_number_behind_a_finding_is_what_it_judges_or_speaks_of() -> None:
    judged, spoken = (limit(name, 1.0, VOLUME, "plate") for name in ("judged", "spoken"))
    told = say("It holds {much}.", much=spoken)
    findings = (
        Finding("a", Verdict.FINE, told, value=judged.amount),
        Finding("b", Verdict.FINE, told),
        Finding("c", Verdict.FINE, say("s"), value=Amount(1.0, VOLUME)),
        Finding("d", Verdict.FINE, say("s")),
    )
    assert [markup.number_behind(finding) for finding in findings] == ["limit.judged", "limit.spoken", "", ""]


def test_a_sum_keeps_its_indent_and_escapes_its_formula(family: PlanFile) -> None:
    step = stay(family.plan).numbers["tank.grey.days"]
    text = markup.sum_lines(step)
    assert text.startswith('<pre class="vw-sum">days of grey = ')
    assert "\n  V / q" in text
    hostile = stated("a < b", 1.0, VOLUME, HOSTILE)
    assert "<img" not in markup.sum_lines(hostile)


def test_assumptions_say_what_to_measure_and_their_source() -> None:
    answer = answered(
        key="a",
        title="t",
        verdict=say("v"),
        assumptions=(Assumption("x", say("It is so."), "Measure it.", "common practice"),),
    )
    text = markup.assumptions_html(answer)
    assert "It is so." in text
    assert "Measure it." in text
    assert "(common practice)" in text
    clips = Assumption("x", say("It is so."), "A clip every 40 cm.")
    assert "every 16 in." in markup.assumptions_html(
        answered(key="a", title="t", verdict=say("v"), assumptions=(clips,)), us=True
    )
    assert "Nothing beyond" in markup.assumptions_html(answered(key="a", title="t", verdict=say("v")))


def test_each_source_stands_once(family: PlanFile) -> None:
    answer = stay(family.plan)
    text = markup.sources(answer)
    rows = text.split("<li>")[1:]
    assert len(rows) == len(set(rows)) >= 5
    assert any(row.startswith("common practice<") for row in rows)
    assert "No source" in markup.sources(answered(key="a", title="t", verdict=say("v")))


def test_cautions_are_a_list() -> None:
    assert markup.cautions_html(()) == ""
    assert (
        markup.cautions_html([Caution("a", "<b>hot</b>")])
        == '<ul class="vw-cautions"><li>&lt;b&gt;hot&lt;/b&gt;</li></ul>'
    )
