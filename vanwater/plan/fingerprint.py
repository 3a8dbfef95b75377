"""A short text by which one sees whether two plans decide the same, however they are written."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Mapping
from typing import Any

from vanwater.plan.model import Plan

__all__ = ["fingerprint", "same"]

_LEFT_OUT: Mapping[str, Any] = {
    "revisions": True,
    "measured": True,
    "van": {"revision", "checked", "units"},
}
"""What is written about a plan after it was decided, and the units in which it is read."""


def fingerprint(plan: Plan) -> str:
    """A text that stays while a plan decides the same, and changes when a value does.

    It is made of the values as they are read: in SI, to nine digits, with what ready habits and stock say, without what
    nobody says, in whatever order. A slip is seen by it; it is no seal against forgery.

    Parameters
    ----------
    plan : Plan
        The plan as it is written, not one of its situations.

    Returns
    -------
    str
        Sixteen signs in four groups.
    """
    said = plan.model_dump(exclude=dict(_LEFT_OUT), exclude_defaults=True)
    text = json.dumps(_plainly(said), sort_keys=True, ensure_ascii=True, default=lambda other: _plainly(vars(other)))
    digest = hashlib.sha256(text.encode("ascii")).hexdigest()
    return "-".join(digest[place : place + 4] for place in range(0, 16, 4))


def same(one: str, other: str) -> bool:
    """Whether two fingerprints are one, however somebody typed them."""
    return _bare(one) == _bare(other)


def _bare(text: str) -> str:
    return "".join(letter for letter in text.casefold() if letter.isalnum())


def _plainly(value: object) -> object:
    if isinstance(value, Mapping):
        return {str(name): _plainly(inner) for name, inner in value.items()}
    if isinstance(value, list | tuple):
        return [_plainly(inner) for inner in value]
    return f"{value:.9g}" if isinstance(value, float) else value
