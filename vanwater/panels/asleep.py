"""What stands in the place of a panel while no kernel moves it: a sentence that the live panel hides."""

from __future__ import annotations

import html
from collections.abc import Callable

from vanwater.answers.core.question import Answer
from vanwater.answers.core.statement import plain
from vanwater.panels.followed import Followed
from vanwater.panels.live import Live
from vanwater.panels.pieces import Shown, picture

__all__ = ["ASLEEP_STYLE", "asleep"]

ASLEEP_STYLE = ".jp-OutputArea:has(.vw-panel:not(.jupyter-widgets-disconnected)) .vw-asleep{display:none}"

_HIDES = (
    "<style>.jp-OutputArea-child:has(.vw-asleep)+.jp-OutputArea-child"
    ">.jp-OutputArea-output.jupyter-widgets:not(:has(*)){display:none}</style>"
)
"""Hides what a page says of a widget that it does not find: the sentence says what to do."""


def asleep(bench: Followed, title: str, question: str = "", *, able: str = "move the sliders") -> Live:
    """A sentence for a page without a kernel: what to run, and with which changes the cells beside it stand.

    Parameters
    ----------
    bench : Followed
        Whose panel it stands for.
    title : str
        What the panel is about.
    question : str
        Whose picture stands below the sentence, where no other cell of the page shows it.
    able : str
        What can be done with it where it lives.

    Returns
    -------
    Live
        Hidden where the panel lives; seen again when its kernel is gone.
    """

    def told(ask: Callable[[str], Answer]) -> Shown:
        words = f"{title}: run this notebook to {able} (in JupyterLab: Run > Run All Cells)."
        moved = bench.changes
        there = bench.state.situation
        if there:
            moved = (f"situation {there}", *moved)
        if moved:
            words += f" The cells stand with what was moved last, which is not saved: {'; '.join(moved)}."
        sentence = f"<p><i>{html.escape(plain(words, 'terminal'))}</i></p>"
        chart = ask(question).chart() if question else None
        if chart is None:
            return Shown(f'{_HIDES}<div class="vw-asleep">{sentence}</div>', words)
        last = picture(chart, bench.us)
        inside = f'{_HIDES}<div class="vw-asleep">{sentence}{last.html}</div>'
        return Shown(inside, f"{words}\n{last.text}", last.numbers)

    return Live(bench, told)
