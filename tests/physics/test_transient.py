from __future__ import annotations

import json
from pathlib import Path

import numpy as np
import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st
from scipy.integrate import solve_ivp

from tests.physics.pulse import pulse, steady_pressure
from vanwater.physics._legs import integral
from vanwater.physics.atmosphere import air_pressure
from vanwater.physics.circuit import Circuit, Curves, water_behind
from vanwater.physics.cycling import starts_at_draw
from vanwater.physics.pump import PumpCurve
from vanwater.physics.switching import ElasticStorage, Switch
from vanwater.physics.transient import Transient, follow

CURVE = PumpCurve(np.array([0, 4, 8, 10.5, 12]) / 6e4, np.array([2.9, 2.4, 1.7, 0.9, 0]) * 1e5, 12.0, 12.0)
CUT_IN, CUT_OUT = 1.4e5, 2.4e5
SWITCH = Switch(CUT_IN, CUT_OUT, CURVE)
GAS = ElasticStorage(1e-3, 1.3e5, 98945.0, 6e-11)
GRID = np.unique(np.concatenate([CURVE.rise, np.linspace(0.0, 2.9e5, 59)]))
SHUT, WASH, TAP, SHOWER = range(4)
DRAW, LIFT = 2e-3 / 60, 0.16e5
SMALL, LARGE = 1.2e-7, 6e-7
SCRIPT = ([0.0, 2.0, 14.0, 27.5, 40.0, 52.0], [SHUT, TAP, SHOWER, TAP, WASH, SHUT])


def outflow(constant: float, pressure: np.ndarray) -> np.ndarray:
    return constant * np.sqrt(np.maximum(pressure - LIFT, 0.0))


def circuit(storage: ElasticStorage = GAS, nodes: int = 192, draw: float = DRAW) -> Circuit:
    pump = np.maximum(CURVE.flow_at(GRID), 0.0)
    none = np.zeros_like(GRID)
    flows = np.array(
        [
            [none, none],
            [none + draw, none],
            [none, outflow(SMALL, GRID)],
            [none + draw, outflow(LARGE, GRID)],
        ]
    )
    return Circuit(
        Curves(GRID, np.tile(pump, (4, 1)), flows, flows, np.full(4, CUT_IN), np.full(4, CUT_OUT)), storage, nodes
    )


def judged(made: Circuit, begin: list[float], opened: list[int], until: float) -> tuple[list[float], list[float]]:
    """Starts and stops by small steps in time with events, on the same straight pieces of curve."""
    starts: list[float] = []
    stops: list[float] = []
    level, running = made.stop[0], False
    for index, first, last in zip(opened, begin, [*begin[1:], until], strict=True):
        now = first
        while now < last:
            net = made.net[index + made.sets * running]
            goal = made.stop[index] if running else made.start[index]

            def event(_: float, water: np.ndarray, goal: float = goal) -> float:
                return float(water[0] * 1e4 - goal * 1e4)

            event.terminal = True  # type: ignore[attr-defined]
            event.direction = 1.0 if running else -1.0  # type: ignore[attr-defined]
            found = solve_ivp(
                lambda _, water, net=net: [np.interp(water[0], made.water, net)],
                (now, last),
                [level],
                events=event,
                rtol=1e-10,
                atol=1e-13,
                max_step=0.05,
            )
            level, now = float(found.y[0, -1]), float(found.t[-1])
            if found.status == 1:
                running = not running
                (starts if running else stops).append(now)
    return starts, stops


def test_switch_times_are_those_of_an_integrator_with_events() -> None:
    made = circuit()
    seen = follow(made, *SCRIPT, 60.0)
    starts, stops = judged(made, *SCRIPT, 60.0)
    assert len(starts) >= 3 and len(stops) >= 3
    assert seen.starts == pytest.approx(starts, abs=1e-5)
    assert seen.stops == pytest.approx(stops, abs=1e-5)


