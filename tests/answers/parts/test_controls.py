"""The longest run is turned first: there a length moves the list most."""

from __future__ import annotations

import pytest

from tests.examples import NAMES, example_answers
from vanwater.answers.parts.answer import Parts
from vanwater.answers.parts.controls import controls


@pytest.mark.parametrize("name", NAMES)
def test_lengths_are_turned_the_longest_first(name: str) -> None:
    asked = example_answers(name)
    parts = asked["parts"]
    assert isinstance(parts, Parts)
    lengths = [asked.plan.at(address) for address in controls(asked.plan, parts)]
    said = [run.length for run in asked.plan.runs.values() if run.length is not None]
    assert lengths == sorted(said, reverse=True) != []
