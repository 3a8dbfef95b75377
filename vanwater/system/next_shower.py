"""How long a heater with a store takes until the next shower is warm, followed in its layers along the rows."""

from __future__ import annotations

import numpy as np

from vanwater.physics.heater import recovery_time
from vanwater.physics.heater_tank import HeaterTank, heater_run
from vanwater.quantities import Array
from vanwater.system.alike import followed_once
from vanwater.system.hot_water_demand import HeaterNumbers

__all__ = ["wait_for_next"]

LAYERS = 10
_DRAWN, _RESTS = 12, 30
"""Steps in which the showers before are drawn, and in which the heater then recovers."""
_MOST = 20.0
"""Showers that are followed at most."""


def wait_for_next(numbers: HeaterNumbers, shower: Array, mixed: Array, lasting: Array, before: Array) -> Array:
    """From the end of some showers until the next is warm from beginning to end.

    Parameters
    ----------
    numbers : HeaterNumbers
        The heater along the rows.
    shower, mixed, lasting : array, shape (rows,)
        Mixed water of a shower [m³], its temperature [K], how long it takes [s].
    before : array, shape (rows,)
        Showers that were taken one after the other, from a heater that was hot through [-].

    Returns
    -------
    array, shape (rows,)
        Time [s]; none where it is ready at once, NaN where the heater, off, is never ready for one.
    """
    given = (numbers.volume, numbers.power, numbers.cold, numbers.hot, numbers.mixing, numbers.conductance)
    columns = np.stack([*given, numbers.room, shower, mixed, lasting, np.minimum(before, _MOST)])
    waits, back = followed_once(_followed, columns)
    return waits[back]


def _followed(columns: Array) -> Array:
    volume, power, cold, hot, mixing, conductance, room, shower, mixed, lasting, before = columns
    recovery = 1.2 * np.maximum(recovery_time(volume, cold, hot, power), 0.0)  # a little longer, for the loss
    drawn = np.arange(_DRAWN + _RESTS) < _DRAWN
    tapped, step = (
        np.where(drawn, (showers / _DRAWN)[:, None], (rest / _RESTS)[:, None])
        for showers, rest in ((before * shower, np.zeros(volume.size)), (before * lasting, recovery))
    )
    tank = HeaterTank(
        volume=volume,
        power=power,
        set_point=hot,
        band=0.0,
        conductance=conductance,
        room=room,
        mixing=mixing,
        sensor=0.0,
    )
    run = heater_run(np.repeat(hot[:, None], LAYERS, -1), tapped, mixed[:, None], cold, tank, step)
    ready = run.ready[:, _DRAWN - 1 :] - shower[:, None] * (1.0 - 1e-9)
    place = np.argmax(ready >= 0.0, axis=-1)[:, None]
    after, till = (np.take_along_axis(ready, at, -1)[:, 0] for at in (place, np.maximum(place - 1, 0)))
    part = np.where(after > till, after / np.where(after > till, after - till, 1.0), 0.0)
    waited = np.maximum(place[:, 0] - np.clip(part, 0.0, 1.0), 0.0) * recovery / _RESTS
    return np.where(np.any(ready >= 0.0, axis=-1), waited, np.nan)
