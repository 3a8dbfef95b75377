"""What keeping the sum costs beside the sum itself; run with --benchmark-enable."""

from __future__ import annotations

import math

import numpy as np
from pytest_benchmark.fixture import BenchmarkFixture

from vanwater.answers.core.working import step
from vanwater.quantities import Area, Array, Bore, Flow, Real, Speed


def speed(flow: Flow[Real], bore: Bore[Real], area: Area[Real] = 1.0) -> Speed[Array]:
    """Mean speed in a run.

    Formula: 4 Q/(π D²)

    Parameters
    ----------
    flow : float or array
        Flow, Q [m³/s].
    bore : float or array
        Inner diameter, D [m].
    area : float or array
        Not used [m²].

    Returns
    -------
    array
        Speed [m/s].
    """
    return np.asarray(4 * flow / (math.pi * np.asarray(bore) ** 2))


FLOWS = np.full(70, 1e-4)
BORES = np.linspace(0.01, 0.02, 70)


def test_the_sum_alone(benchmark: BenchmarkFixture) -> None:
    assert benchmark(speed, FLOWS, BORES).shape == (70,)


def test_the_sum_kept_as_a_step(benchmark: BenchmarkFixture) -> None:
    assert benchmark(step, "speed", speed, flow=FLOWS, bore=BORES).values.shape == (70,)
