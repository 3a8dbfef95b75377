"""What changed against the saved plan: the number that matters, the curves."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from vanwater.answers.core.chart import Chart, Line
from vanwater.answers.core.number import Number
from vanwater.answers.core.question import Answer
from vanwater.answers.core.statement import Amount, Range, Say, say
from vanwater.quantities import TEMPERATURE

__all__ = ["against", "beside"]

_SAME = 0.002

_MOST_TIMES = 10.0
_TOO_HIGH = 4.0  # times as high as what is drawn now: such a curve would press it flat

_COLD = 25.0  # kelvins by which changes of a temperature are measured


def against(before: Answer, now: Answer) -> Say:
    """What a change makes of the verdict: of its first number that it moves.

    Parameters
    ----------
    before : Answer
        Of the saved plan.
    now : Answer
        Of the changed one.

    Returns
    -------
    Say
        Such as "+0.8 days against the plan's 2.5 days".
    """
    old, new = (_numbers(answer.verdict) for answer in (before, now))
    shared = [name for name, number in old.items() if name in new and new[name].quantity.si == number.quantity.si]
    if not shared:
        return say("The plan says: {verdict}", verdict=before.verdict)
    moved = [name for name in shared if not _alike(old[name], new[name])]
    if not moved:
        return say("Like the plan's {plan}.", plan=old[shared[0]]) if len(shared) == 1 else say("As in the plan.")
    plan, now_ = old[moved[0]], new[moved[0]]
    cold = plan.quantity.si == TEMPERATURE.si
    if not math.isfinite(plan.likely + now_.likely) or (not cold and _far(plan.likely, now_.likely)):
        return say("{plan} in the plan.", plan=plan)
    gain = now_.less(plan)
    sign = "+" if gain.value > 0 else ""
    return say(f"{sign}{{gain}} against the plan's {{plan}}.", gain=gain, plan=plan)


def _numbers(words: Say) -> dict[str, Number]:
    """The numbers of a sentence by the names of their holes, the first of each name."""
    named: dict[str, Number] = {}
    for name, given in words.given:
        if isinstance(given, Say):
            named = _numbers(given) | named
        elif isinstance(given, Number | Amount | Range):
            number = given if isinstance(given, Number) else given.number
            if number is not None:
                named.setdefault(name, number)
    return named


def _far(was: float, is_now: float) -> bool:
    """Whether a difference would say nothing: one of the two is next to none."""
    return min(abs(was), abs(is_now)) * _MOST_TIMES < max(abs(was), abs(is_now))


def _alike(old: Number, new: Number) -> bool:
    if not math.isfinite(old.likely + new.likely):
        return old.likely == new.likely
    size = _COLD if old.quantity.si == TEMPERATURE.si else abs(old.likely)
    return abs(new.likely - old.likely) <= _SAME * size


def beside(chart: Chart, saved: Chart | None) -> Chart:
    """A chart with the saved plan's curves faintly behind its own.

    Parameters
    ----------
    chart : Chart
        What is drawn now.
    saved : Chart or None
        The same of the saved plan.

    Returns
    -------
    Chart
        Bars and all else stay as they are; a saved curve that would press the new ones flat is left out.
    """
    if saved is None or chart.bars or saved.bars:
        return chart
    behind = [draw for draw in saved.draws if isinstance(draw, Line)]
    if _top(behind) > _TOO_HIGH * _top([draw for draw in chart.draws if isinstance(draw, Line)]):
        return chart
    faint = [Line("saved", draw.x, draw.y) for draw in behind]
    return replace(chart, draws=(*faint, *chart.draws))


def _top(lines: Sequence[Line]) -> float:
    return max((float(np.nanmax(line.y, initial=0.0)) for line in lines), default=0.0)
