"""The trade's terms that belong to hot water."""

from __future__ import annotations

from vanwater.answers.core.terms import Term

__all__ = ["TERMS"]

TERMS: tuple[Term, ...] = (
    Term("element", "The electric heating rod inside a water heater."),
    Term("one charge", "The hot water that a heater gives once, hot through at first and its element off."),
    Term("relief valve", "A valve that opens by itself when the pressure in a heater grows too high."),
    Term(
        "residual-current device",
        "A switch that cuts mains voltage within a blink when current strays, say through a person.",
        ("rcd", "gfci"),
    ),
    Term("run off", "Cold water that is let run away until the hot water arrives.", ("run-off",)),
    Term("run-back line", "A hose that leads the cooled water of the hot line back to the tank while one waits."),
    Term("set point", "The temperature at which a heater's thermostat switches off."),
    Term("standby", "The heat that a heater loses while it only keeps its water warm.", ("standing loss",)),
    Term("stir", "To mix: cold water that enters a heater takes some of its hot water along.", ("stirred", "stirs")),
)
"""In the order of the alphabet."""
