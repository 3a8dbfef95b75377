"""One outlet open alone: what it gives, where the pressure goes, what the flow hangs on, what would help."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cached_property, partial
from typing import Any

import numpy as np

from vanwater.answers.core.number import Number
from vanwater.answers.core.water_number import cold_number
from vanwater.answers.core.working import Part, by, planned, stated, step
from vanwater.answers.outlets.cycling import BERNOULLI, LOSSES, UNSURE, SwitchedOutlet
from vanwater.answers.outlets.remedies import RemedyGain, remedy_words
from vanwater.physics.fittings import k_loss
from vanwater.physics.friction import friction_loss
from vanwater.physics.statics import column_pressure
from vanwater.quantities import (
    FLOW,
    OUTLET_CONSTANT,
    PRESSURE,
    PRESSURE_DIFFERENCE,
    SHARE,
    TEMPERATURE,
    Array,
    Quantity,
)
from vanwater.system.remedies import Remedy

__all__ = ["BERNOULLI", "UNSURE", "WORTH_TELLING", "BudgetPiece", "OutletSupply"]

WORTH_TELLING = 0.02
"""Share of the flow that a remedy must gain to be told."""


STEADY_FORMULA = "p_pump(Q) + ρ g (z_s − z_o) = Σ Δp(Q) + max(Δp hot(x Q), Δp cold((1−x) Q)) + (Q/k)²"
MEAN_FORMULA = "(∫ Q dV/(Q_p − Q) + ∫ dV) / (∫ dV/(Q_p − Q) + ∫ dV/Q), from cut-in to cut-out"
STEADY = "The flow at which the pump's rise and the lift equal all losses and the outlet's own"
MEAN = "The mean over a cycle of the pump's switch: water over time from cut-in to cut-out and back"


@dataclass(frozen=True, slots=True, eq=False)
class BudgetPiece:
    """What one piece of the way takes of the pressure.

    Parameters
    ----------
    label : str
        Run, valve, "lift" or the outlet.
    kind : str
        "run", "valve", "lift", "outlet".
    loss : Number
        Pressure it takes; a lift down gives.
    """

    label: str
    kind: str
    loss: Number


@dataclass(frozen=True, eq=False, kw_only=True)
class OutletSupply(SwitchedOutlet):
    """What one outlet gives when it is open alone.

    Parameters
    ----------
    tried : tuple of Remedy
        Changes that might bring more flow.
    """

    tried: tuple[Remedy, ...]

    @property
    def unbalanced(self) -> tuple[float, Quantity]:
        """What the solve left of the plan's pressures."""
        return float(np.abs(self.state.residual[0])), PRESSURE_DIFFERENCE

    @cached_property
    def flow(self) -> Number:
        """Flow at it."""
        return stated(
            f"flow at the {self.outlet}",
            self.state.flow,
            FLOW,
            f"{MEAN if self.cycles else STEADY}, solved for every row at once; the range combines what each unsure "
            "input moves, one at a time, by root-sum-square.",
            facts=lambda: tuple(self._beside_flow()),
            residual=self.unbalanced,
            source=LOSSES,
        ).keyed("outlet", self.outlet, "flow", pairs=self.pairs, least=0.0)

    def _beside_flow(self) -> Iterator[Part]:
        yield "formula", MEAN_FORMULA if self.cycles and self.swing is not None else STEADY_FORMULA
        yield "pressure rise of the pump", (self.state.pump_rise, PRESSURE)
        if self.cycles:
            yield "least while the pump cycles", self.least
            yield "most while the pump cycles", self.most
        yield "hot share of the flow", (self.case.physics.hot_share, SHARE)
        for hung in self.flow.influences:
            yield f"with {hung.name} at the low end", (hung.low, FLOW)
            yield f"with {hung.name} at the high end", (hung.high, FLOW)

    @property
    def lowest(self) -> Number:
        """The flow that a valve or burner can count on: the low end of the swing while the pump cycles."""
        return self.least if self.cycles else self.flow

    @cached_property
    def pressure(self) -> Number:
        """Gauge pressure before it."""
        return stated(
            f"pressure before the {self.outlet}",
            self.state.outlet_pressure,
            PRESSURE,
            "What the outlet takes for its flow: all that pump and lift leave over the losses on the way.",
            facts=(
                ("formula", "(Q/k)², beyond its own flow what is left before a regulator"),
                ("flow", (self.flow.values, FLOW)),
                ("flow at a pressure of one, k", (self.case.physics.outlet_constant, OUTLET_CONSTANT)),
            ),
            residual=self.unbalanced,
            source="orifice law with a constant k",
        ).keyed("outlet", self.outlet, "pressure", pairs=self.pairs, least=0.0)

    @cached_property
    def rise(self) -> Number:
        """Pressure rise across the pump."""
        left, quantity = self.unbalanced
        return stated(
            f"pressure rise of the pump for the {self.outlet}",
            self.state.pump_rise,
            PRESSURE_DIFFERENCE,
            "Where the pump's pressure goes: the pieces add up to its rise.",
            parts=lambda: (
                [(piece.label, (piece.loss.values, PRESSURE_DIFFERENCE)) for piece in self.budget]
                if self.reaches
                else ()
            ),
            residual=(left + 1e-6, quantity),
            source=BERNOULLI,
        ).keyed("outlet", self.outlet, "rise", pairs=self.pairs)

    @cached_property
    def inlet(self) -> Number:
        """Gauge pressure before the pump; below zero it sucks."""
        path = self.case.physics
        lift = path.lift(path.surface_height, path.pump_height) + path.supply_pressure
        return stated(
            f"pressure before the pump with the {self.outlet} open",
            self.state.pump_inlet_pressure,
            PRESSURE,
            "What the height of the water over the pump gives, less what the suction side loses.",
            parts=lambda: (
                ("height of the water over the pump", (lift, PRESSURE)),
                ("suction side", (-self.suction_loss.values, PRESSURE)),
            ),
            source=BERNOULLI,
        ).keyed("outlet", self.outlet, "suction_pressure", pairs=self.pairs)

    @cached_property
    def discharge(self) -> Number:
        """Gauge pressure behind the pump."""
        return stated(
            f"pressure behind the pump with the {self.outlet} open",
            self.state.discharge_pressure,
            PRESSURE,
            "What stands before the pump, and its rise.",
            parts=lambda: (
                ("before the pump", (self.inlet.values, PRESSURE)),
                ("rise", (self.rise.values, PRESSURE)),
            ),
            source=BERNOULLI,
        ).keyed("outlet", self.outlet, "discharge_pressure", pairs=self.pairs)

    @cached_property
    def suction_loss(self) -> Number:
        """What the runs before the pump lose."""
        return stated(
            f"loss of the suction side with the {self.outlet} open",
            np.sum(self.state.losses[:, : len(self.way.suction)], axis=-1),
            PRESSURE_DIFFERENCE,
            "All runs from the tank to the pump.",
            parts=lambda: [(run, (self.losses[run].values, PRESSURE_DIFFERENCE)) for run in self.way.suction],
            source=LOSSES,
        ).keyed("outlet", self.outlet, "suction_loss", pairs=self.pairs, least=0.0)

    @cached_property
    def losses(self) -> Mapping[str, Number]:
        """What each run would lose on its own; of two legs the easier one is throttled to the other."""
        return {
            run: stated(
                f"loss of the {run} with the {self.outlet} open",
                self.state.losses[:, place],
                PRESSURE_DIFFERENCE,
                "Friction along its wall and what its fittings take, at its share of the flow.",
                parts=partial(self._loss_parts, place),
                source=LOSSES,
            ).keyed("run", run, "loss", self.outlet, pairs=self.pairs, least=0.0)
            for place, run in enumerate(self.way.runs)
        }

    def in_run(self, place: int, values: object) -> Array:
        """What holds in a run of the way, along the rows."""
        return np.broadcast_to(np.asarray(values), self.state.losses.shape)[:, place]

    def flow_in(self, place: int) -> Array:
        """Its share of the flow in a run of the way, along the rows [m³/s]."""
        through = self.state.pump_flow if place < len(self.way.suction) else self.state.flow
        return through * self.in_run(place, self.case.physics.runs.share)

    def _loss_parts(self, place: int) -> tuple[Part, ...]:
        path, where = self.case.physics, f"the {self.way.runs[place]} with the {self.outlet} open"
        here = partial(self.in_run, place)
        given: dict[str, Any] = {
            "flow": self.flow_in(place),
            "bore": here(path.bore),
            "density": here(path.density),
        }
        friction = step(
            f"friction along {where}",
            friction_loss,
            length=here(path.length),
            roughness=here(path.roughness),
            viscosity=here(path.viscosity),
            **given,
        )
        return ("along the wall", friction), (
            "fittings",
            step(f"loss at fittings in {where}", k_loss, k=here(path.k), **given),
        )

    @cached_property
    def lift(self) -> Number:
        """What the height of the outlet over the water's surface takes; a fall gives."""
        path = self.case.physics
        height = np.asarray(path.outlet_height) - path.surface_height
        return self.lift_of(self.outlet, height).keyed("outlet", self.outlet, "lift", pairs=self.pairs)

    def lift_of(self, piece: str, height: Array) -> Number:
        """What a height takes, in the water of the tank all the way."""
        path = self.case.physics
        density = self.in_run(0, path.density)
        name = f"lift to the {piece}"
        return by(name, path.weight * height, PRESSURE_DIFFERENCE, column_pressure, height=height, density=density)

    @cached_property
    def valve_loss(self) -> Number:
        """What a thermostatic mixing valve takes besides the leg that governs."""
        return stated(
            f"loss of the {self.way.mixer} with the {self.outlet} open",
            self.state.valve_loss,
            PRESSURE_DIFFERENCE,
            "One port opens as the other shuts: the loss of the leading port, at which both give their share.",
            facts=(
                ("formula", "x/√Δp + (1−x)/√(Δp + g) = k_v/Q"),
                ("flow", (self.flow.values, FLOW)),
                ("hot share of the flow", (self.case.physics.hot_share, SHARE)),
                (
                    "flow of a wide open port at a pressure of one, k_v",
                    (self.case.physics.mixer_constant, OUTLET_CONSTANT),
                ),
            ),
            source="orifice law at both ports of the valve",
        ).keyed("mixer", self.way.mixer, "loss", self.outlet, pairs=self.pairs, least=0.0)

    @cached_property
    def budget(self) -> tuple[BudgetPiece, ...]:
        """Where the pump's pressure goes, in the order of the flow; of two legs the one that loses more."""
        hot, cold = (sum(self.losses[run].likely for run in leg) for leg in (self.way.hot, self.way.cold))
        idle = self.way.cold if hot >= cold else self.way.hot
        pieces = [BudgetPiece(run, "run", loss) for run, loss in self.losses.items() if run not in idle]
        if self.state.valve_loss[0] > 0.0:
            pieces.insert(len(pieces) - len(self.way.mixed), BudgetPiece(self.way.mixer, "valve", self.valve_loss))
        return (*pieces, BudgetPiece("lift", "lift", self.lift), BudgetPiece(self.outlet, "outlet", self.pressure))

    @cached_property
    def hot(self) -> Number:
        """Temperature of the water that its hot side brings."""
        heater = self.way.heater
        if not heater:
            return cold_number(self.batch, self.way)
        return planned(self.plan, f"heaters.{heater}.set_point", TEMPERATURE)

    @cached_property
    def temperature(self) -> Number:
        """Temperature of the water at it."""
        return stated(
            f"temperature at the {self.outlet}",
            self.case.mixed,
            TEMPERATURE,
            "As its valve is set, else as is wanted there, never below the cold water's.",
            source="the plan",
        ).keyed("outlet", self.outlet, "temperature", pairs=self.pairs)

    @cached_property
    def gains(self) -> tuple[RemedyGain, ...]:
        """What would bring more flow, most first."""
        flow = self.flow.values
        more = [(float(flow[self.batch.place(remedy.row.key)] - flow[0]), remedy) for remedy in self.tried]
        worth = sorted((pair for pair in more if pair[0] > WORTH_TELLING * flow[0]), key=lambda pair: -pair[0])
        return tuple(
            RemedyGain(
                remedy,
                remedy_words(self.plan, remedy),
                self.flow.gain(self.batch.place(remedy.row.key), remedy.row.key),
            )
            for _, remedy in worth
        )
