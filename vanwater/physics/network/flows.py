"""What a solve gives: flows, pressures, and how well they balance."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from vanwater.physics.network.structure import Network
from vanwater.quantities import Array, Flow, Pressure, PressureDifference

__all__ = ["Flows"]


@dataclass(frozen=True, eq=False, kw_only=True)
class Flows:
    """Steady flows and pressures of a network, one row a case.

    Parameters
    ----------
    network : Network
        The structure solved.
    runs : array
        Flow in each run, positive from start to end, shape (rows, runs) [m³/s].
    pumps : array
        Flow through each pump [m³/s].
    outlets : array
        Flow out of each outlet, never negative, exactly zero where it is shut [m³/s].
    mixers : array
        Mixed flow of each mixer [m³/s].
    sources : array
        Flow drawn from each source [m³/s].
    pressure : array
        Gauge pressure at each node, shape (rows, nodes) [Pa]. Where a shut part leaves it open, it is the one that
        its valves just hold.
    residual : array
        Greatest gap between the pressure at hand and the loss of a piece, a row [Pa].
    imbalance : array
        Greatest sum of flows into a node, a row [m³/s].
    iterations : array of int
        Newton steps taken, a row.
    converged : array of bool
        Whether the row is in balance: residual below the tolerance and imbalance below one billionth of the row's
        flow (or 1e-15 m³/s, a drop in a year).
    """

    network: Network
    runs: Flow[Array]
    pumps: Flow[Array]
    outlets: Flow[Array]
    mixers: Flow[Array]
    sources: Flow[Array]
    pressure: Pressure[Array]
    residual: PressureDifference[Array]
    imbalance: Flow[Array]
    iterations: npt.NDArray[np.intp]
    converged: npt.NDArray[np.bool_]

    def run(self, name: str) -> Flow[Array]:
        """Flow in a run, a row [m³/s].

        Raises
        ------
        ValueError
            When there is no such run.
        """
        return self.runs[:, _index("run", name, [run.name for run in self.network.runs])]

    def pump(self, name: str) -> Flow[Array]:
        """Flow through a pump, a row [m³/s].

        Raises
        ------
        ValueError
            When there is no such pump.
        """
        return self.pumps[:, _index("pump", name, [pump.name for pump in self.network.pumps])]

    def outlet(self, name: str) -> Flow[Array]:
        """Flow out of an outlet, a row [m³/s].

        Raises
        ------
        ValueError
            When there is no such outlet.
        """
        return self.outlets[:, _index("outlet", name, [outlet.name for outlet in self.network.outlets])]

    def mixer(self, name: str) -> Flow[Array]:
        """Mixed flow of a mixer, a row [m³/s].

        Raises
        ------
        ValueError
            When there is no such mixer.
        """
        return self.mixers[:, _index("mixer", name, [mixer.name for mixer in self.network.mixers])]

    def at(self, node: str) -> Pressure[Array]:
        """Gauge pressure at a node, a row [Pa].

        Raises
        ------
        ValueError
            When there is no such node.
        """
        return self.pressure[:, _index("node", node, list(self.network.nodes))]


def _index(kind: str, name: str, names: list[str]) -> int:
    if name not in names:
        raise ValueError(f"no {kind} is named {name!r}; expected one of {', '.join(names) or 'none'}.")
    return names.index(name)