def test_the_law_itself_is_met_however_it_is_cut_into_pieces() -> None:
    """Against the orifice law and the pump's points, without any nodes."""

    def slope(_: float, pressure: np.ndarray, constant: float, running: bool) -> list[float]:
        p = pressure[0]
        absolute = p + GAS.atmosphere
        gas = GAS.volume * (GAS.precharge + GAS.atmosphere) / absolute**2 if p > GAS.precharge else 0.0
        net = float(CURVE.flow_at(np.asarray(p))) * running - float(outflow(constant, np.asarray(p)))
        return [float(net / (gas + GAS.compliance))]

    times, state, now = [], (CUT_OUT, False), 0.0
    for _ in range(5):

        def event(_: float, pressure: np.ndarray, *given: float) -> float:
            return float(pressure[0] - (CUT_OUT if given[1] else CUT_IN))

        event.terminal = True  # type: ignore[attr-defined]
        found = solve_ivp(
            slope,
            (now, now + 1e3),
            [state[0]],
            events=event,
            args=(SMALL, state[1]),
            rtol=1e-9,
            atol=1e-3,
            max_step=0.5,
        )
        now, state = float(found.t[-1]), (CUT_OUT if state[1] else CUT_IN, not state[1])
        times.append(now)
    for nodes, near in ((96, 1e-3), (768, 1.6e-5)):
        seen = follow(circuit(nodes=nodes), [0.0], [TAP], 120.0)
        switched = np.sort(np.concatenate([seen.starts, seen.stops]))[: len(times)]
        assert switched == pytest.approx(times, rel=near)


def test_a_steady_draw_cycles_as_often_as_the_closed_form_says() -> None:
    seen = follow(circuit(), [0.0], [WASH], 300.0)
    starts = float(starts_at_draw(DRAW, SWITCH, GAS))
    assert np.diff(seen.starts) == pytest.approx(1.0 / starts, rel=2e-5)
    fine = follow(circuit(nodes=3000), [0.0], [WASH], 300.0)
    assert np.diff(fine.starts) == pytest.approx(1.0 / starts, rel=2e-7)


@pytest.mark.parametrize("exponent", [1.0, 1.2, 1.4])
def test_an_open_tap_pulses_as_the_closed_form_says(exponent: float) -> None:
    storage = ElasticStorage(1e-3, 1.3e5, 98945.0, 6e-11, exponent)
    told = pulse(SMALL, LIFT, SWITCH, storage)
    seen = follow(circuit(storage), [0.0], [TAP], 200.0)
    assert seen.stops[1:] - seen.starts[1 : seen.stops.size] == pytest.approx(float(told.on), rel=5e-5)
    assert np.diff(seen.starts) == pytest.approx(float(told.on + told.off), rel=5e-5)
    count = seen.starts.size - 1
    inside = (seen.time >= seen.starts[0] - 1e-9) & (seen.time <= seen.starts[-1] + 1e-9)
    assert seen.pressure[inside].min() == pytest.approx(CUT_IN) and seen.pressure.max() == pytest.approx(CUT_OUT)
    assert seen.outlet_flow[1].max() == pytest.approx(float(told.flow_high), rel=1e-4)
    mean = np.trapezoid(seen.outlet_flow[1, inside], seen.time[inside]) / np.ptp(seen.starts)
    assert mean == pytest.approx(float(told.mean), rel=1e-4)
    assert count > 5


def test_a_large_draw_settles_where_the_curves_cross() -> None:
    seen = follow(circuit(draw=0.0), [0.0], [SHOWER], 120.0)
    assert seen.starts.size == 1 and seen.stops.size == 0
    assert seen.pressure[-1] == pytest.approx(float(steady_pressure(LARGE, LIFT, SWITCH)), rel=1e-4)
    assert seen.pump_flow[-1] == pytest.approx(seen.outlet_flow[:, -1].sum(), rel=1e-9)


def test_without_a_draw_nothing_starts() -> None:
    seen = follow(circuit(), [0.0], [SHUT], 1e5)
    assert not seen.starts.size and not seen.stops.size
    assert np.all(seen.pressure == pytest.approx(CUT_OUT))
    assert seen.pumped == 0.0 and np.all(seen.drawn == 0.0)


def test_a_huge_accumulator_holds_its_pressure() -> None:
    seen = follow(circuit(ElasticStorage(1e3, 1.3e5, 98945.0, 6e-11)), *SCRIPT, 60.0, 0.5)
    assert np.ptp(seen.pressure) < 5.0
    assert not seen.starts.size


