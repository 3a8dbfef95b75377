"""A first guess of the flows: what the outlets draw, added up from run to run towards the source."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

__all__ = ["Draw", "draws"]


@dataclass(frozen=True, slots=True)
class Draw:
    """One piece through which a node is fed.

    Parameters
    ----------
    node : int
        The node.
    link : int
        Run or pump that feeds it; -1 where a mixer does.
    start : int
        Node that the link comes from.
    mixer : int
        Mixer that feeds it; -1 where a link does.
    """

    node: int
    link: int
    start: int
    mixer: int


def draws(
    nodes: int,
    fixed: Sequence[int],
    links: Sequence[tuple[int, int]],
    mixers: Sequence[tuple[int, int, int]],
) -> tuple[Draw, ...]:
    """The order in which draws are added up, from the outlets to the sources.

    Parameters
    ----------
    nodes : int
        Count of nodes.
    fixed : sequence of int
        Nodes of given pressure.
    links : sequence of (int, int)
        Start and end of each run and pump.
    mixers : sequence of (int, int, int)
        Hot, cold and mixed node of each mixer.

    Returns
    -------
    tuple of Draw
        Every node but the sources once, those that are fed last first. Empty where water may come to a node on several
        ways, or where a run points towards its source: then no order tells who draws through what.
    """
    feeds: dict[int, Draw] = {}
    for number, (start, end) in enumerate(links):
        if end in feeds or end in fixed:
            return ()
        feeds[end] = Draw(end, number, start, -1)
    for number, (_, _, mixed) in enumerate(mixers):
        if mixed in feeds or mixed in fixed:
            return ()
        feeds[mixed] = Draw(mixed, -1, -1, number)
    if len(feeds) + len(fixed) != nodes:
        return ()
    behind: dict[int, set[int]] = {node: set() for node in range(nodes)}
    for node, draw in feeds.items():
        for above in mixers[draw.mixer][:2] if draw.mixer >= 0 else (draw.start,):
            behind[above].add(node)
    order: list[Draw] = []
    waiting = [node for node, others in behind.items() if not others]
    while waiting:
        node = waiting.pop()
        for above, others in behind.items():
            if node in others:
                others.discard(node)
                if not others:
                    waiting.append(above)
        if node in feeds:
            order.append(feeds[node])
    return tuple(order) if len(order) == len(feeds) else ()
