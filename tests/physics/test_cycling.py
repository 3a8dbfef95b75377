import json
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import solve_ivp
from scipy.optimize import minimize_scalar

from vanwater.physics.atmosphere import air_pressure
from vanwater.physics.cycling import off_time, on_time, starts, starts_at_draw, starts_estimate, worst_draw
from vanwater.physics.pump import PumpCurve, pump_flow
from vanwater.physics.switching import ElasticStorage, Switch, volume_between

L_MIN, BAR, LITRE, HOUR = 1e-3 / 60, 1e5, 1e-3, 3600.0
VANS = json.loads((Path(__file__).parents[2] / "data" / "validation" / "worked_vans.json").read_text(encoding="utf-8"))
SCENARIOS = {scenario["id"]: scenario for scenario in VANS["scenarios"]}


def expected(scenario, quantity):
    return next(row for row in scenario["expected"] if row["quantity"] == quantity)


def of_van(scenario):
    own, supply = scenario["inputs"]["accumulator"], scenario["inputs"]["supply"]
    points = np.array(supply["pump"], dtype=float)
    curve = PumpCurve(points[:, 0] * L_MIN, points[:, 1] * BAR, 12.0, 12.0)
    switch = Switch(supply["cut_in_bar"] * BAR, supply["cut_out_bar"] * BAR, curve)
    gas = ElasticStorage(own["volume_L"] * LITRE, own["precharge_bar"] * BAR, float(air_pressure(supply["altitude_m"])))
    line = ElasticStorage(compliance=own["line_compliance_mL_per_bar"] * 1e-11)
    return switch, gas, line, own["draw_L_min"] * L_MIN


def worked(scenario):
    switch, gas, line, draw = of_van(scenario)
    worst = worst_draw(switch, gas)
    return {
        "starts an hour, steady draw, with accumulator": starts_at_draw(draw, switch, gas) * HOUR,
        "starts an hour, steady draw, without accumulator": starts_at_draw(draw, switch, line) * HOUR,
        "worst steady draw, with accumulator": worst / L_MIN,
        "starts an hour at the worst draw, with accumulator": starts_at_draw(worst, switch, gas) * HOUR,
    }


@pytest.mark.parametrize("name", SCENARIOS)
@pytest.mark.parametrize("quantity", list(worked(SCENARIOS["S1"])))
def test_worked_van_cycling(name, quantity):
    judge = expected(SCENARIOS[name], quantity)
    assert judge["tolerance_kind"] == "rel" and judge["tolerance"] >= 1e-4
    assert float(worked(SCENARIOS[name])[quantity]) == pytest.approx(judge["value"], rel=1e-4)


@pytest.mark.parametrize(("name", "on", "off", "rule"), [("S1", 3.77, 8.48, 363.9), ("S3", 2.63, 10.37, 449.5)])
def test_worked_van_times_and_the_trade_rule(name, on, off, rule):
    switch, gas, _, draw = of_van(SCENARIOS[name])
    assert float(on_time(draw, switch, gas)) == pytest.approx(on, abs=0.005)
    assert float(off_time(volume_between(switch, gas), draw)) == pytest.approx(off, abs=0.005)
    middle = pump_flow(0.5 * (switch.cut_in + switch.cut_out), switch.curve)
    assert float(starts_estimate(volume_between(switch, gas), middle)) * HOUR == pytest.approx(rule, rel=1e-3)


def marched(draw, switch, storage):
    """A second method: the pressure marched in time until the switch turns."""
    p0 = storage.precharge + storage.atmosphere

    def rate(_, state):
        absolute = state[0] + storage.atmosphere
        gas = storage.volume * p0 / absolute**2 if absolute >= p0 else 0.0
        return [(float(pump_flow(state[0], switch.curve)) - draw) / (gas + storage.compliance)]

    def arrived(_, state):
        return state[0] - switch.cut_out

    arrived.terminal = True
    found = solve_ivp(rate, (0.0, 1e4), [switch.cut_in], events=arrived, rtol=1e-10, atol=1e-3, max_step=0.02)
    return found.t_events[0][0]


@pytest.mark.parametrize("name", SCENARIOS)
@pytest.mark.parametrize("share", [0.1, 0.5, 0.9])
def test_time_on_agrees_with_marching_in_time(name, share):
    switch, gas, line, _ = of_van(SCENARIOS[name])
    draw = share * float(pump_flow(switch.cut_out, switch.curve))
    both = ElasticStorage(gas.volume, gas.precharge, gas.atmosphere, line.compliance)
    assert float(on_time(draw, switch, both)) == pytest.approx(marched(draw, switch, both), rel=1e-6)


@pytest.mark.parametrize("exponent", [1.0, 1.2, 1.4])
@pytest.mark.parametrize("name", SCENARIOS)
def test_the_worst_draw_agrees_with_a_search(name, exponent):
    switch, gas, line, _ = of_van(SCENARIOS[name])
    storage = ElasticStorage(gas.volume, gas.precharge, gas.atmosphere, line.compliance, exponent)
    most = float(pump_flow(switch.cut_out, switch.curve))
    found = minimize_scalar(
        lambda q: -float(starts_at_draw(q, switch, storage)),
        bounds=(0.0, most),
        method="bounded",
        options={"xatol": 1e-13},
    )
    assert float(worst_draw(switch, storage)) == pytest.approx(found.x, rel=1e-5)
    assert float(starts_at_draw(worst_draw(switch, storage), switch, storage)) >= -found.fun * (1 - 1e-12)


