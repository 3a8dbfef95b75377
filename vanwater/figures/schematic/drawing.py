"""The pen of the plumbing drawing: one SVG, the same bytes for the same plan.

Cold, hot, mixed and waste are told apart by colour, by dash, and by the word in the line's title. Each piece and each
line has its number and its address in the plan; a pointer that rests on one is told what it is.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from itertools import pairwise

from vanwater.answers.core.chart import words
from vanwater.answers.core.escaping import plain
from vanwater.figures.layout import text_width
from vanwater.figures.roles import tone
from vanwater.figures.schematic.parts import Asked, Line, Piece, Piping, Shows, Water
from vanwater.figures.schematic.piece_pen import FONT, LOOKS, SMALL, areas, box, drawn_piece
from vanwater.figures.schematic.piping import piping
from vanwater.figures.schematic.placing import Box, Placed, Point, crossings, placed
from vanwater.figures.schematic.room import Room
from vanwater.figures.schematic.symbols import SYMBOLS
from vanwater.figures.way import place as n

__all__ = ["LANDSCAPE", "PORTRAIT", "schematic"]

LANDSCAPE, PORTRAIT = (750.0, 440.0), (480.0, 600.0)
"""Room for a drawing on a sheet that lies, and on one that stands [pt]."""

_LEADING = 9.0
_HOP = 3.0
_MARGIN = 10.0
_GAP = 16.0

_LOOKS = (
    f".vw-run text{{paint-order:stroke;stroke:{tone('paper')};stroke-width:2.5}}"
    f".vw-run text:first-of-type{{font-weight:600}}{LOOKS}"
)
"""Style sheet of a drawing: paper around the words of a line, the first of them bold."""

_LOOK: Mapping[Water, tuple[str, str, str]] = {
    "cold": (tone("cold"), "", "cold"),
    "hot": (tone("hot"), "7 2.5", "hot"),
    "mixed": (tone("ink"), "12 2 2 2", "mixed"),
    "waste": (tone("grey"), "2 2", "waste"),
}
"""Colour, dash and name of each kind of line."""


def schematic(
    asked: Asked, us: bool = False, shows: Shows = "size", outlet: str = "", sheet: tuple[float, float] = LANDSCAPE
) -> str:
    """Draw the plumbing of a plan.

    Parameters
    ----------
    asked : Answers
        A plan and its answers.
    us : bool
        US units instead of metric ones.
    shows : {"size", "loss"}
        What stands beside each run: its size and length, or its size and what it takes of the pressure.
    outlet : str
        The open outlet, for losses; that of the verdict without it.
    sheet : (float, float)
        Width and height that it is meant for, in points: a long drawing is folded into rows.

    Returns
    -------
    str
        One ``<svg>`` element, free of references to anything outside.

    Raises
    ------
    KeyError
        When the plan has no such outlet.
    """
    drawn = piping(asked, shows, outlet)
    joins, owners = _joins(drawn, us)
    boxes = {piece.key: box(piece, us, _ports(piece.key, joins)) for piece in drawn.pieces}
    deep = max((box(piece, us).height for piece in drawn.alone), default=0.0)
    layout = placed(boxes, joins, Box(sheet[0], max(sheet[1] - deep - 4 * _GAP, sheet[1] / 2)))
    places = {piece.key: piece for piece in drawn.pieces}
    ways = [
        _to_symbols(way, layout.centres, places, start, end)
        for way, (start, end, _) in zip(layout.ways, joins, strict=True)
    ]
    reach = {key: _reach(piece, layout.centres[key], ways, joins) for key, piece in places.items()}
    below = layout.height + 2 * _GAP
    body = [*_lines(drawn, layout, ways, owners, reach, us)]
    for piece in drawn.pieces:
        body += drawn_piece(piece, layout.centres[piece.key], us, reach[piece.key])
    alone, across, down = _alone(drawn.alone, below, us)
    body += alone
    legend, end, height = _legend(drawn, down)
    width = max(layout.width, across, end) + 2 * _MARGIN
    return "".join([*_opening(asked, drawn, width, height + 2 * _MARGIN, us), *body, *legend, "</g></svg>"])


def _ports(key: str, joins: Sequence[tuple[str, str, Box | None]]) -> int:
    """How many lines meet a piece on its busier side."""
    return max(sum(start == key for start, _, _ in joins), sum(end == key for _, end, _ in joins))


def _joins(drawn: Piping, us: bool) -> tuple[list[tuple[str, str, Box | None]], list[int]]:
    """Every stretch from piece to piece, with the room of its line's words on the first one, and whose it is."""
    joins: list[tuple[str, str, Box | None]] = []
    owners = []
    for place, line in enumerate(drawn.lines):
        texts = _line_words(line, us)
        for number, (start, end) in enumerate(pairwise(line.places)):
            room = None
            if texts and not number:
                room = Box(max(text_width(text, SMALL) for text in texts) + 6, 2 * _LEADING + 4)
            joins.append((start, end, room))
            owners.append(place)
    return joins, owners


