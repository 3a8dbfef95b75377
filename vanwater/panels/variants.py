"""What is kept beside the saved plan: side by side as a cell, with what takes a variant up again or lets it go."""

from __future__ import annotations

import html
import math
from collections.abc import Callable, Iterator
from dataclasses import replace
from functools import lru_cache
from typing import Any

import ipywidgets as widgets

from vanwater.answers.core.cell import Cell
from vanwater.answers.core.chart import Bars, Chart
from vanwater.answers.core.question import Answer
from vanwater.answers.core.statement import Say, plain, say
from vanwater.answers.core.table import Table
from vanwater.figures.drawing import drawing
from vanwater.options.comparison import Comparison
from vanwater.options.headline import STAY
from vanwater.options.variants_table import Line
from vanwater.panels.asleep import asleep
from vanwater.panels.cells import show_widget
from vanwater.panels.collapsible import Collapsible
from vanwater.panels.followed import Followed
from vanwater.panels.keeping import LETTERS, SAVED_LETTER
from vanwater.panels.live import Live
from vanwater.panels.pieces import Shown
from vanwater.panels.style import STYLE

__all__ = ["NOTHING", "KeptRows", "Variants", "VariantsFold", "compared_html", "side_by_side"]

NOTHING = (
    f"Nothing is kept yet. Move controls, then press “keep as {LETTERS[0]}” above them: the plan as it stands then "
    "is put beside the saved one."
)
"""Told where there is nothing to compare."""

_MOST = 30
"""Further numbers that are listed; a data frame of the comparison has all."""

_WIDE = 620.0  # points of a picture with bars
_SAME = ("none", "the same")  # differences that are none


def side_by_side(bench: Followed) -> Shown:
    """The saved plan and its variants: what each changes, the numbers, the findings that turn, a picture.

    Parameters
    ----------
    bench : Followed
        What was kept on it.

    Returns
    -------
    Shown
        Without numbers of its own: they belong to other plans than the one under the hand.
    """
    comparison = bench.side_by_side
    if comparison is None:
        return Shown(f"<p>{html.escape(NOTHING)}</p>", NOTHING)
    lines = tuple(_who(bench))
    listed = "".join(f"<li>{html.escape(line)}</li>" for line in lines)
    told, text = compared_html(comparison, bench.us, stores=True)
    return Shown(f'<ul style="margin:0 0 8px">{listed}</ul>{told}', "\n".join((*lines, text)))


@lru_cache(maxsize=8)
def compared_html(comparison: Comparison, us: bool, stores: bool = False) -> tuple[str, str]:
    """Plans side by side as HTML and as text: headline, findings, pictures, and folded all else that differs.

    Parameters
    ----------
    comparison : Comparison
        The plans.
    us : bool
        US units instead of metric ones.
    stores : bool
        Whether the days of every store are drawn too.

    Returns
    -------
    tuple of str
        Both.
    """
    first = _narrow(comparison.likely()) if len(comparison.possible) > 1 else comparison.headline
    told, text = [first.html(us)], [first.text(us)]
    if comparison.turned:
        told.append(comparison.findings.html(us))
        text.append(comparison.findings.text(us))
    told += [f'<div style="max-width:780px">{picture}</div>' for picture in _pictures(comparison, us, stores)]
    told.append(_others(comparison, us))
    return "".join(told), "\n".join(text)


def _narrow(table: Table) -> Table:
    """A column for each plan: what differs stands with its difference, so that four plans fit a page."""
    columns = (*table.columns[:2], *table.columns[2::2])
    rows = tuple(
        (*row[:2], *(_with(value, more) for value, more in zip(row[2::2], row[3::2], strict=True)))
        for row in table.rows
    )
    return replace(table, columns=columns, rows=rows)


def _with(value: Cell, more: Cell) -> Cell:
    """What a variant has, and how much more that is; only words where it is the same."""
    if not isinstance(more, Say):
        return value
    if more.text() in _SAME:
        return say("the same")
    if value is None or more.text() == "another end":
        return value
    return say("{value}: {more}", value=value, more=more)


def _others(comparison: Comparison, us: bool) -> str:
    """Folded, what else differs; the first of them where there are very many."""
    rows = comparison.likely(everything=True).rows[len(comparison.likely().rows) :]
    if not rows:
        return ""
    table = replace(comparison.likely(), caption=say("All else that differs."), rows=rows[:_MOST], note=None)
    table = _narrow(table)
    rest = f"<p>{len(rows) - _MOST} more differ.</p>" if len(rows) > _MOST else ""
    return f"<details><summary>all that differs: {len(rows)} more</summary>{table.html(us)}{rest}</details>"


def _pictures(comparison: Comparison, us: bool, stores: bool) -> Iterator[str]:
    """The number of the headline that moves most as bars; the days of every store where they move."""
    moved = {line.key: _moved(line) for line in comparison.lines if line.headline}
    most = max(moved, key=lambda key: moved[key], default="")
    if most and moved[most] > 0.0:
        yield drawing(comparison.bars(most), us, _WIDE, None)
    chart = comparison.chart("stay", "stores") if stores and moved.get(STAY) else None
    if chart is not None:
        yield drawing(_plain(comparison, chart), us, _WIDE, None)


