from __future__ import annotations

import re
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from rich.cells import cell_len

from tests.examples import NAMES, example_answers
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
from vanwater.answers.core.answer import Caution
from vanwater.answers.core.finding import Verdict, worst_first
from vanwater.answers.core.statement import Amount
from vanwater.answers.questions import Answers, answers_to
from vanwater.answers.situations import further
from vanwater.plan.file import read
from vanwater.plan.tables import resource
from vanwater.quantities import STAY
from vanwater.terminal.overview import FILLED, MOST_LINES, everything, overview
from vanwater.terminal.screen import WIDTH

STARTER = "starter"
LEFT = re.compile(r"(\d+) (fails?|to watch|not decided|fine)\b")
WORDS = {Verdict.FAILS: "fail", Verdict.WATCH: "to watch", Verdict.NOT_DECIDED: "not decided", Verdict.FINE: "fine"}
ADDED = re.compile(r"(\d+) (table|assumption|caution)s?\b")


def one_line(lines: list[str]) -> str:
    return " ".join(" ".join(lines).split())


def said(text: str) -> str:
    return " ".join(text.replace("\u202f", " ").split())


def left_out(lines: list[str]) -> dict[str, int]:
    """How many findings of each kind the count says are not told."""
    text = "\n".join(lines)
    found = re.search(r"^  more +((?:.|\n {5})+)", text, re.MULTILINE)
    if found:
        return {kind.rstrip("s"): int(count) for count, kind in LEFT.findall(found[1])}
    good = re.search(r"^  ✓ fine +(\d+) findings?$", text, re.MULTILINE)
    return {"fine": int(good[1])} if good else {}


@pytest.fixture(scope="module", params=[*NAMES, STARTER])
def real(request: pytest.FixtureRequest) -> Answers:
    if request.param == STARTER:
        return answers_to(read(Path(str(resource("data", "starter", "full.toml")))).plan)
    return example_answers(request.param)


@pytest.fixture(scope="module")
def alone(real: Answers) -> Answers:
    """The same without its situations."""
    return answers_to(real.plan.changed({"situations": None})) if real.situations else real


@pytest.mark.parametrize("us", [False, True], ids=["metric", "us"])
def test_a_whole_van_fits_a_screenful(real: Answers, alone: Answers, us: bool) -> None:
    lines, fewer = overview(real, piped(us=us)), overview(alone, piped(us=us))
    assert len(fewer) <= MOST_LINES
    assert len(lines) <= len(fewer) + 12 * len(real.situations)
    assert all(cell_len(line) <= WIDTH for line in lines)


@pytest.mark.parametrize("view", [overview, everything])
@pytest.mark.parametrize("name", NAMES)
def test_every_situation_says_its_headline_and_all_that_fails_there_alone(name: str, view: object) -> None:
    answers = example_answers(name)
    told = one_line(view(answers, piped()))  # type: ignore[operator]
    for situation, there in answers.situations.items():
        assert f"{situation}: {said(there.headline.text())}" in told
        for failing, _ in further(answers, there):
            assert said(failing.statement.text()) in told


def test_a_situation_alone_is_told_like_a_plan_and_named() -> None:
    there = example_answers("family-winter").situations["ski week"]
    lines = overview(there, piped())
    assert lines[0] == said(there.headline.text()) and lines[1].endswith(": ski week")
    assert len(lines) <= MOST_LINES


@pytest.mark.parametrize("view", [overview, everything])
def test_the_verdict_comes_first(real: Answers, view: object) -> None:
    lines = view(real, piped())  # type: ignore[operator]
    assert one_line(lines).startswith(said(real.headline.text()))
    assert lines[0] == said(real.headline.text())[:WIDTH].rstrip() or said(real.headline.text()).startswith(lines[0])


def test_each_verdict_all_that_fails_and_the_stores(real: Answers) -> None:
    lines = overview(real, piped())
    text = one_line(lines)
    first, *further = real.values()
    assert all(column.heading in text for column in first.tables[0].columns)
    assert all(str(row[0]) in text for row in first.tables[0].rows)
    for one in (one for one in further if one.question.brief):
        assert said(one.verdict.text()) in text
        assert any(line.startswith(f"  {one.label or one.title}  ") for line in lines)
    for told in (told for one in real.values() for told in one.findings if told.verdict is Verdict.FAILS):
        assert said(told.statement.text()) in text
        assert told.advice is None or said(f"→ {told.advice.text()}") in text


