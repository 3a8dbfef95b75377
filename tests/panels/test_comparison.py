from __future__ import annotations

import math
from typing import Any

import numpy as np
import pytest

from tests.answered import answered
from vanwater.answers.core.chart import Axis, Bars, Chart, Line
from vanwater.answers.core.number import Number
from vanwater.answers.core.question import Answer
from vanwater.answers.core.statement import say
from vanwater.answers.core.working import stated
from vanwater.panels.comparison import against, beside
from vanwater.quantities import DAY, FLOW, HOURS, NO_BREAK, SHARE, STAY, TEMPERATURE, Quantity


def number(value: float, quantity: Quantity, digits: int = 3, **more: Any) -> Number:
    return stated("n", value, quantity, "By counting.", source="s").keyed("n", digits=digits, **more)


def lasting(days: float) -> Answer:
    stay = number(days * DAY, STAY, bracket=(0.8 * days * DAY, 1.3 * days * DAY))
    return answered(key="a", title="t", verdict=say("It lasts {days}.", days=stay))


@pytest.mark.parametrize(
    ("before", "now", "said"),
    [
        (2.5, 3.3, f"+0.8{NO_BREAK}days against the plan's 2.5{NO_BREAK}days (2.0 to 3.2)."),
        (2.5, 2.0, f"−0.5{NO_BREAK}days against the plan's 2.5{NO_BREAK}days (2.0 to 3.2)."),
        (2.5, 2.501, f"Like the plan's 2.5{NO_BREAK}days (2.0 to 3.2)."),
    ],
)
def test_the_first_number_of_the_verdict_is_compared(before: float, now: float, said: str) -> None:
    assert against(lasting(before), lasting(now)).text() == said


def test_numbers_that_cannot_be_subtracted_are_not() -> None:
    flow = answered(key="a", title="t", verdict=say("It gives {flow}.", flow=number(1e-4, FLOW)))
    none = answered(key="a", title="t", verdict=say("It is not decided."))
    assert against(lasting(2.5), flow).text() == f"The plan says: It lasts 2.5{NO_BREAK}days (2.0 to 3.2)."
    assert against(none, lasting(2.5)).text() == "The plan says: It is not decided."
    assert "unlimited in the plan" in against(lasting(math.inf), lasting(2.5)).text()


def test_the_saved_curves_stand_faintly_behind() -> None:
    x = np.array([0.0, 1.0])
    now, saved = (
        Chart("c", "t", Axis("x", STAY), Axis("y", SHARE), (Line("fresh", x, x * slope, "fresh"),))
        for slope in (1.0, 0.5)
    )
    both = beside(now, saved)
    assert [draw.role for draw in both.draws if isinstance(draw, Line)] == ["saved", "fresh"]
    behind = both.draws[0]
    assert isinstance(behind, Line)
    assert behind.y.tolist() == [0.0, 0.5]
    assert behind.label == ""
    assert beside(now, None) is now


def test_bars_stay_alone() -> None:
    bars = Chart("b", "t", Axis("x", FLOW), Axis("use"), (Bars("fresh", ("a",), np.array([1e-4])),))
    assert beside(bars, bars) is bars


def test_next_to_none_is_not_told_as_a_difference() -> None:
    assert against(lasting(300.0), lasting(2.5)).text().endswith(" in the plan.")
    assert "against" not in against(lasting(300.0), lasting(2.5)).text()


def test_a_saved_curve_that_would_press_the_new_one_flat_is_left_out() -> None:
    x = np.array([0.0, 1.0])
    low, high = (
        Chart("c", "t", Axis("x", STAY), Axis("y", SHARE), (Line("fresh", x, x * top, "fresh"),)) for top in (0.1, 0.5)
    )
    assert beside(low, high) is low
    assert len(beside(high, low).draws) == 2


def frosty(lowest: float, hours: float, cold: float | None = None) -> Answer:
    given = {"hold": number(277.15, TEMPERATURE), "lowest": number(lowest, TEMPERATURE, 2).amount}
    ending = say("after {hours}", hours=number(hours * 3600, HOURS))
    if cold is None:
        return answered(
            key="f", title="t", verdict=say("It holds {hold} to {lowest}, {ending}.", ending=ending, **given)
        )
    first = say(
        "In {cold} it does not: {hold} to {lowest}, {ending}.", cold=number(cold, TEMPERATURE), ending=ending, **given
    )
    return answered(key="f", title="t", verdict=first)


def test_the_first_number_that_moved_is_told_whatever_the_sentence_says_else() -> None:
    plan = frosty(252.15, 5.0)
    assert against(plan, frosty(247.15, 5.0)).text() == f"−5{NO_BREAK}K against the plan's −21{NO_BREAK}°C."
    assert against(plan, frosty(247.15, 5.0)).text(us=True) == f"−9{NO_BREAK}°F against the plan's −6{NO_BREAK}°F."
    assert against(plan, frosty(252.15, 3.0, cold=240.0)).text() == f"−2{NO_BREAK}h against the plan's 5{NO_BREAK}h."
    assert against(plan, frosty(252.15, 5.0)).text() == "As in the plan."
