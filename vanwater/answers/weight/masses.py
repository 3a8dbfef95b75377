"""The numbers of the weight: water and axles state by state, what may be carried, what is left to load."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property, partial
from typing import Literal, TypeAlias

import numpy as np

from vanwater.answers.core.key import Key
from vanwater.answers.core.number import Number
from vanwater.answers.core.working import Part, by, planned, stated, step
from vanwater.physics import mass, water
from vanwater.quantities import DENSITY, MASS, PLACE, VOLUME, Array
from vanwater.system.batch import Batch
from vanwater.system.weight import STATES, Laden, Thing

__all__ = ["FULL", "HOME", "LEAVING", "STATE", "Axle", "Masses"]

Axle: TypeAlias = Literal["front", "rear"]

LEAVING, HOME, FULL = (STATES.index(state) for state in ("leaving", "home", "full"))

STATE: Mapping[str, str] = {
    "dry": "all dry",
    "leaving": "leaving full",
    "home": "coming home",
    "full": "everything full",
}
"""The states of a trip in words."""

_ADDED, _MOMENTS = "sum of masses", "balance of moments"
_EXACT = "as sure as the masses and places in the plan"


@dataclass(frozen=True, eq=False)
class Masses:
    """What the water weighs and what that puts on axles and sides [kg]; by state in the order of ``STATES``.

    Parameters
    ----------
    batch : Batch
        The plan with its rows.
    laden : Laden
        What holds water and what rides along, with their places.
    """

    batch: Batch
    laden: Laden

    @property
    def drained(self) -> bool:
        """Whether its water is drained."""
        return self.batch.plan.water.drained

    @cached_property
    def full(self) -> tuple[Number, ...]:
        """What each tank and heater holds up to its overflow, standing level."""
        temperature = self.batch.number("site.cold_water")
        cold = by("cold water", self.laden.density, DENSITY, water.density, temperature=temperature)
        return tuple(
            _weighed(
                f"{thing.name}, full",
                "The content at the overflow, standing level, times the density of the cold water.",
                self.laden.mass[:, place],
                (*_key(thing), "mass"),
                facts=(("content", (self.laden.content[:, place], VOLUME)), ("density", cold)),
                source="mass is volume times density",
            )
            for place, thing in enumerate(self.laden.things)
        )

    @cached_property
    def riding(self) -> tuple[Number, ...]:
        """What each load weighs."""
        return tuple(planned(self.batch.plan, f"{load.address}.mass", MASS) for load in self.laden.loads)

    @cached_property
    def places(self) -> tuple[Number, ...]:
        """How far behind the front axle each tank, heater and load sits."""
        things = (*self.laden.things, *self.laden.loads)
        return tuple(planned(self.batch.plan, f"{thing.address}.x", PLACE) for thing in things)

    @cached_property
    def on_front(self) -> tuple[Number, ...]:
        """What each tank, heater and load puts on the front axle when full."""
        return self._on("front", mass.front_load, self.laden.on_front, self.laden.load_front)

    @cached_property
    def on_rear(self) -> tuple[Number, ...]:
        """What each tank, heater and load puts on the rear axle when full."""
        return self._on("rear", mass.rear_load, self.laden.on_rear, self.laden.load_rear)

    def _on(self, axle: Axle, law: Callable[..., Array], held: Array, ridden: Array) -> tuple[Number, ...]:
        things = (*self.laden.things, *self.laden.loads)
        loads, places = np.hstack([held, ridden]), np.hstack([self.laden.x, self.laden.load_x])
        wheelbase = self.batch.number("vehicle.wheelbase")
        return tuple(
            by(
                f"{thing.name} on the {axle} axle",
                loads[:, place],
                MASS,
                law,
                mass=own,
                position=places[:, place],
                wheelbase=wheelbase,
            ).keyed(*_key(thing), f"on_{axle}", exact=_EXACT)
            for place, (thing, own) in enumerate(zip(things, (*self.full, *self.riding), strict=True))
        )

    @cached_property
    def water(self) -> tuple[Number, ...]:
        """All the water, by state."""
        return self._by_state("water", "What tanks and heaters hold.", self.laden.water, self.full, ("van", "water"))

    @cached_property
    def front(self) -> tuple[Number, ...]:
        """What it puts on the front axle against dry, by state."""
        return self._by_state(
            "front axle against dry", _BY_PLACE, self.laden.front, self.on_front, ("axle", "front", "water"), _MOMENTS
        )

    @cached_property
    def rear(self) -> tuple[Number, ...]:
        """What it puts on the rear axle against dry, by state."""
        return self._by_state(
            "rear axle against dry", _BY_PLACE, self.laden.rear, self.on_rear, ("axle", "rear", "water"), _MOMENTS
        )

    @cached_property
    def right(self) -> tuple[Number, ...]:
        """What the right-hand wheels carry more than the left-hand ones, by state."""
        return tuple(
            _weighed(
                f"right over left, {words}",
                "What the right-hand wheels carry more than the left-hand ones.",
                self.laden.right[:, state],
                ("van", "right_over_left", key),
                partial(self._sides, state),
                source=_MOMENTS,
            )
            for state, (key, words) in enumerate(STATE.items())
        )

    @cached_property
    def behind(self) -> tuple[Number, ...]:
        """Where the centre of all the water lies behind the front axle, by state; nan where some has no place."""
        return tuple(
            step(
                f"centre of the water behind the front axle, {words}",
                mass.centre_behind,
                on_rear=np.full_like(on.values, np.nan) if self.laden.unplaced[0, state] > 0.0 else on,
                mass=self.water[state],
                wheelbase=self.batch.number("vehicle.wheelbase"),
            ).keyed("van", "water_centre", "behind", key, exact=_EXACT)
            for (state, (key, words)), on in zip(enumerate(STATE.items()), self.rear, strict=True)
        )

    @cached_property
    def beside(self) -> tuple[Number, ...]:
        """Where the centre of all the water lies right of the centre line, by state."""
        return tuple(
            step(
                f"centre of the water right of the centre line, {words}",
                mass.centre_right,
                right_over_left=more,
                mass=self.water[state],
                track=self.batch.number("vehicle.track"),
            ).keyed("van", "water_centre", "right", key, exact=_EXACT)
            for (state, (key, words)), more in zip(enumerate(STATE.items()), self.right, strict=True)
        )

    @cached_property
    def front_load(self) -> tuple[Number, ...]:
        """What the front axle carries with people and loads, by state."""
        return self._carried("front", self.laden.loads_front, self.front)

    @cached_property
    def rear_load(self) -> tuple[Number, ...]:
        """What the rear axle carries with people and loads, by state."""
        return self._carried("rear", self.laden.loads_rear, self.rear)

    @cached_property
    def total(self) -> tuple[Number, ...]:
        """What the van weighs with people and loads, by state."""
        return self._carried("total", self.laden.loads_mass, self.water)

    @cached_property
    def payload(self) -> Number:
        """What may still be loaded in the heavier of leaving and coming home; below zero where it is too much."""
        state = LEAVING if self.total[LEAVING].likely >= self.total[HOME].likely else HOME
        heavier = np.maximum(self.total[LEAVING].values, self.total[HOME].values)
        words = f"less the van, {list(STATE.values())[state]}"
        return _weighed(
            "payload left",
            "What the permitted total leaves beside the weighed van, people, loads and water.",
            self.batch.number("vehicle.permitted_total") - heavier,
            ("van", "payload"),
            (("permitted total", self.permitted("total")), (words, (-heavier, MASS))),
            facts=(("the van then", self.total[state]),),
        )

    def permitted(self, which: str) -> Number:
        """What the vehicle's plate permits on an axle ("front", "rear") or in "total"."""
        return planned(self.batch.plan, f"vehicle.permitted_{which}", MASS, 4)

    def _by_state(
        self, name: str, method: str, masses: Array, each: Sequence[Number], key: Key, source: str = _ADDED
    ) -> tuple[Number, ...]:
        """Something that what is held adds up to, each tank by how full it is in a state."""
        return tuple(
            _weighed(
                f"{name}, {words}",
                method,
                masses[:, state],
                (*key, place),
                partial(self._held, state, each),
                facts=self._lost(state) if source == _MOMENTS else (),
                source=source,
            )
            for state, (place, words) in enumerate(STATE.items())
        )

    def _held(self, state: int, each: Sequence[Number]) -> list[Part]:
        """The number of what is full, a share of it of what is not."""
        parts: list[Part] = []
        for place, thing in enumerate(self.laden.things):
            share = float(self.laden.filled[0, state, place])
            if share > 0.0 and np.isfinite(each[place].likely):
                parts.append((thing.name, each[place] if share == 1.0 else (share * each[place].likely, MASS)))
        return parts

    def _lost(self, state: int) -> tuple[Part, ...]:
        lost = self.laden.unplaced[:, state]
        return (("without a place, not counted", (lost, MASS)),) if lost[0] > 0.0 else ()

    def _sides(self, state: int) -> list[Part]:
        parts: list[Part] = []
        track = self.batch.number("vehicle.track")
        for side, law, loads, sign in (
            ("right", mass.right_load, self.laden.on_right, 1.0),
            ("left", mass.left_load, self.laden.on_left, -1.0),
        ):
            for place, thing in enumerate(self.laden.things):
                share = float(self.laden.filled[0, state, place])
                name, offset = f"{thing.name} on the {side}", self.laden.y[:, place]
                own = by(name, loads[:, place], MASS, law, mass=self.full[place], offset=offset, track=track)
                if share > 0.0:
                    part: Part = (name, own if sign * share == 1.0 else (sign * share * own.likely, MASS))
                    parts.append(part)
        return parts

    def _carried(self, which: str, riders: Array, change: Sequence[Number]) -> tuple[Number, ...]:
        ends = ("front", "rear") if which == "total" else (which,)
        empty = [planned(self.batch.plan, f"vehicle.empty_{end}", MASS, 4) for end in ends]
        weighed = np.sum([self.batch.number(f"vehicle.empty_{end}") for end in ends], axis=0)
        aboard: list[Part] = [(f"{end} axle, weighed empty", own) for end, own in zip(ends, empty, strict=True)]
        aboard += [("people and loads", (riders, MASS))] if self.laden.loads else []
        name = "all of it" if which == "total" else f"{which} axle"
        return tuple(
            _weighed(
                f"{name}, {words}",
                "The weighed empty van with people, loads and water.",
                weighed + riders + change[state].values,
                ("van", "mass", key) if which == "total" else ("axle", which, "load", key),
                (*aboard, ("water", change[state])),
            )
            for state, (key, words) in enumerate(STATE.items())
        )


_BY_PLACE = "What each puts on it, by its place between the axles."


def _weighed(
    name: str,
    method: str,
    masses: Array,
    key: Key,
    parts: Sequence[Part] | Callable[[], Sequence[Part]] = (),
    facts: Sequence[Part] = (),
    source: str = _ADDED,
) -> Number:
    own = stated(name, masses, MASS, method, parts=parts, facts=facts, source=source)
    return own.keyed(*key, exact=_EXACT, digits=4)


def _key(thing: Thing) -> Key:
    kind = "heater" if thing.kind == "heater" else "load" if thing.kind == "load" else "tank"
    return kind, thing.name
