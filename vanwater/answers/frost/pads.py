"""The pads of one tank: how often they are on, how cold it may get, what they take a day."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property

import numpy as np

from vanwater.answers.core.number import Number
from vanwater.answers.core.working import by, stated, step
from vanwater.answers.frost.cold import CASES, FREEZING, STATES, Cold, TankCold
from vanwater.answers.frost.tank import TankFrost
from vanwater.physics import cooling, frost, tank_loss
from vanwater.quantities import CONDUCTANCE, DAILY_ENERGY, POWER, SHARE, TEMPERATURE, Array
from vanwater.system.day import pads_of_day
from vanwater.system.heat import transmittances
from vanwater.system.pads import PadHeat, pad_heat, pads_of
from vanwater.system.surroundings import Case

__all__ = ["COLDEST", "PadFrost", "pads_in_cold"]

COLDEST = 203.15
"""Coldest air that is asked for and told, K: −70 °C."""


@dataclass(frozen=True, slots=True, eq=False)
class Lowest:
    """The lowest cold that pads hold, parked and driving, with what it is made of; each shaped (2, rows).

    Parameters
    ----------
    total : array
        Heat that the faces let through for each kelvin [W/K].
    rest : array
        Lowest temperature of rest that is held [K].
    moved : array
        How far that follows the outside [-].
    outside : array
        Outside temperature; minus infinity where no face follows it [K].
    """

    total: Array
    rest: Array
    moved: Array
    outside: Array

    @classmethod
    def of(cls, cold: Cold, tank: TankCold, transmittance: Array, pad: PadHeat) -> Lowest:
        """By the faces: each is as cold beside as the outside, some share of it, or what is kept at a temperature."""
        through = tank.heat.faces.area * transmittance
        total = tank_loss.conductance(tank.heat.faces.area, transmittance)
        rest = frost.lowest_cold(cold.hold.values, pad.power, pad.net_share, total)
        follows = cold.around.following(tank.heat.codes)
        kept = tank.beside[0] - follows * cold.outside.values[:, None]
        moved = (through * follows).sum(axis=-1) / total
        with np.errstate(divide="ignore", invalid="ignore"):
            outside = np.where(moved > 0, (rest - (through * kept).sum(axis=-1) / total) / moved, -np.inf)
        return cls(total, rest, moved, outside)


@dataclass(frozen=True, eq=False)
class PadFrost:
    """The pads of one tank, which switch together; their numbers are made when they are first read.

    Parameters
    ----------
    tank : TankFrost
        The tank in the cold.
    heat : PadHeat
        Their names, electric power when on, and what reaches the water of it.
    near : array, shape (2, rows, faces)
        Transmittances near the lowest cold that they hold, parked and driving [W/(m²·K)].
    """

    tank: TankFrost
    heat: PadHeat
    near: Array

    @property
    def many(self) -> bool:
        """Whether there are several."""
        return len(self.heat.pads) > 1

    @property
    def states(self) -> tuple[str, ...]:
        """The states in which any of them is fed."""
        return tuple(state for state, fed in zip(STATES, self.heat.fed, strict=True) if fed)

    @cached_property
    def power(self) -> Mapping[str, Number]:
        """Electric power when on, by state: of the pads that are fed then."""
        alike = len(set(self.heat.by)) == 1
        return {state: self._power(place, () if alike else (state,)) for place, state in enumerate(STATES)}

    @property
    def at_a_socket(self) -> bool:
        """Whether it is a socket alone that feeds them while the van is parked."""
        return "parked" in self.states and "battery" not in self.heat.by

    def _power(self, place: int, state: tuple[str, ...]) -> Number:
        batch = self.tank.cold.batch
        pads = zip(self.heat.pads, self.heat.on[place], strict=True)
        names = [name for name, on in pads if on or not self.heat.fed[place]]
        return stated(
            " ".join(("power of the pads of the", self.tank.label, *state)),
            self.heat.power[place],
            POWER,
            "They switch together.",
            parts=lambda: [(name, (batch.number(f"pads.{name}.power"), POWER)) for name in names],
            source="the plan",
        ).keyed("tank", self.tank.tank, "pad_power", *state, exact="as planned")

    @cached_property
    def duty(self) -> Mapping[str, Number]:
        """Share of the time on, by case; above 1 they do not hold."""
        pairs = zip(CASES, self._duties, strict=True)
        return {case: self._duty(case, duty) for case, duty in pairs if _state(case) in self.states}

    @cached_property
    def _duties(self) -> Array:
        return frost.pad_duty(self.tank.solved.needed, *(np.tile(part, (2, 1)) for part in self._heat))

    @property
    def _heat(self) -> tuple[Array, Array]:
        return self.heat.power, self.heat.net_share

    def _duty(self, case: str, duty: Array) -> Number:
        return by(
            f"share of the time the pad of the {self.tank.label} is on, {case.replace('_', ' ')}",
            duty,
            SHARE,
            frost.pad_duty,
            needed=lambda: self.tank.needed[case],
            pad=lambda: self.power[_state(case)],
            net_share=self.heat.net_share[STATES.index(_state(case))],
        ).keyed("tank", self.tank.tank, "pad_duty", case, pairs=self.tank.cold.pairs)

    @cached_property
    def smallest(self) -> Mapping[str, Number]:
        """Power of the smallest pad that would hold at the design cold, "parked", "driving" and in "both"."""
        key, pairs = ("tank", self.tank.tank, "smallest_pad"), self.tank.cold.pairs
        least = frost.smallest_pad(self.tank.solved.needed[:2], self.heat.net_share)
        smallest = {
            state: by(
                f"smallest pad that holds the {self.tank.label} {state}",
                least[place],
                POWER,
                frost.smallest_pad,
                needed=self.tank.needed[state],
                net_share=self.heat.net_share[place],
            ).keyed(*key, state, pairs=pairs)
            for place, state in enumerate(STATES)
        }
        both = stated(
            f"smallest pad that holds the {self.tank.label}",
            least.max(axis=0),
            POWER,
            "The larger of the two, parked and driving.",
            facts=[(number.name, number) for number in smallest.values()],
            source="heat balance",
        )
        return {**smallest, "both": both.keyed(*key, "both", pairs=pairs)}

    def to_fit(self, state: str) -> Number:
        """Power of a pad that holds, to the next whole watt."""
        smallest = self.smallest[state]
        return stated(
            f"power of a pad that holds the {self.tank.label}",
            np.ceil(smallest.values),
            POWER,
            "The smallest one, rounded up.",
            facts=[(smallest.name, smallest)],
            source="heat balance",
        ).keyed("tank", self.tank.tank, "pad_to_fit", state, exact="rounded up, at the likely values")

    @cached_property
    def lasts(self) -> Number:
        """Time on the road in which the last tenth falls from the temperature held to 0 °C with the pad on."""
        return step(
            f"time until the last tenth of the {self.tank.label} is at freezing, driving with its pad on",
            cooling.time_until,
            start=self.tank.cold.hold,
            final=FREEZING,
            outside=self.tank.rest["driving"],
            conductance=self.tank.through["driving"],
            mass=self.tank.solved.mass[-1],
            power=self.heat.power[1] * self.heat.net_share[1],
        ).keyed(
            "tank", self.tank.tank, "time_to_freezing", "driving_heated", "tenth", pairs=self.tank.cold.pairs, least=0.0
        )

    @cached_property
    def drawn(self) -> Mapping[str, Number]:
        """Draw at the mean cold, by state."""
        draws = zip(STATES, frost.pad_energy(self._duties[2:], self.heat.power), strict=True)
        return {state: self._drawn(state, draw) for state, draw in draws if state in self.states}

    def _drawn(self, state: str, draw: Array) -> Number:
        return by(
            f"draw of the pad of the {self.tank.label} at the mean cold, {state}",
            draw,
            DAILY_ENERGY,
            frost.pad_energy,
            duty=lambda: self.duty[f"{state}_at_mean"],
            pad=lambda: self.power[state],
        ).keyed("tank", self.tank.tank, "pad_draw", state, pairs=self.tank.cold.pairs)

    @cached_property
    def energy(self) -> Number:
        """Energy a day at the mean cold, over the hours in which they are fed."""
        day = pads_of_day(self.tank.cold.batch)
        own = [consumer for consumer in day.consumers if consumer.name in self.heat.pads]
        spent = [(consumer.name, day.all_energy(consumer)) for consumer in own]
        return stated(
            f"energy a day of the pad of the {self.tank.label}",
            np.sum([np.zeros(len(self.tank.cold.batch)), *(energy for _, energy in spent)], axis=0),
            DAILY_ENERGY,
            "Draw at the mean cold, in each state of the day in which it is fed.",
            parts=[(name, (energy, DAILY_ENERGY)) for name, energy in spent],
            facts=[(drawn.name, drawn) for drawn in self.drawn.values()],
            source="heat balance at the mean temperature of the day",
        ).keyed("tank", self.tank.tank, "pad_energy", pairs=self.tank.cold.pairs)

    @cached_property
    def holds(self) -> Mapping[str, Number]:
        """Lowest outside temperature at which they hold, not below −70 °C."""
        lowest = Lowest.of(self.tank.cold, self.tank.solved, self.near, self.heat)
        return {state: self._holds(lowest, place) for place, state in enumerate(STATES) if state in self.states}

    def _holds(self, lowest: Lowest, place: int) -> Number:
        """A formula where all faces look outside; told by its pieces where there are several neighbours."""
        outside, state = lowest.outside[place], STATES[place]
        held = np.where(np.isfinite(outside), np.maximum(outside, COLDEST), outside)
        name, key = f"lowest cold at which the {self.tank.label} is held {state}", ("lowest_cold", state)
        if np.all(lowest.moved[place] == 1.0) and np.all(outside > COLDEST):
            number = self._rest(name, held, lowest, place)
        else:
            number = stated(
                name,
                held,
                TEMPERATURE,
                "The outside temperature that brings the mean of all neighbours, weighted by the heat that each face "
                "lets through, to the lowest temperature of rest.",
                facts=lambda: [
                    ("lowest temperature of rest", self._rest("at rest", lowest.rest[place], lowest, place)),
                    ("share of the faces that follows the outside", (lowest.moved[place], SHARE)),
                ],
                source="steady heat balance of a lump with several neighbours",
                note="Worked out no farther down than any winter goes.",
            )
        return number.keyed("tank", self.tank.tank, *key, pairs=self.tank.cold.pairs)

    def _rest(self, name: str, rest: Array, lowest: Lowest, place: int) -> Number:
        def through() -> Number:
            return by(
                f"heat for each degree near that cold, {STATES[place]}",
                lowest.total[place],
                CONDUCTANCE,
                tank_loss.conductance,
                area=self.tank.solved.heat.faces.area,
                transmittance=self.near[place],
            )

        return by(
            name,
            rest,
            TEMPERATURE,
            frost.lowest_cold,
            hold=self.tank.cold.hold,
            pad=lambda: self.power[STATES[place]],
            net_share=self.heat.net_share[place],
            conductance=through,
        )


def _state(case: str) -> str:
    return case.removesuffix("_at_mean")


def pads_in_cold(cold: Cold, tanks: Mapping[str, TankFrost]) -> dict[str, PadFrost]:
    """The pads of every tank.

    Parameters
    ----------
    cold : Cold
        The solved plan.
    tanks : mapping of str to TankFrost
        Its tanks in the cold.

    Returns
    -------
    dict of str to PadFrost
        By tank. The lowest cold is found with the films of that cold, not of the design cold; none below −70 °C is
        told.
    """
    pads = {name: pad_heat(cold.batch, name) for name in pads_of(cold.plan) if name in cold.tanks}
    hold, cases = cold.hold.values, []
    for name, pad in pads.items():
        first = Lowest.of(cold, cold.tanks[name], cold.tanks[name].transmittance[:2], pad)
        parked, driving = np.clip(first.outside, COLDEST, hold - 0.5)
        cases += [Case(hold, parked), Case(hold, driving, driving=True)]
    near = transmittances(cold.batch, [cold.tanks[name].heat for name in pads], cases)
    return {
        name: PadFrost(tanks[name], pad, near[place][2 * place : 2 * place + 2])
        for place, (name, pad) in enumerate(pads.items())
    }
