from __future__ import annotations

import logging

import pytest

from vanwater.panels import guard
from vanwater.panels.guard import alert, guarded, reason
from vanwater.plan.problems import PlanError, Problem


def test_a_refusal_of_the_plan_is_told_with_what_to_do() -> None:
    said: list[str] = []

    def work() -> None:
        raise PlanError([Problem("tanks.a", "It is <b>wrong</b>.", "a better one", "Is it swapped?")])

    guarded(work, said.append, lambda address: f"name of {address}")()
    (text,) = said
    assert 'role="alert"' in text
    assert "name of tanks.a: It is &lt;b&gt;wrong&lt;/b&gt;." in text
    assert "Expected a better one. Is it swapped?" in text


def test_any_other_failure_is_told_too_and_raised_in_tests() -> None:
    said: list[str] = []

    def work() -> None:
        raise RuntimeError("no such <thing>")

    with pytest.raises(RuntimeError):
        guarded(work, said.append)()
    assert "This could not be worked out." in said[0]
    assert "no such &lt;thing&gt;" in said[0]


def test_outside_tests_it_is_logged_and_not_raised(
    monkeypatch: pytest.MonkeyPatch, caplog: pytest.LogCaptureFixture
) -> None:
    monkeypatch.setattr(guard, "STRICT", False)
    said: list[str] = []

    def work() -> None:
        raise RuntimeError("broken")

    with caplog.at_level(logging.ERROR):
        guarded(work, said.append)()
    assert len(said) == 1
    assert "RuntimeError: broken" in caplog.text


def test_work_that_succeeds_says_nothing() -> None:
    done: list[int] = []
    guarded(lambda: done.append(1), lambda text: pytest.fail(text))()
    assert done == [1]


def test_every_problem_has_its_line() -> None:
    error = PlanError([Problem("a", "One."), Problem("b", "Two.", "three")])
    assert reason(error) == (("One.", ""), ("Two.", "Expected three."))
    assert alert(reason(error)).count("<p>") == 2
