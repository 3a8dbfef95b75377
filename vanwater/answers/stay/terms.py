"""The trade's terms that belong to days off-grid."""

from __future__ import annotations

from vanwater.answers.core.terms import Term

__all__ = ["TERMS"]

TERMS: tuple[Term, ...] = (
    Term("cassette", "The removable holding tank of a toilet.", ("toilet cassette",)),
    Term("grey water", "Used water from shower, basin and sink, kept on board until it may be let out.", ("grey",)),
    Term("idle", "What an inverter takes from the battery while it is on and nothing is plugged in.", ("idling",)),
    Term("inverter", "The device that makes mains voltage out of the battery."),
    Term("overflow", "The height at which a tank is full and water runs out of its overflow or vent."),
    Term("ready habits", "A stated set of water uses that fills what the plan leaves out."),
    Term("urine container", "The container of a dry toilet that keeps urine apart.", ("urine",)),
)
"""In the order of the alphabet."""
