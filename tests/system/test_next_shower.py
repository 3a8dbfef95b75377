from __future__ import annotations

import numpy as np
import pytest

from vanwater.physics.heater import charge_volume, recovery_time
from vanwater.system.hot_water_demand import HeaterNumbers
from vanwater.system.next_shower import wait_for_next

COLD, HOT, MIXED = 283.15, 333.15, 311.15


def waited(before: float, **changed: float) -> float:
    values = {"volume": 10e-3, "power": 1200.0, "mixing": 0.25, "conductance": 0.0, "shower": 8e-3, **changed}
    column = {name: np.array([value]) for name, value in values.items()}
    shower = column.pop("shower")
    numbers = HeaterNumbers(
        **column,
        cold=np.array([COLD]),
        hot=np.array([HOT]),
        volts=np.array([np.nan]),
        inverter=np.ones(1),
        cable=np.ones(1),
        room=np.array([291.15]),
    )
    return float(wait_for_next(numbers, shower, np.array([MIXED]), np.array([80.0]), np.array([before]))[0])


def test_fully_mixed_it_waits_until_the_whole_is_hot_enough() -> None:
    """All of it is heated alike: to where V(T − Tm)/(Tm − Tc) is one shower, from where the first left it."""
    volume, shower, heat = 10e-3, 7e-3, 4186e3
    charge = float(charge_volume(volume, COLD, HOT, MIXED, 1.0))
    assert charge > shower
    hot_enough = MIXED + shower * (MIXED - COLD) / volume
    left = HOT - shower * (MIXED - COLD) / volume + 1200.0 * 80.0 / (heat * volume)
    closed = heat * volume * (hot_enough - left) / 1200.0
    assert waited(1.0, mixing=1.0, shower=shower) == pytest.approx(closed, rel=0.03, abs=30.0)


def test_without_stirring_what_is_left_on_top_is_ready_at_once() -> None:
    assert waited(1.0, mixing=0.0) == 0.0
    assert waited(2.0, mixing=0.0) > 0.0


def test_more_stirring_or_less_power_waits_longer() -> None:
    assert 0.0 < waited(1.0, shower=9e-3) < waited(1.0, shower=9e-3, mixing=0.45)
    assert waited(1.0, shower=9e-3, power=600.0) > waited(1.0, shower=9e-3)


def test_it_waits_no_longer_than_the_heater_takes_to_be_hot() -> None:
    assert waited(5.0) <= float(recovery_time(10e-3, COLD, HOT, 1200.0)) * 1.05


def test_what_a_charge_never_gives_is_never_ready() -> None:
    assert np.isnan(waited(1.0, shower=17e-3))
