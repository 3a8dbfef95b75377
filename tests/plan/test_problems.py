from __future__ import annotations

from vanwater.plan.problems import LONGEST, PlanError, Problem, joined, shown


def test_a_problem_reads_as_one_line_with_place_value_expectation_and_slip() -> None:
    problem = Problem("a.b", '"7" has no unit.', 'a volume such as "75 L"', 'Did you mean "7 L"?')
    assert str(problem) == 'a.b: "7" has no unit. Expected a volume such as "75 L". Did you mean "7 L"?'
    placed = problem.at("van.toml", 7)
    assert str(placed).startswith('van.toml:7 a.b: "7" has no unit.')
    assert str(Problem("", "The file is empty.").at("van.toml", None)) == "van.toml: The file is empty."
    assert str(Problem("", "Empty.")) == "Empty."


def test_an_error_tells_all_in_the_order_of_the_file() -> None:
    given = [
        Problem("c", "3").at("f", None),
        Problem("b", "2").at("f", 9),
        Problem("z", "1").at("f", 2),
        Problem("a", "2").at("f", 9),
    ]
    error = PlanError(iter(given))
    assert [(problem.line, problem.address) for problem in error.problems] == [
        (2, "z"),
        (9, "a"),
        (9, "b"),
        (None, "c"),
    ]
    assert str(error) == "f:2 z: 1\nf:9 a: 2\nf:9 b: 2\nf c: 3"
    assert isinstance(error, ValueError)


def test_values_are_shown_short_and_harmless() -> None:
    assert shown("75 L") == '"75 L"'
    assert shown("75\N{NO-BREAK SPACE}L") == '"75\N{NO-BREAK SPACE}L"'
    assert (shown(True), shown(2), shown(2.5), shown(None)) == ("true", "2", "2.5", "None")
    assert (shown([1]), shown((1,)), shown({"a": 1})) == ("A list", "A list", "A table")
    assert shown("a\x1b[31m\n\u2028\u202eb") == '"a?[31m???b"'
    assert shown("x" * 10**6) == f'"{"x" * LONGEST}…"'
    assert shown(10**9000) == "A number of thousands of digits"


def test_addresses_and_names_of_files_are_harmless() -> None:
    assert joined(("a", 0, "b\x1bc")) == "a.0.b?c"
    assert Problem("a", "x").at("v\x1b\nan" + "x" * 300, 1).file.startswith("v??an")
    assert len(Problem("a", "x").at("x" * 3000, 1).file) < 100


def test_an_address_of_endless_names_is_told_short() -> None:
    problem = Problem(joined(["tanks", "x" * 5000, "capacity"]), "There is no such place in the plan.")
    assert len(str(problem)) < 300 and "…: There is no such place" in str(problem)
