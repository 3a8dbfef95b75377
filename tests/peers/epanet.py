"""EPANET 2.2 on a van's network: the same structure and numbers as vanwater's solver, by wntr.

Two ways: :class:`Epanet` keeps the network in the memory of EPANET's toolkit and sets its numbers anew for every
design; ``model`` gives wntr's own model for ``wntr.sim.EpanetSimulator``.

What keeps the comparison fair (mind these when you change it):

- input in litres a second: wntr writes pump curves with six decimals, which costs up to 8e-5 in larger units;
- "viscosity 1" of EPANET is 1.1e-5 ft²/s, and the whole network has one;
- specific gravity stays 1, since another one rescales the outlets too; pressures are ρ g times EPANET's metres;
- a pump's two points become three, which EPANET takes for a power law of exponent one: the same straight line;
- an outlet's flow limit is a flow control valve in front of it, which holds its setting to some 5e-4;
- an emitter lets water in where the pressure is below the air's; an outlet of vanwater does not. Designs in which an
  open outlet runs dry are left out by :func:`tests.peers.designs.running`.
"""

from __future__ import annotations

import logging
import warnings
from pathlib import Path

import numpy as np
import wntr
from wntr.epanet.toolkit import ENepanet
from wntr.epanet.util import EN

from vanwater.physics.network import Network, NetworkInputs

GRAVITY = 9.80665
VISCOSITY_ONE = 1.1e-5 * 0.3048**2
"""Kinematic viscosity that EPANET calls 1 [m²/s]."""

LITRES = 1e3

logging.getLogger("wntr").setLevel(logging.ERROR)  # that a pump draws below the air's pressure is no news


class Numbers:
    """One row of a network's numbers, refused where EPANET has no counterpart."""

    def __init__(self, network: Network, inputs: NetworkInputs, row: int) -> None:
        full = {
            name: array[min(row, len(array) - 1)] for name, array in inputs.shaped(network).items() if array.shape[1]
        }
        for name in ("density", "viscosity", "roughness"):
            if np.ptp(full[name]) > 0.0:
                raise ValueError(f"{name} differs from run to run; EPANET has one for the whole network.")
        if network.mixers or np.any(full["friction_multiplier"] != 1.0):
            raise ValueError("EPANET has no mixers and no friction multiplier of a hose.")
        self.rho, self.mu = float(full["density"][0]), float(full["viscosity"][0])
        self.roughness = float(full["roughness"][0])
        self.elevation, self.given = full["elevation"], full["source_pressure"]
        self.length, self.bore, self.k = full["length"], full["bore"], full["loss_coefficient"]
        self.shut = full["shut"] > 0.0
        self.emitter = full["outlet_constant"] * full["openness"] * np.sqrt(self.rho * GRAVITY)  # m³/s at a metre
        self.limit = full["outlet_limit"]
        self.points = [
            [(q, rise / (self.rho * GRAVITY)) for q, rise in zip(*pump, strict=True)]
            for pump in (zip(full["pump_flow"], full["pump_rise"], strict=True) if network.pumps else ())
        ]


def model(network: Network, inputs: NetworkInputs, row: int = 0) -> wntr.network.WaterNetworkModel:
    """Wntr's model of one row."""
    numbers = Numbers(network, inputs, row)
    height = dict(zip(network.nodes, numbers.elevation, strict=True))
    made = wntr.network.WaterNetworkModel()
    options = made.options.hydraulic
    options.inpfile_units = "LPS"
    with warnings.catch_warnings():
        warnings.simplefilter("ignore", UserWarning)  # "changing the headloss formula ... units of roughness": metres
        options.headloss = "D-W"
    options.viscosity = numbers.mu / numbers.rho / VISCOSITY_ONE
    options.specific_gravity, options.accuracy, options.trials = 1.0, 1e-8, 500
    made.options.time.duration = 0
    given = {source.node: value for source, value in zip(network.sources, numbers.given, strict=True)}
    for node in network.nodes:
        if node in given:
            made.add_reservoir(node, height[node] + given[node] / (numbers.rho * GRAVITY))
        else:
            made.add_junction(node, 0.0, elevation=height[node])
    for i, run in enumerate(network.runs):
        made.add_pipe(
            word(run.name),
            run.start,
            run.end,
            length=numbers.length[i],
            diameter=numbers.bore[i],
            roughness=numbers.roughness,
            minor_loss=numbers.k[i],
            initial_status="CLOSED" if numbers.shut[i] else "OPEN",
            check_valve=run.check_valve,
        )
    for pump, points in zip(network.pumps, numbers.points, strict=True):
        if len(points) == 2:
            (q0, h0), (q1, h1) = points
            points = [(q0, h0), ((q0 + q1) / 2.0, (h0 + h1) / 2.0), (q1, h1)]
        made.add_curve(word(f"curve {pump.name}"), "HEAD", points)
        made.add_pump(word(pump.name), pump.start, pump.end, "HEAD", word(f"curve {pump.name}"))
    for i, outlet in enumerate(network.outlets):
        at = outlet.node
        if np.isfinite(numbers.limit[i]):
            at = behind(outlet.name)
            made.add_junction(at, 0.0, elevation=height[outlet.node])
            made.add_valve(
                word(f"limit {outlet.name}"), outlet.node, at, 0.012, "FCV", initial_setting=numbers.limit[i]
            )
        made.get_node(at).emitter_coefficient = numbers.emitter[i]
    return made


