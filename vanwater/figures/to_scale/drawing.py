"""The pen of the drawing to scale: side view above plan view in one SVG, the same bytes for the same plan.

The van drives to the left; the plan view lies below the side view from the left, in projection. Printed as large as it
is, the drawing has a round scale, and a bar shows it whatever the size. Each part has its number, as on the plumbing
drawing, and its address in the plan.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from vanwater.answers.core.escaping import plain
from vanwater.answers.core.number import Number
from vanwater.figures.layout import apart, text_width
from vanwater.figures.roles import tone
from vanwater.figures.schematic.parts import Asked
from vanwater.figures.schematic.piece_pen import FONT, SMALL
from vanwater.figures.schematic.placing import Point
from vanwater.figures.schematic.room import Area, Room
from vanwater.figures.to_scale.balloons import balloon
from vanwater.figures.to_scale.dimensions import BAND, Dimension, Running, chain
from vanwater.figures.to_scale.frame import Frame, extent
from vanwater.figures.to_scale.list_pen import cut, set_down, wrapped
from vanwater.figures.to_scale.lists import notes, places, without_place
from vanwater.figures.to_scale.marks import CENTRE, area, centre, mark
from vanwater.figures.to_scale.outlines import Way, body, edges, vehicle
from vanwater.figures.to_scale.parts import VIEWS, Placed, Van, View
from vanwater.figures.to_scale.places import placed_van
from vanwater.figures.to_scale.scale import Scale, bar, largest, n
from vanwater.quantities import NO_BREAK

__all__ = ["SHEET", "to_scale"]

SHEET = (466.0, 620.0)
"""Room on a sheet of A4 or Letter that stands, within the margins of our papers [pt]."""

_MARGIN = 2.0
_SIDE = 1.0  # left of the views
_HEIGHTS = 34.0  # right of them, for values
_TOP = 14.0  # of the name of a sheet that stands alone
_HEAD, _CHAIN, _TITLE, _ROW = 18.0, 13.0, 11.0, 20.0
_FIXED = 190.0  # of the height: what does not shrink with the scale
_OUT = 5.0  # from a view to the line with its values
_HEADS: dict[View, str] = {"side": "Side view, from the left", "plan": "Plan view, from above"}


@dataclass(frozen=True, slots=True)
class _Sheet:
    """The views on the sheet, and what lies between them [pt]."""

    scale: Scale
    side: Frame
    plan: Frame
    chains: tuple[float, ...]
    row: float
    bottom: float


def to_scale(asked: Asked, us: bool = False, *, listed: bool = True, sheet: tuple[float, float] = SHEET) -> str:
    """Draw the van of a plan to scale.

    Parameters
    ----------
    asked : Answers
        A plan and its answers.
    us : bool
        US units and scales instead of metric ones.
    listed : bool
        Whether the lists stand below the views: what is drawn, and what has no place.
    sheet : (float, float)
        Width and height that the views are meant for [pt].

    Returns
    -------
    str
        One ``<svg>`` element, free of references to anything outside.
    """
    van = placed_van(asked)
    parts: list[str] = []
    width, down = sheet[0], 0.0
    if listed:
        title = cut(plain(f"{asked.plan.van.name}, revision {asked.plan.van.revision}", "terminal"), width, 9.0)
        parts.append(f'<text x="0" y="-4" font-size="9" font-weight="600">{plain(title, "html")}</text>')
    if van.drawn or van.lengths:
        laid = _laid(van, us, sheet)
        parts += _header(laid, us, width)
        parts += _chains(van, laid, us)
        for frame in (laid.side, laid.plan):
            parts += _view(van, frame, laid, us, width)
        down = laid.bottom
    else:
        laid = None
    told = notes(van, us) if laid is not None else ()
    for line in [line for note in told for line in wrapped(note, width)]:
        down += 9.0
        parts.append(f'<text x="0" y="{n(down)}" font-size="{SMALL}" fill-opacity="0.85">{plain(line, "html")}</text>')
    if listed:
        for table in (places(van), without_place(van)):
            if table.rows:
                rows, down = set_down(table, us, down + 10.0, width)
                parts += rows
    return "".join([*_opening(asked, van, laid, (width, down + 4.0), _TOP * listed), *parts, "</g></svg>"])


def _laid(van: Van, us: bool, sheet: tuple[float, float]) -> _Sheet:
    x, y, z = (extent(van, axis) for axis in ("x", "y", "z"))
    wide, high = sheet[0] - _SIDE - _HEIGHTS, sheet[1] - _FIXED
    scale = largest(us, lambda points: x.length * points <= wide and (y.length + z.length) * points <= high)
    left = _SIDE + max(0.0, (wide - x.length * scale.points) / 2)
    known = [name for name in ("length", "wheelbase") if _stretches(van, name)]
    chains = tuple(_HEAD + _TITLE + _CHAIN * (row + 1) for row in range(len(known)))
    side = Frame("side", x, z, left, _HEAD + _TITLE + _CHAIN * len(known) + 5.0, scale.points)
    row = side.bottom + (_ROW if van.centres else 0.0)
    alone = [part for part in van.parts if part.seen("side") and not part.seen("plan")]
    top = row + (BAND if alone else 0.0) + _TITLE
    above = [part for part in van.parts if part.seen("plan") and part.centre("y") >= 0.0]
    plan = Frame("plan", x, y, left, top + (BAND + 2.0 if above else 0.0), scale.points)
    below = [part for part in van.parts if part.seen("plan") and part.centre("y") < 0.0]
    return _Sheet(scale, side, plan, chains, row, plan.bottom + (_OUT + BAND if below else 4.0))


def _bare(number: Number, us: bool) -> str:
    """A place as a drawing has it: its unit is told once."""
    return number.amount.text(us).rpartition(NO_BREAK)[0]


def _header(laid: _Sheet, us: bool, width: float) -> Iterator[str]:
    """The scale in words and as a bar; which way the van drives."""
    said = f"Scale {laid.scale.words} where it is printed at 100{NO_BREAK}%"
    yield f'<text x="0" y="9" font-size="8" font-weight="600">{said}</text>'
    long, words = bar(laid.scale, us, 120.0)
    end = width - text_width(words, SMALL) - 4
    start = end - long * laid.scale.points
    ink = f'stroke="{tone("ink")}"'
    half = n(long * laid.scale.points / 2)
    yield (
        f'<g class="vw-bar" data-length="{long:.9g}"><path d="M{n(start)},9H{n(end)}" {ink} stroke-width="3"/>'
        f'<path d="M{n(start)},9h{half}" stroke="{tone("paper")}" stroke-width="1.6"/>'
        f'<text x="{n(end + 4)}" y="11.4" font-size="{SMALL}">{words}</text></g>'
    )


def _stretches(van: Van, row: str) -> list[tuple[float, float, str]]:
    """A row of the chain: from where to where each length reaches along the van, and which it is [m]."""
    base, ahead, long = (van.length(name) for name in ("wheelbase", "front_overhang", "length"))
    if row == "length":
        return [] if ahead is None or long is None else [(-ahead, long - ahead, "length")]
    stretches = [] if ahead is None else [(-ahead, 0.0, "front_overhang")]
    return stretches if base is None else [*stretches, (0.0, base, "wheelbase")]


def _chains(van: Van, laid: _Sheet, us: bool) -> Iterator[str]:
    rows = [stretches for name in ("length", "wheelbase") if (stretches := _stretches(van, name))]
    for line, stretches in zip(laid.chains, rows, strict=True):
        ends = [(laid.side.across(low), laid.side.across(high), name) for low, high, name in stretches]
        values = [(low, high, _bare(van.lengths[name], us)) for low, high, name in ends]
        yield from chain(line, values, laid.side.top)


def _view(van: Van, frame: Frame, laid: _Sheet, us: bool, wide: float) -> Iterator[str]:
    """One view with its dimensions and numbers."""
    shown = [part for part in van.parts if part.seen(frame.view)]
    outlines = list(vehicle(van, frame))
    runnings = _runnings(van, frame, laid, us)
    centres = _centres(van, frame, laid)
    above = frame.top - (BAND if any(each.above for each in runnings) else 0.0)
    head = (_SIDE, _HEAD + SMALL if frame.view == "side" else above - 4.0)
    ways: list[Way] = [way for _, each in outlines for way in each] * 3  # worse to cover than an extension line
    ways += [way for running in runnings for way in running.ways()]
    ways += [way for part in shown if part.sides for way in edges(part, frame)]
    taken = [area(part, frame.spot(part)) for part in shown if not part.sides]
    taken += [covered for running in runnings for covered in running.areas()]
    taken += [Area(x - CENTRE - 0.5, y - CENTRE - 0.5, x + CENTRE + 0.5, y + CENTRE + 0.5) for _, (x, y), _ in centres]
    taken.append(Area(head[0], head[1] - SMALL, head[0] + text_width(_HEADS[frame.view], SMALL), head[1] + 2))
    bodies = [(part, Area(*frame.corners(part))) for part in shown if part.sides]
    room = Room([*taken, *_walls(van, frame, laid, wide)], ways)
    yield (
        f'<g class="vw-view" data-view="{frame.view}" data-origin="{n(frame.across(0.0))} {n(frame.down(0.0))}" '
        f'data-points="{frame.points:.9g}">'
    )
    yield f'<text x="{n(head[0])}" y="{n(head[1])}" font-size="{SMALL}" font-weight="600">{_HEADS[frame.view]}</text>'
    for running in runnings:
        yield from running.drawn()
    yield from (element for element, _ in outlines)
    for part in sorted(shown, key=lambda each: not each.sides):
        yield from _part(part, frame)
    yield from (f"{line}{centre(spot)}" for _, spot, line in centres)
    for part in sorted(shown, key=lambda each: bool(each.sides)):
        spot = frame.spot(part)
        around = Area(*frame.corners(part)) if part.sides else area(part, spot)
        others = [box for each, box in bodies if each is not part]
        yield from balloon(room, part.tag, _named(part), around, bool(part.sides), others)
    yield from _signs(centres, frame, room)
    yield from _lines_named(van, frame, room)
    yield "</g>"


def _walls(van: Van, frame: Frame, laid: _Sheet, wide: float) -> Iterator[Area]:
    """What lies around the room of a view."""
    high, far = laid.bottom + 100.0, 1000.0
    yield Area(-far, -far, 0.0, high)
    yield Area(wide, -far, wide + far, high)
    if frame.view == "side":
        yield Area(-far, -far, wide + far, max((_HEAD + _TITLE, *(chain + 3.5 for chain in laid.chains))))
        yield Area(-far, laid.row - (_ROW if van.centres else 0.0), wide + far, high)
    else:
        yield Area(-far, -far, wide + far, laid.row)
        yield Area(-far, laid.bottom, wide + far, high)


def _part(part: Placed, frame: Frame) -> Iterator[str]:
    hidden = frame.view == "plan" and part.below
    told = plain(f"{part.tag} {part.what} {part.name}", "html")
    key, spot = plain(part.key, "html"), frame.spot(part)
    yield f'<g class="vw-part" data-key="{key}" data-spot="{n(spot[0])} {n(spot[1])}"><title>{told}</title>'
    yield body(part, frame, hidden) if part.sides else mark(part, spot, hidden)
    yield "</g>"


def _named(part: Placed) -> str:
    """What stands beside its number where there is room; of filler and drain their kind."""
    return plain(part.what if part.kind in ("filler", "drain") else part.name, "terminal")


def _runnings(van: Van, frame: Frame, laid: _Sheet, us: bool) -> tuple[Running, ...]:
    """The lines with the places of the parts: along the van at the plan view, heights at the side view."""
    shown = [part for part in van.parts if part.seen(frame.view)]
    up = VIEWS[frame.view][1]
    heights = tuple(Dimension(_level(part, frame), _bare(part.at[up], us), frame.spot(part)[0]) for part in shown)
    lines = [Running(frame.down(0.0), frame.right + _OUT, heights, level=False)]
    alone = [part for part in shown if frame.view == "plan" or not part.seen("plan")]
    for above, line in ((True, frame.top - 4.0), (False, frame.bottom + _OUT)):
        if frame.view == "side":
            along = [] if above else alone
            line = laid.row + 4.0
        else:
            along = [part for part in alone if (part.centre("y") >= 0.0) is above]
        values = tuple(
            Dimension(frame.across(part.at["x"].likely), _bare(part.at["x"], us), frame.spot(part)[1]) for part in along
        )
        lines.append(Running(frame.across(0.0), line, values, level=True, above=above))
    return tuple(running for running in lines if running.values)


def _level(part: Placed, frame: Frame) -> float:
    """Where the value up a view is ticked: the underside from the side, the middle from above."""
    return frame.down(part.at[VIEWS[frame.view][1]].likely)


def _centres(van: Van, frame: Frame, laid: _Sheet) -> list[tuple[str, Point, str]]:
    """The water's centres of mass: sign, place, and the line that says that its height is not known."""
    shown = []
    for each in van.centres:
        x = frame.across(each.behind.likely)
        if frame.view == "plan":
            if each.right is not None:
                shown.append((each.tag, (x, frame.down(each.right.likely)), ""))
            continue
        y = laid.row - _ROW + CENTRE + 2.0
        line = f'<path d="M{n(x)},{n(y)}V{n(frame.down(0.0))}" stroke="{tone("faint")}" stroke-width="0.5" '
        shown.append((each.tag, (x, y), f'{line}stroke-dasharray="9 2 1.5 2"/>'))
    return shown


