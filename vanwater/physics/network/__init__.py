"""Every outlet at once: flows and pressures of a whole water network, many cases at a time.

::

    network = Network(runs, sources, outlets, pumps, mixers)          # the structure, checked once
    flows = solve(network, NetworkInputs(length=..., bore=..., ...))  # arrays with one row a case
    flows.outlet("shower"), flows.at("handset"), flows.residual

A plain tee is a node where two runs end; a hand mixer or a thermostatic valve is a :class:`Mixer`.
"""

from vanwater.physics.network.curves import fixed_flow_points
from vanwater.physics.network.flows import Flows
from vanwater.physics.network.inputs import NetworkInputs
from vanwater.physics.network.solver import solve
from vanwater.physics.network.structure import Mixer, Network, Outlet, Pump, Run, Source

__all__ = [
    "Flows",
    "Mixer",
    "Network",
    "NetworkInputs",
    "Outlet",
    "Pump",
    "Run",
    "Source",
    "fixed_flow_points",
    "solve",
]
