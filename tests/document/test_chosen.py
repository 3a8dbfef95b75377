"""What was not built is told in two figures, which are those of the plan with it."""

from __future__ import annotations

from tests.examples import example, example_answers
from vanwater.answers.questions import answers_to
from vanwater.document.chosen import FIGURES, not_taken
from vanwater.options.ready import ready


def test_the_figures_are_those_of_the_van_built_otherwise() -> None:
    asked = example_answers("family-winter")
    told = {each.name: each.would for each in not_taken(asked)}
    diesel = next(each for each in ready(asked.plan)["heat"].overlays if each.name == "heated by diesel")
    other = answers_to(diesel.plan(asked.plan))
    key = "battery.all_loads_a_day"
    said = told["heated by diesel"].text()
    for number in (asked.numbers[key], other.numbers[key]):
        assert number.shown.text().partition(" (")[0] in said
    assert said.index(other.numbers[key].shown.text().partition(" (")[0]) < said.index("instead of")
    assert all(len(each.amounts) <= 2 * FIGURES for each in told.values()) and len(told) <= 4


def test_nothing_of_a_drained_van_or_of_one_in_a_situation() -> None:
    for name in ("laid up", "ski week"):
        assert not_taken(answers_to(example("family-winter").in_situation(name))) == ()
