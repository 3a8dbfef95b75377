"""What puts energy back into the battery, state by state, and how warm the battery stands meanwhile."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from vanwater.physics import electric
from vanwater.physics.water import FREEZING_POINT
from vanwater.plan.chemistry import chemistries
from vanwater.plan.day import FULL_DAY, STATES
from vanwater.plan.winter import BESIDE
from vanwater.quantities import Array
from vanwater.system.batch import Batch
from vanwater.system.pads import mean_cold
from vanwater.system.surroundings import neighbours

__all__ = [
    "CHARGER",
    "STORED",
    "Charge",
    "bank_temperature",
    "barred",
    "charges",
    "charging_volts",
    "nominal_volts",
    "sun_yield",
]

Bools = npt.NDArray[np.bool_]

STORED = 0.9
"""Share of what is charged that can be drawn again, while it is not said what the cells are (common practice: lead 0.8
to 0.85, lithium iron phosphate 0.95)."""

CHARGER = 0.88
"""Share of the socket's power that a charger brings to the battery (common practice: 0.85 to 0.92)."""

ABOVE_NOMINAL = 14.2 / 12.8
"""Charging volts over nominal ones, where they are not said (common practice)."""


@dataclass(frozen=True, slots=True, eq=False)
class Charge:
    """What one source puts into the battery, along the rows.

    Parameters
    ----------
    key : str
        "charging" for what the plan states as a whole, "sun", "alternator" or "shore".
    label : str
        What it is called in a table.
    power : array, shape (states, rows)
        Mean power of what can be drawn again, while the van is in a state [W].
    """

    key: str
    label: str
    power: Array


def bank_temperature(batch: Batch) -> Array:
    """How warm the battery stands in each state, by what lies beside it at the mean cold.

    Parameters
    ----------
    batch : Batch
        The plan with its rows, which has a battery.

    Returns
    -------
    array, shape (states, rows)
        Temperature [K]; that of the room while the plan says no cold.
    """
    battery = batch.plan.battery
    assert battery is not None
    room, outside = batch.number("frost.room"), mean_cold(batch)
    outside = np.where(np.isfinite(outside), outside, room)
    place: Array = neighbours(batch, outside).temperature[BESIDE.index(battery.beside)]
    left_cold = (np.array(STATES) == "unheated")[:, None]
    return np.where(left_cold, np.minimum(place, outside), place)


def barred(batch: Batch) -> Bools:
    """Where the battery takes no charge: lithium iron phosphate below freezing that does not heat itself.

    Parameters
    ----------
    batch : Batch
        The plan with its rows, which has a battery.

    Returns
    -------
    array of bool, shape (states, rows)
        Never for cells of which nothing is said.
    """
    battery, shape = batch.plan.battery, (len(STATES), len(batch))
    assert battery is not None
    if battery.chemistry is None or chemistries()[battery.chemistry].charged_in_frost or battery.heated is not None:
        return np.zeros(shape, dtype=np.bool_)
    return np.asarray(bank_temperature(batch) < FREEZING_POINT)


def nominal_volts(batch: Batch) -> Array:
    """Volts of the whole bank: batteries in series add theirs [V]."""
    return batch.number("battery.volts") * batch.number("battery.series")


def charging_volts(batch: Batch) -> Array:
    """Volts at which the bank is charged on the road and at a socket [V]."""
    said = batch.number("alternator.volts") if batch.plan.alternator is not None else np.full(len(batch), np.nan)
    return np.where(np.isnan(said), ABOVE_NOMINAL * nominal_volts(batch), said)


def sun_yield(batch: Batch) -> Array:
    """What the panels give, as its mean over the day; nothing without panels [W]."""
    if batch.plan.sun is None:
        return np.zeros(len(batch))
    return np.asarray(batch.number("sun.panels") * batch.number("sun.full_sun") / FULL_DAY)


def charges(batch: Batch, at_socket: Array, direct: Array) -> tuple[Charge, ...]:
    """What each source puts back.

    Parameters
    ----------
    batch : Batch
        The plan with its rows.
    at_socket : array, shape (states, rows)
        What else is drawn from the socket in each state [W].
    direct : array, shape (rows,)
        What the sun gives at once to what runs meanwhile, as its mean over the day [W].

    Returns
    -------
    tuple of Charge
        Sun and what is stated as a whole come all day; what is stated as a whole is what can be drawn again.
    """
    return tuple(_charges(batch, at_socket, direct)) if batch.plan.battery is not None else ()


def _charges(batch: Batch, at_socket: Array, direct: Array) -> Iterator[Charge]:
    plan = batch.plan
    assert plan.battery is not None
    cells = plan.battery.chemistry
    stored = STORED if cells is None else chemistries()[cells].stored
    taken = np.where(barred(batch), 0.0, batch.factor("charging"))
    yield Charge("charging", "charging", taken * batch.number("battery.charging"))
    if plan.sun is not None:
        yield Charge("sun", "sun", taken * (stored * (sun_yield(batch) - direct) + direct))
    here = {state: (np.array(STATES) == state)[:, None] for state in ("driving", "shore")}
    if plan.alternator is not None:
        power = electric.charging_energy(batch.number("alternator.current"), charging_volts(batch), 1.0, stored)
        yield Charge("alternator", "alternator", taken * np.where(here["driving"], power, 0.0))
    if plan.shore is not None:
        left = np.maximum(batch.number("shore.limit") * batch.number("shore.volts") - at_socket, 0.0) * CHARGER
        most = np.minimum(batch.number("shore.charger") * charging_volts(batch), left)
        yield Charge("shore", "socket", taken * stored * np.where(here["shore"], most, 0.0))
