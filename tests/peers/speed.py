"""Vanwater's network and others timed in one run on one core, on the same random designs of the published van.

All solve the 23 links (17 runs, a pump, five open outlets, one of them held by its regulator) with every length, bore,
coefficient and outlet constant drawn anew from 0.8 to 1.3 of the published one. Each peer's flows are compared with
vanwater's under the same laws before its time is believed. The peers take turns, and the best of the rounds counts, so
that other work on the machine hits none of them alone. Figures, never a verdict: they hold for the machine that
printed them.
"""

from __future__ import annotations

import os
import sys
import tempfile
import time
import tracemalloc
from collections.abc import Callable
from contextlib import closing
from dataclasses import dataclass, replace
from pathlib import Path

import numpy as np
import wntr

from tests.peers.designs import looped_vans, varied
from tests.peers.epanet import Epanet, Numbers, model, run_sim
from tests.peers.law import LOCAL, epanet_law
from tests.peers.loop import Tree, design
from tests.physics.networks import outlet_sets, small_van, small_van_numbers
from vanwater.physics.network import Network, NetworkInputs, solve

DESIGNS = 10_000
ROUNDS = 7
LIKE_LOOP, LIKE_EPANET = 1e-7, 1e-3
"""How far a peer's flows may lie from vanwater's with the same laws; EPANET holds a flow limit to 5e-4 only."""


@dataclass
class Peer:
    """Something timed: the work of ``count`` solves, and how far its flows lie from vanwater's."""

    name: str
    work: Callable[[], object]
    count: int
    apart: float | None = None
    best: float = np.inf

    def time(self) -> None:
        begun = time.perf_counter()
        self.work()
        self.best = min(self.best, (time.perf_counter() - begun) / self.count)

    def believe(self, flows: list[list[float]], ours: np.ndarray, wanted: float) -> Peer:
        self.apart = float(np.max(np.abs(np.array(flows) / ours[: len(flows)] - 1.0)))
        if not self.apart <= wanted:
            raise SystemExit(f"{self.name}: flows {self.apart:.1e} away from vanwater's, more than {wanted:g}.")
        return self


def own(name: str, network: Network, inputs: NetworkInputs, count: int) -> Peer:
    """Vanwater itself."""
    assert solve(network, inputs).converged.all()
    return Peer(name, lambda: solve(network, inputs), count)


def in_memory(program: Epanet, inputs: NetworkInputs, ours: np.ndarray, count: int = 2000) -> tuple[Peer, Peer]:
    """EPANET kept in memory: a new design each time, and solving alone."""
    rows = [Numbers(small_van(), inputs, row) for row in range(count)]
    drawn = [(row.length.tolist(), row.bore.tolist(), row.k.tolist(), row.emitter.tolist()) for row in rows]

    def new() -> list[list[float]]:
        found = []
        for length, bore, k, emitter in drawn:
            program.set_design(length, bore, k)
            program.set_outlets(emitter)
            program.solve()
            found.append(program.outlets())
        return found

    def alone() -> None:
        for _ in range(count):
            program.solve()

    each = Peer("EPANET kept in memory, a new design each", new, count).believe(new(), ours, LIKE_EPANET)
    return each, Peer("EPANET kept in memory, solving alone", alone, count, each.apart)


def simulator(inputs: NetworkInputs, ours: np.ndarray, folder: Path, count: int = 10) -> tuple[Peer, Peer]:
    """wntr's run_sim: with the model at hand, and built each time."""
    network, prefix = small_van(), str(folder / "at hand")
    made = [model(network, inputs, row) for row in range(count)]

    def built() -> list[list[float]]:
        return [run_sim(network, inputs, row, folder)[0] for row in range(count)]

    def at_hand() -> None:
        for each in made:
            wntr.sim.EpanetSimulator(each).run_sim(file_prefix=prefix)

    each = Peer("wntr run_sim, the model built", built, count).believe(built(), ours, LIKE_EPANET)
    return Peer("wntr run_sim, the model at hand", at_hand, count, each.apart), each


def by_hand(name: str, guess: list[float], inputs: NetworkInputs, ours: np.ndarray, count: int = 200) -> Peer:
    """The Python loop over fluids within scipy's root finder."""
    network = small_van()
    tree, rows = Tree(network), [design(network, inputs, row) for row in range(count)]

    def work() -> list[list[float]]:
        return [tree.solve(row, guess) for row in rows]

    return Peer(name, work, count).believe(work(), ours, LIKE_LOOP)


