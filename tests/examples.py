"""The example vans, read once for all tests."""

from __future__ import annotations

from functools import lru_cache
from pathlib import Path

from vanwater.answers.questions import Answers, answers_to
from vanwater.plan.file import read
from vanwater.plan.model import Plan

PLANS = Path(__file__).parents[1] / "data" / "plans"
NAMES = tuple(sorted(path.stem for path in PLANS.glob("*.toml")))


@lru_cache
def example(name: str) -> Plan:
    """An example van by the stem of its file."""
    return read(PLANS / f"{name}.toml").plan


@lru_cache
def example_answers(name: str) -> Answers:
    """The answers to an example van, worked out once for all tests."""
    return answers_to(example(name))