def test_by_the_line_alone_it_chatters_as_often_as_the_closed_form_says() -> None:
    line = ElasticStorage(atmosphere=98945.0, compliance=6e-11)
    seen = follow(circuit(line), [0.0], [WASH], 60.0)
    assert seen.starts.size == pytest.approx(60.0 * float(starts_at_draw(DRAW, SWITCH, line)), abs=1.0)
    assert np.diff(seen.starts) == pytest.approx(1.0 / float(starts_at_draw(DRAW, SWITCH, line)), rel=1e-5)
    assert seen.time.size < 30 * seen.starts.size  # a chart needs no more of each cycle
    assert seen.drawn[0] == pytest.approx(60.0 * DRAW, rel=1e-9)  # and yet every drop is counted


@pytest.mark.parametrize("storage", [GAS, ElasticStorage(atmosphere=98945.0, compliance=6e-11)], ids=["gas", "line"])
def test_at_every_switching_two_points_share_its_time(storage: ElasticStorage) -> None:
    seen = follow(circuit(storage), *SCRIPT, 60.0)
    turned = np.flatnonzero(seen.running[:-1] != seen.running[1:])
    assert np.all(np.diff(seen.time)[turned] == 0.0)
    assert set(seen.time[turned]) >= set(seen.starts) | set(seen.stops)


def test_cycles_laid_side_by_side_equal_those_followed_one_by_one() -> None:
    made = circuit()
    whole = follow(made, [0.0], [TAP], 90.0)
    cut = follow(made, list(np.arange(0.0, 90.0, 3.0)), [TAP] * 30, 90.0)
    assert whole.starts.size > 6
    assert cut.starts == pytest.approx(whole.starts, abs=1e-9)
    assert cut.stops == pytest.approx(whole.stops, abs=1e-9)
    assert cut.drawn == pytest.approx(whole.drawn, rel=1e-9)


def balance(seen: Transient) -> float:
    return float(seen.drawn.sum() - seen.pumped + (seen.water[-1] - seen.water[0]))


@settings(max_examples=60, deadline=None)
@example([11.8], [2] * 8, 0.6, 1.0686e-3, 30000.000000000004, 1.05, 1.49e-10)  # beside a pressure of the curves
@given(
    st.lists(st.floats(0.05, 12.0), min_size=1, max_size=8),
    st.lists(st.integers(0, 3), min_size=8, max_size=8),
    st.floats(0.0, 1.0),
    st.floats(0.1e-3, 4e-3),
    st.floats(0.3e5, 2.6e5),
    st.floats(1.0, 1.4),
    st.floats(2e-12, 3e-10),
)
def test_what_flows_out_is_pumped_in_or_taken_from_store(
    spans: list[float],
    sets: list[int],
    charge: float,
    volume: float,
    precharge: float,
    exponent: float,
    line: float,
) -> None:
    begin = np.concatenate([[0.0], np.cumsum(spans)])
    storage = ElasticStorage(volume, precharge, 98945.0, line, exponent)
    seen = follow(circuit(storage), begin[:-1].tolist(), sets[: len(spans)], float(begin[-1]), charge)
    moved = max(float(seen.drawn.sum()), seen.pumped, float(np.ptp(seen.water)), 1e-9)
    assert balance(seen) == pytest.approx(0.0, abs=1e-9 * moved)
    assert np.all(np.diff(seen.time) >= 0.0)
    assert water_behind(seen.pressure, storage) == pytest.approx(seen.water, rel=1e-9, abs=1e-15)
    changes = sorted([*((t, 1) for t in seen.starts), *((t, 0) for t in seen.stops)])
    assert [kind for _, kind in changes] == [place % 2 == 0 for place in range(len(changes))]
    assert np.all(seen.pressure <= CUT_OUT + 1e-3)
    assert np.all(seen.outlet_flow >= 0.0)


@pytest.mark.parametrize("turn", [-30.0, -2.0, -9e-4, -1e-6, 0.0, 5e-4, 1.0])
def test_water_moved_between_two_points_is_the_integral(turn: float) -> None:
    nodes, weights = np.polynomial.legendre.leggauss(60)
    time, rate, slope = 3.0, 2e-5, 0.7
    at = 0.5 * time * (nodes + 1.0)
    steep = turn / time
    gained = rate * (np.expm1(steep * at) / steep if steep else at)
    for value in (0.0, 1e-4):
        judge = 0.5 * time * float(np.sum(weights * (value + slope * gained)))
        told = integral(*(np.array([one]) for one in (value, slope, rate, steep, time)))
        assert float(told[0]) == pytest.approx(judge, rel=1e-11)


