from __future__ import annotations

import pytest

from tests.terminal.made import DAY, ESCAPE, answer, finding, live, piped
from vanwater.answers.core.answer import Assumption, Caution, gravest_first
from vanwater.answers.core.finding import Finding, Verdict
from vanwater.answers.core.statement import Amount, say
from vanwater.quantities import STAY
from vanwater.terminal import paragraphs


def judged(value: float, limit: float, verdict: Verdict, bound: str) -> Finding:
    told = say("The stay is judged.")
    return Finding(
        "stay",
        verdict,
        told,
        value=Amount(value * DAY, STAY),
        limit=Amount(limit * DAY, STAY),
        bound=bound,  # type: ignore[arg-type]
        address="tanks.grey.capacity",
        source="the plan's own wish",
    )


@pytest.mark.parametrize("verdict", Verdict)
def test_mark_and_word_open_a_finding(verdict: Verdict) -> None:
    (line,) = paragraphs.finding_lines(finding("k", verdict), piped())
    assert line == f"  {verdict.mark} {verdict.word}  This is k."


@pytest.mark.parametrize("verdict", Verdict)
def test_the_word_alone_says_it_where_marks_cannot_be_shown(verdict: Verdict) -> None:
    (line,) = paragraphs.finding_lines(finding("k", verdict), piped("ascii"))
    assert line == f"  {verdict.word}  This is k."


def test_colour_only_repeats_the_mark(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("TERM", "xterm-256color")
    monkeypatch.delenv("NO_COLOR", raising=False)
    one = finding("k", Verdict.FAILS, "Take another.")
    coloured = paragraphs.finding_lines(one, live())
    assert "\x1b[31m" in coloured[0]
    assert [ESCAPE.sub("", line).rstrip() for line in coloured] == paragraphs.finding_lines(one, piped())


def test_what_to_change_and_what_that_gives_follow() -> None:
    one = finding("k", Verdict.FAILS, "Take a larger tank.", gain=Amount(2 * DAY, STAY))
    assert paragraphs.finding_lines(one, piped())[1].strip() == "→ Take a larger tank: 2 days."
    assert len(paragraphs.finding_lines(one, piped(), advised=False)) == 1


@pytest.mark.parametrize(
    ("value", "limit", "verdict", "bound", "told"),
    [
        (2, 3, Verdict.FAILS, "at least", "Limit: at least 3 days, 1 day short."),
        (4.5, 3, Verdict.FINE, "at least", "Limit: at least 3 days, 1.5 days to spare."),
        (4, 3, Verdict.FAILS, "at most", "Limit: at most 3 days, 1 day over."),
        (1, 3, Verdict.FINE, "at most", "Limit: at most 3 days, 2 days to spare."),
    ],
)
def test_details_say_limit_and_room(value: float, limit: float, verdict: Verdict, bound: str, told: str) -> None:
    lines = [
        line.strip() for line in paragraphs.finding_lines(judged(value, limit, verdict, bound), piped(), details=True)
    ]
    assert lines[1:] == [told, "In the plan: tanks.grey.capacity", "Source: the plan's own wish."]


def test_findings_of_one_answer_stand_in_line() -> None:
    screen = piped()
    found = [finding("k", verdict) for verdict in Verdict]
    width = paragraphs.label_width(found, screen)
    starts = {paragraphs.finding_lines(one, screen, width)[0].index("This is") for one in found}
    assert starts == {2 + len("… not decided") + 2}
    assert paragraphs.label_width([], screen) == 0
    assert paragraphs.label_width([finding("k", Verdict.FINE)], screen, ["Hot water"]) == len("Hot water")
    assert paragraphs.label_width([], screen, ["What the tray takes up"]) == paragraphs.WIDEST_LABEL


def test_what_is_not_told_is_counted() -> None:
    assert paragraphs.rest({}, piped()) == paragraphs.rest({Verdict.FINE: 0}, piped()) == []
    assert paragraphs.rest({Verdict.FINE: 1}, piped()) == ["  ✓ fine  1 finding"]
    assert paragraphs.rest({Verdict.FINE: 12}, piped(), 13) == ["  ✓ fine         12 findings"]
    some = {Verdict.FINE: 3, Verdict.WATCH: 1, Verdict.FAILS: 1}
    assert paragraphs.rest(some, piped()) == ["  more  1 fails, 1 to watch and 3 fine"]
    assert paragraphs.rest({Verdict.FAILS: 2, Verdict.NOT_DECIDED: 4}, piped()) == ["  more  2 fail and 4 not decided"]


def test_a_verdict_stands_behind_its_label() -> None:
    assert paragraphs.question_lines(answer(label="Stay"), piped(), 7)[0].startswith(
        "  Stay     Grey is full first, after "
    )
    assert paragraphs.question_lines(answer(), piped(), 0)[0].startswith("  Days off-grid  Grey is full first, after ")


def test_grave_cautions_in_short_stand_one_under_the_other() -> None:
    two = [Caution("a", "It burns.", grave=True, short="Burns."), Caution("b", "It cuts.", grave=True)]
    assert paragraphs.briefly(two, piped(), 9) == ["  CAUTION    Burns.", "             It cuts."]
    assert paragraphs.briefly([], piped()) == []


def test_a_grave_caution_says_so() -> None:
    assert paragraphs.caution_lines(Caution("a", "It burns.", grave=True), piped()) == ["CAUTION: It burns."]
    assert paragraphs.caution_lines(Caution("a", "It smells."), piped()) == ["Mind: It smells."]
    told = paragraphs.caution_lines(Caution("a", "It burns.", source="A book (1999)"), piped(), details=True)
    assert told == ["Mind: It burns. Source: A book (1999)."]


def test_a_caution_stands_once_the_grave_ones_first() -> None:
    mild, grave = Caution("mild", "b"), Caution("grave", "a", grave=True)
    assert gravest_first([mild, grave, mild]) == (grave, mild)


def test_an_assumption_says_what_to_measure_and_its_source() -> None:
    one = Assumption("a", say("It is so."), "Measure it.", "common practice", "site.wind")
    assert paragraphs.assumption_lines(one, piped()) == [
        "  It is so.",
        "    Measure it.",
        "    site.wind; common practice",
    ]
    assert paragraphs.assumption_lines(Assumption("a", say("It is so.")), piped()) == ["  It is so."]
    clips = Assumption("a", say("It is so."), "A clip every 40 cm.")
    assert paragraphs.assumption_lines(clips, piped(us=True))[1] == "    A clip every 16 in."