def _signs(centres: Sequence[tuple[str, Point, str]], frame: Frame, room: Room) -> Iterator[str]:
    """The signs of the states: in their row below the marks, in the plan view at the end of a line."""
    if frame.view == "plan":
        for sign, (x, y), _ in centres:
            yield from balloon(room, sign, "", Area(x - CENTRE, y - CENTRE, x + CENTRE, y + CENTRE), False)
        return
    ordered = sorted(centres, key=lambda each: (each[1], each[0]))
    spots = apart([x for _, (x, _), _ in ordered], [14.0] * len(ordered))
    for (sign, (_, y), _), x in zip(ordered, spots, strict=True):
        place = f'x="{n(x)}" y="{n(y + CENTRE + 7.0)}" text-anchor="middle"'
        yield f'<text {place} font-size="{SMALL}" font-weight="600">{sign}</text>'


def _lines_named(van: Van, frame: Frame, room: Room) -> Iterator[str]:
    """What floor and road are called, above their line where there is room."""
    named = [("floor", 0.0)] if frame.view == "side" else []
    floor = van.length("floor")
    if frame.view == "side" and floor is not None:
        named.append(("road", -floor))
    if frame.view == "plan":
        named.append(("front \N{LEFTWARDS ARROW}", frame.up.low))
    for word, level in named:
        wide, down = text_width(word, SMALL), frame.down(level) - 3.0
        tries = [frame.left + 2.0 + share * (frame.right - frame.left - wide - 4.0) for share in _SPOTS]
        x = room.place((left, [Area(left, down - SMALL + 1.0, left + wide, down + 1.5)], ()) for left in tries)
        yield f'<text x="{n(x)}" y="{n(down)}" font-size="{SMALL}" fill-opacity="0.85">{word}</text>'


