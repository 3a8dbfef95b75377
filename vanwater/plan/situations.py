"""Situations of a plan: named sets of other values that its file holds below ``[situations]``."""

from __future__ import annotations

import warnings
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Annotated, Any

from pydantic import BaseModel, BeforeValidator
from pydantic_core import PydanticCustomError

from vanwater.plan.address import hint_below
from vanwater.plan.change import CappedWarning
from vanwater.plan.measured import of_no_situation
from vanwater.plan.overlay import Overlay
from vanwater.plan.problems import PlanError, Problem, joined, shown
from vanwater.plan.raw import Tables

if TYPE_CHECKING:
    from vanwater.plan.model import Plan

__all__ = ["LEFT_OUT", "Situation", "impossible", "moved", "overlays"]

LEFT_OUT = "left_out"
"""The key below which a situation lists what it does without."""

FIXED = ("situations", "agreed", "measured", "van", "revisions", "shelf")
"""Tables that no situation changes: title and revisions, the own parts, what was agreed and measured."""


@dataclass(frozen=True, slots=True)
class TablesOfSituation:
    """The tables of a situation as its file holds them: values of a plan, but no part of it."""

    tables: Mapping[str, Any]


def _tables(value: object) -> TablesOfSituation:
    if isinstance(value, TablesOfSituation):
        return value
    if not isinstance(value, Mapping):
        raise PydanticCustomError("model_type", "no table")
    return TablesOfSituation(value)


Situation = Annotated[Any, BeforeValidator(_tables)]
"""One situation: tables as the plan itself has them, with the values that differ."""


def overlays(model: type[BaseModel], raw: Tables, filled: Tables) -> tuple[dict[str, Overlay], list[Problem]]:
    """The situations of a plan as overlays.

    Parameters
    ----------
    model : type of Part
        The plan's model.
    raw : mapping
        The plan's tables as the builder wrote them; its situations are tables.
    filled : mapping
        The same with what stock and ready habits say below it.

    Returns
    -------
    tuple
        Overlays by name, and what is wrong with the tables themselves; whether their values are possible is seen when
        one is laid over its plan.
    """
    laid: dict[str, Overlay] = {}
    problems: list[Problem] = []
    for name, tables in raw.get("situations", {}).items():
        values: dict[str, Any] = {"situations": None}
        for key, value in tables.items():
            if key in FIXED:
                problems.append(_fixed(name, key))
            elif key == LEFT_OUT:
                problems += _left_out(name, value, values)
            else:
                values |= dict(_values(hint_below(model, key), filled.get(key), (key,), value))
        laid[name] = Overlay(name, values)
    return laid, problems


def impossible(plan: Plan) -> Iterator[Problem]:
    """What of a plan's situations is not possible, or does not count.

    Parameters
    ----------
    plan : Plan
        A plan that is possible as it is written.

    Yields
    ------
    Problem
        Each at its place in the plan's file.
    """
    yield from of_no_situation(plan)
    for name in plan.overlays:
        try:
            with warnings.catch_warnings(record=True) as caught:
                warnings.simplefilter("always", CappedWarning)
                plan.in_situation(name)
        except PlanError as error:
            for problem in error.problems:
                yield replace(problem, address=joined(("situations", name, problem.address)), file="")
            continue
        for warning in caught:
            yield Problem(joined(("situations", name)), str(warning.message), "a value that counts")


def _values(hint: Any, here: Any, place: tuple[str, ...], value: Any) -> Iterator[tuple[str, Any]]:
    """Addresses and new values: what the plan has is changed value by value, what it lacks is a whole new part."""
    part = isinstance(hint, type) and issubclass(hint, BaseModel)
    known = isinstance(here, Mapping) or (part and not _needs(hint)) or (here is None and not part)
    if not (isinstance(value, Mapping) and known):
        yield ".".join(place), value
        return
    for key, below in value.items():
        held = here.get(key) if isinstance(here, Mapping) else None
        yield from _values(hint_below(hint, key), held, (*place, str(key)), below)


def _needs(part: type[BaseModel]) -> bool:
    return any(field.is_required() for field in part.model_fields.values())


def _fixed(name: str, key: str) -> Problem:
    expected = "tables of the plan with values that differ: site, household, frost or tanks"
    return Problem(joined(("situations", name, key)), f"A situation cannot change {shown(key)}.", expected)


def _left_out(name: str, listed: Any, values: dict[str, Any]) -> Iterator[Problem]:
    if not isinstance(listed, list) or not all(isinstance(address, str) for address in listed):
        expected = 'a list of addresses, such as ["mains.inlet", "loads.skis"]'
        yield Problem(joined(("situations", name, LEFT_OUT)), f"{shown(listed)} is no list of addresses.", expected)
        return
    values.update(dict.fromkeys(listed))


def moved(plan: Plan, other: Plan) -> frozenset[str]:
    """Where two plans decide otherwise, but for the situations that they name.

    Parameters
    ----------
    plan, other : Plan
        The plans, as one in a situation and the one as written.

    Returns
    -------
    frozenset of str
        Each table that differs, "loads"; of one that both have and that stands once, each of its values: "day.driving".
    """
    places = set()
    for table, here in plan.__dict__.items():
        there = other.__dict__[table]
        if type(here) is type(there) and isinstance(here, BaseModel):
            values = there.__dict__
            places |= {f"{table}.{name}" for name, value in here.__dict__.items() if value != values[name]}
        elif here != there and table != "situations":
            places.add(table)
    return frozenset(places)
