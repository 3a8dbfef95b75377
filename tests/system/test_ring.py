from __future__ import annotations

import numpy as np
import pytest

from tests.system.test_hot_line import RING
from vanwater.physics import water
from vanwater.physics.friction import friction_loss, velocity
from vanwater.physics.pump import pump_rise
from vanwater.system.batch import Batch, Row
from vanwater.system.hot_line import rings
from vanwater.system.pump import pump_curve
from vanwater.system.ring import ring_flow, ring_gaps
from vanwater.system.supply import runs_numbers

(ONE,) = rings(RING)


def test_the_pump_s_rise_is_what_the_runs_take_at_its_flow() -> None:
    batch = Batch(RING, [Row("volts", {"pumps.small pump.volts": 9.0}), Row("long", {"runs.return.length": 9.0})])
    solved = ring_flow(batch, ONE)
    numbers = runs_numbers(batch, ONE.runs)
    hot = batch.number("heaters.heater.set_point")[:, None]
    density, flow = water.density(hot), solved.flow[:, None]
    lost = friction_loss(flow, numbers.bore, numbers.length, numbers.roughness, density, water.viscosity(hot))
    lost = lost + numbers.k * density * velocity(flow, numbers.bore) ** 2 / 2.0
    assert np.stack(list(solved.losses.values()), axis=-1) == pytest.approx(lost, rel=1e-9)
    assert solved.rise == pytest.approx(lost.sum(axis=-1), rel=1e-9)
    assert solved.rise == pytest.approx(pump_rise(solved.flow, pump_curve(batch, "small pump")), rel=1e-9)
    assert solved.residual.max() < 1e-6
    assert solved.flow[0] > solved.flow[1] > 0
    assert solved.flow[0] > solved.flow[2] > 0


def test_hot_line_s_content_is_that_of_its_runs() -> None:
    metres = sum(RING.runs[run].length or 0.0 for run in ("hot trunk", "hot shower line"))
    bore = float(runs_numbers(Batch(RING), ("hot trunk",)).bore[0, 0])
    assert ring_flow(Batch(RING), ONE).content == pytest.approx(np.pi / 4 * bore**2 * metres)


def test_foam_and_a_warmer_room_keep_heat_in() -> None:
    foamed = {f"runs.{run}.foam": 0.013 for run in ONE.runs}
    rows = [Row("foam", foamed), Row("warm", {"frost.room": 308.15}), Row("hotter than it", {"frost.room": 340.0})]
    heat = np.sum(list(ring_flow(Batch(RING, rows), ONE).heat.values()), axis=0)
    assert heat[1] < 0.6 * heat[0]
    assert 0 < heat[2] < heat[0]
    assert heat[3] == 0


def test_what_is_missing_is_named() -> None:
    assert ring_gaps(RING, ONE) == ()
    plan = RING.changed({"runs.return.length": None, "runs.return end.size": None, "pumps.small pump.curve": None})
    assert ring_gaps(plan, ONE) == ("pumps.small pump.curve", "runs.return end.bore", "runs.return.length")
