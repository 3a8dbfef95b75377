import json
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from vanwater.physics.accumulator import (
    drawdown,
    gas_pressure,
    precharge_elsewhere,
    precharge_setting,
    water_held,
)
from vanwater.physics.atmosphere import air_pressure

BAR, LITRE = 1e5, 1e-3
VANS = json.loads((Path(__file__).parents[2] / "data" / "validation" / "worked_vans.json").read_text(encoding="utf-8"))
SCENARIOS = {scenario["id"]: scenario for scenario in VANS["scenarios"]}

VOLUMES = st.floats(0.2e-3, 5e-3)
GAUGE = st.floats(0.3e5, 3.5e5)
AIR = st.floats(0.7e5, 1.03e5)
EXPONENT = st.floats(1.0, 1.4)


def expected(scenario, quantity):
    return next(row for row in scenario["expected"] if row["quantity"] == quantity)


@pytest.mark.parametrize("scenario", SCENARIOS.values(), ids=SCENARIOS.keys())
def test_worked_van_drawdown(scenario):
    own, supply = scenario["inputs"]["accumulator"], scenario["inputs"]["supply"]
    given = drawdown(
        own["volume_L"] * LITRE,
        own["precharge_bar"] * BAR,
        supply["cut_in_bar"] * BAR,
        supply["cut_out_bar"] * BAR,
        air_pressure(supply["altitude_m"]),
    )
    judge = expected(scenario, "drawdown of the accumulator")
    assert judge["tolerance_kind"] == "rel" and judge["tolerance"] >= 1e-4
    assert float(given) / LITRE == pytest.approx(judge["value"], rel=1e-4)


@pytest.mark.parametrize(("cut_in", "factor"), [(20, 0.345), (30, 0.295), (40, 0.257)])
def test_a_precharge_two_psi_below_cut_in_gives_the_factors_of_well_tanks(cut_in, factor):
    """Figures of the trade's tables (from memory): cut-out is 20 psi above cut-in."""
    psi = 6894.757
    given = drawdown(1.0, (cut_in - 2) * psi, cut_in * psi, (cut_in + 20) * psi, 14.7 * psi)
    assert float(given) == pytest.approx(factor, abs=1e-3)


def test_gauge_reading_of_a_sealed_storage_follows_the_temperature():
    """1.30 bar at 20 °C reads 1.06 bar at −10 °C and 1.46 bar at 40 °C at the same place."""
    air = 101325.0
    reading = precharge_elsewhere(1.3 * BAR, air, 293.15, air, np.array([263.15, 313.15])) / BAR
    np.testing.assert_allclose(reading, [1.06, 1.46], atol=0.005)


def test_thin_air_raises_the_reading_by_what_the_atmosphere_lost():
    high = float(air_pressure(2000.0))
    assert float(precharge_elsewhere(1.3e5, 101325.0, 290.0, high, 290.0)) == pytest.approx(1.3e5 + 101325.0 - high)


@given(VOLUMES, GAUGE, GAUGE, AIR, EXPONENT)
def test_pressure_and_water_are_one_law(volume, precharge, pressure, air, exponent):
    water = water_held(volume, precharge, pressure, air, exponent)
    back = gas_pressure(volume, precharge, water, air, exponent)
    assert float(back) == pytest.approx(max(pressure, precharge), rel=1e-9)


@given(VOLUMES, GAUGE, GAUGE, st.floats(0.1e5, 2e5), AIR)
def test_boyle_holds_between_the_switch_pressures(volume, precharge, cut_in, span, air):
    """p V of the gas is the same at cut-in and at cut-out wherever the gas has been squeezed."""
    cut_out = cut_in + span
    gas_in = volume - water_held(volume, precharge, cut_in, air)
    gas_out = volume - water_held(volume, precharge, cut_out, air)
    given_water = drawdown(volume, precharge, cut_in, cut_out, air)
    assert float(given_water) == pytest.approx(float(gas_in - gas_out), rel=1e-9, abs=1e-15)
    if precharge <= cut_in:
        assert float(gas_in * (cut_in + air)) == pytest.approx(float(gas_out * (cut_out + air)), rel=1e-12)


@given(VOLUMES, GAUGE, GAUGE, st.floats(0.1e5, 2e5), AIR, st.floats(1.01, 1.4))
def test_a_fast_swing_never_gives_more_than_a_slow_one_from_cut_in(volume, precharge, cut_in, span, air, exponent):
    """Between pre-charge at cut-in and cut-out a stiffer gas takes less water."""
    slow, fast = (drawdown(volume, cut_in, cut_in, cut_in + span, air, n) for n in (1.0, exponent))
    assert float(fast) < float(slow)


def test_a_precharge_above_cut_in_hardly_changes_the_drawdown_and_above_cut_out_leaves_none():
    at, above, far = (float(drawdown(1e-3, p, 1.4e5, 2.4e5)) for p in (1.4e5, 1.6e5, 2.5e5))
    assert 0.75 * at < above < at
    assert far == 0.0


@given(GAUGE, st.floats(0.0, 0.3e5), AIR, st.floats(263.0, 303.0), AIR, st.floats(263.0, 323.0))
def test_the_setting_leaves_just_the_margin_on_the_worst_day(cut_in, margin, air, now, thin, hot):
    setting = precharge_setting(cut_in, margin, air, now, thin, hot)
    if setting + air > 1.0:
        assert float(precharge_elsewhere(setting, air, now, thin, hot)) == pytest.approx(cut_in - margin, abs=1e-4)


def test_rows_broadcast():
    given_water = drawdown(np.array([1e-3, 2e-3]), 1.3e5, np.array([[1.4e5], [1.5e5]]), 2.4e5)
    assert given_water.shape == (2, 2)
    np.testing.assert_allclose(given_water[:, 1], 2.0 * given_water[:, 0])


@pytest.mark.parametrize(
    ("call", "message"),
    [
        (lambda: drawdown(1e-3, 1.3e5, 2.4e5, 1.4e5), "cut_out: expected above cut_in"),
        (lambda: drawdown(-1e-3, 1.3e5, 1.4e5, 2.4e5), "volume"),
        (lambda: drawdown(1e-3, -1.1e5, 1.4e5, 2.4e5), "precharge"),
        (lambda: drawdown(1e-3, 1.3e5, 1.4e5, 2.4e5, 0.0), "atmosphere"),
        (lambda: drawdown(1e-3, 1.3e5, 1.4e5, 2.4e5, 1e5, 0.9), "exponent"),
        (lambda: gas_pressure(1e-3, 1.3e5, 1e-3), "water"),
        (lambda: precharge_elsewhere(1.3e5, 1e5, 0.0, 1e5, 290.0), "temperature"),
    ],
)
def test_the_impossible_is_refused_by_name(call, message):
    with pytest.raises(ValueError, match=message):
        call()
