"""A table below a drawing: as it is laid out everywhere, set down as words of an SVG."""

from __future__ import annotations

import math
from collections.abc import Sequence

from vanwater.answers.core.escaping import plain
from vanwater.answers.core.table import Table
from vanwater.figures.layout import text_width
from vanwater.figures.roles import tone
from vanwater.figures.schematic.piece_pen import SMALL
from vanwater.figures.to_scale.scale import n
from vanwater.quantities import NO_BREAK

__all__ = ["cut", "set_down", "wrapped"]

_LEADING = 9.0
_GAP = 8.0


def set_down(table: Table, us: bool, top: float, width: float) -> tuple[list[str], float]:
    """Set a table down.

    Parameters
    ----------
    table : Table
        The table.
    us : bool
        US units instead of metric ones.
    top : float
        Where its caption begins [pt].
    width : float
        How wide it may be: names that are too long are cut [pt].

    Returns
    -------
    (list of str, float)
        Elements of SVG, and where they end [pt].
    """
    laid = table.cells(us)
    numeric = [head.numeric for head in laid.heads]
    heads = [wrapped(f",{NO_BREAK}".join(filter(None, (head.text, head.unit))), 50.0) for head in laid.heads]
    texts = [[f"{row[place].text}{row[place].blank}" for row in laid.rows] for place in range(len(laid.heads))]
    wide = [
        max(text_width(line, SMALL) for line in (*head, *column)) for head, column in zip(heads, texts, strict=True)
    ]
    wide = _fitted(wide, numeric, width - _GAP * (len(wide) - 1))
    lefts = [math.fsum(wide[:place]) + _GAP * place for place in range(len(wide))]
    parts: list[str] = []
    down = top + SMALL
    for line in wrapped(table.caption.text(us), width, SMALL * 1.1):
        parts.append(f'<text x="0" y="{n(down)}" font-size="{SMALL}" font-weight="600">{plain(line, "html")}</text>')
        down += _LEADING
    down += 2.0

    def row(cells: Sequence[Sequence[str]], look: str = "", foot: bool = False) -> None:
        """Lines of each cell, those of a head at its foot."""
        nonlocal down
        high = max(map(len, cells))
        for left, across, lines, number in zip(lefts, wide, cells, numeric, strict=True):
            first = high - len(lines) if foot else 0
            for place, line in enumerate(lines):
                text = cut(line, across)
                parts.append(_word(text, left, left + across, down + _LEADING * (first + place), number, look))
        down += _LEADING * high

    row(heads, ' fill-opacity="0.75"', foot=True)
    end = lefts[-1] + wide[-1]
    parts.append(f'<path d="M0,{n(down - 6)}H{n(end)}" stroke="{tone("grid")}" stroke-width="0.7"/>')
    down += 2.0
    for place in range(len(laid.rows)):
        cells = [column[place] for column in texts]
        row(
            [[cell] if number else wrapped(cell, each) for cell, number, each in zip(cells, numeric, wide, strict=True)]
        )
    down += 2.0
    if table.note is not None:
        for text in wrapped(table.note.text(us), width):
            parts.append(f'<text x="0" y="{n(down)}" font-size="{SMALL}">{plain(text, "html")}</text>')
            down += _LEADING
    return parts, down


def _fitted(wide: Sequence[float], numeric: Sequence[bool], room: float) -> list[float]:
    """Widths of columns that fit together: the widest columns of words give way."""
    widths = list(wide)
    words = [place for place, number in enumerate(numeric) if not number]
    over = math.fsum(widths) - room
    while over > 0.01 and words:
        widest = max(widths[place] for place in words)
        most = [place for place in words if widths[place] > widest - 0.01]
        below = max((widths[place] for place in words if place not in most), default=0.0)
        step = min(over / len(most), widest - below)
        if widest <= 20.0:
            break
        for place in most:
            widths[place] -= step
        over -= step * len(most)
    return widths


def _word(text: str, left: float, right: float, y: float, numeric: bool, look: str = "") -> str:
    if not text:
        return ""
    place = f'x="{n(right)}" y="{n(y)}" text-anchor="end"' if numeric else f'x="{n(left)}" y="{n(y)}"'
    return f'<text {place} font-size="{SMALL}"{look}>{plain(text, "html")}</text>'


def cut(text: str, width: float, size: float = SMALL) -> str:
    """A text that is no wider than there is room: its end gives way to an ellipsis.

    Parameters
    ----------
    text : str
        One line.
    width : float
        The room [pt].
    size : float
        Of the letters.

    Returns
    -------
    str
        The text, or its beginning.
    """
    if text_width(text, size) <= width + 0.01:
        return text
    while text and text_width(f"{text}…", size) > width:
        text = text[:-1]
    return f"{text.rstrip()}…"


def wrapped(text: str, width: float, size: float = SMALL) -> list[str]:
    """A text as lines that are no wider than there is room, words that are too long cut.

    Parameters
    ----------
    text : str
        Words.
    width : float
        The room [pt].
    size : float
        Of the letters.

    Returns
    -------
    list of str
        One or more.
    """
    lines = [""]
    for word in text.split(" "):
        longer = f"{lines[-1]} {word}".strip()
        if text_width(longer, size) <= width or not lines[-1]:
            lines[-1] = longer
        else:
            lines.append(word)
    return [cut(line, width, size) for line in lines]