def word(name: str) -> str:
    """A name as EPANET takes it: in one word."""
    return name.replace(" ", "_")


def behind(outlet: str) -> str:
    """Name of the node behind an outlet's flow limit."""
    return word(f"behind {outlet}")


class Epanet:
    """A network in EPANET's memory.

    Parameters
    ----------
    network, inputs : Network, NetworkInputs
        The structure, and numbers whose row 0 starts it. Heights, pump curves, flow limits, water and what the sources
        give stay those of row 0; lengths, bores, coefficients and outlets can be set anew.
    folder : Path
        Where EPANET may write its files.
    """

    def __init__(self, network: Network, inputs: NetworkInputs, folder: Path) -> None:
        path = folder / "van"
        numbers = Numbers(network, inputs, 0)
        self.metre = numbers.rho * GRAVITY
        wntr.network.write_inpfile(model(network, inputs), f"{path}.inp", units="LPS")
        self.toolkit = ENepanet(f"{path}.inp", f"{path}.rpt", f"{path}.bin")
        self.toolkit.ENopen()
        self.toolkit.ENopenH()
        self.pipes = [self.toolkit.ENgetlinkindex(word(run.name)) for run in network.runs]
        ends = [
            behind(outlet.name) if np.isfinite(limit) else outlet.node
            for outlet, limit in zip(network.outlets, numbers.limit, strict=True)
        ]
        self.taps = [self.toolkit.ENgetnodeindex(node) for node in ends]
        fed = {source.node for source in network.sources}
        self.nodes = {node: self.toolkit.ENgetnodeindex(node) for node in network.nodes if node not in fed}

    def set_design(self, length: list[float], bore: list[float], k: list[float]) -> None:
        """Lengths [m], bores [m] and coefficients of every run, in the order of the runs."""
        put = self.toolkit.ENsetlinkvalue
        for pipe, metres, across, loss in zip(self.pipes, length, bore, k, strict=True):
            put(pipe, EN.LENGTH, metres)
            put(pipe, EN.DIAMETER, across * 1e3)
            put(pipe, EN.MINORLOSS, loss)

    def set_outlets(self, emitter: list[float]) -> None:
        """What every outlet gives at a metre of head [m³/s]."""
        put = self.toolkit.ENsetnodevalue
        for tap, value in zip(self.taps, emitter, strict=True):
            put(tap, EN.EMITTER, value * LITRES)

    def solve(self) -> None:
        """The steady state, from EPANET's own first guess."""
        self.toolkit.ENinitH(10)
        self.toolkit.ENrunH()

    def outlets(self) -> list[float]:
        """Flow of every outlet [m³/s]."""
        return [self.toolkit.ENgetnodevalue(tap, EN.DEMAND) / LITRES for tap in self.taps]

    def pressures(self) -> dict[str, float]:
        """Gauge pressure at every node that no source holds [Pa]."""
        read = self.toolkit.ENgetnodevalue
        return {name: read(node, EN.PRESSURE) * self.metre for name, node in self.nodes.items()}

    def close(self) -> None:
        """Give the memory back."""
        self.toolkit.ENcloseH()
        self.toolkit.ENclose()


def run_sim(network: Network, inputs: NetworkInputs, row: int, folder: Path) -> tuple[list[float], dict[str, float]]:
    """Outlet flows [m³/s] and node pressures [Pa] by wntr's EpanetSimulator."""
    numbers, made = Numbers(network, inputs, row), model(network, inputs, row)
    found = wntr.sim.EpanetSimulator(made).run_sim(file_prefix=str(folder / "van"))
    demand, pressure = found.node["demand"].iloc[0], found.node["pressure"].iloc[0]
    taps = [
        behind(outlet.name) if np.isfinite(limit) else outlet.node
        for outlet, limit in zip(network.outlets, numbers.limit, strict=True)
    ]
    fed = {source.node for source in network.sources}
    return [float(demand[tap]) for tap in taps], {
        node: float(pressure[node]) * numbers.rho * GRAVITY for node in network.nodes if node not in fed
    }
