from __future__ import annotations

import math

import numpy as np
import pytest

from tests.examples import example
from vanwater.answers.outlets.outlet import UNSURE
from vanwater.physics.series import series_flow
from vanwater.system.batch import Batch, low_and_high
from vanwater.system.network import open_together
from vanwater.system.series import series_case
from vanwater.system.thermostat import mixer_constant, scalding_outlets, set_temperature, thermostatic
from vanwater.system.ways import way_to

FAMILY = example("family-winter")
KV = 1.2 / 3600 / math.sqrt(1e5)
VALVE = FAMILY.changed(
    {
        "mixers.shower mixer.kind": "thermostatic",
        "mixers.shower mixer.kv": KV,
        "mixers.shower mixer.set": 273.15 + 40,
        "runs.hot shower line.fittings": {"push-fit tee run": 1, "push-fit elbow": 3},
        "runs.cold shower line.fittings": {"push-fit tee run": 1, "push-fit elbow": 2},
    },
    si=True,
)


def test_what_the_plan_says_of_the_valve() -> None:
    batch = Batch(VALVE, low_and_high(UNSURE))
    fittings = batch.factor("fittings")
    assert mixer_constant(batch, "shower mixer") == pytest.approx(KV / np.sqrt(fittings))
    assert fittings.min() < 1 < fittings.max()
    assert np.all(set_temperature(batch, "shower mixer") == 313.15)
    for plan, mixer in ((FAMILY, "shower mixer"), (VALVE, "galley mixer"), (VALVE, "shower"), (VALVE, "")):
        assert not thermostatic(plan, mixer)
        assert np.all(np.isinf(mixer_constant(Batch(plan), mixer)))
        assert np.all(np.isnan(set_temperature(Batch(plan), mixer)))


def test_one_outlet_alone_is_the_network_s_in_every_row() -> None:
    batch = Batch(VALVE, low_and_high(UNSURE))
    alone = series_flow(series_case(batch, way_to(VALVE, "shower")).physics)
    solved = open_together(batch, [("shower",)])
    # the series lifts the whole way at the cold water's density, the network each run at its own
    assert solved.flow[0, :, 0] == pytest.approx(alone.flow, rel=1e-3)
    assert np.all(alone.valve_loss > 1e3)
    assert solved.residual.max() < 1e-3


def test_the_valve_is_set_not_the_outlet() -> None:
    case = series_case(Batch(VALVE), way_to(VALVE, "shower"))
    assert case.mixed[0] == 313.15
    free = VALVE.changed({"mixers.shower mixer.set": None, "outlets.shower.temperature": 273.15 + 37}, si=True)
    assert series_case(Batch(free), way_to(free, "shower")).mixed[0] == 310.15
    hotter = float(case.physics.hot_share[0])  # type: ignore[index]
    assert hotter > float(series_case(Batch(free), way_to(free, "shower")).physics.hot_share[0])  # type: ignore[index]


def test_a_valve_that_is_set_mild_keeps_the_hot_water_from_its_outlet() -> None:
    assert scalding_outlets(FAMILY, "heater", 316.15) == ("shower", "galley tap")
    assert scalding_outlets(VALVE, "heater", 316.15) == ("galley tap",)
    assert scalding_outlets(VALVE, "heater", 312.15) == ("shower", "galley tap")
    assert scalding_outlets(VALVE, "heater", -np.inf) == ("shower", "galley tap")
