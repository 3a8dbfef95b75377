"""The few numbers that everybody asks of a van, by their keys: what a comparison tells first."""

from __future__ import annotations

import math
from collections.abc import Iterator

from vanwater.answers.core.key import key_text
from vanwater.answers.core.statement import Say, say
from vanwater.answers.outlets.answer import Outlets
from vanwater.answers.questions import Answers
from vanwater.answers.stay.answer import Stay
from vanwater.answers.stay.stores import ended

__all__ = ["STAY", "headline_keys", "less_is_better", "what_ends"]

STAY = "stay.days"

_LESS = ("van.water.full", "battery.all_loads_a_day")


def headline_keys(answers: Answers) -> tuple[str, ...]:
    """The numbers of the headline that a plan has.

    Parameters
    ----------
    answers : Answers
        The answers to the plan.

    Returns
    -------
    tuple of str
        Days, the flow of the outlet that is asked about first, hot litres of one charge, the lowest cold at which each
        tank is held, water and payload, and what all loads take a day; those that are not decided are not among them.
    """
    return tuple(key for key in _keys(answers) if not math.isnan(_likely(answers, key)))


def less_is_better(key: str) -> bool:
    """Whether a number of the headline is the better the less it is: a cold that is still held, a mass, a load."""
    return "lowest_cold" in key or key in _LESS


def what_ends(answers: Answers) -> Say:
    """What ends the stay, in words without a number.

    Parameters
    ----------
    answers : Answers
        The answers to a plan.

    Returns
    -------
    Say
        "The grey tank is full".
    """
    stay = answers.get("stay")
    if not isinstance(stay, Stay) or math.isnan(stay.days.likely) or not stay.stores:
        return say("not decided")
    return ended(stay.stores[0], stay.stores) if math.isfinite(stay.days.likely) else say("nothing")


def _keys(answers: Answers) -> Iterator[str]:
    plan = answers.plan
    yield STAY
    outlets = answers.get("outlets")
    if isinstance(outlets, Outlets) and outlets.main:
        yield key_text(("outlet", outlets.main, "flow"))
    for heater in plan.heaters:
        yield key_text(("heater", heater, "charge", "likely"))
    for tank in plan.tanks:
        held = [key_text(("tank", tank, "lowest_cold", state)) for state in ("parked", "driving")]
        yield from [key for key in held if key in answers.numbers][:1]
    yield from ("van.water.full", "van.payload", "battery.all_loads_a_day")


def _likely(answers: Answers, key: str) -> float:
    number = answers.numbers.get(key)
    return math.nan if number is None else number.likely
