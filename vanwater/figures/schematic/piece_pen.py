"""How a piece is drawn: its symbol, its number above, its words below; and the room that they take."""

from __future__ import annotations

from collections.abc import Iterator

from vanwater.answers.core.chart import words
from vanwater.answers.core.escaping import plain
from vanwater.figures.layout import text_width
from vanwater.figures.roles import tone
from vanwater.figures.schematic.parts import KINDS, Piece
from vanwater.figures.schematic.placing import Box, Point
from vanwater.figures.schematic.room import Area
from vanwater.figures.schematic.symbols import SYMBOLS
from vanwater.figures.way import place as n

__all__ = ["FONT", "LOOKS", "SMALL", "areas", "box", "drawn_piece"]

FONT = "system-ui, 'Segoe UI', 'Helvetica Neue', Arial, 'DejaVu Sans', sans-serif"
"""Of the words of a drawing."""

SMALL = 7.0
"""Size of small letters [pt]: what a drawing's words have that say nothing else, set about their middle."""

_NAME, _LEADING = 8.0, 9.0
LOOKS = (
    f".vw-piece circle{{fill:{tone('paper')};stroke:{tone('faint')};stroke-width:.8}}"
    f".vw-outline{{fill:{tone('paper')};stroke:{tone('ink')};stroke-width:1.2}}"
    f".vw-piece .vw-name{{font-size:{_NAME:g}px;font-weight:600}}"
    f".vw-piece text{{paint-order:stroke;stroke:{tone('paper')};stroke-width:2.4;stroke-linejoin:round}}"
    ".vw-piece circle+text{stroke:none}"
)
"""Style sheet of the pieces of a drawing."""

_ROUND = 6.0  # of a number
_PORT = 12.0  # from line to line at a tee


def box(piece: Piece, us: bool, ports: int = 1) -> Box:
    """The room of a symbol with its words below, and as much above, so that lines meet it in its middle.

    Parameters
    ----------
    piece : Piece
        The piece.
    us : bool
        US units instead of metric ones.
    ports : int
        How many lines meet it on its busier side.

    Returns
    -------
    Box
        In points.
    """
    symbol = SYMBOLS[piece.kind]
    if piece.kind == "tee":
        return Box(symbol.width + 2 * _ROUND, symbol.height + _PORT * (ports - 1) + 4 * _ROUND + 4)
    lines = _words(piece, us)
    wide = max(text_width(line, _NAME if not number else SMALL) for number, line in enumerate(lines))
    return Box(
        max(symbol.width + 2 * _ROUND, wide) + 4, symbol.height + 2 * max(_LEADING * len(lines) + 3, 2 * _ROUND + 3)
    )


def _words(piece: Piece, us: bool) -> list[str]:
    return [plain(piece.name, "terminal"), *(words(line, "terminal", us) for line in piece.about)]


def areas(piece: Piece, centre: Point, us: bool, reach: tuple[float, float]) -> Iterator[Area]:
    """What a symbol, its number and its words cover.

    Parameters
    ----------
    piece : Piece
        The piece.
    centre : (float, float)
        Of its symbol.
    us : bool
        US units instead of metric ones.
    reach : (float, float)
        From where to where its symbol reaches, with the lines at its sides.

    Yields
    ------
    Area
        One after the other.
    """
    symbol = SYMBOLS[piece.kind]
    x, (top, bottom) = centre[0], reach
    yield Area(x - symbol.width / 2, top, x + symbol.width / 2, bottom)
    left, up = _above(x, top)
    yield Area(left - _ROUND, up - _ROUND, left + _ROUND, up + _ROUND)
    if piece.kind != "tee":
        for number, text in enumerate(_words(piece, us)):
            size = SMALL if number else _NAME
            down = bottom + _LEADING * (number + 1)
            half = text_width(text, size) / 2
            yield Area(x - half, down - size, x + half, down + 1.5)


def drawn_piece(piece: Piece, centre: Point, us: bool, reach: tuple[float, float] | None = None) -> Iterator[str]:
    """The marks of a piece.

    Parameters
    ----------
    piece : Piece
        The piece.
    centre : (float, float)
        Of its symbol.
    us : bool
        US units instead of metric ones.
    reach : (float, float), optional
        From where to where its symbol reaches, with the lines at its sides.

    Yields
    ------
    str
        Elements of SVG.
    """
    symbol = SYMBOLS[piece.kind]
    x, y = centre
    top, bottom = reach or (y - symbol.height / 2, y + symbol.height / 2)
    kind = KINDS.get(piece.kind, piece.kind)
    holds = f"{piece.holds} " if piece.holds else ""
    told = ", ".join([f"{piece.number} {holds}{kind} {plain(piece.name, 'terminal')}", *_words(piece, us)[1:]])
    yield f'<g class="vw-piece" data-key="{plain(piece.key, "html")}"><title>{plain(told, "html")}</title>'
    if piece.kind == "tee" and bottom - top > symbol.height:
        ends = f"M{n(x)},{n(top + symbol.height / 2)}V{n(bottom - symbol.height / 2)}"
        yield f'<path d="{ends}" stroke="{tone("ink")}" stroke-width="4" stroke-linecap="round"/>'
    yield f'<g transform="translate({n(x)} {n(y)})">'
    if symbol.outline:
        yield f'<path class="vw-outline" d="{symbol.outline}"/>'
    if piece.kind == "tank":
        yield _level(piece.holds, symbol.width, symbol.height)
    if symbol.solid:
        yield f'<path d="{symbol.solid}"/>'
    if symbol.dashed:
        yield f'<path d="{symbol.dashed}" fill="none" stroke="{tone("ink")}" stroke-dasharray="2.5 1.5"/>'
    yield "</g>"
    yield from _number(piece.number, *_above(x, top))
    if piece.kind != "tee":
        for number, text in enumerate(_words(piece, us)):
            down = bottom + _LEADING * (number + 1)
            look = ' class="vw-name"' if not number else ""
            yield f'<text x="{n(x)}" y="{n(down)}"{look}>{plain(text, "html")}</text>'
    yield "</g>"


def _level(holds: str, width: float, height: float) -> str:
    """Water in a tank, and its surface."""
    colour = tone("fresh" if holds == "fresh" else "grey")
    half, top = width / 2 - 0.6, -height / 2 + 9
    around = f"M{n(-half)},{n(top)}H{n(half)}V{n(height / 2 - 0.6)}H{n(-half)}z"
    return (
        f'<path d="{around}" fill="{colour}" fill-opacity="0.3"/>'
        f'<path d="M{n(-half)},{n(top)}H{n(half)}" stroke="{colour}" stroke-width="1.2"/>'
    )


def _above(x: float, top: float) -> Point:
    """Where a piece's number stands."""
    return x, top - _ROUND - 2


def _number(number: int, x: float, y: float) -> Iterator[str]:
    yield (f'<circle cx="{n(x)}" cy="{n(y)}" r="{n(_ROUND)}"/><text x="{n(x)}" y="{n(y + 2.5)}">{number}</text>')