def _line_words(line: Line, us: bool) -> list[str]:
    if not line.number:
        return []
    first, *rest = [words(part, "terminal", us) for part in line.about] or [""]
    return [f"R{line.number} {first}".strip(), *rest]


def _lines(
    drawn: Piping,
    layout: Placed,
    ways: Sequence[Sequence[Point]],
    owners: Sequence[int],
    reach: Mapping[str, tuple[float, float]],
    us: bool,
) -> Iterator[str]:
    places = {piece.key: piece for piece in drawn.pieces}
    hops: dict[int, list[Point]] = {}
    for flat, _, point in crossings(ways):
        hops.setdefault(flat, []).append(point)
    taken = [area for piece in drawn.pieces for area in areas(piece, layout.centres[piece.key], us, reach[piece.key])]
    room = Room(taken, ways)
    for place, line in enumerate(drawn.lines):
        colour, dash, _ = _LOOK[line.water]
        mine = [number for number, owner in enumerate(owners) if owner == place]
        told = plain(_told(line, places, us), "html")
        yield f'<g class="vw-run" data-key="{plain(line.key, "html")}"><title>{told}</title>'
        dashed = f' stroke-dasharray="{dash}"' if dash else ""
        way = "".join(_way(ways[number], hops.get(number, ())) for number in mine)
        yield f'<path d="{way}" fill="none" stroke="{colour}" stroke-width="1.7"{dashed}/>'
        if line.number:
            yield _arrow(ways[mine[-1]], colour)
            yield from _label(_line_words(line, us), room, mine)
        yield "</g>"


def _told(line: Line, places: Mapping[str, Piece], us: bool) -> str:
    """A line in a sentence."""
    start, end = places[line.places[0]].name, places[line.places[-1]].name
    if not line.number:
        return f"{line.name} at {start}"
    about = ", ".join(words(part, "terminal", us) for part in line.told)
    return f"R{line.number} {line.name}, {_LOOK[line.water][2]}: {start} to {end}{f', {about}' if about else ''}"


def _to_symbols(
    way: Sequence[Point], centres: Mapping[str, Point], places: Mapping[str, Piece], start: str, end: str
) -> tuple[Point, ...]:
    """A way led on from the edge of each box to the symbol in its middle."""
    begin, finish = (_led(way[0], centres[start], places[start].kind), _led(way[-1], centres[end], places[end].kind))
    return (*begin[::-1], *way[1:-1], *finish)


def _led(point: Point, centre: Point, kind: str) -> tuple[Point, ...]:
    symbol = SYMBOLS[kind]
    (x, y), (cx, cy) = point, centre
    half, high = symbol.width / 2, symbol.height / 2
    if kind == "tee":
        return (point, (cx, y)) if abs(x - cx) > symbol.width else (point, (x, cy), (cx, cy))
    if abs(y - cy) <= high:
        return point, (cx + half if x > cx else cx - half, y)
    if abs(x - cx) <= half:
        return point, (x, cy + high if y > cy else cy - high)
    edge = cx + half if x > cx else cx - half
    return point, (edge, y), (edge, cy + high if y > cy else cy - high)


def _reach(
    piece: Piece, centre: Point, ways: Sequence[Sequence[Point]], joins: Sequence[tuple[str, str, Box | None]]
) -> tuple[float, float]:
    """From where to where a symbol reaches with the lines at its sides; the body of a tee meets each of its lines."""
    symbol = SYMBOLS[piece.kind]
    ends = [way[1] for way, (start, _, _) in zip(ways, joins, strict=True) if start == piece.key]
    ends += [way[-2] for way, (_, end, _) in zip(ways, joins, strict=True) if end == piece.key]
    sides = [y for x, y in ends if abs(x - centre[0]) >= symbol.width / 2]
    if piece.kind == "tee":
        half = symbol.height / 2
        return min(sides, default=centre[1]) - half, max(sides, default=centre[1]) + half
    return min([centre[1] - symbol.height / 2, *sides]), max([centre[1] + symbol.height / 2, *sides])


def _way(way: Sequence[Point], hops: Sequence[Point]) -> str:
    parts = [f"M{n(way[0][0])},{n(way[0][1])}"]
    turns = [at for before, at, after in zip(way, way[1:], way[2:], strict=False) if not _straight(before, at, after)]
    for (x, y), (to_x, to_y) in pairwise((way[0], *turns, way[-1])):
        if y == to_y:
            forth = 1 if to_x > x else -1
            for at in sorted(
                (px for px, py in hops if py == y and min(x, to_x) < px < max(x, to_x)), reverse=forth < 0
            ):
                parts.append(f"L{n(at - forth * _HOP)},{n(y)}")
                parts.append(f"a{n(_HOP)},{n(_HOP)} 0 0,{1 if forth > 0 else 0} {n(2 * forth * _HOP)},0")
        parts.append(f"L{n(to_x)},{n(to_y)}")
    return "".join(parts)


