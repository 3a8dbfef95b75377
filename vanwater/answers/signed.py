"""Which revision of a plan is signed, and whether the plan has changed since."""

from __future__ import annotations

from vanwater.answers.core.statement import Say, say
from vanwater.plan.fingerprint import fingerprint, same
from vanwater.plan.model import Plan

__all__ = ["signed"]


def signed(plan: Plan) -> Say | None:
    """What is to be said of the revision that was signed last.

    Parameters
    ----------
    plan : Plan
        The plan as it is written.

    Returns
    -------
    Say or None
        None where none is signed, and in a situation, which is never signed by itself.
    """
    last = next(((name, told) for name, told in reversed(plan.revisions.items()) if told.signed), None)
    if last is None or plan.situation:
        return None
    name, told = last
    if not told.fingerprint:
        since = "It has no fingerprint, so nobody can tell whether the plan has changed since."
    elif same(told.fingerprint, fingerprint(plan)):
        since = "The plan has not changed since."
    else:
        since = "The plan has changed since."
    return say("Signed revision {name} ({signed}). {since}", name=name, signed=told.signed, since=since)
