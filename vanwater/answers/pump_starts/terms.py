"""The trade's terms that belong to pump starts."""

from __future__ import annotations

from vanwater.answers.core.terms import Term

__all__ = ["TERMS"]

TERMS: tuple[Term, ...] = (
    Term(
        "accumulator",
        "A small vessel with a cushion of gas behind the pump. It evens out the pulses and lets the pump rest.",
    ),
    Term("chatter", "Of a pump: to start and stop so fast that it rattles and wears.", ("chatters",)),
    Term("cut-in", "The pressure at which the pump's switch starts it.", ("cut in", "cut_in")),
    Term(
        "cut-out",
        "A switch that opens by itself, and when: the pump's at a pressure, a heater's or a pad's when hot or dry.",
        ("cut out", "cut_out"),
    ),
    Term("pre-charge", "The gas pressure in an accumulator before any water enters.", ("precharge",)),
)
"""In the order of the alphabet."""
