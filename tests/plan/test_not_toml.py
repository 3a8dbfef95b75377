from __future__ import annotations

import tomllib

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from vanwater.plan.not_toml import DEEPEST, not_toml, too_deep
from vanwater.plan.problems import Problem

HEAD = "[van]\nname = 'x'\n"


def told(text: str) -> Problem:
    with pytest.raises(ValueError) as caught:
        tomllib.loads(text)
    return not_toml(text, str(caught.value))


@pytest.mark.parametrize(
    ("line", "message", "words"),
    [
        ("capacity 75 L", '"capacity 75 L" has no "=" behind its key.', "in quotes"),
        ("capacity =", '"capacity =" has a value that cannot be read.', "in quotes"),
        ("capacity = x", '"capacity = x" has a value that cannot be read.', "in quotes"),
        ("capacity = 75 L", '"capacity = 75 L" goes on behind its end.', 'capacity = "75 L"'),
        ("capacity = “75 L”", '"capacity = “75 L”" has a value that cannot be read.', "straight"),
        ('capacity = "75 L', 'The quotation mark " is not closed.', "other half"),
        ("capacity = '75 L", "The quotation mark ' is not closed.", "other half"),
        ('note = """75 L', 'The quotation mark " is not closed.', "other half"),
        ("curve = [1,", "The bracket [ is not closed.", "other half"),
        ("curve = [[1, 2]", "The bracket [ is not closed.", "other half"),
        ("use = {a = 1", "The bracket { is not closed.", "other half"),
        ("[tanks.frésh]", '"[tanks.frésh]" is a table\'s name without its end.', "in quotes"),
        ("[tanks.my tank]", '"[tanks.my tank]" is a table\'s name without its end.', "in quotes"),
        ("[tanks", '"[tanks" is a table\'s name without its end.', "[tanks.fresh]"),
        ("[[tanks]", '"[[tanks]" is a table\'s name without its end.', "[tanks.fresh]"),
        ("[]", '"[]" has a key that cannot be read.', "in quotes"),
        ("= 1", '"= 1" does not begin with a key or a table\'s name.', "in quotes"),
        ("é = 1", '"é = 1" does not begin with a key or a table\'s name.', "in quotes"),
        ('a = "\\q"', '"a = "\\q"" has a backslash in a text.', "\\\\"),
        ('a = "\x01"', '"a = "?"" has a control character', "another kind"),
        ("a = 1\r", '"a = 1" goes on behind its end.', "carriage return"),
        ("a = " + "9" * 5000, "Here stands a number of thousands of digits.", "believable"),
    ],
)
def test_line_is_named_and_the_slip_guessed(line: str, message: str, words: str) -> None:
    problem = told(HEAD + line)
    assert (problem.line, problem.address) == (3, "")
    assert problem.message.startswith(message)
    assert words in f"{problem.expected} {problem.slip}"
    assert problem.expected


def test_the_opening_is_named_not_the_place_where_the_parser_gave_up() -> None:
    problem = told(HEAD + 'curve = [\n  ["0 L/min", "2 bar"],\n\nvolts = "12 V"\n')
    assert (problem.line, problem.message) == (3, "The bracket [ is not closed.")
    problem = told(HEAD + "a = '''\n[van]\nb = 1\n")
    assert (problem.line, problem.message) == (3, "The quotation mark ' is not closed.")
    problem = told(HEAD.replace("'x'", '"x') + "b = 1\n")
    assert (problem.line, problem.message[:12]) == (2, '"name = "x" ')


@pytest.mark.parametrize(
    ("text", "line", "address", "message"),
    [
        ("[a.b]\nc = 1\n[a.b]\n", 3, "a.b", "[a.b] stands twice: first in line 1."),
        ("[a]\nb = 1\nb = 2", 3, "a.b", "a.b stands twice: first in line 2."),
        ("[a]\nb.c = 1\nb = 2", 3, "a.b", "a.b stands twice: first in line 2."),
        ("a = {}\n[a]\n", 2, "a", "[a] stands twice: first in line 1."),
        ("a = {}\n[a.b]\n", 2, "a.b", "[a.b] cannot be added to what is said before."),
        ("[a]\nb.c = 1\n[a.b]\n", 3, "a.b", "[a.b] stands twice: first in line 2."),
        ("[[a]]\n[a]\n", 2, "a", "[a] cannot be added to what is said before."),
        ("a = 1\n\n[[a]]\n", 3, "", "Something is said twice."),
        ("a.b = 1\na = 2", 2, "a", "a stands twice: first in line 1."),
        ("[a.b]\nc = 1\n[a]\nb = 2", 4, "a.b", "a.b stands twice: first in line 1."),
    ],
)
def test_what_is_said_twice_has_its_address_and_both_lines(text: str, line: int, address: str, message: str) -> None:
    problem = told(text)
    assert (problem.line, problem.address, problem.message) == (line, address, message)
    assert problem.expected == "each name once"


def test_key_said_twice_in_one_line() -> None:
    problem = told("[a]\nb = { c = 1, c = 2 }")
    assert (problem.line, problem.message) == (2, '"b = { c = 1, c = 2 }" says a key twice.')


@pytest.mark.parametrize(
    ("text", "line"),
    [
        ("a = 1\nb = " + "[" * (DEEPEST + 1) + "]" * (DEEPEST + 1), 2),
        ("a = 1\n" + "b." * DEEPEST + "b = 1", 2),
        ("a = 1\n[" + "'b c' . " * DEEPEST + "b]", 2),
        ("a = 1\nb = {" + '"b".' * DEEPEST + "b = 1}", 2),
        ("a = [\n" * (DEEPEST + 1), DEEPEST + 1),
    ],
)
def test_deeper_than_any_plan(text: str, line: int) -> None:
    problem = too_deep(text)
    assert problem is not None
    assert problem.line == line


@pytest.mark.parametrize(
    "text",
    [
        "a = " + "[" * DEEPEST + "]" * DEEPEST,
        "b." * (DEEPEST - 1) + "b = 1",
        "# " + "[" * 999 + "\n",
        "a = '" + "[" * 999 + "'",
        'a = """' + "[" * 999 + '"""',
        "a = '" + "b." * 999 + "'",
        "a = [[1]]\n" * 99,
    ],
)
def test_not_deep(text: str) -> None:
    assert too_deep(text) is None


@settings(deadline=None, max_examples=300)
@given(
    text=st.lists(st.sampled_from([*"\"'[]{}=#.,\\ \n\rab1é", '"""', "'''", "[a]\n", "a = 1\n", '"x"', "1979-05-27"]))
)
def test_any_text_is_either_toml_or_has_one_harmless_problem_with_a_line_of_its_own(text: list[str]) -> None:
    whole = "".join(text)
    try:
        tomllib.loads(whole)
    except ValueError as error:
        problem = not_toml(whole, str(error))
        assert problem.line is not None
        assert 1 <= problem.line <= whole.count("\n") + 1
        assert problem.message
        assert problem.expected
        assert str(problem).isprintable()
