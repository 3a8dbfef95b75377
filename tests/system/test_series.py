from __future__ import annotations

import numpy as np
import pytest

from tests.examples import example
from vanwater.physics.series import COLD, COMMON, HOT, series_flow
from vanwater.system.batch import Batch, Row
from vanwater.system.series import series_case
from vanwater.system.ways import way_to

FAMILY = example("family-winter")


def test_shower_parts_into_legs_with_their_own_water() -> None:
    way = way_to(FAMILY, "shower")
    case = series_case(Batch(FAMILY.changed({"tanks.fresh.temperature": "10 °C"})), way)
    roles = dict(zip(way.runs, np.asarray(case.physics.role).tolist(), strict=True))
    assert roles["suction"] == roles["handset hose"] == COMMON
    assert roles["hot shower line"] == HOT
    assert roles["cold shower line"] == COLD
    density = dict(zip(way.runs, np.asarray(case.physics.density)[0].tolist(), strict=True))
    assert density["heater feed"] == density["suction"] > density["handset hose"] > density["hot shower line"]
    assert case.physics.hot_share[0] == pytest.approx((38 - 10) / (60 - 10))


def test_surface_is_that_of_a_half_full_tank() -> None:
    case = series_case(Batch(FAMILY), way_to(FAMILY, "shower"))
    assert case.physics.surface_height[0] == pytest.approx(-0.32 + 0.12)


def test_volts_and_strength_reach_the_pump() -> None:
    rows = [Row("full", {"pumps.pump.volts": 13.6}), Row("weak", factors={"pumps": 0.85})]
    solved = series_flow(series_case(Batch(FAMILY, rows), way_to(FAMILY, "shower")).physics)
    assert solved.flow[1] > solved.flow[0] > solved.flow[2]
    assert np.abs(solved.residual).max() < 1e-6
