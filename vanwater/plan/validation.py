"""Every problem of a plan in one go: a bad piece is taken out, so that the checks behind it run too."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, MutableMapping, Sequence
from typing import TYPE_CHECKING, Any, TypeVar

from pydantic import BaseModel, ValidationError

from vanwater.plan.address import stand_in
from vanwater.plan.error_messages import Place, place_of, problem_of, unknown_key
from vanwater.plan.problems import Problem, joined

if TYPE_CHECKING:
    from pydantic_core import ErrorDetails

__all__ = ["validated"]

Model = TypeVar("Model", bound=BaseModel)

ROUNDS = 12
"""Most rounds of taking out: keys and values, what is then missing, checks within a part, and again."""


def validated(
    model: type[Model], raw: MutableMapping[str, Any], validate: Callable[[], Model]
) -> tuple[Model | None, list[Problem]]:
    """Validate tables again and again, each time without the pieces that were found wrong.

    Parameters
    ----------
    model : type of Part
        The plan's model.
    raw : mutable mapping
        The tables; bad pieces are taken out of them.
    validate : function
        Makes the plan of the tables as they are now.

    Returns
    -------
    tuple
        The plan, or None when there was a problem; and the problems, without their places in a file.
    """
    blamed: set[Place] = set()
    problems: list[Problem] = []
    for _ in range(ROUNDS):
        try:
            plan = validate()
        except ValidationError as error:
            details = error.errors(include_url=False)
        else:
            return (None if problems else plan), problems
        for detail in details:
            if detail["type"] == "extra_forbidden":
                place = place_of(detail)
                meant = (*place[:-1], unknown_key(model, place)[0])
                if not _stands(raw, meant):
                    blamed.add(meant)
        for detail in details:
            problems += _told(model, detail, blamed)
        for detail in details:
            _mend(model, raw, detail)
            blamed.add(place_of(detail))
    return None, problems


def _stands(raw: Mapping[str, Any], place: Place) -> bool:
    here: Any = raw
    for name in place:
        if not isinstance(here, Mapping) or name not in here:
            return False
        here = here[name]
    return True


def _told(model: type[BaseModel], detail: ErrorDetails, blamed: set[Place]) -> Iterator[Problem]:
    """The problems of one report, unless a piece that was found wrong before explains them."""
    place = place_of(detail)
    if any(place[:length] in blamed for length in range(1, len(place) + 1)):
        return
    if detail["type"] != "check":
        yield problem_of(model, detail)
        return
    context: Mapping[str, Any] = detail.get("ctx") or {}
    clashes: Sequence[Mapping[str, Any]] = context.get("clashes", (context,))
    for clash in clashes:
        if not any((*place, field) in blamed for field in (clash["field"], *clash["about"])):
            where = (*place, clash["field"]) if clash["field"] else place
            yield Problem(joined(where), clash["message"], clash["expected"], clash["slip"])


def _mend(model: type[BaseModel], raw: MutableMapping[str, Any], detail: ErrorDetails) -> None:
    """Take the smallest piece that holds an error out of the tables, or put a stand-in where one is missing."""
    place = place_of(detail)
    missing = detail["type"] == "missing" and not isinstance(place[-1], int)
    holder: MutableMapping[Any, Any] | None = None
    here: Any = raw
    for depth, name in enumerate(place):
        if not isinstance(here, MutableMapping):
            break
        if name not in here:
            if missing and depth == len(place) - 1:
                here[name] = stand_in(model, place)
            return
        holder, last, here = here, name, here[name]
    if holder is not None:
        del holder[last]
