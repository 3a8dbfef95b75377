"""What can be typed, and to which command it leads."""

from __future__ import annotations

import argparse

import pytest

from vanwater.terminal.command_line import parser_of

NAMES = ("check", "new", "stock", "compare", "document", "draw", "card", "parts", "lab")


def test_each_command_leads_to_what_it_does() -> None:
    def does(name: str, code: int) -> object:
        return lambda asked: code if asked.command else -1

    parser = parser_of({name: does(name, code) for code, name in enumerate(NAMES)}, "1.2")  # type: ignore[misc]
    for code, name in enumerate(NAMES):
        asked = parser.parse_args([name, "van.toml", *(["other.toml"] if name == "compare" else [])])
        assert asked.command(asked) == code


def test_without_a_command_none_is_given(capsys: pytest.CaptureFixture[str]) -> None:
    parser = parser_of(dict.fromkeys(NAMES, lambda _: 0), "1.2")
    assert parser.parse_args([]).command is None
    with pytest.raises(SystemExit):
        parser.parse_args(["--version"])
    assert capsys.readouterr().out == "vanwater 1.2\n"


def test_words_that_do_not_go_together_are_refused() -> None:
    parser = parser_of(dict.fromkeys(NAMES, lambda _: 0), "1.2")
    for words in (["check", "a", "--all", "--json"], ["draw", "a", "--shows", "colour"], ["chek", "a"]):
        with pytest.raises(SystemExit):
            parser.parse_args(words)
    asked: argparse.Namespace = parser.parse_args(["draw", "a", "--outlet", "tap"])
    assert (asked.shows, asked.outlet, asked.output) == ("size", "tap", None)
