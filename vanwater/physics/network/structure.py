"""What hangs together: nodes, runs, pumps, outlets, sources and mixers of a van's water network.

A :class:`Network` is built and checked once; it holds no number. The numbers come as arrays with one row a case
(:class:`~vanwater.physics.network.inputs.NetworkInputs`), so that one structure serves thousands of designs.
"""

from __future__ import annotations

from dataclasses import dataclass, field

from vanwater.physics.network.checks import check_directions, check_feeding, check_names
from vanwater.physics.network.elimination import Elimination, eliminate
from vanwater.physics.network.guess import Draw, draws

__all__ = ["Mixer", "Network", "Outlet", "Pump", "Run", "Source"]


@dataclass(frozen=True, slots=True)
class Run:
    """A run of hose or pipe with its fittings; water may flow either way unless it holds a check valve.

    Parameters
    ----------
    name : str
        Name, told in errors.
    start, end : str
        Nodes; flow counts as positive from start to end.
    check_valve : bool
        Whether a check valve lets water flow from start to end only.
    """

    name: str
    start: str
    end: str
    check_valve: bool = False


@dataclass(frozen=True, slots=True)
class Pump:
    """A pump that lifts the pressure from start to end.

    Parameters
    ----------
    name : str
        Name, told in errors.
    start, end : str
        Suction and pressure side.
    check_valve : bool
        Whether water cannot flow back through it; true of diaphragm, hand and foot pumps.
    """

    name: str
    start: str
    end: str
    check_valve: bool = True


@dataclass(frozen=True, slots=True)
class Outlet:
    """A tap, handset or nozzle that discharges to the air at its node's height.

    Parameters
    ----------
    name : str
        Name, told in errors.
    node : str
        Node that feeds it.
    """

    name: str
    node: str


@dataclass(frozen=True, slots=True)
class Source:
    """A node whose pressure is given: the tank at its outlet, or the mains behind a pressure regulator.

    Parameters
    ----------
    name : str
        Name, told in errors.
    node : str
        Node of given pressure.
    """

    name: str
    node: str


@dataclass(frozen=True, slots=True)
class Mixer:
    """A tap or valve that joins hot and cold in a wanted proportion.

    Parameters
    ----------
    name : str
        Name, told in errors.
    hot, cold, mixed : str
        The three nodes, at one height.
    thermostatic : bool
        False: a hand mixer whose user throttles one side until the temperature is right, while the other side
        stands wide open. True: a thermostatic valve whose element opens one port as it shuts the other.
        A plain tee, where nobody sets the proportion, is no mixer: let two runs end at one node.
    """

    name: str
    hot: str
    cold: str
    mixed: str
    thermostatic: bool = False


@dataclass(frozen=True, eq=False)
class Network:
    """The structure of a water network, checked and prepared once.

    Parameters
    ----------
    runs : tuple of Run
        Runs of hose or pipe.
    sources : tuple of Source
        Nodes of given pressure, at least one.
    outlets : tuple of Outlet
        Outlets to the air.
    pumps : tuple of Pump
        Pumps.
    mixers : tuple of Mixer
        Mixers of given proportion.
    nodes : tuple of str
        Names of the nodes in the order of the arrays; found from the pieces when left out.

    Raises
    ------
    ValueError
        When a name comes twice, a piece joins a node to itself, an outlet is fed by nothing, a part hangs on no
        source, or a pump faces backwards.
    """

    runs: tuple[Run, ...]
    sources: tuple[Source, ...]
    outlets: tuple[Outlet, ...]
    pumps: tuple[Pump, ...] = ()
    mixers: tuple[Mixer, ...] = ()
    nodes: tuple[str, ...] = ()
    elimination: Elimination = field(init=False, repr=False)
    draws: tuple[Draw, ...] = field(init=False, repr=False)

    def __post_init__(self) -> None:
        named = self._named_nodes()
        nodes = self.nodes or named
        check_names(nodes, named, (*self.sources, *self.runs, *self.pumps, *self.outlets, *self.mixers))
        ways = [(piece.start, piece.end, piece.check_valve, piece.name) for piece in self.between]
        for mixer in self.mixers:
            ways += [(side, mixer.mixed, True, mixer.name) for side in (mixer.hot, mixer.cold)]
        fed = [source.node for source in self.sources]
        check_directions([(pump.name, pump.start, pump.end) for pump in self.pumps], ways, fed)
        check_feeding(nodes, [(outlet.name, outlet.node) for outlet in self.outlets], ways, fed)
        number = {name: index for index, name in enumerate(nodes)}
        fixed = [number[node] for node in fed]
        links = [(number[piece.start], number[piece.end]) for piece in self.between]
        mixers = [(number[mixer.hot], number[mixer.cold], number[mixer.mixed]) for mixer in self.mixers]
        taps = [number[outlet.node] for outlet in self.outlets]
        put = object.__setattr__
        put(self, "nodes", tuple(nodes))
        put(self, "elimination", eliminate(len(nodes), fixed, links, taps, mixers))
        put(self, "draws", draws(len(nodes), fixed, links, mixers))

    @property
    def between(self) -> tuple[Run | Pump, ...]:
        """The pieces between two nodes: runs first, then pumps."""
        return (*self.runs, *self.pumps)

    def _named_nodes(self) -> tuple[str, ...]:
        names = [source.node for source in self.sources]
        for piece in self.between:
            names += [piece.start, piece.end]
        names += [outlet.node for outlet in self.outlets]
        for mixer in self.mixers:
            names += [mixer.hot, mixer.cold, mixer.mixed]
        return tuple(dict.fromkeys(names))
