from __future__ import annotations

from tests.examples import example_answers
from tests.terminal.made import piped
from vanwater.terminal.measured import beside


def test_the_measured_value_stands_beside_the_sum() -> None:
    told = " ".join(beside("outlet.shower.flow", example_answers("family-winter"), piped()))
    assert "measured on 14 March 2026: 6.4 L/min" in told and "within the band" in told and "moves no sum" in told
    assert "1.69 gal/min" in " ".join(beside("outlet.shower.flow", example_answers("family-winter"), piped(us=True)))


def test_what_was_not_measured_has_nothing_beside_it() -> None:
    assert beside("stay.days", example_answers("family-winter"), piped()) == []
    assert beside("stay.days", example_answers("weekend-cans"), piped()) == []
