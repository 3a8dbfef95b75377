"""The law of each piece, for one chunk of rows: loss and slope at the flows that the solver stands at.

Arrays are shaped (pieces, rows), so that a piece's row lies in one stretch of memory. Links are counted runs first,
then pumps, then outlets.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from typing import TypeAlias

import numpy as np
import numpy.typing as npt

from vanwater.physics.friction_law import FrictionTerms
from vanwater.physics.network.structure import Network
from vanwater.quantities import Array

__all__ = ["CLOSED", "SOFTEST", "FrictionLaw", "Laws"]

FrictionLaw: TypeAlias = Callable[[Array, Array], FrictionTerms]

CLOSED = 1e22
"""Slope that stands for a shut valve [Pa·s/m³]: 1 bar drives 1e-17 m³/s through it, a drop in a century."""
SOFTEST = 1e2
"""Least slope given to the linear step [Pa·s/m³]; the loss itself stays exact."""
GRAVITY = 9.80665
FRICTION = 0.03
"""Darcy factor of a hose at a van's flows, roughly [-]."""


class Laws:
    """Coefficients of every piece in a chunk of rows, and their loss and slope.

    Parameters
    ----------
    network : Network
        The structure.
    arrays : dict of str to array
        Checked numbers, shaped (1 or rows, pieces).
    rows : int
        Count of rows in this chunk.
    friction : callable
        Friction law: Reynolds number and relative roughness in, drag and slope out.
    """

    def __init__(self, network: Network, arrays: dict[str, Array], rows: int, friction: FrictionLaw) -> None:
        def get(name: str) -> Array:
            array = arrays[name]
            wide = np.empty((array.shape[1], rows))
            wide[...] = array.T
            return wide

        self.friction = friction
        self.runs, self.pumps, self.outlets = len(network.runs), len(network.pumps), len(network.outlets)
        bore, density, viscosity = get("bore"), get("density"), get("viscosity")
        self.reynolds = density * (4.0 / math.pi) / (bore * viscosity)
        self.rough = get("roughness") / bore
        area_square = bore**4
        self.drag = get("friction_multiplier") * get("length") * viscosity * (2.0 / math.pi) / area_square
        self.local = get("loss_coefficient") * density * (8.0 / math.pi**2) / area_square
        shape = network.elimination
        height = get("elevation")
        between = self.runs + self.pumps
        self.lift = np.zeros((between, rows))
        self.lift[: self.runs] = height[shape.start[: self.runs]] - height[shape.end[: self.runs]]
        self.lift[: self.runs] *= density * GRAVITY
        self.shut = get("shut") > 0.0
        self._pump(arrays, rows, get("pump_quadratic"))
        self.constant = get("outlet_constant") * get("openness")
        self.dry = self.constant <= 0.0
        self.inverse = np.zeros_like(self.constant)
        np.divide(1.0, self.constant**2, out=self.inverse, where=~self.dry)
        self.limit = np.where(self.dry, 0.0, get("outlet_limit"))
        self.dry |= self.limit <= 0.0
        self.given = get("source_pressure")
        self.hot, self.port = get("hot_share"), get("mixer_constant")

    def _pump(self, arrays: dict[str, Array], rows: int, quadratic: Array) -> None:
        """The curve as a first line and its changes of slope: rise = a + b q + Σ c max(q − x, 0) − r q|q|."""
        x = np.ascontiguousarray(
            np.broadcast_to(np.moveaxis(arrays["pump_flow"], 0, -1), (*arrays["pump_flow"].shape[1:], rows))
        )
        y = np.broadcast_to(np.moveaxis(arrays["pump_rise"], 0, -1), x.shape)
        width = np.diff(x, axis=1)
        slopes = np.zeros_like(width)
        np.divide(np.diff(y, axis=1), width, out=slopes, where=width > 0.0)
        for line in range(1, slopes.shape[1]):  # repeated points fill up: their line goes on
            slopes[:, line] = np.where(width[:, line] > 0.0, slopes[:, line], slopes[:, line - 1])
        first = slopes[:, 0] if slopes.shape[1] else np.zeros_like(x[:, 0])
        self.pump_first = first
        self.pump_rest = y[:, 0] - first * x[:, 0]
        self.pump_bends = [(x[:, i + 1], slopes[:, i + 1] - slopes[:, i]) for i in range(slopes.shape[1] - 1)]
        self.pump_quadratic = quadratic
        self.pump_last = x[:, -1]

    def evaluate(self, flow: Array, loss: Array, slope: Array) -> None:
        """Write each link's loss [Pa] and slope [Pa·s/m³] at its flow into ``loss`` and ``slope``."""
        runs, between = self.runs, self.runs + self.pumps
        size = np.abs(flow)
        terms = self.friction(size[:runs] * self.reynolds, self.rough)
        local = self.local * size[:runs]
        np.multiply(terms.drag, self.drag, out=loss[:runs])
        loss[:runs] += local
        loss[:runs] *= flow[:runs]
        np.multiply(terms.slope, self.drag, out=slope[:runs])
        slope[:runs] += local
        slope[:runs] += local
        if self.pumps:
            at, rise, tilt = flow[runs:between], loss[runs:between], slope[runs:between]
            square = self.pump_quadratic * size[runs:between]
            np.subtract(square, self.pump_first, out=rise)
            rise *= at
            rise -= self.pump_rest
            np.subtract(2.0 * square, self.pump_first, out=tilt)
            for bend, change in self.pump_bends:
                beyond = np.maximum(at - bend, 0.0)
                rise -= change * beyond
                tilt -= change * (beyond > 0.0)
        tap = self.inverse * flow[between:]
        np.multiply(tap, flow[between:], out=loss[between:])
        np.add(tap, tap, out=slope[between:])
        np.maximum(slope, SOFTEST, out=slope)

    def turbulent(self, links: npt.NDArray[np.intp]) -> Array:
        """Loss of runs over the square of their flow, roughly; none for pumps: only for the way to the balance."""
        square = np.zeros((links.size, self.reynolds.shape[1]))
        runs = links[links < self.runs]
        square[: runs.size] = self.local[runs] + FRICTION * self.drag[runs] * self.reynolds[runs]
        return square

    def at_outlets(self) -> Array:
        """Pressure that the outlets might find, a row [Pa]: half of what one pump leaves for them, else a third."""
        most = self.drive()
        level: Array = 0.3 * most
        if self.pumps == 1:
            for _ in range(3):
                flow = np.minimum(self.constant * np.sqrt(level), self.limit).sum(axis=0)
                rise = self.pump_rest[0] + (self.pump_first[0] - self.pump_quadratic[0] * flow) * flow
                for bend, change in self.pump_bends:
                    rise += change[0] * np.maximum(flow - bend[0], 0.0)
                level = 0.5 * (level + 0.5 * np.maximum(rise, 0.1 * most))
        return level

    def drive(self) -> Array:
        """Greatest pressure that could stand at an outlet, a row [Pa]: only for the first guess."""
        most: Array = self.given.max(axis=0)
        if self.pumps:
            most = most + np.maximum(self.pump_rest.max(axis=0), 0.0)
        least: Array = np.maximum(most, 1000.0)
        return least
