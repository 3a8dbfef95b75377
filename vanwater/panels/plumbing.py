"""The plumbing drawing on a bench: in a cell it follows, and a pointer that rests on a run is told what it is.

It stands in the page itself and not as an image, for an image tells nothing to a pointer.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping

from vanwater.answers.core.gathered import numbers_in
from vanwater.answers.core.question import Answer
from vanwater.answers.core.statement import plain
from vanwater.answers.questions import QUESTIONS, Answers
from vanwater.figures.schematic.drawing import PORTRAIT, schematic
from vanwater.figures.schematic.parts import Shows
from vanwater.figures.schematic.piping import piping
from vanwater.figures.themed import colours
from vanwater.panels.followed import Followed
from vanwater.panels.pieces import Shown
from vanwater.panels.trusted import trusted

__all__ = ["NONE", "asked_of", "plumbing", "plumbing_svg"]

NONE = "The plan has no run of a hose or pipe yet."
"""Told in the place of a drawing."""


class _Each(Mapping[str, Answer]):
    """The answers, by question, each asked when it is first read."""

    def __init__(self, ask: Callable[[str], Answer]) -> None:
        self._ask = ask

    def __getitem__(self, question: str) -> Answer:
        if question not in QUESTIONS:
            raise KeyError(question)
        return self._ask(question)

    def __iter__(self) -> Iterator[str]:
        return iter(QUESTIONS)

    def __len__(self) -> int:
        return len(QUESTIONS)


def plumbing_svg(bench: Followed, ask: Callable[[str], Answer], shows: Shows = "size", outlet: str = "") -> str:
    """Draw the plumbing of the plan on a bench; empty while it has no run.

    Parameters
    ----------
    bench : Followed
        Whose plan it is.
    ask : callable
        Gives what answers a question by its name.
    shows : {"size", "loss"}
        What stands beside each run.
    outlet : str
        The open outlet, for losses; that of the verdict without it.

    Returns
    -------
    str
        One ``<svg>`` element.

    Raises
    ------
    KeyError
        When the plan has no such outlet.
    """
    asked = asked_of(bench, ask)
    return schematic(asked, bench.us, shows, outlet, PORTRAIT) if asked.plan.runs else ""


def plumbing(bench: Followed, ask: Callable[[str], Answer], shows: Shows = "size", outlet: str = "") -> Shown:
    """The plumbing of the plan on a bench, as a piece of a page.

    Parameters
    ----------
    bench, ask, shows, outlet
        As in :func:`plumbing_svg`.

    Returns
    -------
    Shown
        The drawing; a sentence while the plan has no run.

    Raises
    ------
    KeyError
        When the plan has no such outlet.
    """
    svg = plumbing_svg(bench, ask, shows, outlet)
    if not svg:
        return Shown(f"<p>{NONE}</p>", NONE)
    asked = asked_of(bench, ask)
    drawn = piping(asked, shows, outlet)
    runs = sum(line.number > 0 for line in drawn.lines)
    beside = "what it takes of the pressure" if shows == "loss" else "its length"
    text = f"The plumbing of {asked.plan.van.name}: {len(drawn.pieces)} pieces and {runs} runs, each with {beside}."
    pieces, lines = (piece.about for piece in drawn.pieces), ((*line.about, *line.told) for line in drawn.lines)
    told = numbers_in(*(words for about in (*pieces, *lines) for words in about))
    inside = f'<div class="vw-plumbing">{svg}</div>'
    return Shown(
        trusted(inside, "The drawing is shown", colours(".vw-plumbing", svg)), plain(text, "terminal"), tuple(told)
    )


def asked_of(bench: Followed, ask: Callable[[str], Answer]) -> Answers:
    """The plan on a bench and the answers to it, each asked when it is first read.

    Parameters
    ----------
    bench : Followed
        Whose plan it is.
    ask : callable
        Gives what answers a question by its name.

    Returns
    -------
    Answers
        As the drawings take them.
    """
    ask(next(iter(QUESTIONS)))  # refuses what is impossible
    return Answers(bench.plan if bench.refused is None else bench.base, _Each(ask))
