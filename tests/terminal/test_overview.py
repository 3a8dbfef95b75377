from __future__ import annotations

import re

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from rich.cells import cell_len

from tests.examples import NAMES, example
from tests.terminal.made import (
    DAY,
    ESCAPE,
    HOSTILE,
    answer,
    days,
    finding,
    live,
    made,
    numbers_only,
    piped,
    rich_answer,
)
from vanwater.answers.answer import Caution
from vanwater.answers.finding import Verdict
from vanwater.answers.questions import Answers, answers_to
from vanwater.answers.wording import Amount
from vanwater.quantities import STAY
from vanwater.terminal.overview import MOST_LINES, everything, overview
from vanwater.terminal.screen import WIDTH

COUNTED = re.compile(r"(\d+) more (table|finding|caution)s?")


def one_line(lines: list[str]) -> str:
    return " ".join(" ".join(lines).split())


def said(text: str) -> str:
    return " ".join(text.replace("\u202f", " ").split())


@pytest.fixture(params=NAMES)
def real(request: pytest.FixtureRequest) -> Answers:
    return answers_to(example(request.param))


@pytest.mark.parametrize("us", [False, True], ids=["metric", "us"])
def test_a_whole_van_fits_a_screenful(real: Answers, us: bool) -> None:
    lines = overview(real, piped(us=us))
    assert len(lines) < 40
    assert all(cell_len(line) <= WIDTH for line in lines)


@pytest.mark.parametrize("view", [overview, everything])
def test_the_verdict_comes_first(real: Answers, view: object) -> None:
    lines = view(real, piped())  # type: ignore[operator]
    assert one_line(lines).startswith(said(real.headline.text()))
    assert lines[0] == said(real.headline.text())[:WIDTH].rstrip() or said(real.headline.text()).startswith(lines[0])


def test_each_verdict_all_that_fails_and_the_first_table(real: Answers) -> None:
    text = one_line(overview(real, piped()))
    first = next(iter(real))
    assert first.title in text
    assert all(column.heading in text for column in first.tables[0].columns)
    for one in real:
        assert said(one.verdict.text()) in text
        for told in one.findings:
            if told.verdict is Verdict.FAILS:
                assert said(told.statement.text()) in text


def test_grave_cautions_are_never_left_out(real: Answers) -> None:
    grave = {caution.short for one in real for caution in one.cautions if caution.grave}
    assert grave and all(grave)
    text = one_line(overview(real, piped(), most=5))
    assert all(text.count(caution) == 1 for caution in grave)


def test_what_is_left_out_is_counted(real: Answers) -> None:
    lines = overview(real, piped())
    left = {kind: int(count) for count, kind in COUNTED.findall(one_line(lines[-3:]))}
    text = one_line(lines)
    told = [one for each in real for one in each.findings]
    fine = sum(one.verdict is Verdict.FINE for one in told)
    shown = sum(said(one.statement.text()) in text for one in told if one.verdict is not Verdict.FINE)
    assert shown + left.get("finding", 0) == len(told)
    assert left.get("finding", 0) >= fine
    cautions = {one.key: one for each in real for one in each.cautions}.values()
    seen = sum(one.text in text or (one.grave and one.short in text) for one in cautions)
    assert seen + left.get("caution", 0) == len(cautions)


def test_everything_leaves_nothing_out(real: Answers) -> None:
    screen = piped()
    text = one_line(everything(real, screen))
    for each in real:
        told = [
            *(one.statement.text() for one in each.findings),
            *(one.change.text() for one in each.findings if one.change),
            *(one.source for one in each.findings),
            *(one.address for one in each.findings),
            *(table.caption.text() for table in each.tables),
            *(taken.statement.text() for taken in each.assumptions),
            *(taken.measure for taken in each.assumptions),
            *(taken.source for taken in each.assumptions),
            *(caution.text for caution in each.cautions),
            *(caution.source for caution in each.cautions),
        ]
        assert not [part for part in told if said(part) not in text]


def test_the_verdict_is_said_once() -> None:
    lines = overview(made(answer()), piped())
    assert one_line(lines).count("Grey is full first") == 1


def test_worst_first_when_there_is_little_room() -> None:
    given_ = made(rich_answer())
    counts = []
    for most in range(4, 40):
        text = one_line(overview(given_, piped(), most=most))
        shown = [f"a.{word}" in text for word in ("fails", "watch", "open")]
        assert shown == sorted(shown, reverse=True)
        assert "grave thing" in text
        counts.append(sum(shown))
    assert counts[0] == 0 and counts[-1] == 3


@given(st.integers(1, 40), st.integers(0, 40), st.integers(0, 12))
@settings(max_examples=40, deadline=None)
def test_no_van_takes_more_lines_than_it_may(rows: int, findings: int, cautions: int) -> None:
    table = numbers_only(*((f"store {place}", days(3.4, 2.6, 4.3), None) for place in range(rows)))
    told = tuple(finding(f"k{place}", Verdict.FAILS, "Take another.") for place in range(findings))
    mild = tuple(Caution(f"c{place}", "Mind this. " * 12) for place in range(cautions))
    many = made(answer(tables=(table,), findings=told, cautions=mild), answer("supply", tables=(table,)))
    lines = overview(many, piped())
    assert len(lines) <= MOST_LINES
    text = one_line(lines)
    left = {kind: int(count) for count, kind in COUNTED.findall(text)}
    assert sum(f"This is k{place}." in text for place in range(findings)) + left.get("finding", 0) == findings


def test_a_long_table_is_shortened_before_it_is_dropped() -> None:
    table = numbers_only(*((f"store {place}", Amount(DAY, STAY), None) for place in range(30)))
    text = one_line(overview(made(answer(tables=(table,))), piped(), most=20))
    assert "store 3" in text and "store 4" not in text and "and 26 more rows" in text


def test_a_narrow_screen_may_take_more_lines(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("COLUMNS", "50")
    monkeypatch.setenv("TERM", "xterm")
    lines = [ESCAPE.sub("", line) for line in overview(answers_to(example("family-winter")), live())]
    assert all(cell_len(line) <= 50 for line in lines)
    assert {"  store: grey", "  lasts, days: 2.5 (2.0 to 3.4)"} <= set(lines)


def test_colour_changes_no_word(real: Answers, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("TERM", "xterm-256color")
    monkeypatch.setenv("COLUMNS", "80")
    monkeypatch.delenv("NO_COLOR", raising=False)
    for view in (overview, everything):
        coloured = view(real, live())
        assert "\x1b[" in "".join(coloured)
        assert [ESCAPE.sub("", line).rstrip() for line in coloured] == view(real, piped())


@pytest.mark.parametrize("encoding", ["utf-8", "cp1252", "ascii"])
def test_hostile_names_stay_text(encoding: str) -> None:
    van = made(rich_answer(name=HOSTILE), name=HOSTILE, revision="$x$[b]")
    for view in (overview, everything):
        lines = view(van, piped(encoding))
        assert not [letter for line in lines for letter in line if ord(letter) < 32 or letter in "\u202e\u202c"]
        assert all(line.encode(encoding) and cell_len(line) <= WIDTH for line in lines if line)
        assert "[red]$x_1$<b>=1+1" in one_line(lines)


def test_an_undecided_plan_is_shown_too() -> None:
    bare = made(answer(decided=False, findings=(finding("open", Verdict.NOT_DECIDED, "Say it."),)))
    text = one_line(overview(bare, piped()))
    assert "… not decided" in text and "→ Say it." in text
