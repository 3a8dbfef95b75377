"""The revisions of a plan in the title block: the newest first, which one is signed, the plan's fingerprint."""

from __future__ import annotations

from dataclasses import dataclass

from vanwater.answers.core.statement import Count, Say
from vanwater.answers.signed import signed
from vanwater.plan.fingerprint import fingerprint
from vanwater.plan.household import Revision
from vanwater.plan.model import Plan

__all__ = ["History", "fingerprint_told", "history"]

MOST = 5
"""Revisions on the short papers; the file has all of them."""


@dataclass(frozen=True, slots=True)
class History:
    """What the title block says of revisions.

    Parameters
    ----------
    rows : tuple of (str, Revision)
        The newest first.
    earlier : Count or None
        How many are left out.
    signed : Say or None
        Which is signed, and whether the plan has changed since.
    fingerprint : str
        Of the plan as it is; empty where it has no revisions, and in a situation.
    """

    rows: tuple[tuple[str, Revision], ...]
    earlier: Count | None
    signed: Say | None
    fingerprint: str


def history(plan: Plan, *, whole: bool) -> History:
    """Put the revisions of a plan together.

    Parameters
    ----------
    plan : Plan
        The plan.
    whole : bool
        Whether all of them are told, or only the newest.

    Returns
    -------
    History
        Empty where the plan has none.
    """
    rows = tuple(reversed(plan.revisions.items()))
    left = 0 if whole else max(len(rows) - MOST, 0)
    shown = rows[: len(rows) - left]
    print_it = bool(rows) and not plan.situation
    return History(
        shown, Count(left, "earlier one") if left else None, signed(plan), fingerprint(plan) if print_it else ""
    )


def fingerprint_told(plan: Plan) -> tuple[str, ...]:
    """The sentence that lets a builder copy the fingerprint to the revision that is signed; none without revisions."""
    mark = history(plan, whole=True).fingerprint
    return (f"Fingerprint of this plan, for the revision that is signed: {mark}",) if mark else ()
