"""The sums behind the weight, worked out when they are asked for."""

from __future__ import annotations

from collections.abc import Callable, Iterator

import numpy as np

from vanwater.answers.core.statement import Amount
from vanwater.answers.core.working import Step, shown, step
from vanwater.answers.weight.findings import FULL, HOME, LEAVING, STATE, Carried
from vanwater.physics.mass import front_load, left_load, rear_load, right_load
from vanwater.physics.water import density
from vanwater.plan.model import Plan
from vanwater.quantities import MASS, VOLUME, Array
from vanwater.system.weight import STATES, Laden

__all__ = ["weight_sums"]

_ADDED = "sum of masses"

Parts = list[tuple[str, Amount | Step]]


def weight_sums(plan: Plan, found: Laden, borne: Carried) -> dict[str, Step]:
    """Every number on weight with its sum.

    Parameters
    ----------
    plan : Plan
        The plan.
    found : Laden
        Water and loads with their places.
    borne : Carried
        What the axles carry.

    Returns
    -------
    dict of str to Step
        Water and axles by state, what the axles carry, what may still be loaded.
    """
    return dict(_sums(plan, found, borne))


def _sums(plan: Plan, found: Laden, borne: Carried) -> Iterator[tuple[str, Step]]:
    if not found.things:
        return
    full = [_full(found, place, plan) for place in range(len(found.things))]
    wheelbase, track = plan.at("vehicle.wheelbase"), plan.at("vehicle.track")
    changes: dict[str, Step] = {}
    for state in (LEAVING, HOME, FULL):
        key = STATES[state]
        yield f"weight.{key}.water", _water(found, state, full)
        if wheelbase is not None:
            for axle, load in (("front", front_load), ("rear", rear_load)):
                changes[f"{key}.{axle}"] = _axle(found, state, full, axle, load, wheelbase)
                yield f"weight.{key}.{axle}", changes[f"{key}.{axle}"]
        if track is not None and np.isfinite(found.right[0, state]):
            yield f"weight.{key}.right", _sides(found, state, full, track)
    for axle, loads, ride in (
        ("front", borne.front, found.loads_front),
        ("rear", borne.rear, found.loads_rear),
    ):
        if np.isfinite(loads).all():
            worst = int(np.argmax(loads[:FULL]))
            water = changes.get(f"{STATES[worst]}.{axle}", Amount(0.0, MASS))
            yield f"weight.{axle}", _carries(plan, axle, STATES[worst], float(loads[worst]), float(ride[0]), water)
    if np.isfinite(borne.payload):
        yield "weight.payload", _payload(plan, found, borne)


def _full(found: Laden, place: int, plan: Plan) -> Step:
    thing = found.things[place]
    cold = plan.at("site.cold_water")
    weighs = step("cold water", density, temperature=cold)
    kilos = float(found.mass[0, place])
    return shown(
        f"{thing.name}, full",
        Amount(kilos, MASS),
        "The content at the overflow, standing level, times the density of the cold water.",
        facts=(("content", Amount(kilos / float(weighs.value), VOLUME)), ("density", weighs)),
        source="mass is volume times density",
    )


def _held(found: Laden, state: int, full: list[Step]) -> Iterator[tuple[int, Amount | Step]]:
    """What each thing holds in a state: the sum of a full one, or a share of it."""
    for place, whole in enumerate(full):
        share = float(found.filled[0, state, place])
        if share > 0.0:
            yield place, whole if share == 1.0 else Amount(share * float(whole.value), MASS)


def _water(found: Laden, state: int, full: list[Step]) -> Step:
    parts: Parts = [(found.things[place].name, held) for place, held in _held(found, state, full)]
    total = Amount(float(found.water[0, state]), MASS)
    return shown(f"water, {STATE[STATES[state]]}", total, "What tanks and heaters hold.", parts=parts, source=_ADDED)


def _axle(found: Laden, state: int, full: list[Step], axle: str, load: Callable[..., Array], wheelbase: float) -> Step:
    parts: Parts = []
    for place, held in _held(found, state, full):
        x, name = float(found.x[0, place]), found.things[place].name
        if np.isfinite(x):
            made = step(f"{name} on the {axle} axle", load, mass=held, position=x, wheelbase=wheelbase)
            parts.append((name, made))
    total = found.front if axle == "front" else found.rear
    return shown(
        f"{axle} axle against dry, {STATE[STATES[state]]}",
        Amount(float(total[0, state]), MASS),
        "What each puts on it, by its place between the axles.",
        parts=parts,
        facts=(("without a place, not counted", Amount(float(found.unplaced[0, state]), MASS)),)
        if found.unplaced[0, state] > 0.0
        else (),
        source="balance of moments",
    )


def _sides(found: Laden, state: int, full: list[Step], track: float) -> Step:
    parts: Parts = []
    for place, held in _held(found, state, full):
        y, name = float(found.y[0, place]), found.things[place].name
        right = step(f"{name} on the right", right_load, mass=held, offset=y, track=track)
        left = step(f"{name} on the left", left_load, mass=held, offset=y, track=track)
        parts += [(f"{name}, right", right), (f"{name}, left", Amount(-float(left.value), MASS))]
    return shown(
        f"right over left, {STATE[STATES[state]]}",
        Amount(float(found.right[0, state]), MASS),
        "What the right-hand wheels carry more than the left-hand ones.",
        parts=parts,
        source="balance of moments",
    )


def _carries(plan: Plan, axle: str, state: str, load: float, ride: float, water: Amount | Step) -> Step:
    parts: Parts = [("weighed empty", Amount(plan.at(f"vehicle.empty_{axle}"), MASS, 4))]
    parts += [("people and loads", Amount(ride, MASS))] if plan.loads else []
    return shown(
        f"{axle} axle, {STATE[state]}",
        Amount(load, MASS, 4),
        "The weighed empty van with people, loads and water, in the state that loads this axle most on the road.",
        parts=(*parts, ("water", water)),
        source=_ADDED,
    )


def _payload(plan: Plan, found: Laden, borne: Carried) -> Step:
    state = LEAVING if borne.total[LEAVING] >= borne.total[HOME] else HOME
    empty = plan.at("vehicle.empty_front") + plan.at("vehicle.empty_rear")
    parts: Parts = [
        ("permitted total", Amount(borne.most_total, MASS, 4)),
        ("weighed empty", Amount(-empty, MASS, 4)),
        ("people and loads", Amount(-float(found.loads_mass[0]), MASS)),
        (f"water, {STATE[STATES[state]]}", Amount(-float(found.water[0, state]), MASS)),
    ]
    return shown(
        "payload left",
        Amount(borne.payload, MASS),
        "What the permitted total leaves beside the weighed van, people, loads and water.",
        parts=parts,
        source=_ADDED,
    )
