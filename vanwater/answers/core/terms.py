"""The trade's terms, in the words of somebody who has never built a van; those of one question stand beside it."""

from __future__ import annotations

from dataclasses import dataclass

__all__ = ["TERMS", "Term"]


@dataclass(frozen=True, slots=True)
class Term:
    """A term and its explanation.

    Parameters
    ----------
    name : str
        The term as it stands in the list.
    meaning : str
        One or two plain sentences.
    forms : tuple of str
        Other words by which a text may call it.
    """

    name: str
    meaning: str
    forms: tuple[str, ...] = ()


TERMS: tuple[Term, ...] = (
    Term("bore", "The inside width of a hose or pipe: what the water sees."),
    Term("check valve", "A valve that lets water through one way only."),
    Term("fitting", "A piece that joins or turns a run: elbow, tee, coupling, valve.", ("fittings",)),
    Term(
        "gauge pressure",
        "Pressure above that of the air around us, as a gauge shows it. All pressures here are such unless said.",
        ("pressure",),
    ),
    Term("heating pad", "An electric mat on a tank that warms its water.", ("pad", "pads", "heating pads")),
    Term("pick-up", "The mouth through which water is drawn out of a tank.", ("pickup", "pick up")),
    Term("pitch", "How much the parked van slopes from front to rear."),
    Term("residual", "What a computed balance leaves over; near zero when the sum is sound.", ("left unbalanced",)),
    Term("roll", "How much the parked van slopes from side to side."),
    Term(
        "root-sum-square",
        "How several independent uncertainties are put together: the square root of the sum of their squares.",
    ),
    Term("run", "One length of hose or pipe with its fittings, from one piece to the next.", ("runs",)),
    Term("tee", "A fitting where one run becomes two, or two become one.", ("tees",)),
    Term("usable", "The part of a tank or battery that can be used without harm or tilting the van."),
)
"""Those of several questions, in the order of the alphabet."""
