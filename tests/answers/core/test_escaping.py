from __future__ import annotations

import csv
import html
import io

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from rich.markup import render
from rich.text import Text

from vanwater.answers.core.escaping import harmless, plain

NASTY = [
    "<script>alert(1)</script>",
    '"><img src=x onerror=alert(1)>',
    "[bold red]x[/bold red]",
    "[link=http://x.example]y[/link]",
    "\\[red]",
    "ends in \\",
    "a[/b]",
    "$x^2$ costs $5",
    "%{y} %{customdata}",
    "&lt;b&gt;",
    "# title",
    "[a](javascript:b)",
    "`code` *bold* _it_",
    "=cmd|'/C calc'!A0",
    "+1",
    "-1",
    "@SUM(A1)",
    "\t=1",
    "\u202eevil\u2066",
    "line\nbreak\r\n\u2028second",
    "bell\x07 esc\x1b]0;title\x07 c1\x9b31m",
    "\ud800 lone",
    "\ufeffmark \ufffe",
]
MEDIA = ["html", "rich", "plotly", "markdown", "csv", "terminal"]


@pytest.mark.parametrize("medium", MEDIA)
@pytest.mark.parametrize("text", NASTY)
def test_no_medium_gets_control_codes_direction_marks_or_line_breaks(text, medium):
    shown = plain(text, medium)
    assert not any(ord(letter) < 32 or 0x7F <= ord(letter) < 0xA0 for letter in shown)
    assert not set(shown) & set("\u2028\u2029\u202e\u2066\ufeff\ufffe\ud800")
    shown.encode()


@given(st.text())
def test_html_shows_the_one_line_text_and_no_tag(text):
    shown = plain(text, "html")
    assert not set(shown) & set("<>\"'")
    assert html.unescape(shown) == html.unescape(html.escape(plain(text, "terminal")))


@settings(max_examples=400)
@given(st.text(alphabet="[]/\\ab#@=:", max_size=12), st.text(alphabet="[]/\\ab", max_size=6))
def test_rich_makes_no_style_of_a_plans_text_whatever_stands_beside_it(text, other):
    markup = f"[bold]{plain(text, 'rich')}[/bold] {plain(other, 'rich')}{plain(text, 'rich')}"
    shown = render(markup, emoji=False)
    assert isinstance(shown, Text)
    assert [str(span.style) for span in shown.spans] in (["bold"], [])
    letters = shown.plain.replace("\\", "").replace(" ", "")
    assert letters == f"{text}{other}{text}".replace("\\", "").replace(" ", "")


@pytest.mark.parametrize("text", NASTY)
def test_plotly_sees_no_tag_no_formula_and_no_placeholder(text):
    shown = plain(text, "plotly")
    assert not set(shown) & set("<>$")
    assert "%{" not in shown
    assert html.unescape(shown) == plain(text, "terminal")


def test_plotly_is_given_quotes_as_they_are():
    """It reads few names of signs, and shows the others letter by letter."""
    assert plain("5\" hose, 'soft'", "plotly") == "5\" hose, 'soft'"


@given(st.text(alphabet=st.characters(min_codepoint=32, max_codepoint=126)))
def test_markdown_holds_no_markup_and_unescapes_to_the_text(text):
    shown = plain(text, "markdown")
    assert not set(shown) & set("`*_[]()<>!|$\\~+-.:@=>")
    assert html.unescape(shown) == plain(text, "terminal")


@given(st.text())
def test_a_table_cell_never_starts_a_formula_and_survives_the_file(text):
    shown = plain(text, "csv")
    assert shown[:1] not in set("=+-@\t\r") - {""} or not shown
    file = io.StringIO()
    csv.writer(file).writerow([shown, 1])
    assert next(csv.reader(io.StringIO(file.getvalue()))) == [shown, "1"]


def test_joined_letters_of_other_scripts_stay_whole():
    assert plain("می\N{ZERO WIDTH NON-JOINER}خواهم", "terminal") == "می\N{ZERO WIDTH NON-JOINER}خواهم"


def test_an_unknown_medium_is_refused():
    with pytest.raises(ValueError, match="medium"):
        plain("x", "fax")


def test_harmless_is_plain_with_its_medium_set():
    assert harmless("html")("a < b") == plain("a < b", "html") == "a &lt; b"
