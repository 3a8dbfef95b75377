"""Three studies of a plan: a ready comparison, what to change first, the smallest size that works."""

from __future__ import annotations

import html
import math
from collections.abc import Iterator, Sequence
from typing import Any

import ipywidgets as widgets

from vanwater.answers.core.statement import plain
from vanwater.answers.stay.answer import Stay
from vanwater.figures.drawing import drawing
from vanwater.options.headline import headline_keys
from vanwater.options.ladder import ladders
from vanwater.options.ready import ready
from vanwater.options.smallest import smallest
from vanwater.options.tornado import tornado
from vanwater.panels import markup
from vanwater.panels.followed import Followed
from vanwater.panels.pieces import Shown
from vanwater.panels.study import Study
from vanwater.panels.variants import compared_html
from vanwater.plan.model import Plan

__all__ = ["first_study", "ready_study", "smallest_study"]

_WIDE = 620.0  # points of a picture
_CHOICE = {"layout": {"width": "430px"}}


def ready_study(bench: Followed, key: str = "filter") -> Study:
    """A ready comparison beside the plan as it stands.

    Parameters
    ----------
    bench : Followed
        Whose plan it is.
    key : str
        "filter", "accumulator", "tank", "heat" or "hose".

    Returns
    -------
    Study
        With what was assumed, or why this plan cannot carry it.

    Raises
    ------
    KeyError
        When there is no such comparison.
    """
    known = ready(bench.base)
    if key not in known:
        raise KeyError(f"{key} is no ready comparison; there are {', '.join(known)}.")

    def boxes(plan: Plan) -> Sequence[Any]:
        offered = [(each.title, each.key) for each in ready(plan).values()]
        return (
            widgets.Dropdown(description="compare", tooltip="what is compared", options=offered, value=key, **_CHOICE),
        )

    return Study(bench, "Ready comparisons", _ready, boxes)


def first_study(bench: Followed, key: str = "") -> Study:
    """What moves a number of the plan most.

    Parameters
    ----------
    bench : Followed
        Whose plan it is.
    key : str
        The number's key; the days of the stay, or the first of the headline that the plan has, without it.

    Returns
    -------
    Study
        Picture and table, with what was put in.
    """

    def boxes(plan: Plan) -> Sequence[Any]:  # noqa: ARG001 - asked already
        answers = bench.saved_answers
        offered = {each: plain(answers.numbers[each].name, "terminal") for each in headline_keys(answers)}
        offered = {each: name for each, name in offered.items() if answers.numbers[each].along}
        if key and key not in offered:
            known = answers.numbers.get(key)
            offered[key] = plain(known.name, "terminal") if known is not None else key
        begin = key or next(iter(offered), "")
        options = [(name, each) for each, name in offered.items()] or [("nothing is decided yet", "")]
        return (
            widgets.Dropdown(description="number", tooltip="which number", options=options, value=begin, **_CHOICE),
        )

    return Study(bench, "What to change first", _first, boxes)


def smallest_study(bench: Followed, address: str = "", wish: str = "") -> Study:
    """The smallest size of a part that meets a wish.

    Parameters
    ----------
    bench : Followed
        Whose plan it is.
    address : str
        The part, or the foam on it; the tank that ends the stay, or the first part that is sold in sizes, without it.
    wish : str
        Such as "stay.days >= 3 days"; what the plan itself wishes, without it.

    Returns
    -------
    Study
        The size, what the next smaller reaches, every size that was asked.
    """

    def boxes(plan: Plan) -> Sequence[Any]:
        offered = {rung.address: plain(rung.name, "terminal") for rung in ladders(plan)}
        begin = address or _ending(bench, offered)
        if begin not in offered:
            offered[begin] = begin or "nothing is sold in sizes"
        part = widgets.Dropdown(
            description="part",
            tooltip="which part",
            options=[(name, each) for each, name in offered.items()],
            value=begin,
            layout={"width": "300px"},
        )
        typed = widgets.Text(
            description="wish",
            value=wish,
            placeholder="the plan's own, or: stay.days >= 3 days",
            tooltip="what is wished",
            continuous_update=False,
            layout={"width": "380px"},
        )
        return (part, typed)

    return Study(bench, "The smallest that works", _smallest, boxes)


def _ready(plan: Plan, key: str) -> Shown:
    told = ready(plan)[key]
    notes = tuple(_notes(told.assumed, told.refused))
    if told.overlays:
        inside, text = compared_html(told.compare(), plan.us)
    else:
        inside = text = ""
    listed = "".join(f"<p>{html.escape(note)}</p>" for note in notes)
    return Shown(f"<p><b>{html.escape(told.title)}</b></p>{listed}{inside}", "\n".join((told.title, *notes, text)))


def _notes(assumed: Sequence[str], refused: Sequence[str]) -> Iterator[str]:
    if refused:
        yield plain(f"Not for this van: {' '.join(refused)}", "terminal")
    if assumed:
        yield plain(f"Assumed: {'; '.join(assumed)}.", "terminal")


def _first(plan: Plan, key: str) -> Shown:
    if not key:
        return Shown("<p>Nothing is decided yet.</p>", "Nothing is decided yet.")
    told = tornado(plan, key)
    picture = ""
    if told.bars and math.isfinite(told.number.likely):
        picture = f'<div style="max-width:780px">{drawing(told.chart(), plan.us, _WIDE, None)}</div>'
    return Shown(picture + told.table.html(plan.us), told.table.text(plan.us))


def _smallest(plan: Plan, address: str, wish: str) -> Shown:
    told = smallest(plan, address, wish.strip() or None)
    big = f'<p style="font-size:1.2em;line-height:1.35">{markup.said(told.sentence, plan.us, strong=True)}</p>'
    rows = told.table.html(plan.us)
    return Shown(
        f"{big}<details><summary>every size that was asked</summary>{rows}</details>",
        f"{told.sentence.text(plan.us)}\n{told.table.text(plan.us)}",
    )


def _ending(bench: Followed, offered: dict[str, str]) -> str:
    """The tank that ends the stay, where it is sold in sizes; else the first that is."""
    stay = bench.before("stay")
    stores = stay.stores if isinstance(stay, Stay) else ()
    parts = (f"tanks.{name}" for store in stores for name in store.tanks)
    near = (address for address in parts if address in offered)
    return next(near, next(iter(offered), ""))
