import json
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from vanwater.physics.electric import battery_current, battery_energy
from vanwater.physics.heater import HEAT_OF_WATER, charge_volume, heating_energy, recovery_time, showers_in_a_row
from vanwater.physics.instant import instant_flow
from vanwater.physics.vessel import run_content

ZERO, LITRE, WH = 273.15, 1e-3, 3600.0
VANS = json.loads((Path(__file__).parents[2] / "data" / "validation" / "worked_vans.json").read_text(encoding="utf-8"))
SCENARIOS = {scenario["id"]: scenario for scenario in VANS["scenarios"]}


def expected(scenario, quantity):
    return next(row for row in scenario["expected"] if row["quantity"] == quantity)


def worked(scenario):
    given, power, leg = (scenario["inputs"][k] for k in ("heater", "electric", "supply"))
    volume, cold, hot = given["volume_L"] * LITRE, given["T_cold"] + ZERO, given["T_set"] + ZERO
    shower = scenario["inputs"]["uses"]["shower"]
    content = run_content(leg["hot_leg"]["bore_mm"] * 1e-3, leg["hot_leg"]["length_m"])
    heat = heating_energy(shower["litres"] * LITRE, cold, shower["T"] + ZERO)
    with_leg = battery_energy(heat + heating_energy(content, cold, hot), power["path_efficiency"])
    usable = power["battery_V"] * power["battery_Ah"] * WH * power["usable_share"]
    return {
        "recovery time, whole tank cold to set point, loss ignored": recovery_time(
            volume, cold, hot, given["element_W"]
        )
        / 60,
        "battery energy of one full recovery": battery_energy(
            heating_energy(volume, cold, hot), power["path_efficiency"]
        )
        / WH,
        "heat in the water of one shower": heat / WH,
        "battery energy of one shower, run-off of the hot leg not counted": battery_energy(
            heat, power["path_efficiency"]
        )
        / WH,
        "battery energy of one shower, one hot-leg content run off or left to cool counted": with_leg / WH,
        "share of the usable battery a shower (run-off counted)": 100 * with_leg / usable,
        "current from the battery while heating": battery_current(
            given["element_W"], power["battery_V"], power["path_efficiency"]
        ),
        "reheat time after one shower (energy balance, loss ignored)": recovery_time(
            shower["litres"] * LITRE, cold, shower["T"] + ZERO, given["element_W"]
        )
        / 60,
    }


@pytest.mark.parametrize("name", SCENARIOS)
@pytest.mark.parametrize("quantity", list(worked(SCENARIOS["S1"])))
def test_worked_van_heater(name, quantity):
    judge = expected(SCENARIOS[name], quantity)
    assert judge["tolerance_kind"] == "rel" and judge["tolerance"] >= 1e-4
    assert float(worked(SCENARIOS[name])[quantity]) == pytest.approx(judge["value"], rel=1e-4)


@pytest.mark.parametrize("scenario", SCENARIOS.values(), ids=SCENARIOS.keys())
def test_worked_van_litres_of_one_charge(scenario):
    given = scenario["inputs"]["heater"]
    mixed = scenario["inputs"]["uses"]["shower"]["T"] + ZERO
    litres = charge_volume(
        given["volume_L"] * LITRE, given["T_cold"] + ZERO, given["T_set"] + ZERO, mixed, np.array([1.0, 0.5, 0.0])
    )
    low, high = expected(scenario, "litres at shower temperature from one charge, element off: must lie between")[
        "value"
    ]
    assert float(litres[0]) / LITRE == pytest.approx(low, abs=0.005)
    assert float(litres[2]) / LITRE == pytest.approx(high, abs=0.005)
    assert low < float(litres[1]) / LITRE < high


COLD, RISE, WARM = st.floats(274.0, 295.0), st.floats(5.0, 60.0), st.floats(0.05, 1.0)


@given(st.floats(1e-3, 50e-3), COLD, RISE, WARM, st.floats(0.0, 1.0))
def test_no_charge_gives_more_than_its_heat(volume, cold, rise, part, mixing):
    mixed = cold + part * rise
    litres = float(charge_volume(volume, cold, cold + rise, mixed, mixing))
    held = float(heating_energy(volume, cold, cold + rise))
    assert float(heating_energy(litres, cold, mixed)) <= held * (1 + 1e-12)
    if mixing == 0.0:
        assert float(heating_energy(litres, cold, mixed)) == pytest.approx(held)


@given(st.floats(1e-3, 50e-3), COLD, RISE, st.floats(100.0, 3000.0))
def test_a_recovery_takes_what_the_element_gives(volume, cold, rise, power):
    seconds = float(recovery_time(volume, cold, cold + rise, power))
    assert seconds * power == pytest.approx(volume * HEAT_OF_WATER * rise)


def counted(charge, shower, lasting, pause, reheating, most=500):
    """A second method: shower after shower, the store emptied and refilled."""
    store = charge
    for done in range(most):
        store += reheating * lasting - shower
        if store < -1e-9 * shower:
            return done
        store += reheating * pause
    return np.inf


@given(
    st.floats(1e-3, 40e-3), st.floats(4e-3, 30e-3), st.floats(60.0, 600.0), st.floats(0.0, 1200.0), st.floats(0.0, 6e-5)
)
def test_showers_in_a_row_are_those_counted_one_by_one(charge, shower, lasting, pause, reheating):
    found = float(showers_in_a_row(charge, shower, lasting, pause, reheating))
    if 300 < found < np.inf:
        return  # so near to keeping up that counting takes too long
    near = [counted(charge * f, shower, lasting, pause, reheating) for f in (1 - 1e-9, 1, 1 + 1e-9)]
    assert found in near


def test_the_element_helps_the_next_showers():
    """By hand: 1300 W warm 0.69 L/min by 27 K, so (15 − 3.45) / (10.5 − 6.90) = 3.2 showers with pauses of 5 min."""
    reheating = instant_flow(1300.0, 285.15, 312.15)
    without, with_element = showers_in_a_row(15e-3, 10.5e-3, 300.0, 300.0, np.array([0.0, float(reheating)]))
    assert (float(without), float(with_element)) == (1.0, 3.0)


@pytest.mark.parametrize(
    ("call", "message"),
    [
        (lambda: recovery_time(10e-3, 285.0, 335.0, 0.0), "power"),
        (lambda: charge_volume(10e-3, 285.0, 335.0, 340.0, 0.0), "mixed"),
        (lambda: charge_volume(10e-3, 285.0, 335.0, 285.0, 0.0), "mixed"),
        (lambda: charge_volume(10e-3, 285.0, 335.0, 312.0, 1.5), "mixing"),
        (lambda: showers_in_a_row(10e-3, 0.0, 300.0, 0.0, 0.0), "shower"),
        (lambda: showers_in_a_row(10e-3, 5e-3, -1.0, 0.0, 0.0), "lasting"),
    ],
)
def test_the_impossible_is_refused_by_name(call, message):
    with pytest.raises(ValueError, match=message):
        call()
