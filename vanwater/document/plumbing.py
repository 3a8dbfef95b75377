"""The drawing of the plumbing on a page, and the lists that its numbers lead to."""

from __future__ import annotations

from dataclasses import dataclass

from markupsafe import Markup

from vanwater.document.pictures import inline
from vanwater.document.sheets import Sheet, laid_out
from vanwater.document.sums import Sums
from vanwater.document.words import Words
from vanwater.figures.schematic.parts import Asked

__all__ = ["Plumbing", "plumbing"]


@dataclass(frozen=True, slots=True)
class Plumbing:
    """The drawing, ready for the page.

    Parameters
    ----------
    svg : Markup
        The drawing.
    high : float
        How high it is at its own size [pt], in which its letters are read well.
    runs, pieces : Sheet
        What its numbers stand for.
    """

    svg: Markup
    high: float
    runs: Sheet
    pieces: Sheet


def plumbing(asked: Asked, words: Words, sums: Sums | None = None) -> Plumbing | None:
    """Draw the plumbing of a plan for a page.

    Parameters
    ----------
    asked : Answers
        A plan and its answers.
    words : Words
        What writes its lists, and says which units are drawn.
    sums : Sums, optional
        As in :func:`vanwater.document.sheets.laid_out`.

    Returns
    -------
    Plumbing or None
        None while the plan has no run that can be drawn.
    """
    from vanwater.figures.schematic.drawing import PORTRAIT, schematic
    from vanwater.figures.schematic.lists import numbered_pieces, numbered_runs
    from vanwater.figures.schematic.piping import piping

    drawn = piping(asked)
    if not any(line.number for line in drawn.lines):
        return None
    svg = inline(schematic(asked, words.us, sheet=PORTRAIT))
    runs = laid_out(numbered_runs(asked.plan, drawn), words, sums)
    high = float(svg.partition('viewBox="')[2].partition('"')[0].split()[3])
    return Plumbing(svg, high, runs, laid_out(numbered_pieces(drawn), words, sums))
