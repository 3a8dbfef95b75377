"""How fast one way is solved: a plan with its unsure inputs and remedies is some seventy rows."""

from dataclasses import replace

import numpy as np
import pytest

from vanwater.physics.pressure_switch import switched_flow
from vanwater.physics.pump import PumpCurve
from vanwater.physics.series import COLD, COMMON, HOT, SeriesPath, series_flow
from vanwater.physics.switching import ElasticStorage

L_MIN = 1e-3 / 60
LINE = ElasticStorage(atmosphere=1.013e5, compliance=2e-10)


def rows_of_paths(rows, litres_at_a_bar):
    draw = np.random.default_rng(rows).uniform
    return SeriesPath(
        bore=np.array([0.0125, 0.010, 0.010, 0.010, 0.008]) * draw(0.97, 1.03, (rows, 1)),
        length=np.array([1.3, 0.6, 3.4, 2.2, 1.5]),
        k=np.array([7.5, 3.5, 13.0, 9.0, 1.5]) * draw(0.7, 1.3, (rows, 1)),
        roughness=1.5e-6,
        density=np.array([999.5, 999.5, 982.1, 999.5, 992.6]),
        viscosity=np.array([1.234e-3, 1.234e-3, 4.52e-4, 1.234e-3, 6.65e-4]),
        role=(COMMON, COMMON, HOT, COLD, COMMON),
        suction=(True, False, False, False, False),
        hot_share=draw(0.4, 0.7, rows),
        surface_height=-0.1,
        pump_height=0.1,
        outlet_height=1.75,
        outlet_constant=litres_at_a_bar * draw(0.75, 1.25, rows) * L_MIN / np.sqrt(1e5),
        pump=PumpCurve(
            np.array([0.0, 4.0, 8.0, 10.5, 12.0]) * L_MIN, np.array([2.9, 2.4, 1.7, 0.9, 0.0]) * 1e5, 12.0, 12.0
        ),
    )


@pytest.mark.parametrize("rows", [1, 70, 10_000])
def test_series_flow(benchmark, rows):
    path = rows_of_paths(rows, 6.0)
    found = benchmark(series_flow, path)
    assert found.reaches.all() and np.abs(found.residual).max() < 1e-6


def test_making_seventy_rows(benchmark):
    path = rows_of_paths(70, 6.0)
    assert benchmark(replace, path, outlet_height=1.6).runs.viscous.shape == (70, 5)


def test_seventy_rows_that_cycle(benchmark):
    path = rows_of_paths(70, 2.5)
    assert benchmark(switched_flow, path, series_flow(path), 1.2e5, 2.0e5, LINE).cycles.all()