def _straight(before: Point, at: Point, after: Point) -> bool:
    """Whether a way goes straight on."""
    return before[0] == at[0] == after[0] or before[1] == at[1] == after[1]


def _arrow(way: Sequence[Point], colour: str) -> str:
    """A head in the middle of the last stretch that is long enough, with the water."""
    long = [(a, b) for a, b in pairwise(way) if abs(a[0] - b[0]) + abs(a[1] - b[1]) > 9.0]
    if not long:
        return ""
    (x, y), (to_x, to_y) = long[-1]
    right, down = (to_x > x) - (to_x < x), (to_y > y) - (to_y < y)
    tip = (to_x - 2 * right, to_y - 2 * down)
    back = (tip[0] - 6 * right, tip[1] - 6 * down)
    wings = [(back[0] + side * down, back[1] + side * right) for side in (3, -3)]
    corners = "L".join(f"{n(px)},{n(py)}" for px, py in (tip, *wings))
    return f'<path d="M{corners}z" fill="{colour}"/>'


def _label(texts: Sequence[str], room: Room, mine: Sequence[int]) -> Iterator[str]:
    """The words of a line where there is room for them, else its number alone: the list has the rest."""
    rows = [(text, text_width(text, SMALL)) for text in texts]
    number = texts[0].partition(" ")[0]
    tries = [rows, rows[:1], [(number, text_width(number, SMALL))]]
    chosen, feet = room.first(mine, [[wide for _, wide in each] for each in tries], SMALL + 1.5)
    for (text, _), (x, y) in zip(tries[chosen], feet, strict=True):
        yield f'<text x="{n(x)}" y="{n(y)}">{plain(text, "html")}</text>'


def _alone(pieces: Sequence[Piece], down: float, us: bool) -> tuple[list[str], float, float]:
    """Pieces to which no run leads, in a row of their own below the drawing."""
    if not pieces:
        return [], 0.0, down - _GAP / 2
    said = "No run of this plan leads to:" if len(pieces) > 1 else "No run of this plan leads to it:"
    parts = [f'<text x="0" y="{n(down)}" text-anchor="start">{said}</text>']
    boxes = [box(piece, us) for piece in pieces]
    deep = max(each.height for each in boxes)
    x = text_width(said, SMALL) + _GAP
    for piece, room in zip(pieces, boxes, strict=True):
        parts += drawn_piece(piece, (x + room.width / 2, down + 4), us)
        x += room.width + _GAP
    return parts, x, down + 4 + deep / 2 + _GAP / 2


def _legend(drawn: Piping, down: float) -> tuple[list[str], float, float]:
    """The kinds of lines that are drawn, and the runs that are not."""
    parts, x = [], 0.0
    used = dict.fromkeys(line.water for line in drawn.lines)
    for water in _LOOK:
        if water not in used:
            continue
        colour, dash, name = _LOOK[water]
        dashed = f' stroke-dasharray="{dash}"' if dash else ""
        parts.append(
            f'<path d="M{n(x)},{n(down)}h34" stroke="{colour}" stroke-width="1.7"{dashed}/>'
            f'<text x="{n(x + 38)}" y="{n(down + 2.5)}" text-anchor="start">{name}</text>'
        )
        x += 38 + text_width(name, SMALL) + _GAP
    if drawn.waiting:
        note = "Not drawn, an end is missing: " + ", ".join(plain(name, "terminal") for name in drawn.waiting)
        parts.append(f'<text x="0" y="{n(down + 14)}" text-anchor="start">{plain(note, "html")}</text>')
        return parts, max(x, text_width(note, SMALL)), down + 16
    return parts, x, down + 2


def _opening(asked: Asked, drawn: Piping, width: float, height: float, us: bool) -> Iterator[str]:
    name = plain(asked.plan.van.name, "html")
    places = {piece.key: piece for piece in drawn.pieces}
    told = "; ".join(_told(line, places, us) for line in drawn.lines if line.number)
    yield (
        '<svg xmlns="http://www.w3.org/2000/svg" data-generator="vanwater" class="vw-schematic" role="img" '
        f'viewBox="0 0 {n(width)} {n(height)}" '
        f'width="{n(width)}pt" style="max-width:100%;height:auto" font-family="{FONT}" fill="{tone("ink")}">'
        f"<title>The plumbing of {name}</title><desc>{plain(told, 'html')}</desc><style>{_LOOKS}</style>"
        f'<g transform="translate({n(_MARGIN)} {n(_MARGIN)})" font-size="{SMALL:g}" text-anchor="middle">'
    )
