"""The drawing to scale on a page, with its lists: what is drawn, and what has no place yet."""

from __future__ import annotations

from dataclasses import dataclass

from markupsafe import Markup

from vanwater.document.pictures import inline
from vanwater.document.sheets import Sheet, laid_out
from vanwater.document.words import Words
from vanwater.figures.schematic.parts import Asked

__all__ = ["ToScale", "to_scale"]


@dataclass(frozen=True, slots=True)
class ToScale:
    """The drawing, ready for the page.

    Parameters
    ----------
    svg : Markup
        The drawing, as large as its scale asks.
    places : Sheet
        What its numbers stand for.
    without_place : Sheet or None
        What is not drawn, and where its place would be filled in.
    """

    svg: Markup
    places: Sheet
    without_place: Sheet | None


def to_scale(asked: Asked, words: Words) -> ToScale | None:
    """Draw the van of a plan to scale for a page.

    Parameters
    ----------
    asked : Answers
        A plan and its answers.
    words : Words
        What writes its lists, and says which units are drawn.

    Returns
    -------
    ToScale or None
        None while no part has a place.
    """
    from vanwater.figures.to_scale.drawing import to_scale as drawn_to_scale
    from vanwater.figures.to_scale.lists import places, without_place
    from vanwater.figures.to_scale.places import placed_van

    van = placed_van(asked)
    if not van.drawn:
        return None
    open_ = without_place(van)
    svg = inline(drawn_to_scale(asked, words.us, listed=False))
    listed = laid_out(places(van), words)
    return ToScale(svg, listed, laid_out(open_, words) if open_.rows else None)
