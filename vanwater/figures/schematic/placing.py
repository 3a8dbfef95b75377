"""Where the pieces of a plumbing drawing go, and how its lines run: columns by the way from the tank, right angles."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Any, TypeAlias

import graphlay

__all__ = ["Box", "Placed", "Point", "crossings", "placed"]

Point: TypeAlias = tuple[float, float]

_OPTIONS = {
    "spacing": {"layer_gap": 22.0, "node_gap": 10.0, "port_gap": 12.0, "stub": 8.0, "edge_label_margin": 8.0},
    "effort": "thorough",
    "tuning": {"wrap": {"max_rows": 6, "min_gain": 1.0, "max_cut_edges": 6}},
}
_ASPECTS = (0.0, 0.6, 1.0, 1.6, 2.4)
"""Width over height for which a long drawing is folded into rows; 0 for one row."""

_MUCH = 2.0
"""Times the sheet beyond which the water is drawn running down, if letters become as many times larger by it."""


@dataclass(frozen=True, slots=True)
class Box:
    """The room that something takes.

    Parameters
    ----------
    width, height : float
        In points.
    """

    width: float
    height: float


@dataclass(frozen=True, slots=True)
class Placed:
    """Where everything goes.

    Parameters
    ----------
    centres : mapping of str to (float, float)
        Of the pieces.
    ways : tuple of tuple of (float, float)
        Corners of each line, from the edge of one box to that of the next.
    width, height : float
        Of the whole, which begins at zero.
    """

    centres: Mapping[str, Point]
    ways: tuple[tuple[Point, ...], ...]
    width: float
    height: float


def placed(boxes: Mapping[str, Box], joins: Sequence[tuple[str, str, Box | None]], sheet: Box) -> Placed:
    """Lay pieces and lines out, in one row or folded into several, whichever is read best on a sheet.

    Parameters
    ----------
    boxes : mapping of str to Box
        The pieces by key, with the room that each takes.
    joins : sequence of (str, str, Box or None)
        Lines from a piece to the next, each with the room of its words.
    sheet : Box
        The room of the whole.

    Returns
    -------
    Placed
        The same for the same pieces, whatever the machine.
    """
    graph = graphlay.Graph()
    for key, box in boxes.items():
        graph.node(key, width=box.width, height=box.height)
    for start, end, words in joins:
        room: dict[str, Any] = {} if words is None else {"label_size": {"width": words.width, "height": words.height}}
        graph.edge(start, end, **room)

    def beyond(laid: Placed) -> float:
        return max(laid.width / sheet.width, laid.height / sheet.height)

    best = min((_laid_out(graph, tuple(boxes), aspect) for aspect in _ASPECTS), key=beyond)
    if beyond(best) <= _MUCH:
        return best
    down = min((_laid_out(graph, tuple(boxes), aspect, "topbottom") for aspect in _ASPECTS), key=beyond)
    return down if beyond(down) * _MUCH <= beyond(best) else best


def _laid_out(graph: graphlay.Graph, keys: Sequence[str], aspect: float, along: str = "leftright") -> Placed:
    layout = graphlay.layout(graph, options=_OPTIONS | {"direction": along, "wrap": {"viewport_aspect": aspect}})
    corner, far = layout.bounds["min"], layout.bounds["max"]

    def moved(point: Mapping[str, float]) -> Point:
        return round(point["x"] - corner["x"], 3), round(point["y"] - corner["y"], 3)

    return Placed(
        {key: moved(node["center"]) for key, node in zip(keys, layout.nodes, strict=True)},
        tuple(tuple(moved(point) for point in edge["points"]) for edge in layout.edges),
        far["x"] - corner["x"],
        far["y"] - corner["y"],
    )


def crossings(ways: Sequence[Sequence[Point]]) -> list[tuple[int, int, Point]]:
    """Where a level stretch of one line crosses an upright stretch of another.

    Parameters
    ----------
    ways : sequence of sequence of (float, float)
        Corners of each line.

    Returns
    -------
    list of (int, int, (float, float))
        The line that lies level, the one that stands upright, and the place.
    """
    level = [(each, a, b) for each, way in enumerate(ways) for a, b in pairwise(way) if a[1] == b[1]]
    upright = [(each, a, b) for each, way in enumerate(ways) for a, b in pairwise(way) if a[0] == b[0]]
    return [
        (flat, steep, (c[0], a[1]))
        for flat, a, b in level
        for steep, c, d in upright
        if flat != steep and min(a[0], b[0]) < c[0] < max(a[0], b[0]) and min(c[1], d[1]) < a[1] < max(c[1], d[1])
    ]
