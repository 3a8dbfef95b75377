"""What changed against the saved plan: the number that matters, the curves."""

from __future__ import annotations

import math
from dataclasses import replace

from vanwater.answers.answer import Answer
from vanwater.answers.wording import Amount, Range, Say, say
from vanwater.figures.chart import Chart, Line

__all__ = ["against", "beside"]

_SAME = 0.002


def against(before: Answer, now: Answer) -> Say:
    """What a change makes of the number that matters.

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
    old, new = (next(iter(answer.verdict.amounts), None) for answer in (before, now))
    if old is None or new is None or old.quantity.si != new.quantity.si:
        return say("The plan says: {verdict}", verdict=before.verdict)
    was, is_now = (one.likely if isinstance(one, Range) else one.value for one in (old, new))
    if not (math.isfinite(was) and math.isfinite(is_now)):
        return say("{plan} in the plan.", plan=old)
    gain = Amount(is_now - was, new.quantity, 2)
    if abs(gain.value) <= _SAME * abs(was):
        return say("Like the plan's {plan}.", plan=old)
    sign = "+" if gain.value > 0 else ""
    return say(f"{sign}{{gain}} against the plan's {{plan}}.", gain=gain, plan=old)


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
        Bars and all else stay as they are.
    """
    if saved is None or chart.bars or saved.bars:
        return chart
    faint = [Line("saved", draw.x, draw.y) for draw in saved.draws if isinstance(draw, Line)]
    return replace(chart, draws=(*faint, *chart.draws))