def test_labels_and_what_stands_beside_them_are_in_line(alone: Answers) -> None:
    lines = overview(alone, piped())
    begin = next(place for place, line in enumerate(lines) if line.startswith("  Outlets "))
    starts = {len(line) - len(line[2:].lstrip()) for line in lines[begin:-1] if line.startswith("    ")}
    labelled = [line for line in lines[begin:-1] if line and not line.startswith("    ")]
    (start,) = starts
    assert len(labelled) > 6
    assert all(line[start - 2 : start] == "  " and line[start] != " " for line in labelled)


def test_grave_cautions_are_never_left_out(real: Answers) -> None:
    grave = {caution.short for one in real.values() for caution in one.cautions if caution.grave}
    assert grave and all(grave)
    text = one_line(overview(real, piped(), most=5))
    assert all(text.count(caution) == 1 for caution in grave)


@pytest.mark.parametrize("most", [None, 10, 25, 32, 60])
def test_what_is_left_out_is_counted(real: Answers, most: int | None) -> None:
    lines = overview(real, piped(), most=most)
    text, left = one_line(lines), left_out(lines)
    for verdict, word in WORDS.items():
        told = [one for each in real.values() for one in each.findings if one.verdict is verdict]
        shown = 0 if verdict is Verdict.FINE else sum(said(one.statement.text()) in text for one in told)
        repeated = sum(one.statement == each.verdict for each in real.values() for one in told)
        assert len(told) - shown <= left.get(word, 0) <= len(told) - shown + repeated
    added = {kind: int(count) for count, kind in ADDED.findall(lines[-1])}
    mild = {one.key for each in real.values() for one in each.cautions if not one.grave}
    assert added == {
        "table": sum(len(each.tables) for each in real.values()) - 1,
        "assumption": sum(len(each.assumptions) for each in real.values()),
        "caution": len(mild),
    }


