"""The bench behind all cells and panels of a notebook: one plan under the hand, and everything that follows it."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Any

from vanwater.panels.followed import Followed
from vanwater.panels.keeping import SAVED_LETTER

if TYPE_CHECKING:  # a panel brings the widgets along: each is imported when it is first asked for
    from vanwater.figures.schematic.parts import Shows
    from vanwater.panels.live import Live
    from vanwater.panels.page import Page
    from vanwater.panels.panel import Panel
    from vanwater.panels.study import Study
    from vanwater.panels.variants import Variants
    from vanwater.panels.whole import Whole

__all__ = ["Bench"]


class Bench(Followed):
    """One plan for all cells and panels of a notebook.

    Parameters
    ----------
    plan : Plan or PlanFile
        The saved plan; with a file, changes can be written back.
    us : bool, optional
        US units instead of metric ones; the plan's own choice without it.
    """

    def page(self, question: str) -> Page:
        """An answer as pieces that stand in a saved notebook, and follow while its kernel runs.

        Parameters
        ----------
        question : str
            Name of the question.

        Returns
        -------
        Page
            Its pieces.
        """
        from vanwater.panels.page import Page

        return Page(self, question)

    def panel(self, question: str = "stay", chart: str = "", **look: Any) -> Panel:
        """A question with the controls that move its answer.

        Parameters
        ----------
        question : str
            Name of the question.
        chart : str
            Key of one of the answer's charts, the first without it.
        **look
            ``controls`` and ``more``: addresses of the controls in sight and of the folded ones.

        Returns
        -------
        Panel
            Live.
        """
        from vanwater.panels.panel import Panel

        return Panel(self, question, chart, **look)

    def drawing(self, shows: Shows = "size", outlet: str = "") -> Live:
        """The plumbing, drawn; a pointer that rests on a run is told its size, its length and its loss.

        Parameters
        ----------
        shows : {"size", "loss"}
            What stands beside each run: its size and length, or its size and what it takes of the pressure.
        outlet : str
            The open outlet, for losses; that of the verdict without it.

        Returns
        -------
        Live
            A piece that stands in a saved notebook, and follows while its kernel runs.

        Raises
        ------
        KeyError
            When the plan has no such outlet.
        """
        from vanwater.figures.schematic.piping import see_outlet
        from vanwater.panels.live import Live
        from vanwater.panels.plumbing import plumbing

        see_outlet(self.base, outlet)
        return Live(self, lambda ask: plumbing(self, ask, shows, outlet))

    def whole(self) -> Whole:
        """The whole van at once: what matters most, every control, one picture, all findings."""
        from vanwater.panels.whole import Whole

        return Whole(self)

    def variants(self) -> Variants:
        """The saved plan and what was kept beside it, side by side."""
        from vanwater.panels.variants import Variants

        return Variants(self)

    def ready(self, key: str = "filter") -> Study:
        """A ready comparison: "filter", "accumulator", "tank", "heat" or "hose", beside the plan as it stands."""
        from vanwater.panels.studies import ready_study

        return ready_study(self, key)

    def first(self, key: str = "") -> Study:
        """What moves a number most, the days of the stay without its key: what to measure or to change first."""
        from vanwater.panels.studies import first_study

        return first_study(self, key)

    def smallest(self, address: str = "", wish: str = "") -> Study:
        """The smallest size of a part that is sold and meets a wish, typed or the plan's own."""
        from vanwater.panels.studies import smallest_study

        return smallest_study(self, address, wish)

    def hand_on(
        self,
        *what: str,
        form: str = "html",
        since: str = SAVED_LETTER,
        folder: Path | str | None = None,
        shows: Shows = "size",
        outlet: str = "",
    ) -> tuple[Path, ...]:
        """Write papers, lists and drawings of the plan as it stands, in the situation that is chosen.

        Where that is not what the plan's file says, a copy of the plan goes with them.

        Parameters
        ----------
        *what : str
            "customer", "workshop", "file", "card", "tags", "parts", "schematic", "scale", "change"; the three papers
            without any.
        form : {"html", "pdf", "md"}
            In what papers are written.
        since : str
            From what a change order begins: A, the saved plan, or the letter of what was kept.
        folder : Path or str, optional
            Where to; beside the plan's file without it, of an example beside the notebook.
        shows, outlet
            What the plumbing shows, as in :meth:`drawing`.

        Returns
        -------
        tuple of Path
            What was written.

        Raises
        ------
        KeyError
            When there is no such thing to be written, no such form, variant or outlet.
        PlanError
            When the plan stands on something impossible, or was not read from a file.
        NotWrittenError
            When something lies there that vanwater did not write, or a disk refuses it: with what to do.
        """
        from vanwater.panels.handing import hand_on

        return hand_on(self, what, form=form, since=since, folder=folder, shows=shows, outlet=outlet)

    def _ipython_display_(self) -> None:
        """Say in a cell which plan is on the bench, and how it stands."""
        from vanwater.panels.page import plan_named

        plan_named(self)._ipython_display_()
