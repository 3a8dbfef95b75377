"""The way many write it by hand: a Python loop over fluids' friction factors inside a general root finder.

Same law as vanwater's (:mod:`vanwater.physics.friction`): 64/Re to 2000, Colebrook from 4000, linear in Re between. The
unknowns are the flows of the outlets; everything that stays the same for one design is worked out once.
"""

from __future__ import annotations

import math

import numpy as np
from fluids.friction import friction_factor
from scipy.optimize import root

from vanwater.physics.network import Network, NetworkInputs

GRAVITY = 9.80665


def factor(re: float, wall: float) -> float:
    """Darcy's factor with fluids' laminar and Colebrook (Clamond) branches."""
    if re >= 4000.0:
        return float(friction_factor(Re=re, eD=wall, Method="Clamond"))
    if re <= 2000.0:
        return 64.0 / re
    return 0.032 + (re - 2000.0) / 2000.0 * (float(friction_factor(Re=4000.0, eD=wall, Method="Clamond")) - 0.032)


class Tree:
    """A tree of runs from one source, with pumps of one straight line, ready for one design after the other."""

    def __init__(self, network: Network) -> None:
        self.at = {node: index for index, node in enumerate(network.nodes)}
        pieces = [(piece.start, piece.end, i) for i, piece in enumerate(network.between)]
        self.source = self.at[network.sources[0].node]
        known, self.order = {network.sources[0].node}, []
        while len(known) <= len(pieces):
            for start, end, i in pieces:
                if start in known and end not in known:
                    known.add(end)
                    self.order.append((self.at[start], self.at[end], i))
        self.taps = [self.at[outlet.node] for outlet in network.outlets]
        self.runs = len(network.runs)

    def solve(self, numbers: dict[str, list[float]], guess: list[float]) -> list[float]:
        """Flow of every outlet [m³/s]; all of them are open."""
        rho, mu, height = numbers["rho"][0], numbers["mu"][0], numbers["height"]
        wall = [numbers["roughness"][0] / bore for bore in numbers["bore"]]
        area = [math.pi / 4.0 * bore**2 for bore in numbers["bore"]]
        reach = [length / bore for length, bore in zip(numbers["length"], numbers["bore"], strict=True)]
        (_, p0), (q0, _) = numbers["pump"]

        def misses(scaled: np.ndarray) -> list[float]:
            flows = [value * 1e-4 for value in scaled]
            through = [0.0] * len(height)
            for tap, flow in zip(self.taps, flows, strict=True):
                through[tap] += flow
            for start, end, _ in reversed(self.order):
                through[start] += through[end]
            level = [0.0] * len(height)
            level[self.source] = numbers["given"][0]
            for start, end, i in self.order:
                flow = through[end]
                rise = rho * GRAVITY * (height[start] - height[end])
                if i >= self.runs:
                    level[end] = level[start] + rise + p0 * (1.0 - flow / q0)
                    continue
                speed = flow / area[i]
                re = rho * abs(speed) * numbers["bore"][i] / mu
                lost = 0.0 if re == 0.0 else (factor(re, wall[i]) * reach[i] + numbers["k"][i]) * rho / 2.0
                level[end] = level[start] + rise - lost * speed * abs(speed)
            found = []
            for i, tap in enumerate(self.taps):
                free = numbers["constant"][i] * math.copysign(math.sqrt(abs(level[tap])), level[tap])
                found.append((flows[i] - min(free, numbers["limit"][i])) * 1e4)
            return found

        answer = root(misses, [value * 1e4 for value in guess], tol=1e-10)
        if not answer.success:
            raise ArithmeticError(f"the root finder gave up: {answer.message}")
        return [float(value) * 1e-4 for value in answer.x]


def design(network: Network, inputs: NetworkInputs, row: int) -> dict[str, list[float]]:
    """One row as plain lists."""
    full = {name: array[min(row, len(array) - 1)] for name, array in inputs.shaped(network).items() if array.shape[1]}
    return {
        "rho": [float(full["density"][0])],
        "mu": [float(full["viscosity"][0])],
        "roughness": [float(full["roughness"][0])],
        "height": full["elevation"].tolist(),
        "given": full["source_pressure"].tolist(),
        "length": full["length"].tolist(),
        "bore": full["bore"].tolist(),
        "k": full["loss_coefficient"].tolist(),
        "constant": full["outlet_constant"].tolist(),
        "limit": full["outlet_limit"].tolist(),
        "pump": list(zip(full["pump_flow"][0].tolist(), full["pump_rise"][0].tolist(), strict=True)),
    }