_SPOTS = (0.0, 0.02, 0.05, 0.1, 0.97, 1.0, 0.2, 0.3, 0.4, 0.5, 0.6, 0.7, 0.8, 0.9)
"""Where along a line its name is tried."""


def _opening(asked: Asked, van: Van, laid: _Sheet | None, size: tuple[float, float], top: float) -> Iterator[str]:
    name = plain(asked.plan.van.name, "html")
    drawn = [part for part in van.parts if any(part.seen(view) for view in VIEWS)]
    told = ", ".join(f"{part.tag} {part.name}" for part in drawn) or "no part has a place yet"
    wide, high = size[0] + 2 * _MARGIN, size[1] + top + 2 * _MARGIN
    scale = f' data-scale="{laid.scale.ratio:g}"' if laid is not None else ""
    said = f" {laid.scale.words}" if laid is not None else ""
    yield (
        '<svg xmlns="http://www.w3.org/2000/svg" data-generator="vanwater" class="vw-to-scale" role="img" '
        f'viewBox="0 0 {n(wide)} {n(high)}" width="{n(wide)}pt"{scale} '
        f'style="width:{n(wide)}pt;max-width:100%;height:auto" font-family="{FONT}" fill="{tone("ink")}">'
        f"<title>{name} to scale{said}</title><desc>{plain(f'Side view and plan view: {told}.', 'html')}</desc>"
        f'<g transform="translate({n(_MARGIN)} {n(_MARGIN + top)})">'
    )