def _plain(comparison: Comparison, chart: Chart) -> Chart:
    """The bars as planned alone, each called by its plan: what a stop would add is told by each plan itself."""
    bars = [draw for draw in chart.draws if isinstance(draw, Bars) and draw.start is None]
    rest = [draw for draw in chart.draws if not isinstance(draw, Bars)]
    names = (comparison.name, *comparison.possible)
    if len(bars) != len(names):
        return chart
    return replace(chart, draws=(*(replace(each, label=name) for each, name in zip(bars, names, strict=True)), *rest))


def _moved(line: Line) -> float:
    """By what share of the plan's own the variants move a number at most; none where nobody sees it."""
    base = line.base.likely if line.base is not None else 0.0
    moves = [more.likely for more, sure in zip(line.differences, line.sure, strict=True) if more is not None and sure]
    shares = [abs(move / base) for move in moves if base and math.isfinite(move / base)]
    return max(shares, default=0.0)


def _who(bench: Followed) -> Iterator[str]:
    """Each plan in words: what it is, what it changes."""
    there = f", in the situation {bench.state.situation}" if bench.state.situation else ""
    yield plain(f"{SAVED_LETTER}: the plan as it is saved{there}.", "terminal")
    for kept in bench.kept:
        changes = "; ".join(bench.kept_changes(kept.letter)) or "as the plan is saved now"
        since = f" Saved since, and so here too: {'; '.join(kept.followed)}." if kept.followed else ""
        yield plain(f"{kept.head}: {changes}.{since}", "terminal")


class Variants(Live):
    """The saved plan and its variants in a cell of their own.

    Parameters
    ----------
    bench : Followed
        What was kept on it.
    """

    def __init__(self, bench: Followed) -> None:
        def told(ask: Callable[[str], Answer]) -> Shown:  # noqa: ARG001 - it asks of other plans
            return side_by_side(bench)

        super().__init__(bench, told)
        self.rows = KeptRows(bench)
        self.widget: Any = widgets.VBox([widgets.HTML(STYLE), self.rows.widget])
        self.widget.add_class("vw-panel")

    def moved(self) -> None:
        """The rows follow at once."""
        self.rows.moved()

    def _ipython_display_(self) -> None:
        """Be shown in a cell, with the rows below."""
        super()._ipython_display_()
        self.rows.moved()
        asleep(self._bench, "Variants", able="name them and to go on from one")._ipython_display_()
        show_widget(self.widget)


class KeptRows:
    """A row for each variant: its name to type, the button that goes on from it, the one that drops it.

    Parameters
    ----------
    bench : Followed
        What was kept on it.
    """

    def __init__(self, bench: Followed) -> None:
        self.bench = bench
        self.names: dict[str, Any] = {}
        self.go: dict[str, Any] = {}
        self.drops: dict[str, Any] = {}
        self.widget: Any = widgets.VBox()
        self.moved()

    def moved(self) -> None:
        """Let the rows stand as the bench stands."""
        letters = [kept.letter for kept in self.bench.kept]
        if letters != list(self.names):
            self._lay(letters)
        for kept in self.bench.kept:
            if self.names[kept.letter].value != kept.name:
                self.names[kept.letter].value = kept.name
            self.go[kept.letter].disabled = self.bench.kept_as == kept.letter

    def _lay(self, letters: list[str]) -> None:
        self.names, self.go, self.drops = {}, {}, {}
        rows = []
        for letter in letters:
            name = widgets.Text(
                description=letter,
                placeholder="a name",
                tooltip=f"name of variant {letter}",
                continuous_update=False,
                layout={"width": "280px"},
                style={"description_width": "20px"},
            )
            name.observe(lambda change, letter=letter: self._renamed(letter, change["new"]), "value")
            go = widgets.Button(description=f"go on from {letter}", tooltip="its values come onto the controls")
            go.on_click(lambda _, letter=letter: self.bench.go_on(letter))
            drop = widgets.Button(description=f"drop {letter}", tooltip="let this variant go")
            drop.on_click(lambda _, letter=letter: self.bench.drop(letter))
            self.names[letter], self.go[letter], self.drops[letter] = name, go, drop
            rows.append(widgets.HBox([name, go, drop]))
        for line in rows:
            line.add_class("vw-bar")
        self.widget.children = rows

    def _renamed(self, letter: str, name: str) -> None:
        known = {kept.letter: kept.name for kept in self.bench.kept}
        if letter in known and known[letter] != name:
            self.bench.rename(letter, name)


class VariantsFold:
    """The variants in a panel; worked out only while somebody looks.

    Parameters
    ----------
    bench : Followed
        What was kept on it.
    """

    def __init__(self, bench: Followed) -> None:
        self.rows = KeptRows(bench)
        self.collapsible = Collapsible("variants", lambda: side_by_side(bench).html, [self.rows.widget], titled=False)

    def moved(self) -> None:
        """Let the rows stand as the bench stands."""
        self.rows.moved()
