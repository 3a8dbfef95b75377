"""The charts of several plans drawn together: curves overlaid, bars beside each other."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from dataclasses import replace

import numpy as np

from vanwater.answers.core.chart import Axis, Bars, Chart, Draw, Line, Mark, Role, Rule, Words, words
from vanwater.answers.core.number import Number
from vanwater.answers.core.statement import say
from vanwater.quantities import Array

__all__ = ["bars_of", "drawn_together"]

_ROLES: tuple[Role, ...] = ("plain", "fresh", "hot", "battery", "heat")
"""The plan is drawn plain, each variant in a colour of its own."""

_SEEN = 1e-2
"""Share of a chart's height that nobody sees: a curve of straight pieces is as far off at its bend."""


def drawn_together(title: str, charts: Mapping[str, Chart | None]) -> Chart | None:
    """One chart of several plans.

    Parameters
    ----------
    title : str
        The question that it belongs to.
    charts : mapping of str to Chart or None
        The same chart of each plan, by what it is called; None where it has none.

    Returns
    -------
    Chart or None
        Every plan in one look, its name before what it draws. Bands are left out so that the curves can be seen, and a
        curve or a mark that lies on one of an earlier plan is drawn once, as that plan's. None where no plan has the
        chart.
    """
    drawn = {name: chart for name, chart in charts.items() if chart is not None}
    if not drawn:
        return None
    first = next(iter(drawn.values()))
    roles = dict(zip(charts, _ROLES, strict=False))
    draws: list[Draw] = []
    if first.bars:
        draws += _bars(drawn, roles)
    else:
        draws += _curves(drawn, roles)
    rules = {words(rule.label, "terminal"): rule for chart in drawn.values() for rule in chart.draws if _is_rule(rule)}
    return Chart(
        "compared",
        say("{what}, side by side", what=title),
        _wide([chart.x for chart in drawn.values()]),
        _wide([chart.y for chart in drawn.values()]),
        (*draws, *rules.values()),
        say("The same chart of {plans}.", plans=tuple(drawn)),
    )


def bars_of(first: Number, numbers: Mapping[str, Number | None]) -> Chart:
    """One number of several plans as bars.

    Parameters
    ----------
    first : Number
        One of them, for its name and quantity.
    numbers : mapping of str to Number or None
        By what each plan is called.

    Returns
    -------
    Chart
        With the range of each; a plan without the number is left out.

    Raises
    ------
    KeyError
        When it is not decided in any of them.
    """
    known = {name: number for name, number in numbers.items() if number is not None and not math.isnan(number.likely)}
    if not known:
        raise KeyError(f"{first.name} is not decided in any of the plans.")
    looks = dict(zip(numbers, _ROLES, strict=False))
    bars = Bars.of(tuple(looks[name] for name in known), tuple(known), tuple(known.values()))
    return Chart(
        "compared",
        say("{what}, side by side", what=first.name),
        Axis(first.name, first.quantity),
        Axis("plan"),
        (bars,),
        say("{each}.", each=tuple(say("{plan}: {number}", plan=name, number=number) for name, number in known.items())),
    )


def _is_rule(draw: Draw) -> bool:
    return isinstance(draw, Rule)


def _curves(drawn: Mapping[str, Chart], roles: Mapping[str, Role]) -> Iterator[Line | Mark]:
    """The curves and marks of each plan; what looks the same is drawn once, with the names of all whose it is."""
    told: list[tuple[list[str], Line | Mark]] = []
    for name, chart in drawn.items():
        for draw in chart.draws:
            if not isinstance(draw, Line | Mark):
                continue
            alike = next((names for names, other in told if _alike(draw, other)), None)
            if alike is None:
                told.append(([name], draw))
            elif name not in alike:
                alike.append(name)
    first = next(iter(drawn))
    for names, draw in told:
        plans = first if first in names else ", ".join(names)
        label: Words = say("{plans}: {what}", plans=plans, what=draw.label) if draw.label else plans
        role = roles[names[0]]
        yield Line(role, draw.x, draw.y, label) if isinstance(draw, Line) else replace(draw, role=role, label=label)


def _alike(draw: Line | Mark, other: Line | Mark) -> bool:
    """Whether two of one name lie on each other, as far as an eye sees and both reach."""
    if type(draw) is not type(other) or words(draw.label, "terminal") != words(other.label, "terminal"):
        return False
    if isinstance(draw, Line) and isinstance(other, Line):
        x = np.union1d(draw.x, other.x)
        x = x[(x >= max(draw.x.min(), other.x.min())) & (x <= min(draw.x.max(), other.x.max()))]
        span = np.nanmax(np.abs(draw.y)) or 1.0
        near = np.interp(x, draw.x, draw.y) - np.interp(x, other.x, other.y)
        return bool(x.size and np.all(np.abs(near) <= _SEEN * span))
    assert isinstance(draw, Mark) and isinstance(other, Mark)
    return math.isclose(draw.x, other.x, rel_tol=_SEEN) and math.isclose(draw.y, other.y, rel_tol=_SEEN)


def _bars(drawn: Mapping[str, Chart], roles: Mapping[str, Role]) -> Iterator[Bars]:
    """The bars of each plan below the names of all of them; what a plan has not is no bar."""
    names = tuple({words(each, "terminal"): each for chart in drawn.values() for each in chart.bars[0].names}.values())
    for plan, chart in drawn.items():
        for bars in chart.bars:
            places = {words(each, "terminal"): place for place, each in enumerate(bars.names)}
            at = [places.get(words(each, "terminal"), -1) for each in names]

            def spread_out(values: Array, at: list[int] = at) -> Array:
                return np.append(values, np.nan)[at]

            label: Words = say("{plan}: {what}", plan=plan, what=bars.label) if bars.label else plan
            start = None if bars.start is None else spread_out(bars.start)
            whole = bars.numbers and min(at) >= 0
            numbers = tuple(bars.numbers[place] for place in at) if whole else ()
            yield Bars(roles[plan], names, spread_out(bars.values), start, label=label, numbers=numbers)


def _wide(axes: list[Axis]) -> Axis:
    """An axis that holds all of them."""
    lows = [axis.low for axis in axes if axis.low is not None]
    highs = [axis.high for axis in axes if axis.high is not None]
    return replace(axes[0], low=min(lows, default=None), high=max(highs, default=None))
