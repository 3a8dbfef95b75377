"""Structures that cannot be: refused with the name of the piece."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence
from typing import Protocol

__all__ = ["Named", "Way", "check_directions", "check_feeding", "check_names"]

Way = tuple[str, str, bool, str]
"""Start node, end node, whether one-way, name of the piece."""


class Named(Protocol):
    """A piece with a name."""

    @property
    def name(self) -> str:
        """Name, told in errors."""


def check_names(nodes: Sequence[str], named: Sequence[str], pieces: Sequence[Named]) -> None:
    """Refuse names that come twice, nodes that no piece names, pieces that join a node to itself.

    Raises
    ------
    ValueError
        When a name or node is not right, with that name.
    """
    for kind in dict.fromkeys(type(piece) for piece in pieces):
        twice = [n for n, count in Counter(p.name for p in pieces if type(p) is kind).items() if count > 1]
        if twice:
            raise ValueError(f"{kind.__name__.lower()} {twice[0]!r} comes twice; each name must be its own.")
    doubled = [node for node, count in Counter(nodes).items() if count > 1]
    if doubled:
        raise ValueError(f"node {doubled[0]!r} comes twice in nodes; each name must be its own.")
    unknown = [node for node in named if node not in set(nodes)]
    if unknown:
        raise ValueError(f"node {unknown[0]!r} of a piece is not among nodes.")
    idle = [node for node in nodes if node not in set(named)]
    if idle:
        raise ValueError(f"node {idle[0]!r} is cut off: no piece touches it.")
    for piece in pieces:
        ends = [getattr(piece, side) for side in ("start", "end", "hot", "cold", "mixed") if hasattr(piece, side)]
        if len(set(ends)) < len(ends):
            raise ValueError(f"{type(piece).__name__.lower()} {piece.name!r} joins node {ends[0]!r} to itself.")


def check_directions(pumps: Iterable[tuple[str, str, str]], ways: Sequence[Way], fed: Sequence[str]) -> None:
    """Refuse a pump whose pressure side is fed and whose suction side is not.

    Raises
    ------
    ValueError
        When there is no source, or a pump faces backwards, with its name.
    """
    if not fed:
        raise ValueError("the network has no source; expected a tank or a mains inlet.")
    twice = [node for node, count in Counter(fed).items() if count > 1]
    if twice:
        raise ValueError(f"node {twice[0]!r} has two sources; its pressure can be given once only.")
    for name, start, end in pumps:
        reached = _reached(fed, [way for way in ways if way[3] != name or (way[0], way[1]) != (start, end)])
        if start not in reached:
            why = "it faces backwards" if end in reached else "its suction side is fed by nothing"
            raise ValueError(f"pump {name!r} draws from node {start!r}, which no source feeds: {why}.")


def check_feeding(
    nodes: Sequence[str], outlets: Iterable[tuple[str, str]], ways: Sequence[Way], fed: Sequence[str]
) -> None:
    """Refuse outlets fed by nothing and parts that hang on no source.

    Raises
    ------
    ValueError
        When an outlet is fed by nothing or a node is cut off, with its name.
    """
    reached = _reached(fed, ways)
    for name, node in outlets:
        if node not in reached:
            raise ValueError(f"outlet {name!r} at node {node!r} is fed by nothing: no water gets there from a source.")
    hanging = _reached(fed, [(start, end, False, name) for start, end, _, name in ways])
    lost = [node for node in nodes if node not in hanging]
    if lost:
        raise ValueError(f"node {lost[0]!r} is cut off: it hangs on no source.")


def _reached(fed: Iterable[str], ways: Iterable[Way]) -> set[str]:
    out: dict[str, list[str]] = {}
    for start, end, one_way, _ in ways:
        out.setdefault(start, []).append(end)
        if not one_way:
            out.setdefault(end, []).append(start)
    reached = set(fed)
    stack = list(reached)
    while stack:
        for node in out.get(stack.pop(), ()):
            if node not in reached:
                reached.add(node)
                stack.append(node)
    return reached
