from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from vanwater.physics.circuit import Circuit, Curves
from vanwater.physics.cycling import starts_at_draw
from vanwater.physics.pump import PumpCurve
from vanwater.physics.small_draws import start_chance, starts_meanwhile
from vanwater.physics.switching import ElasticStorage, Switch, volume_between
from vanwater.physics.transient import follow

CURVE = PumpCurve(np.array([0, 4, 8, 10.5, 12]) / 6e4, np.array([2.9, 2.4, 1.7, 0.9, 0]) * 1e5, 12.0, 12.0)
SWITCH = Switch(1.4e5, 2.4e5, CURVE)
GAS, LINE = ElasticStorage(1e-3, 1.3e5, 98945.0), ElasticStorage(compliance=6e-11)
NIGHT, DRIP = 8 * 3600.0, 0.2e-3 / 3600


def test_a_night_is_its_hours_times_the_starts_an_hour() -> None:
    for storage in (GAS, LINE):
        hourly = float(starts_at_draw(DRIP, SWITCH, storage)) * 3600
        assert float(starts_meanwhile(NIGHT, DRIP, SWITCH, storage)) == pytest.approx(8 * hourly, rel=1e-12)


def test_a_drip_goes_by_the_water_between_the_switch_pressures() -> None:
    lost = NIGHT * DRIP  # 1.6 L in the night, and the pump's own run is short
    for storage in (GAS, LINE):
        by_litres = lost / float(volume_between(SWITCH, storage))
        assert float(starts_meanwhile(NIGHT, DRIP, SWITCH, storage)) == pytest.approx(by_litres, rel=1e-3)
    assert float(starts_meanwhile(NIGHT, 0.0, SWITCH, GAS)) == 0.0


def test_impossible_draws_are_refused() -> None:
    with pytest.raises(ValueError, match="duration"):
        starts_meanwhile(-1.0, DRIP, SWITCH, GAS)
    with pytest.raises(ValueError, match="given"):
        start_chance(1e-3, 0.0)
    with pytest.raises(ValueError, match="draw"):
        start_chance(-1e-3, 1e-3)


@given(st.floats(0.0, 3.0), st.floats(0.01, 3.0))
def test_a_chance_is_a_share_that_grows_with_the_draw(draw: float, held: float) -> None:
    chance = float(start_chance(draw, held))
    assert 0.0 <= chance <= 1.0
    assert chance <= float(start_chance(1.5 * draw, held))
    assert chance == 1.0 or chance == pytest.approx(draw / held)


@pytest.mark.parametrize("share", [0.2, 0.55, 0.9])
def test_the_chance_counts_the_fillings_from_which_a_wash_starts_the_pump(share: float) -> None:
    grid = np.linspace(1.3e5, 2.5e5, 49)
    pump, draw = np.maximum(CURVE.flow_at(grid), 0.0), 3e-3 / 60
    tap = np.stack([np.zeros_like(grid), np.full_like(grid, draw)])[:, np.newaxis]
    curves = Curves(grid, np.tile(pump, (2, 1)), tap, tap, np.full(2, 1.4e5), np.full(2, 2.4e5))
    circuit = Circuit(curves, GAS)
    litres = share * float(volume_between(SWITCH, GAS))
    fillings = (np.arange(200) + 0.5) / 200
    started = [follow(circuit, [0.0], [1], litres / draw, charge).starts.size > 0 for charge in fillings]
    assert np.mean(started) == pytest.approx(float(start_chance(share, 1.0)), abs=0.5 / 200 + 1e-9)


def test_draws_alike_one_after_the_other_start_it_less_often() -> None:
    held, wash = 1.0, 0.4
    left, starts = held, 0
    for _ in range(3000):
        left -= wash
        if left <= 0.0:
            starts, left = starts + 1, held
    assert starts / 3000 == pytest.approx(1 / 3, abs=1e-3)  # one in ceil(1 / 0.4), where the formula says 0.4
    assert starts / 3000 < float(start_chance(wash, held))
