from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from vanwater.physics.accumulator import gas_pressure, water_held
from vanwater.physics.circuit import Circuit, Curves, water_behind
from vanwater.physics.pump import PumpCurve
from vanwater.physics.switching import ElasticStorage, Switch, volume_between

GRID = np.linspace(0.0, 3e5, 31)
PUMP = np.linspace(2e-4, 0.0, 31)
TAP = 3.2e-7 * np.sqrt(GRID)
BOTH = ElasticStorage(1e-3, 1.1e5, 98945.0, 6e-11)


def curves(**changed: object) -> Curves:
    tap = np.stack([np.zeros_like(TAP), TAP])[:, np.newaxis]
    given = {"pressure": GRID, "pump_flow": np.tile(PUMP, (2, 1)), "running": tap, "resting": tap}
    return Curves(**{**given, "start": np.full(2, 1.4e5), "stop": np.full(2, 2.4e5), **changed})  # type: ignore[arg-type]


@given(
    st.floats(0.2e-3, 5e-3),
    st.floats(0.2e5, 2.5e5),
    st.floats(1e-12, 1e-9),
    st.floats(1.0, 1.4),
    st.floats(0.0, 3e5),
)
def test_pressure_and_water_go_both_ways(
    volume: float, precharge: float, line: float, exponent: float, pressure: float
) -> None:
    storage = ElasticStorage(volume, precharge, 101325.0, line, exponent)
    circuit = Circuit(curves(), storage)
    water = water_behind(np.array([pressure]), storage)
    assert circuit.pressure_of(water) == pytest.approx([pressure], abs=1e-3)


def test_water_is_that_of_the_accumulator_and_of_the_line() -> None:
    p = np.array([0.5e5, 1.1e5, 2.0e5])
    gas = water_held(BOTH.volume, BOTH.precharge, p, BOTH.atmosphere)
    assert water_behind(p, BOTH) == pytest.approx(gas + 6e-11 * p, rel=1e-12)
    assert water_behind(0.5e5, BOTH) == pytest.approx(3e-6)  # below the pre-charge the line alone
    alone = Circuit(curves(), ElasticStorage(2e-3, 0.0, 101325.0))
    held = np.array([0.2e-3, 0.7e-3])
    assert alone.pressure_of(held) == pytest.approx(gas_pressure(2e-3, 0.0, held), abs=1e-4)
    switch = Switch(1.4e5, 2.4e5, PumpCurve(np.array([0.0, 2e-4]), np.array([2.9e5, 0.0]), 12.0, 12.0))
    between = water_behind(2.4e5, BOTH) - water_behind(1.4e5, BOTH)
    assert float(between) == pytest.approx(float(volume_between(switch, BOTH)), rel=1e-12)


def test_an_orifice_is_kept_from_few_pressures() -> None:
    circuit = Circuit(curves(), BOTH)
    assert circuit.flow[1, 0] == pytest.approx(3.2e-7 * np.sqrt(circuit.pressure), rel=1e-12)
    assert np.all(np.diff(circuit.net, axis=-1) <= 0.0)
    assert {1.4e5, 2.4e5, 1.1e5} <= set(circuit.pressure.tolist())


def test_at_the_lowest_pressure_no_more_is_drawn_than_the_pump_brings() -> None:
    greedy = np.stack([np.zeros_like(TAP), TAP + 5e-4])[:, np.newaxis]
    circuit = Circuit(curves(running=greedy, resting=greedy), BOTH)
    assert circuit.net[3, 0] == pytest.approx(0.0, abs=1e-18)
    assert circuit.net[3, 1] < 0.0


def test_the_switch_may_stop_at_the_highest_pressure_and_start_above_the_lowest() -> None:
    assert curves(stop=np.full(2, GRID[-1])).stop[0] == GRID[-1]
    assert curves(start=np.full(2, np.nextafter(GRID[0], 1.0))).start[0] > GRID[0]


@pytest.mark.parametrize(
    "marks",
    [
        {"start": np.full(2, np.nextafter(GRID[14], 4e5))},
        {"stop": np.full(2, np.nextafter(GRID[-1], 0.0))},
        {"start": np.full(2, np.nextafter(GRID[0], 1.0))},
    ],
)
def test_pressures_that_rounding_alone_tells_apart_are_one(marks: dict[str, object]) -> None:
    circuit = Circuit(curves(**marks), BOTH)
    assert (circuit.pressure[0], circuit.pressure[-1]) == (GRID[0], GRID[-1])
    assert np.diff(circuit.pressure).min() > 1e-7


@pytest.mark.parametrize(
    ("changed", "named"),
    [
        ({"pressure": GRID[::-1]}, "pressure"),
        ({"pressure": GRID[:-1]}, "curves"),
        ({"pump_flow": np.tile(PUMP[::-1], (2, 1))}, "pump_flow"),
        ({"running": -np.stack([TAP, TAP])[:, np.newaxis]}, "running"),
        ({"resting": np.stack([TAP[::-1], TAP])[:, np.newaxis]}, "resting"),
        ({"start": np.full(2, 2.5e5)}, "stop"),
        ({"start": np.zeros(2)}, "start"),
        ({"stop": np.full(2, 4e5)}, "start"),
    ],
)
def test_curves_that_cannot_be_are_refused(changed: dict[str, object], named: str) -> None:
    with pytest.raises(ValueError, match=named):
        curves(**changed)


def test_something_must_yield_at_every_pressure() -> None:
    with pytest.raises(ValueError, match="nothing yields"):
        Circuit(curves(), ElasticStorage(1e-3, 1.1e5))
