"""What a callback does when it fails: the old result goes, the reason is said.

An error in a widget's callback would else vanish, and a stale number would stand beside the new sliders.
"""

from __future__ import annotations

import html
import logging
from collections.abc import Callable
from functools import wraps
from typing import ParamSpec

from vanwater.plan.problems import PlanError

__all__ = ["STRICT", "alert", "guarded", "reason"]

STRICT = False
"""Raise again what is no refusal of the plan's: for tests."""

_LOG = logging.getLogger(__name__)
_P = ParamSpec("_P")


def guarded(
    work: Callable[_P, None], failed: Callable[[str], None], name: Callable[[str], str] = lambda _: ""
) -> Callable[_P, None]:
    """A callback that never fails in silence.

    Parameters
    ----------
    work : callable
        The callback.
    failed : callable
        Clears what is shown and shows a text of HTML instead.
    name : callable
        What people call the field at an address; empty where they have no word for it.

    Returns
    -------
    callable
        The callback for a widget.
    """

    @wraps(work)
    def safe(*args: _P.args, **kwargs: _P.kwargs) -> None:
        try:
            work(*args, **kwargs)
        except PlanError as error:
            failed(alert(reason(error, name)))
        except Exception as error:
            failed(alert((("This could not be worked out.", str(error) or type(error).__name__),)))
            if STRICT:
                raise
            _LOG.exception("a panel's callback failed")

    return safe


def reason(error: PlanError, name: Callable[[str], str] = lambda _: "") -> tuple[tuple[str, str], ...]:
    """What is wrong and what to do, for each problem of a plan."""
    return tuple(
        (
            ": ".join(part for part in (name(problem.address), problem.message) if part),
            " ".join(
                part for part in (f"Expected {problem.expected}." if problem.expected else "", problem.slip) if part
            ),
        )
        for problem in error.problems
    )


def alert(said: tuple[tuple[str, str], ...]) -> str:
    """A message that screen readers tell at once.

    Parameters
    ----------
    said : tuple of (str, str)
        What is wrong, and what to do; a plan's own text is made harmless here.

    Returns
    -------
    str
        HTML.
    """
    rows = "".join(f"<p><b>{html.escape(what)}</b> {html.escape(do)}</p>" for what, do in said)
    return f'<div class="vw-alert" role="alert">{rows}</div>'
