"""What an answer is made of beside its numbers, tables and findings: assumptions and cautions."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass

from vanwater.answers.core.harm import Harm
from vanwater.answers.core.statement import Say
from vanwater.plan.model import Plan

__all__ = ["Assumption", "Caution", "gravest_first"]


@dataclass(frozen=True, slots=True)
class Assumption:
    """Something that was taken to be so.

    Parameters
    ----------
    key : str
        Short name.
    statement : Say
        What was assumed, and how far it may lie off.
    measure : str
        What to measure or decide to know it; empty where nothing can be done.
    source : str
        Published source or "common practice".
    address : str
        Where in the plan it can be said otherwise.
    """

    key: str
    statement: Say
    measure: str = ""
    source: str = ""
    address: str = ""


@dataclass(frozen=True, slots=True)
class Caution:
    """A warning that belongs beside a number, raised by what stands in the plan.

    Parameters
    ----------
    key : str
        Short name; the same caution is told in full once on a page.
    text : str or Say
        The warning in plain words.
    grave : bool
        Whether the van as it is planned can hurt somebody at once; a grave one is never folded away.
    source : str
        Standards and publications, or "common practice".
    short : str
        The warning in a few words, for where there is little room; the whole text without it.
    harm : Harm
        What comes of passing it over.
    raised : callable
        Whether a plan holds what it warns of; any plan does without it.
    """

    key: str
    text: str | Say
    grave: bool = False
    source: str = "common practice"
    short: str = ""
    harm: Harm = Harm.CARE
    raised: Callable[[Plan], bool] = lambda plan: True  # noqa: ARG005

    @property
    def brief(self) -> str | Say:
        """The warning in as few words as there are of it."""
        return self.short or self.text


def gravest_first(cautions: Iterable[Caution]) -> tuple[Caution, ...]:
    """Cautions once each: the grave ones before the others, then by what comes of passing them over.

    Parameters
    ----------
    cautions : iterable of Caution
        A grave one stands for others of its key.

    Returns
    -------
    tuple of Caution
        Those alike keep their order.
    """
    once: dict[str, Caution] = {}
    for caution in cautions:
        if caution.grave or caution.key not in once:
            once[caution.key] = caution
    return tuple(sorted(once.values(), key=lambda caution: (not caution.grave, caution.harm)))
