"""One exposed run in the cold: how long its still water lasts, its wall counted."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property

from vanwater.answers.core.number import Number
from vanwater.answers.core.working import by, stated
from vanwater.answers.frost.cold import STATES, Cold, told_in
from vanwater.answers.frost.icing import to_block, to_burst
from vanwater.physics import cooling, ice, pipe_loss
from vanwater.physics.water import FREEZING_POINT
from vanwater.plan.model import Plan
from vanwater.quantities import MASS, Array
from vanwater.system.exposed import RunHeat, drains
from vanwater.system.icing import run_row

__all__ = ["RunFrost", "is_trap", "run_label"]


def is_trap(plan: Plan, run: str) -> bool:
    """Whether a run stands empty but for its trap."""
    return plan.runs[run].trap and drains(plan, run)


def run_label(plan: Plan, run: str) -> str:
    """What freezes: the run, or the trap in it."""
    return f"trap in {run}" if is_trap(plan, run) else run


@dataclass(frozen=True, eq=False)
class RunFrost:
    """One exposed run in the cold; its numbers are made when they are first read.

    Parameters
    ----------
    cold : Cold
        The solved plan.
    heat : RunHeat
        The run along the rows.
    conductance : array, shape (2, rows)
        Heat that it loses for each kelvin, parked and driving [W/K].
    """

    cold: Cold
    heat: RunHeat
    conductance: Array

    @property
    def run(self) -> str:
        """Its name."""
        return self.heat.run

    @property
    def trap(self) -> bool:
        """Whether it stands empty but for its trap."""
        return is_trap(self.cold.plan, self.run)

    @property
    def label(self) -> str:
        """What freezes: the run, or the trap in it."""
        return run_label(self.cold.plan, self.run)

    @cached_property
    def hours(self) -> Mapping[str, Number]:
        """Time until its still water reaches 0 °C, its wall counted, "parked" and "driving"."""
        outside, held = self._outside, self.heat.water + self.heat.wall
        hours = cooling.time_until(self.cold.start.values, FREEZING_POINT, outside, self.conductance, held)
        return {
            state: by(
                f"time until still water in {self.run} is at freezing, {state}",
                hours[case],
                told_in(hours[case, 0]),
                cooling.time_until,
                start=self.cold.start,
                final=FREEZING_POINT,
                outside=outside,
                conductance=self.conductance[case],
                mass=lambda: self.mass,
            ).keyed("run", self.run, "time_to_freezing", state, pairs=self.cold.pairs, least=0.0, digits=2)
            for case, state in enumerate(STATES)
        }

    @property
    def _outside(self) -> Array:
        return self.cold.around.beside(self.heat.codes[:, None])[:, 0]

    @cached_property
    def blocked(self) -> Number:
        """Time until ice blocks it, parked."""
        return self._iced("time_to_ice", "blocked", to_block(self.cold))

    @cached_property
    def burst(self) -> Number:
        """Time until it is in danger of bursting where its water is shut in, parked."""
        return self._iced(
            "time_to_burst", "in danger of bursting", to_burst(self.cold, run_row(self.cold.batch, self.run))
        )

    def _iced(self, key: str, what: str, share: Number) -> Number:
        given = (self._outside, self.conductance[0], self.heat.water, self.heat.wall)
        hours = ice.time_to_ice(self.cold.start.values, share.values, *given)
        return by(
            f"time until still water in {self.run} is {what}, parked",
            hours,
            told_in(hours[0]),
            ice.time_to_ice,
            start=self.cold.start,
            ice_share=share,
            outside=self._outside,
            conductance=self.conductance[0],
            mass=self.heat.water,
            wall=lambda: self.wall,
        ).keyed("run", self.run, key, "parked", pairs=self.cold.pairs, least=0.0, digits=2)

    @cached_property
    def mass(self) -> Number:
        """Water in it, its wall counted."""
        return stated(
            f"water in {self.run}, its wall counted",
            self.heat.water + self.heat.wall,
            MASS,
            "The water, and the water that would hold as much heat as the wall.",
            parts=[("water", (self.heat.water, MASS)), (self.wall.name, self.wall)],
            source="calorimetry: water equivalent",
        )

    @cached_property
    def wall(self) -> Number:
        """Water that would hold as much heat as its wall."""
        pipe, material = self.heat.pipe, self.heat.material
        return by(
            f"water equivalent of the wall of {self.run}",
            self.heat.wall,
            MASS,
            pipe_loss.water_equivalent,
            length=pipe.length,
            bore=pipe.bore,
            outside=pipe.outside,
            wall_density=material.density,
            wall_heat_capacity=material.heat_capacity,
        ).keyed("run", self.run, "wall_as_water", pairs=self.cold.pairs)
