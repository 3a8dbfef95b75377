"""The order in which the nodes of a network are eliminated, found once for its structure.

Eliminating a node turns its star of conductances into a mesh between its neighbours (Kennelly). A dead end has
one neighbour and leaves no mesh, so that a tree costs one step a node; a loop leaves a few extra conductances.
Sums and quotients of positive numbers only: nothing cancels, whatever stands open or shut.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

__all__ = ["Elimination", "Fill", "Step", "eliminate"]

Integers = npt.NDArray[np.intp]


@dataclass(frozen=True, slots=True)
class Fill:
    """A conductance between two neighbours: ``slot = old + share[first] * conductance[second]``."""

    slot: int
    old: int
    share: int
    conductance: int


@dataclass(frozen=True, slots=True)
class Step:
    """One node eliminated: its neighbours, the slots of the conductances to them, the mesh it leaves.

    ``shares`` are slots of the share of the node's own excess that each neighbour takes over.
    """

    node: int
    neighbours: tuple[int, ...]
    slots: tuple[int, ...]
    shares: tuple[int, ...]
    fills: tuple[Fill, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Elimination:
    """Everything a solver must know of the structure, as numbers.

    Parameters
    ----------
    nodes : int
        Count of nodes; node ``nodes`` is the open air.
    start, end : array of int
        Ends of each link: runs, pumps, outlets.
    links : int
        Count of links between nodes (runs and pumps).
    fixed : array of int
        Nodes of given pressure.
    mixers : array of int
        Hot, cold and mixed node of each mixer, shape (mixers, 3).
    merges : tuple of (int, int, int)
        Parallel links added up before the steps: ``slot = first + second``.
    steps : tuple of Step
        The nodes in the order of elimination.
    wide : tuple of Step
        The steps that a mixer's flow reaches, in the same order.
    slots : int
        Count of conductance slots; the first ones are the links.
    shares : int
        Count of share slots.
    """

    nodes: int
    start: Integers
    end: Integers
    links: int
    fixed: Integers
    mixers: Integers
    merges: tuple[tuple[int, int, int], ...]
    steps: tuple[Step, ...]
    wide: tuple[Step, ...]
    slots: int
    shares: int


def eliminate(
    nodes: int,
    fixed: list[int],
    links: list[tuple[int, int]],
    outlets: list[int],
    mixers: list[tuple[int, int, int]],
) -> Elimination:
    """Find the order of elimination: fewest neighbours first.

    Parameters
    ----------
    nodes : int
        Count of nodes.
    fixed : list of int
        Nodes of given pressure.
    links : list of (int, int)
        Start and end of each run and pump.
    outlets : list of int
        Node of each outlet.
    mixers : list of (int, int, int)
        Hot, cold and mixed node of each mixer.

    Returns
    -------
    Elimination
        The steps and index arrays.
    """
    given = set(fixed)
    near: dict[int, dict[int, int]] = {node: {} for node in range(nodes) if node not in given}
    merges: list[tuple[int, int, int]] = []
    slots = len(links)
    for slot, (first, second) in enumerate(links):
        if first in given or second in given:
            continue
        if second in near[first]:
            merges.append((slots, near[first][second], slot))
            slot, slots = slots, slots + 1
        near[first][second] = near[second][first] = slot
    steps: list[Step] = []
    shares = 0
    while near:
        node = min(near, key=lambda each: len(near[each]))
        around = near.pop(node)
        for other in around:
            del near[other][node]
        step, slots = _step(node, around, near, slots, shares, len(links) + len(merges))
        shares += len(around)
        steps.append(step)
    return Elimination(
        nodes=nodes,
        start=np.array([start for start, _ in links] + outlets, dtype=np.intp),
        end=np.array([end for _, end in links] + [nodes] * len(outlets), dtype=np.intp),
        links=len(links),
        fixed=np.array(fixed, dtype=np.intp),
        mixers=np.array(mixers, dtype=np.intp).reshape(-1, 3),
        merges=tuple(merges),
        steps=tuple(steps),
        wide=_wide(steps, {node for mixer in mixers for node in mixer}),
        slots=slots,
        shares=shares,
    )


def _step(
    node: int, around: dict[int, int], near: dict[int, dict[int, int]], slots: int, shares: int, own: int
) -> tuple[Step, int]:
    """Turn a node's star into a mesh; slots below ``own`` belong to links or merges and are kept as they are."""
    others = list(around)
    fills: list[Fill] = []
    for i, first in enumerate(others):
        for second in others[i + 1 :]:
            old = near[first].get(second, -1)
            slot = old
            if old < own:
                slot, slots = slots, slots + 1
            fills.append(Fill(slot, old, shares + i, around[second]))
            near[first][second] = near[second][first] = slot
    step = Step(node, tuple(others), tuple(around.values()), tuple(range(shares, shares + len(others))), tuple(fills))
    return step, slots


def _wide(steps: list[Step], seeds: set[int]) -> tuple[Step, ...]:
    reached = set(seeds)
    wide = []
    for step in steps:
        if step.node in reached:
            reached.update(step.neighbours)
            wide.append(step)
    return tuple(wide)
