from __future__ import annotations

import io
import re

import pytest
from hypothesis import example, given
from hypothesis import strategies as st
from rich.cells import cell_len
from rich.padding import Padding
from rich.text import Text

from tests.examples import example_answers
from tests.terminal.made import ESCAPE, HOSTILE, Terminal, live, piped
from vanwater.answers.core.statement import Amount, say
from vanwater.quantities import VOLUME
from vanwater.terminal.overview import everything, overview
from vanwater.terminal.screen import WIDTH, Screen


@given(st.text(max_size=400))
@example(HOSTILE)
def test_any_text_stays_text_and_keeps_the_width(text: str) -> None:
    lines = piped().paragraph(text, indent=4)
    assert all(cell_len(line) <= WIDTH for line in lines)
    assert not [letter for line in lines for letter in line if ord(letter) < 32 or ord(letter) == 127]
    assert "\uffff" not in "".join(lines)


def test_markup_of_a_plan_is_shown_as_it_was_written() -> None:
    (line,) = piped().paragraph("[red]tank[/red] :smile: [link=x]y[/link]")
    assert line == "[red]tank[/red] :smile: [link=x]y[/link]"


@given(st.integers(min_value=1, max_value=90))
def test_a_number_is_never_parted_from_its_unit(before: int) -> None:
    told = say("{word} {litres} in it", word="x" * before, litres=Amount(1.2345, VOLUME))
    assert any("1 230 L" in line for line in piped().paragraph(told))


@pytest.mark.parametrize("encoding", ["ascii", "cp1252"])
def test_nor_where_the_encoding_has_no_such_space(encoding: str) -> None:
    for before in range(60, 80):
        told = say("{word} {litres}", word="x" * before, litres=Amount(1.2345, VOLUME))
        lines = piped(encoding).paragraph(told)
        assert any("1 230 L" in line for line in lines)
        assert [line.encode(encoding) for line in lines]


def test_a_line_too_long_hangs_below_its_indent() -> None:
    lines = piped().hanging(["    " + "word " * 30, "short"])
    assert lines[0].startswith("    word") and lines[1].startswith("        word")
    assert lines[-1] == "short"
    assert " ".join(" ".join(lines).split()) == "word " * 30 + "short"


def test_nothing_is_coloured_when_piped(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("FORCE_COLOR", "1")
    monkeypatch.setenv("TERM", "xterm-256color")
    assert piped().paragraph("red", "bold red") == ["red"]


def test_a_terminal_is_coloured_unless_no_color_is_set(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("TERM", "xterm-256color")
    monkeypatch.delenv("NO_COLOR", raising=False)
    (coloured,) = live().paragraph("red", "red")
    assert "\x1b[31m" in coloured and ESCAPE.sub("", coloured) == "red"
    monkeypatch.setenv("NO_COLOR", "1")
    (bare,) = live().paragraph("red", "red")
    assert not re.search(r"\x1b\[[0-9;]*3[0-7]m", bare)


def test_a_dumb_terminal_gets_no_codes(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("TERM", "dumb")
    assert live().paragraph("red", "bold red") == ["red"]


@pytest.mark.parametrize(("columns", "width"), [("200", 80), ("60", 60), ("10", 40)])
def test_a_terminal_is_used_up_to_eighty_columns(monkeypatch: pytest.MonkeyPatch, columns: str, width: int) -> None:
    monkeypatch.setenv("COLUMNS", columns)
    monkeypatch.setenv("TERM", "xterm")
    assert Screen.of(Terminal()).console.width == width


def test_marks_give_way_to_words_where_they_cannot_be_shown() -> None:
    assert piped().mark("✕", "fails") == "✕ fails"
    assert piped("cp1252").mark("✕", "fails") == "fails"


def test_a_stream_without_an_encoding_is_taken_as_utf_8() -> None:
    assert Screen.of(io.StringIO()).encoding == "utf-8"


def test_units_are_those_of_the_screen() -> None:
    assert piped().words(Amount(0.0037854, VOLUME)).endswith("L")
    assert piped(us=True).words(Amount(0.0037854, VOLUME)).endswith("gal")


@pytest.mark.parametrize("indent", [0, 2, 4])
@pytest.mark.parametrize(
    "text", ["", "a", "  before", "behind  ", "a" * 76, "a" * 77, "水" * 38, "水" * 39, "a\nb", "a\tb", "one two " * 20]
)
def test_what_fits_is_set_as_it_would_be_laid_out(text: str, indent: int) -> None:
    screen = piped()
    with screen.console.capture() as captured:
        screen.console.print(Padding(Text(text, "bold"), (0, 0, 0, indent)))
    laid = [line.rstrip() for line in captured.get().removesuffix("\n").split("\n")]
    assert screen.lines(Text(text, "bold"), indent=indent) == laid


@pytest.mark.parametrize("us", [False, True])
def test_what_is_set_without_colour_is_set_as_the_grid_sets_it(us: bool, monkeypatch: pytest.MonkeyPatch) -> None:
    answers = example_answers("weekend-cans")
    lines = [*everything(answers, piped(us=us)), *overview(answers, piped(us=us))]
    monkeypatch.setattr(Screen, "plain", False)
    assert lines == [*everything(answers, piped(us=us)), *overview(answers, piped(us=us))]