def like_epanet(numbers: dict[str, object]) -> np.ndarray:
    """Flows of the same designs by vanwater's solver with EPANET's laws."""
    inputs = varied(numbers, DESIGNS, seed=1)
    local = np.asarray(inputs.loss_coefficient) * LOCAL
    return solve(small_van(), replace(inputs, loss_coefficient=local), tolerance=1e-7, friction=epanet_law).outlets


def memory(network: Network, inputs: NetworkInputs) -> float:
    """Peak of memory during a solve [bytes]."""
    tracemalloc.start()
    solve(network, inputs)
    _, most = tracemalloc.get_traced_memory()
    tracemalloc.stop()
    return float(most)


def main() -> None:
    if hasattr(os, "sched_setaffinity"):
        os.sched_setaffinity(0, {max(os.sched_getaffinity(0))})
    network, numbers = small_van(), small_van_numbers()
    inputs = varied(numbers, DESIGNS, seed=1)
    ours, like = solve(network, inputs).outlets, like_epanet(numbers)
    looped, of_loops = looped_vans(15, DESIGNS, 1, 0.8, 1.3)
    shares = [numbers["pump_flow"].max() / ours.shape[1]] * ours.shape[1]
    with tempfile.TemporaryDirectory() as name, closing(Epanet(network, inputs, Path(name))) as program:
        batch = own("vanwater, 10 000 designs at once", network, inputs, DESIGNS)
        loops = own("vanwater, the same with two mixing loops", looped, replace(of_loops, openness=1.0), DESIGNS)
        sets = own("vanwater, all 31 sets of outlets", network, NetworkInputs(**numbers, openness=outlet_sets()), 31)
        one = own("vanwater, one design by itself", network, NetworkInputs(**numbers), 1)
        new, alone = in_memory(program, inputs, like)
        at_hand, built = simulator(inputs, like, Path(name))
        hand = by_hand("loop over fluids in scipy.optimize.root", shares, inputs, ours)
        led = by_hand("the same, begun at the median of all answers", np.median(ours, axis=0).tolist(), inputs, ours)
        peers = [batch, loops, sets, one, new, alone, hand, led, at_hand, built]
        for _ in range(ROUNDS):
            for peer in peers:
                peer.time()
    lines = [
        f"{DESIGNS} random designs of 23 links, all five outlets open; one core; best of {ROUNDS} rounds",
        f"Python {sys.version.split()[0]}, numpy {np.__version__}, wntr {wntr.__version__} (EPANET 2.2)",
        "",
        f"{'a solve by':50}{'ms':>9}{'solves/s':>11}{'x vanwater':>12}{'flows apart':>13}",
        *(row(peer, batch.best) for peer in peers),
        "",
        f"{'aim':50}{'wanted':>12}{'found':>12}",
        aim("designs a second", 80_000, 1.0 / batch.best, True),
        aim("designs with two mixing loops a second", 40_000, 1.0 / loops.best, True),
        aim("times as fast as EPANET, a new design each", 5, new.best / batch.best, True),
        aim("times as fast as EPANET, solving alone", 5, alone.best / batch.best, True),
        aim("times as fast as the loop over fluids", 150, hand.best / batch.best, True),
        aim("times as fast as run_sim, the model at hand", 500, at_hand.best / batch.best, True),
        aim("all 31 sets of outlets [ms]", 3, sets.best * sets.count * 1e3, False),
        aim("one solve [ms]", 3, one.best * 1e3, False),
        aim("peak of memory for 10 000 designs [MB]", 100, memory(network, inputs) / 1e6, False),
    ]
    print("\n".join(lines))  # noqa: T201 - the table is what the script is for


def row(peer: Peer, batch: float) -> str:
    ratio = peer.best / batch
    said = f"{ratio:12,.0f}" if ratio >= 20.0 else f"{ratio:12,.1f}"
    gap = "" if peer.apart is None else f"{peer.apart:13.0e}"
    return f"{peer.name:50}{peer.best * 1e3:9.4f}{1.0 / peer.best:11,.0f}{said}{gap}"


def aim(name: str, wanted: float, found: float, more: bool) -> str:
    met = found >= wanted if more else found <= wanted
    return f"{name:50}{wanted:12,.0f}{found:12,.1f}  {'met' if met else 'not met'}"


if __name__ == "__main__":
    main()
