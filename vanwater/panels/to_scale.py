"""The van to scale on a bench: what has a place in the plan, from the side and from above."""

from __future__ import annotations

from collections.abc import Callable

from vanwater.answers.core.question import Answer
from vanwater.figures.to_scale.drawing import to_scale
from vanwater.figures.to_scale.places import placed_van
from vanwater.panels.followed import Followed
from vanwater.panels.plumbing import asked_of

__all__ = ["has_places", "scale_svg"]


def has_places(bench: Followed) -> bool:
    """Whether the plan on a bench says of any part where it is."""
    return placed_van(asked_of(bench, bench.before)).drawn


def scale_svg(bench: Followed, ask: Callable[[str], Answer]) -> str:
    """Draw the van of the plan on a bench to scale, with its lists.

    Parameters
    ----------
    bench : Followed
        Whose plan it is.
    ask : callable
        Gives what answers a question by its name.

    Returns
    -------
    str
        One ``<svg>`` element.
    """
    return to_scale(asked_of(bench, ask), bench.us)