@st.composite
def rigs(draw):
    count = draw(st.integers(2, 5))
    steps = st.lists(st.floats(0.3, 3.0), min_size=count, max_size=count)
    flow = np.cumsum(draw(steps)) - 0.3
    rise = np.cumsum(draw(steps))[::-1]
    rise = (rise - rise[-1]) / (rise[0] - rise[-1]) * draw(st.floats(1.5e5, 3.5e5))
    curve = PumpCurve(flow * L_MIN, rise, draw(st.floats(11.0, 14.0)), 12.0)
    low, high = sorted([draw(st.floats(0.2, 0.6)), draw(st.floats(0.65, 0.9))])
    switch = Switch(low * float(rise[0]), high * float(rise[0]), curve)
    precharge = switch.cut_in + draw(st.floats(-0.3e5, 0.3e5))
    return switch, ElasticStorage(draw(st.floats(0.2e-3, 3e-3)), precharge, 1e5, draw(st.floats(1e-12, 2e-10)))


@given(rigs(), st.floats(0.01, 2.0))
def test_no_draw_starts_the_pump_more_often_than_the_worst(rig, share):
    worst = worst_draw(*rig)
    other = share * float(worst)
    assert float(starts_at_draw(other, *rig)) <= float(starts_at_draw(worst, *rig)) * (1 + 1e-9)


@given(rigs(), st.floats(0.05, 0.95))
def test_water_pumped_in_a_cycle_is_water_drawn(rig, share):
    """While the pump runs it gives draw and filling; both together over a cycle are the draw."""
    switch, storage = rig
    least = float(pump_flow(switch.cut_out, switch.curve))
    if least <= 0:
        return
    draw = share * least
    on, volume = float(on_time(draw, switch, storage)), float(volume_between(switch, storage))
    most = float(pump_flow(switch.cut_in, switch.curve))
    assert volume / (most - draw) * (1 - 1e-9) <= on <= volume / (least - draw) * (1 + 1e-9)


@given(rigs())
def test_more_accumulator_never_starts_the_pump_more_often(rig):
    switch, storage = rig
    larger = ElasticStorage(2 * storage.volume, storage.precharge, storage.atmosphere, storage.compliance)
    draw = 0.4 * max(float(pump_flow(switch.cut_out, switch.curve)), 0.0)
    assert float(starts_at_draw(draw, switch, larger)) <= float(starts_at_draw(draw, switch, storage))


def test_a_pump_of_one_flow_is_worst_at_half_of_it_and_the_estimate_is_exact():
    curve = PumpCurve(np.array([1e-4, 1e-4 * (1 + 1e-9)]), np.array([3e5, 0.0]), 12.0, 12.0)
    rig = Switch(1.4e5, 2.4e5, curve), ElasticStorage(1e-3, 1.3e5)
    worst = worst_draw(*rig)
    assert float(worst) == pytest.approx(5e-5, rel=1e-6)
    assert float(starts_at_draw(worst, *rig)) == pytest.approx(
        float(starts_estimate(volume_between(*rig), 1e-4)), rel=1e-6
    )


def test_a_draw_beyond_the_pump_at_cut_out_keeps_it_running():
    switch, gas, _, _ = of_van(SCENARIOS["S1"])
    assert np.isinf(on_time(4.0 * L_MIN, switch, gas))
    assert float(starts_at_draw(5.0 * L_MIN, switch, gas)) == 0.0
    assert float(starts_at_draw(0.0, switch, gas)) == 0.0


def test_a_pump_too_weak_for_cut_out_never_stops():
    switch, gas, _, _ = of_van(SCENARIOS["S1"])
    weak = Switch(1.4e5, 3.0e5, switch.curve)
    assert float(worst_draw(weak, gas)) == 0.0
    assert np.isinf(on_time(0.0, weak, gas))


def test_rows_are_worked_alone():
    switch, gas, _, draw = of_van(SCENARIOS["S1"])
    many = ElasticStorage(np.array([0.5e-3, 1e-3, 2e-3]), gas.precharge, gas.atmosphere)
    rows = worst_draw(switch, many), starts_at_draw(draw, switch, many)
    for row, volume in enumerate(many.volume):
        one = ElasticStorage(float(volume), gas.precharge, gas.atmosphere)
        assert float(rows[0][row]) == pytest.approx(float(worst_draw(switch, one)), rel=1e-9)
        assert float(rows[1][row]) == pytest.approx(float(starts_at_draw(draw, switch, one)), rel=1e-12)


@pytest.mark.parametrize(
    ("call", "message"),
    [
        (lambda rig: worst_draw(rig, ElasticStorage()), "storage"),
        (lambda rig: starts_at_draw(1e-5, rig, ElasticStorage()), "on, off"),
        (lambda rig: on_time(-1e-5, rig, ElasticStorage(1e-3, 1e5)), "draw"),
        (lambda _: off_time(1e-3, -1e-5), "draw"),
        (lambda _: starts(0.0, 0.0), "on, off"),
        (lambda _: starts_estimate(0.0, 1e-4), "given"),
    ],
)
def test_the_impossible_is_refused_by_name(call, message):
    with pytest.raises(ValueError, match=message):
        call(of_van(SCENARIOS["S1"])[0])
