"""The set of outlets that the family van opens together, for the tests of what comes of it."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from tests.examples import example
from vanwater.answers.simultaneous.answer import simultaneous
from vanwater.answers.simultaneous.sets import OpenSet

FAMILY = example("family-winter")


def evening(changes: Mapping[str, Any] | None = None) -> OpenSet:
    """The set, in the van with some changes."""
    return simultaneous(FAMILY.changed(changes or {})).sets[0]


EVENING = evening()
