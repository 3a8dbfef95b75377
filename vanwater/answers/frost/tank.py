"""One tank in the cold: what it loses face by face, how long it lasts without heat."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property
from typing import Any

import numpy as np

from vanwater.answers.core.number import Number
from vanwater.answers.core.working import by, stated
from vanwater.answers.frost.cold import CASES, FILLS, STATES, Cold, TankCold, told_in
from vanwater.answers.frost.icing import to_block, to_burst
from vanwater.physics import cooling, frost, heat_loss, ice, tank_loss
from vanwater.physics.tank_faces import INSIDE_FILM
from vanwater.physics.water import FREEZING_POINT
from vanwater.plan.tanks import label_of
from vanwater.plan.winter import BESIDE
from vanwater.quantities import CONDUCTANCE, HOURS, POWER, TEMPERATURE, THICKNESS, TRANSMITTANCE, Array
from vanwater.system.heat import FACES
from vanwater.system.icing import open_row

__all__ = ["FaceLoss", "TankFrost"]


@dataclass(frozen=True, slots=True, eq=False)
class FaceLoss:
    """Faces of a tank that are alike.

    Parameters
    ----------
    names, beside : str
        Which ones, "bottom, left", and what lies beside them.
    foam : Number
        Insulation on them.
    loss : mapping of str to Number
        Heat that they lose at the temperature held, by state; negative when they are fed.
    """

    names: str
    beside: str
    foam: Number
    loss: Mapping[str, Number]


@dataclass(frozen=True, eq=False)
class TankFrost:
    """One tank in the cold; its numbers are made when they are first read.

    Parameters
    ----------
    cold : Cold
        The solved plan.
    tank : str
        A tank of it.
    """

    cold: Cold
    tank: str

    @cached_property
    def label(self) -> str:
        """What it is called in a sentence."""
        return label_of(self.tank)

    @property
    def solved(self) -> TankCold:
        """The solution along the rows."""
        return self.cold.tanks[self.tank]

    @cached_property
    def loss(self) -> Mapping[str, Number]:
        """Heat that it loses at the temperature held, "parked" and "driving"."""
        losses = self.solved.through[:2] * (self.cold.hold.values - self.solved.rest[:2])
        return {state: self._loss(state, losses[case]) for case, state in enumerate(STATES)}

    def _loss(self, state: str, losses: Array) -> Number:
        return stated(
            f"heat that the {self.label} loses {state}",
            losses,
            POWER,
            "The faces add up; a face beside something warmer feeds the tank and counts negative.",
            parts=lambda: [(face.names, face.loss[state]) for face in self.faces],
            source="faces in parallel, each film, wall and foam in series",
        ).keyed("tank", self.tank, "heat_loss", state, pairs=self.cold.pairs)

    @cached_property
    def through(self) -> Mapping[str, Number]:
        """Heat for each kelvin, by case."""
        return {
            case: by(
                f"heat for each degree, {self.label} {_words(case)}",
                self.solved.through[place],
                CONDUCTANCE,
                tank_loss.conductance,
                area=self.solved.heat.faces.area,
                transmittance=self.solved.transmittance[place],
            ).keyed("tank", self.tank, "conductance", case, pairs=self.cold.pairs)
            for place, case in enumerate(CASES)
        }

    @cached_property
    def rest(self) -> Mapping[str, Number]:
        """Temperature at which it comes to rest without heat, by case."""
        return {
            case: by(
                f"temperature of rest, {self.label} {_words(case)}",
                self.solved.rest[place],
                TEMPERATURE,
                tank_loss.equilibrium_temperature,
                area=self.solved.heat.faces.area,
                transmittance=self.solved.transmittance[place],
                neighbours=self.solved.beside[place],
            ).keyed("tank", self.tank, "rest", case, pairs=self.cold.pairs)
            for place, case in enumerate(CASES)
        }

    @cached_property
    def needed(self) -> Mapping[str, Number]:
        """Heat that holds it, none where its neighbours feed it, by case."""
        return {
            case: by(
                f"heat to hold the {self.label} {_words(case)}",
                self.solved.needed[place],
                POWER,
                frost.holding_power,
                conductance=self.through[case],
                hold=self.cold.hold,
                outside=self.rest[case],
            ).keyed("tank", self.tank, "heat_needed", case, pairs=self.cold.pairs, least=0.0)
            for place, case in enumerate(CASES)
        }

    @cached_property
    def hours(self) -> Mapping[str, Mapping[str, Number]]:
        """Time until 0 °C without heat by state, when "full", "half" and at its last "tenth"."""
        tank, start = self.solved, self.solved.start.values
        hours = cooling.time_until(start, FREEZING_POINT, tank.rest[:2, None], tank.through[:2, None], tank.mass)
        return {
            state: {fill: self._hours(state, fill, hours[case, place]) for place, fill in enumerate(FILLS)}
            for case, state in enumerate(STATES)
        }

    def _hours(self, state: str, fill: str, hours: Array) -> Number:
        return by(
            f"time until the {self.label} is at freezing, {state}, {'last tenth' if fill == 'tenth' else fill}",
            hours,
            told_in(hours[0]),
            cooling.time_until,
            start=self.solved.start,
            final=FREEZING_POINT,
            **self._cools(state, fill),
        ).keyed("tank", self.tank, "time_to_freezing", state, fill, pairs=self.cold.pairs, least=0.0, digits=2)

    def _cools(self, state: str, fill: str) -> dict[str, Any]:
        mass = self.solved.mass[list(FILLS).index(fill)]
        return {"outside": lambda: self.rest[state], "conductance": lambda: self.through[state], "mass": mass}

    @cached_property
    def freezing(self) -> Number:
        """Time at 0 °C until ice blocks its outlet, full and parked."""
        share, tank = to_block(self.cold), self.solved
        return by(
            f"time at freezing until the {self.label} is blocked",
            frost.freezing_time(share.values, tank.mass[0], tank.through[0], tank.rest[0]),
            HOURS,
            frost.freezing_time,
            ice_share=share,
            **self._cools("parked", "full"),
        ).keyed("tank", self.tank, "time_at_freezing", "parked", "full", pairs=self.cold.pairs, least=0.0)

    @cached_property
    def blocked(self) -> Mapping[str, Number]:
        """Time until ice blocks its outlet, parked, by how full it is."""
        share = to_block(self.cold)
        return {fill: self._iced("time_to_ice", "blocked", share, fill) for fill in FILLS}

    @cached_property
    def burst(self) -> Number:
        """Time until it is nearly solid and in danger of bursting, full and parked."""
        return self._iced("time_to_burst", "in danger of bursting", to_burst(self.cold, open_row()), "full")

    def _iced(self, key: str, what: str, share: Number, fill: str) -> Number:
        tank, mass = self.solved, self.solved.mass[list(FILLS).index(fill)]
        hours = ice.time_to_ice(self.cold.start.values, share.values, tank.rest[0], tank.through[0], mass)
        return by(
            f"time until the {self.label} is {what}, parked, {'last tenth' if fill == 'tenth' else fill}",
            hours,
            told_in(hours[0]),
            ice.time_to_ice,
            start=self.cold.start,
            ice_share=share,
            **self._cools("parked", fill),
        ).keyed("tank", self.tank, key, "parked", fill, pairs=self.cold.pairs, least=0.0, digits=2)

    @cached_property
    def faces(self) -> tuple[FaceLoss, ...]:
        """Its faces; those with the same neighbour, foam and facing together."""
        heat, foam = self.solved.heat, np.asarray(self.solved.heat.layers.foam)
        alike: dict[tuple[int, float, str], list[int]] = {}
        for place in range(len(FACES)):
            key = (int(heat.codes[0, place]), float(foam[0, place]), heat.faces.facing[place].value)
            alike.setdefault(key, []).append(place)
        return tuple(self._alike(places, BESIDE[code], foam[:, places[0]]) for (code, *_), places in alike.items())

    def _alike(self, places: list[int], beside: str, foam: Array) -> FaceLoss:
        names = ", ".join(FACES[place] for place in places)
        insulation = stated(
            f"insulation on the {names} of the {self.label}",
            foam,
            THICKNESS,
            "As the face says it, else its tank; none where neither does.",
            source="the plan",
        ).keyed("tank", self.tank, "foam", names.replace(", ", "-"), exact="as planned")
        return FaceLoss(
            names, beside, insulation, {state: self._face(places, names, case) for case, state in enumerate(STATES)}
        )

    def _face(self, places: list[int], names: str, case: int) -> Number:
        area, u, beside = (
            values[:, places]
            for values in (self.solved.heat.faces.area, self.solved.transmittance[case], self.solved.beside[case])
        )
        return by(
            f"heat that the {names} of the {self.label} loses {STATES[case]}",
            np.sum(area * u * (self.cold.hold.values[:, None] - beside), axis=-1),
            POWER,
            tank_loss.net_loss,
            area=area,
            transmittance=lambda: self._transmittance(places, names, u),
            inside=self.cold.hold,
            neighbours=beside,
        ).keyed("tank", self.tank, "face_loss", names.replace(", ", "-"), STATES[case], pairs=self.cold.pairs)

    def _transmittance(self, places: list[int], names: str, u: Array) -> Number:
        """The film outside is what the solution found there."""
        layers = self.solved.heat.layers
        wall, solid, foam, soft, in_foam, skin = (
            np.asarray(layer)[:, places]
            for layer in (
                layers.wall,
                layers.wall_conductivity,
                layers.foam,
                layers.foam_conductivity,
                layers.foam_area,
                layers.skin_area,
            )
        )
        within = 1.0 / INSIDE_FILM + wall / solid + foam / soft / in_foam
        return by(
            f"transmittance of the {names}",
            u,
            TRANSMITTANCE,
            heat_loss.transmittance,
            inside_film=INSIDE_FILM,
            wall=wall,
            wall_conductivity=solid,
            foam=foam,
            foam_conductivity=soft,
            outside_film=1.0 / (1.0 / u - within) / skin,
            foam_area=in_foam,
            skin_area=skin,
        )


def _words(case: str) -> str:
    return case.replace("_", " ")
