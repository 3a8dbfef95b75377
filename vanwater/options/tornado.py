"""What to change or to measure first: how far each unsure input, and each part of another size, moves a number."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping

from vanwater.answers.core.number import Number
from vanwater.answers.core.slope import slope_rows
from vanwater.answers.core.spread import UnsureRows
from vanwater.answers.core.working import stated
from vanwater.options.asked import moved_by, said_of
from vanwater.options.known import home_of
from vanwater.options.ladder import Ladder, Size, ladders
from vanwater.options.tornado_bars import Bar, End, Kind, Tornado
from vanwater.options.variants_table import differing
from vanwater.plan.model import Plan
from vanwater.plan.problems import PlanError, Problem
from vanwater.quantities import ANGLE, NO_BREAK, SHARE, Quantity

__all__ = ["tornado"]


def tornado(plan: Plan, key: str) -> Tornado:
    """What moves a number of a plan, and how far.

    Parameters
    ----------
    plan : Plan
        The plan.
    key : str
        The number's key: "stay.days".

    Returns
    -------
    Tornado
        One bar for each unsure input, at both ends of what it may be, and one for each part that is sold in another
        size: the next smaller and the next larger one. One thing is changed at a time, all else as planned.

    Raises
    ------
    KeyError
        When the plan has no such number, with the nearest one.
    PlanError
        When the number is not decided, or hangs on nothing that is worked out along with it: a limit, a gain.
    """
    question, number = home_of(plan, key)
    if not number.along or math.isnan(number.likely):
        told = "It is not decided." if number.along else "It is a limit, a wish or a gain, which nothing moves."
        raise PlanError([Problem(key, told, "a number that the plan decides, such as stay.days")])
    bars = [*_unsure(plan, number), *_built(plan, question, key, number)]
    planned = _then(number, number.likely, "nothing changed")
    moving = [bar for bar in bars if any(differing(end.number, planned, plan.us) for end in bar.told)]
    still = tuple(bar.name for bar in bars if bar not in moving)
    moving.sort(key=lambda bar: -bar.swing)
    return Tornado(plan=plan, number=number, key=key, bars=tuple(moving), still=still)


def _unsure(plan: Plan, number: Number) -> Iterator[Bar]:
    """The plan's own unsure inputs, which lie along the rows already."""
    slopes = {row.key: row.values for row in slope_rows(plan)}
    for pair in number.pairs:
        low, high = (
            End(put_in=text, number=_then(number, float(number.values[row]), f"{pair.name}, {text}"))
            for text, row in zip(_put_in(plan, pair, slopes), (pair.low, pair.high), strict=True)
        )
        yield _bar(pair.name, pair.address, "not known well", number, low, high)


def _put_in(plan: Plan, pair: UnsureRows, slopes: Mapping[str, Mapping[str, float]]) -> tuple[str, str]:
    """What was put in for an unsure input: by what share it lies off, or the slope of the van."""
    if pair.factors is not None:
        less, more = (1.0 - pair.factors[0], pair.factors[1] - 1.0)
        return f"{_plain(SHARE, less, plan.us)} lower", f"{_plain(SHARE, more, plan.us)} higher"
    slope = pair.address.removeprefix("site.")
    low, high = (slopes.get(f"{slope} {end}", {}).get(pair.address) for end in ("low", "high"))
    if low is None or high is None:
        return "low end", "high end"
    return _plain(ANGLE, low, plan.us), _plain(ANGLE, high, plan.us)


def _plain(quantity: Quantity, value: float, us: bool) -> str:
    return quantity.text(value, us, 2).replace(NO_BREAK, " ")


def _built(plan: Plan, question: str, key: str, number: Number) -> Iterator[Bar]:
    """What could be built otherwise, by what is sold one size smaller and one larger."""
    every = list(ladders(plan))
    runs = [rung.address.removeprefix("runs.") for rung in every if _is_run(rung)]
    moving = moved_by(plan, question, key, runs) if runs else frozenset()
    steps = [
        (rung, end, size)
        for rung in every
        if not _is_run(rung) or rung.address.removeprefix("runs.") in moving
        for end, size in (("low", rung.smaller), ("high", rung.larger))
        if size is not None
    ]
    said = said_of(plan, question, key, [size.values for _, _, size in steps])
    ends = {
        (rung.address, end): _end(number, size, told.value, told.problem)
        for (rung, end, size), told in zip(steps, said, strict=True)
    }
    for rung in every:
        low, high = (ends.get((rung.address, end), End()) for end in ("low", "high"))
        yield _bar(rung.name, rung.address, "could be built otherwise", number, low, high)


def _is_run(rung: Ladder) -> bool:
    return rung.address.startswith("runs.") and not rung.address.endswith(".foam")


def _end(number: Number, size: Size, value: float, problem: str) -> End:
    return End(put_in=size.name, number=_then(number, value, size.name), values=size.values, problem=problem)


def _then(number: Number, value: float, change: str) -> Number | None:
    """What the number comes to with a change."""
    if math.isnan(value):
        return None
    return stated(
        f"{number.name}, with {change}",
        value,
        number.quantity,
        "The same with the change, everything else as planned.",
        facts=[("as planned", number)],
        source="solved alike with that one change",
    ).keyed(*number.key, "with", change, exact="told at the likely values of the unsure inputs", digits=number.digits)


def _bar(name: str, address: str, kind: Kind, number: Number, low: End, high: End) -> Bar:
    moves = [_move(end.value, number.likely) for end in (low, high)]
    return Bar(name=name, address=address, kind=kind, low=low, high=high, swing=max(moves, default=0.0))


def _move(value: float, planned: float) -> float:
    return 0.0 if value == planned or math.isnan(value) else abs(value - planned)
