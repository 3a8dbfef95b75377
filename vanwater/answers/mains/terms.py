"""The trade's terms that belong to a campsite's water."""

from __future__ import annotations

from vanwater.answers.core.terms import Term

__all__ = ["TERMS"]

TERMS: tuple[Term, ...] = (
    Term("back-flow", "Water that runs the wrong way: out of the van into the campsite's pipe, or into the tank."),
    Term("mains inlet", "Where the hose from a campsite's tap goes into the van.", ("on the mains",)),
    Term("regulator", "A valve that holds one pressure, or one flow, however high the pressure before it stands."),
)
"""In the order of the alphabet."""
