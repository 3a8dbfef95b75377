"""A wish: a number of a plan that should be at least, or at most, so much."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace

from vanwater.answers.core.finding import Bound
from vanwater.answers.core.key import key_text
from vanwater.answers.core.number import Number
from vanwater.answers.core.statement import Say, say
from vanwater.answers.core.working import stated
from vanwater.answers.outlets.answer import Outlets
from vanwater.answers.pump_starts.accumulator_size import LIMIT
from vanwater.answers.questions import QUESTIONS
from vanwater.options.known import home_of
from vanwater.plan.model import Plan
from vanwater.plan.problems import PlanError, Problem, shown
from vanwater.quantities import QuantityError, errors_in
from vanwater.system.ways import way_to

__all__ = ["Wish", "default_wish", "wish_of"]

_SIGNS: dict[str, Bound] = {">=": "at least", "<=": "at most"}
_SLACK = 1e-9
"""Share of a bound by which a number may miss it and still meet it: the rounding of units."""

_EXAMPLE = '"stay.days >= 3 days" or "pump.pump.starts <= 60 an hour"'


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Wish:
    """What a number should be.

    Parameters
    ----------
    key : str
        The number's key.
    question : str
        The question that tells it.
    bound : {"at least", "at most"}
        On which side of the limit it should be.
    limit : Number
        The limit.
    number : Number
        The number as planned.
    """

    key: str
    question: str
    bound: Bound
    limit: Number
    number: Number

    def met(self, value: float) -> bool:
        """Whether a value meets it; one that is not known does not."""
        slack = _SLACK * abs(self.limit.likely)
        if self.bound == "at least":
            return value >= self.limit.likely - slack
        return value <= self.limit.likely + slack

    @property
    def told(self) -> Say:
        """The wish in words: "at least 3 days"."""
        return say(f"{self.bound} {{limit}}", limit=self.limit)


def wish_of(plan: Plan, text: str) -> Wish:
    """Read a wish as it is typed.

    Parameters
    ----------
    plan : Plan
        The plan.
    text : str
        "stay.days >= 3 days": a number's key, at least or at most, a value with its unit.

    Returns
    -------
    Wish
        Its key is one of the plan's numbers.

    Raises
    ------
    PlanError
        When it has no sign, or its value is none of the number's quantity.
    KeyError
        When the plan has no such number, with the nearest one.
    """
    sign = next((sign for sign in _SIGNS if sign in text), None)
    if sign is None:
        raise PlanError([Problem("", f"{shown(text)} is no wish.", f"a number with a bound: {_EXAMPLE}")])
    key, _, value = (part.strip() for part in text.partition(sign))
    question, number = home_of(plan, key)
    if not number.along:
        raise PlanError([Problem(key, "It is a limit, a wish or a gain, which no part moves.", f"such as {_EXAMPLE}")])
    quantity = replace(number.quantity, low=-math.inf, high=math.inf)
    try:
        with errors_in(plan.us):
            limit = quantity.read(value)
    except QuantityError as error:
        raise PlanError([Problem(key, error.message, error.expected, error.slip)]) from None
    return _wish(key, question, _SIGNS[sign], limit, number)


def default_wish(plan: Plan, address: str) -> Wish:
    """What the plan itself wishes of a part.

    Parameters
    ----------
    plan : Plan
        The plan.
    address : str
        The part, or the foam on it.

    Returns
    -------
    Wish
        Of a tank and the battery that it lasts the days wanted, of a run and a pump the flow wanted at an outlet that
        they feed, of a heater that no water of a day comes too cold, of an accumulator few starts, of a pad and of a
        tank's foam the cold that the van is planned for.

    Raises
    ------
    PlanError
        When it says none, with where to say it.
    """
    for key, bound, limit in _wishes(plan, address):
        try:
            question, number = home_of(plan, key)
        except KeyError:
            continue
        if number.along and limit is not None:
            return _wish(key, question, bound, limit, number)
    told = "The plan says no wish that this part could meet."
    raise PlanError([Problem(address, told, f"a wish beside it, as in {_EXAMPLE}, or household.days_wanted")])


def _wish(key: str, question: str, bound: Bound, limit: float, number: Number) -> Wish:
    wanted = stated("what is wished", limit, number.quantity, "The wish.", source="the builder's wish")
    told = wanted.keyed(*number.key, "wished", exact="a wish")
    return Wish(key=key, question=question, bound=bound, limit=told, number=number)


def _wishes(plan: Plan, address: str) -> Iterator[tuple[str, Bound, float | None]]:
    table, _, name = address.partition(".")
    days = plan.household.days_wanted
    if address.endswith(".foam") or table == "pads":
        yield from _cold(plan, address)
    elif table == "tanks":
        yield from ((key_text((kind, name, "days")), "at least", days) for kind in ("tank", "tanks"))
        yield "stay.days", "at least", days
    elif table == "battery":
        yield "battery.days", "at least", days
    elif table in ("runs", "pumps"):
        yield from _flows(plan, table, name)
    elif table == "heaters":
        yield key_text(("heater", name, "day", "short")), "at most", 0.0
    elif table == "accumulators":
        for pump in plan.pumps:
            yield key_text(("pump", pump, "starts")), "at most", LIMIT


def _flows(plan: Plan, table: str, name: str) -> Iterator[tuple[str, Bound, float | None]]:
    """Of the outlet that is asked about first, then of every other one behind the part."""
    answer = QUESTIONS["outlets"].ask(plan)
    first = answer.main if isinstance(answer, Outlets) else ""
    for outlet in sorted(plan.outlets, key=lambda outlet: outlet != first):
        way = way_to(plan, outlet)
        wanted = plan.outlets[outlet].wanted
        if wanted is not None and (name in way.runs if table == "runs" else name == way.pump):
            yield key_text(("outlet", outlet, "flow")), "at least", wanted


def _cold(plan: Plan, address: str) -> Iterator[tuple[str, Bound, float | None]]:
    table, _, rest = address.partition(".")
    name = rest.removesuffix(".foam")
    cold = plan.frost.design_cold
    if table == "runs":
        return
    tank = plan.pads[name].tank if table == "pads" else name
    for state in ("parked", "driving"):
        yield key_text(("tank", tank, "lowest_cold", state)), "at most", cold
