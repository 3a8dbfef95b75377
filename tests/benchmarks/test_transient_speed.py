"""How fast a minute behind a switched pump is followed; run with --benchmark-enable.

Aims on one core: a minute with the network's curves known below 1 ms, making them below 10 ms, all minutes of a
plan with their ranges below 25 ms; the findings on drips, hand-washes and shutting taps below 0.5 ms.
"""

from __future__ import annotations

import numpy as np
import pytest
from pytest_benchmark.fixture import BenchmarkFixture
from scipy.integrate import solve_ivp

from tests.examples import example
from vanwater.answers.pump_starts.cycle import UNSURE, pump_cycle
from vanwater.answers.pump_starts.findings import cycle_findings
from vanwater.answers.pump_starts.hammer import hammer_finding
from vanwater.answers.pump_starts.over_time import minutes
from vanwater.answers.pump_starts.time_charts import flow_in, pressure_in
from vanwater.physics.transient import follow
from vanwater.plan.model import Plan
from vanwater.system.batch import Batch, low_and_high
from vanwater.system.over_time import Behind, circuits, scripts

FAMILY = example("family-winter")
CYCLES = FAMILY.changed({"outlets.shower.flow": 1.2e-3 / 60}, si=True)
CHATTERS = CYCLES.changed({"accumulators": None})


def behind(plan: Plan, name: str) -> tuple[Behind, list[int]]:
    script = scripts(plan)[name]
    one = circuits(Batch(plan), script.pump, script.opened)[0]
    assert len(one.circuit.legs) == 2 * len(one.sets)
    return one, [one.sets.index(opened) for opened in script.opened]


@pytest.mark.parametrize(
    ("plan", "name", "starts"),
    [(FAMILY, "evening", 1), (CYCLES, "shower", 3), (CHATTERS, "shower", 200)],
    ids=["two outlets", "cycling", "chattering without accumulator"],
)
def test_a_minute_with_known_curves(benchmark: BenchmarkFixture, plan: Plan, name: str, starts: int) -> None:
    script, (one, opened) = scripts(plan)[name], behind(plan, name)
    assert benchmark(follow, one.circuit, script.begin, opened, script.until).starts.size >= starts


def test_a_minute_with_making_the_curves(benchmark: BenchmarkFixture) -> None:
    assert benchmark(lambda: behind(FAMILY, "evening")[0].outlets)


def fresh() -> tuple[tuple[Plan], dict[str, object]]:
    """A plan that was never asked: what it keeps of an earlier question does not count."""
    return (FAMILY.changed({"van.revision": "5"}),), {}


def test_all_minutes_of_a_plan_with_their_ranges(benchmark: BenchmarkFixture) -> None:
    def told(plan: Plan) -> int:
        return sum(number.values.size for minute in minutes(plan).values() for number in minute)

    assert benchmark.pedantic(told, setup=fresh, rounds=30) >= 9  # type: ignore[no-untyped-call]


def test_both_charts_of_a_minute(benchmark: BenchmarkFixture) -> None:
    minute = minutes(FAMILY)["evening"]
    assert benchmark(lambda: (pressure_in(minute), flow_in(minute)))[0].x.high == 60.0


def test_drip_hand_wash_and_hammer_of_a_new_plan(benchmark: BenchmarkFixture) -> None:
    cycle = pump_cycle(Batch(FAMILY, low_and_high(UNSURE)), "pump")

    def told(plan: Plan) -> int:
        return len([*cycle_findings(plan, cycle), *hammer_finding(plan, "pump")])

    assert benchmark.pedantic(told, setup=fresh, rounds=30) == 5  # type: ignore[no-untyped-call]


def test_the_same_minute_by_an_integrator_with_events(benchmark: BenchmarkFixture) -> None:
    """What small steps in time cost: the open shower that cycles, on the same curves."""
    one, (_, shower, _) = behind(CYCLES, "shower")
    made = one.circuit

    def stepped() -> int:
        level, running, now, switched = made.stop[shower], False, 0.0, 0
        while now < 58.0:
            net = made.net[shower + made.sets * running]
            goal = made.stop[shower] if running else made.start[shower]

            def event(_: float, water: np.ndarray, goal: float = goal) -> float:
                return float(water[0] - goal) * 1e4

            event.terminal = True  # type: ignore[attr-defined]
            event.direction = 1.0 if running else -1.0  # type: ignore[attr-defined]
            found = solve_ivp(
                lambda _, water, net=net: [np.interp(water[0], made.water, net)],
                (now, 58.0),
                [level],
                events=event,
                rtol=1e-6,
                atol=1e-10,
            )
            level, now = float(found.y[0, -1]), float(found.t[-1])
            if found.status == 1:
                running, switched = not running, switched + 1
        return switched

    assert benchmark(stepped) >= 5
