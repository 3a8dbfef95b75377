"""A piece of an answer in a cell: it stands in a saved notebook as it is, and follows while the kernel runs."""

from __future__ import annotations

import uuid
from collections.abc import Callable
from typing import Any

from vanwater.answers.core.number import Number
from vanwater.answers.core.question import Answer
from vanwater.panels.cells import Place, again, clear, place_now, renew, show
from vanwater.panels.followed import Followed
from vanwater.panels.guard import guarded
from vanwater.panels.pieces import Picture, Shown
from vanwater.plan.problems import PlanError

__all__ = ["ASIDE", "Live", "Piece"]

Piece = Shown | Picture

ASIDE = "Not possible as the controls stand; this was shown before. The panel says why."
"""Told above what no longer follows."""

_SAID = f"<p><i>{ASIDE}</i></p>"
_GREY = "opacity:.4;filter:grayscale(1)"


class Live:
    """What a cell shows of the bench.

    Parameters
    ----------
    bench : Followed
        What it follows.
    make : callable
        Gives the piece from what answers a question by its name.
    under : Live, optional
        What stands below it in the same cell.
    """

    def __init__(
        self, bench: Followed, make: Callable[[Callable[[str], Answer]], Piece], under: Live | None = None
    ) -> None:
        self._bench, self._make, self._under = bench, make, under
        self._piece: Piece | None = None
        self._aside = False
        self._places: dict[str, Place] = {}  # where it is shown: the cell and its run, by display
        self.page: str | None = None  # the page in a browser in which it was shown
        self._show = guarded(self._follow, self._keep)

    @property
    def piece(self) -> Piece:
        """What it shows, or what it showed before the plan became impossible."""
        if self._piece is None or not self._places:  # what no cell shows follows by being made anew
            try:
                self._piece = self._make(self._bench.ask)
            except PlanError:
                self._piece, self._aside = self._make(self._bench.before), True
        return self._piece

    @property
    def numbers(self) -> tuple[Number, ...]:
        """The numbers that it shows."""
        return self.piece.numbers

    def __repr__(self) -> str:
        return self.piece.text

    def moved(self) -> None:
        """Nothing of it moves before the hand rests."""

    def loaded(self) -> None:
        """Another plan: nothing of the old one stays."""
        self._piece = None

    def refresh(self) -> None:
        """Show how the bench stands now."""
        self._show()

    def _ipython_display_(self) -> None:
        """Be shown in a cell, and follow from there."""
        place = place_now()
        clear(self._bench, place)
        if not self._places:
            self._bench.follow(self)
            self._piece = None
        new = uuid.uuid4().hex
        self._places[new] = place
        self.page = self._bench.page_shown
        show(self._bundle(), new)
        if self._under is not None:
            self._under._ipython_display_()

    def gone(self, place: Place) -> None:
        """Forget what a cell showed that runs again."""
        self._places = {key: old for key, old in self._places.items() if not again(old, place)}
        if not self._places:
            self._bench.leave(self)

    def _follow(self) -> None:
        new = self._make(self._bench.ask)
        alike = new == self._piece and not self._aside
        self._piece, self._aside = new, False
        if not alike:
            self._put()

    def _keep(self, message: str) -> None:
        """Keep what was shown, grey, with why it does not follow."""
        self._aside = True
        self._put(message if self._bench.refused is None else _SAID)

    def _put(self, above: str = "") -> None:
        bundle = self._bundle(above)
        for place in self._places:
            renew(bundle, place)

    def _bundle(self, above: str = "") -> dict[str, Any]:
        piece = self.piece
        if self._aside and piece.text:  # what has no words of its own stands below what says it
            grey = f'{above or _SAID}<div style="{_GREY}">{piece.html}</div>'
            return {"text/html": grey, "text/plain": f"{ASIDE}\n{piece.text}"}
        return {"text/html": piece.html, "text/plain": piece.text}