def test_everything_leaves_nothing_out(real: Answers) -> None:
    screen = piped()
    text = one_line(everything(real, screen))
    for each in real.values():
        told = [
            *(one.statement.text() for one in each.findings),
            *(one.advice.text() for one in each.findings if one.advice),
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
    assert counts[0] == 1 and counts[-1] == 3


@given(st.integers(1, 40), st.integers(0, 40), st.integers(0, 40), st.integers(0, 12))
@settings(max_examples=40, deadline=None)
def test_only_what_fails_takes_more_lines_than_a_van_may(rows: int, fails: int, watched: int, cautions: int) -> None:
    table = numbers_only(*((f"store {place}", days(3.4, 2.6, 4.3), None) for place in range(rows)))
    told = [finding(f"k{place} of {fails}", Verdict.FAILS, "Take another.") for place in range(fails)]
    told += [finding(f"w{place} of {watched}", Verdict.WATCH, "Measure it.") for place in range(watched)]
    mild = tuple(Caution(f"c{place}", "Mind this. " * 12) for place in range(cautions))
    many = made(answer(tables=(table,), findings=tuple(told), cautions=mild), answer("supply", tables=(table,)))
    lines = overview(many, piped())
    text = one_line(lines)
    assert len(lines) <= max(MOST_LINES, 20 + 2 * fails)  # each with what to change
    assert all(f"This is k{place} of {fails}. → Take another." in text for place in range(fails))
    shown = sum(f"This is w{place} of {watched}." in text for place in range(watched))
    assert "fail" not in left_out(lines) and shown + left_out(lines).get("to watch", 0) == watched


def test_a_danger_to_watch_is_told_whatever_room_it_takes_and_before_every_wish() -> None:
    wishes = [finding(f"outlets.tap {place}.flow", Verdict.FAILS, "Take another.") for place in range(30)]
    dangers = [
        finding("frost.pad.protected", Verdict.WATCH),
        finding("hot_water.heater.scald", Verdict.WATCH),
        finding("power.battery.charging", Verdict.WATCH),
    ]
    text = one_line(overview(made(answer(findings=worst_first([*wishes, *reversed(dangers)]))), piped()))
    places = [text.index(f"This is {told.key}.") for told in (*dangers, *wishes)]
    assert places == sorted(places)


def test_a_long_table_is_shortened_for_what_fails_but_not_for_what_is_watched() -> None:
    table = numbers_only(*((f"store {place}", Amount(DAY, STAY), None) for place in range(10)))
    fails = tuple(finding(f"f{place}", Verdict.FAILS, "Take another.") for place in range(3))
    watch = tuple(finding(f"w{place}", Verdict.WATCH, "Measure it.") for place in range(3))
    van = made(answer(tables=(table,), findings=fails + watch))
    whole = []
    for most in range(12, 40):
        text = one_line(overview(van, piped(), most=most))
        whole.append(("store 9" in text, text.count("This is w")))
        shown = [f"This is f{place}. → Take another." in text for place in range(3)]
        assert shown == sorted(shown, reverse=True) and "store 3" in text
        assert all(shown) or "and 6 more rows" in text
    assert (True, 0) in whole and [table for table, _ in whole] == sorted(table for table, _ in whole)
    assert "store 9" in text and text.count("→ Measure it.") == 3


def test_statements_of_what_is_watched_come_before_what_to_change() -> None:
    watch = tuple(finding(f"w{place}", Verdict.WATCH, "Measure it.") for place in range(4))
    undecided = finding("open", Verdict.NOT_DECIDED, "Say it.")
    van = made(answer(findings=(*watch, undecided)))
    seen = []
    for most in range(6, 30):
        text = one_line(overview(van, piped(), most=most))
        seen.append((text.count("This is w"), text.count("This is open"), text.count("→")))
    assert seen == sorted(seen)
    assert {(4, 0, 0), (4, 1, 0), (4, 1, 3)} <= set(seen) and seen[-1] == (4, 1, 5)


def test_a_shorter_one_takes_the_place_of_a_longer_one_only_where_it_is_as_grave() -> None:
    long = finding("w" * 300, Verdict.WATCH)
    van = made(answer(findings=(long, finding("w2", Verdict.WATCH), finding("open", Verdict.NOT_DECIDED))))
    lines = overview(van, piped(), most=10)
    text = one_line(lines)
    assert "This is w2." in text and "This is open." not in text
    assert left_out(lines) == {"to watch": 1, "not decided": 1}


def test_a_small_van_is_filled_with_tables_a_full_one_is_not() -> None:
    small = made(rich_answer())
    assert "A day." in one_line(overview(small, piped()))
    assert len(overview(small, piped())) <= FILLED
    watch = tuple(finding(f"w{place}", Verdict.WATCH, "Measure it.") for place in range(9))
    full = made(answer(tables=rich_answer().tables, findings=watch))
    assert "A day." not in one_line(overview(full, piped()))
    hidden = overview(made(rich_answer()), piped(), most=14)
    assert "not decided" in left_out(hidden) and "A day." not in one_line(hidden)


def test_a_long_title_without_a_label_is_broken_beside_its_verdict() -> None:
    lines = overview(made(answer(), answer("tray", title="What the tray and its drain take up")), piped())
    begin = next(place for place, line in enumerate(lines) if line.startswith("  What the tray"))
    assert lines[begin] == "  What the tray  Grey is full first, after 3.4 days (2.6 to 4.3)."
    assert [line.strip() for line in lines[begin + 1 : begin + 3]] == ["and its drain", "take up"]


def test_a_narrow_screen_may_take_more_lines(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("COLUMNS", "50")
    monkeypatch.setenv("TERM", "xterm")
    lines = [ESCAPE.sub("", line) for line in overview(example_answers("family-winter"), live())]
    assert all(cell_len(line) <= 50 for line in lines)
    assert {"  store: grey", "  lasts alone, days: 2.5 (2.0 to 3.4)"} <= set(lines)


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
    assert text.endswith("--all adds places and sources; --why unfolds any number.")