def test_the_pump_runs_below_cut_in_and_rests_above_cut_out() -> None:
    seen = follow(circuit(), *SCRIPT, 60.0)
    assert np.all(seen.running[seen.pressure < CUT_IN - 1.0])
    assert np.all(seen.pump_flow[~seen.running] == 0.0)
    assert np.all(seen.outlet_flow[1, seen.opened == WASH] == 0.0)
    litres = np.trapezoid(seen.outlet_flow, seen.time, axis=-1)
    assert litres == pytest.approx(seen.drawn, rel=1e-3)


def test_the_pre_charge_above_cut_in_stutters_on_the_line_alone() -> None:
    seen = follow(circuit(ElasticStorage(1e-3, 1.8e5, 98945.0, 6e-11)), [0.0], [WASH], 60.0)
    fast = follow(circuit(ElasticStorage(1e-3, 1.3e5, 98945.0, 6e-11)), [0.0], [WASH], 60.0)
    before = seen.starts[0]
    at_precharge = float(np.interp(-1.8e5, -seen.pressure[seen.time <= before], seen.time[seen.time <= before]))
    assert before - at_precharge == pytest.approx(6e-11 * 0.4e5 / DRAW, rel=1e-3)
    assert fast.starts[0] > before


@pytest.mark.parametrize(
    ("given_", "named"),
    [
        (([1.0], [SHUT], 60.0, 1.0), "begin"),
        (([0.0, 5.0, 4.0], [0, 1, 0], 60.0, 1.0), "begin"),
        (([0.0], [SHUT], 0.0, 1.0), "begin"),
        (([0.0], [9], 60.0, 1.0), "opened"),
        (([0.0], [SHUT], 60.0, 1.5), "charge"),
    ],
)
def test_scripts_that_cannot_be_are_refused(given_: tuple[list[float], list[int], float, float], named: str) -> None:
    with pytest.raises(ValueError, match=named):
        follow(circuit(), *given_)


VANS = json.loads((Path(__file__).parents[2] / "data" / "validation" / "worked_vans.json").read_text(encoding="utf-8"))


@pytest.mark.parametrize("name", ["S1", "S3"])
@pytest.mark.parametrize("fitted", [True, False], ids=["with accumulator", "without accumulator"])
def test_worked_vans_start_as_often_when_followed(name: str, fitted: bool) -> None:
    van = next(one for one in VANS["scenarios"] if one["id"] == name)
    own, supply = van["inputs"]["accumulator"], van["inputs"]["supply"]
    points = np.array(supply["pump"], dtype=float)
    curve = PumpCurve(points[:, 0] / 6e4, points[:, 1] * 1e5, 12.0, 12.0)
    cut_in, cut_out = supply["cut_in_bar"] * 1e5, supply["cut_out_bar"] * 1e5
    air = float(air_pressure(supply["altitude_m"]))
    line = own["line_compliance_mL_per_bar"] * 1e-11
    gas = ElasticStorage(own["volume_L"] * 1e-3, own["precharge_bar"] * 1e5, air)
    storage = gas if fitted else ElasticStorage(atmosphere=air, compliance=line)
    low, high = cut_in - 5e3, min(cut_out + 5e3, curve.rise.max())
    grid = np.unique(np.clip(np.concatenate([curve.rise, np.linspace(low, high, 81)]), low, high))
    draw = own["draw_L_min"] / 6e4
    tap = np.full((1, 1, grid.size), draw)
    pump = np.maximum(curve.flow_at(grid), 0.0)[np.newaxis]
    made = Circuit(Curves(grid, pump, tap, tap, np.array([cut_in]), np.array([cut_out])), storage, 800)
    seen = follow(made, [0.0], [0], 60.0)
    quantity = f"starts an hour, steady draw, {'with' if fitted else 'without'} accumulator"
    judge = next(one for one in van["expected"] if one["quantity"] == quantity)["value"]
    assert 3600.0 / np.diff(seen.starts).mean() == pytest.approx(judge, rel=2e-4)
