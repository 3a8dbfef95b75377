"""An answer as pieces for the cells of a notebook, each of which follows the bench."""

from __future__ import annotations

import html
from collections.abc import Callable

from vanwater.answers.core.question import Answer
from vanwater.answers.core.statement import plain
from vanwater.answers.questions import QUESTIONS
from vanwater.panels.followed import Followed
from vanwater.panels.live import Live, Piece
from vanwater.panels.pieces import Pieces, Shown, situations

__all__ = ["SAVED", "Page", "plan_named"]

SAVED = "The saved plan, without what was moved since:"
"""Told above what stands still while the bench has moved."""


class Page:
    """One question about the plan on a bench.

    Parameters
    ----------
    bench : Followed
        Whose plan it is.
    question : str
        Name of the question.

    Raises
    ------
    KeyError
        When there is no such question.
    """

    def __init__(self, bench: Followed, question: str) -> None:
        if question not in QUESTIONS:
            raise KeyError(f"{question} is no question; there are {', '.join(QUESTIONS)}.")
        self.bench, self.question = bench, question

    @property
    def answer(self) -> Answer:
        """The answer as the bench stands."""
        return self.bench.ask(self.question)

    def verdict(self) -> Live:
        """The answer in one sentence, large."""
        return self._live(lambda pieces: pieces.verdict())

    def findings(self, *about: str) -> Live:
        """What was found, worst first, with what to change and what that gains; all, or what some keys begin with."""
        return self._live(lambda pieces: pieces.findings(*about))

    def chart(self, key: str = "") -> Live:
        """A chart of the answer, the first without a key, its numbers as a file below; a sentence if none is drawn."""
        return self._live(lambda pieces: pieces.chart(key), self._live(lambda pieces: pieces.link(key)))

    def table(self, key: str) -> Live:
        """A table of the answer; a sentence where it has none of that key."""
        return self._live(lambda pieces: pieces.table(key))

    def sums(self) -> Live:
        """The numbers of the verdict and of the findings, each unfolding to its sum; ``--why`` unfolds any other."""
        return self._live(lambda pieces: pieces.sums())

    def assumptions(self) -> Live:
        """What was taken to be so, how unsure it is, what to measure to know."""
        return self._live(lambda pieces: pieces.assumptions())

    def cautions(self) -> Live:
        """Every caution, the grave ones first."""
        return self._live(lambda pieces: pieces.cautions())

    def situations(self) -> Live:
        """The verdicts of the saved plan as it is written and in each of its situations.

        It takes all questions many times over, so it stands still, and says so when something was moved.
        """
        bench = self.bench

        def saved(ask: Callable[[str], Answer]) -> Piece:  # noqa: ARG001 - asks every question of the saved plan
            piece = bench.saved.once(f"situations side by side {bench.us}", lambda: situations(bench.saved, bench.us))
            if not bench.state.key[0] and not bench.values:
                return piece
            return Shown(f"<p><i>{SAVED}</i></p>{piece.html}", f"{SAVED}\n{piece.text}")

        return Live(bench, saved)

    def _live(self, piece: Callable[[Pieces], Piece], under: Live | None = None) -> Live:
        bench = self.bench
        return Live(bench, lambda ask: piece(Pieces(ask(self.question), bench.us, bench.saved.van.name)), under)


def plan_named(bench: Followed) -> Live:
    """Which plan is on the bench, and how it stands there."""

    def named(ask: Callable[[str], Answer]) -> Piece:  # noqa: ARG001 - it asks nothing
        file = "" if bench.file is None else f" ({bench.file.path.name})"
        there = bench.state.situation
        situation = f" Situation: {there}." if there else ""
        moved = f" Moved and not saved: {'; '.join(bench.changes)}." if bench.changes else ""
        text = plain(f"The plan in hand: {bench.saved.van.name}{file}.{situation}{moved}", "terminal")
        return Shown(f"<p>{html.escape(text)}</p>", text)

    return Live(bench, named)
