"""A thermostatic mixing valve on the way to one outlet: against scipy, against the whole network, at its limits."""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import brentq

from vanwater.physics import network
from vanwater.physics.friction import friction_loss
from vanwater.physics.network.mixing import port_loss
from vanwater.physics.pump import PumpCurve, pump_rise
from vanwater.physics.series import COLD, COMMON, HOT, SeriesPath, series_flow, series_flows

ROWS = 60
WATER = {"density": 999.0, "viscosity": 1.1e-3}
CURVE = PumpCurve(np.array([0.0, 8e-5, 2e-4]), np.array([2.8e5, 1.8e5, 0.0]), 12.0, 12.0)
ROLE = np.array([COMMON, COMMON, HOT, COLD, COMMON])


def a_path(seed=0, rows=ROWS, **changes):
    draw = np.random.default_rng(seed).uniform
    given = dict(
        bore=draw(0.006, 0.014, (rows, 5)),
        length=draw(0.2, 6.0, (rows, 5)),
        k=draw(0.0, 20.0, (rows, 5)),
        roughness=1.5e-6,
        **WATER,
        role=ROLE,
        suction=(True, False, False, False, False),
        hot_share=draw(0.02, 0.98, rows),
        surface_height=0.1,
        pump_height=0.0,
        outlet_height=draw(0.2, 2.0, rows),
        outlet_constant=draw(1e-7, 6e-7, rows),
        pump=CURVE,
        mixer_constant=10.0 ** draw(-7.0, -5.5, rows),
    )
    return SeriesPath(**{**given, **changes})


def by_brentq(path, row):
    """The same balance written out again: the valve's loss is itself a root."""
    bore, length, k = path.bore[row], path.length[row], path.k[row]
    x, port, outlet = path.hot_share[row], path.mixer_constant[row], path.outlet_constant[row]
    share = np.where(ROLE == HOT, x, np.where(ROLE == COLD, 1.0 - x, 1.0))
    lift = 999.0 * 9.80665 * (0.1 - path.outlet_height[row])

    def behind(flow):
        carried = share * flow
        lost = friction_loss(carried, bore, length, 1.5e-6, **WATER)
        lost = lost + k * 8.0 * 999.0 * carried**2 / (np.pi**2 * bore**4)
        hot, cold = lost[ROLE == HOT].sum(), lost[ROLE == COLD].sum()

        def short(both):
            return x / np.sqrt(both - hot) + (1.0 - x) / np.sqrt(both - cold) - port / flow

        low = max(hot, cold)
        both = brentq(short, low * (1.0 + 1e-14) + 1e-12, low + (flow / port) ** 2 + 1.0, xtol=1e-9, rtol=1e-14)
        return lost[ROLE == COMMON].sum() + both

    def excess(flow):
        return float(pump_rise(flow, CURVE)) + lift - behind(flow) - (flow / outlet) ** 2

    return brentq(excess, 1e-9, 2.5e-4, xtol=1e-18, rtol=1e-13)


def test_every_row_is_the_root_that_scipy_finds():
    path = a_path()
    found = series_flow(path)
    np.testing.assert_allclose(found.flow, [by_brentq(path, row) for row in range(ROWS)], rtol=1e-9)
    assert np.abs(found.residual).max() < 1e-6
    assert np.all(found.valve_loss > 0.0)
    total = found.losses[:, ROLE == COMMON].sum(axis=1) + found.leg_loss + found.valve_loss + found.outlet_pressure
    lift = 999.0 * 9.80665 * (0.1 - path.outlet_height)
    np.testing.assert_allclose(total, found.pump_rise + lift, atol=1e-6)


def test_the_whole_network_finds_the_same():
    path = a_path(3)
    pieces = network.Network(
        (
            network.Run("suction", "tank", "in"),
            network.Run("trunk", "out", "tee"),
            network.Run("hot", "tee", "h"),
            network.Run("cold", "tee", "c"),
            network.Run("hose", "m", "tap"),
        ),
        (network.Source("tank", "tank"),),
        (network.Outlet("tap", "tap"),),
        (network.Pump("pump", "in", "out"),),
        (network.Mixer("valve", "h", "c", "m", thermostatic=True),),
    )
    elevation = np.zeros((ROWS, len(pieces.nodes)))
    elevation[:, pieces.nodes.index("tank")] = 0.1
    elevation[:, pieces.nodes.index("tap")] = path.outlet_height
    flows = network.solve(
        pieces,
        network.NetworkInputs(
            elevation=elevation,
            length=path.length,
            bore=path.bore,
            loss_coefficient=path.k,
            **WATER,
            source_pressure=0.0,
            outlet_constant=path.outlet_constant[:, None],
            hot_share=path.hot_share[:, None],
            mixer_constant=path.mixer_constant[:, None],
            pump_flow=np.broadcast_to(CURVE.flow, (ROWS, 1, 3)),
            pump_rise=np.broadcast_to(CURVE.rise, (ROWS, 1, 3)),
        ),
    )
    assert flows.converged.all()
    np.testing.assert_allclose(series_flow(path).flow, flows.outlet("tap"), rtol=1e-8)


def test_wide_ports_are_a_tap_set_by_hand():
    hand = series_flow(a_path(mixer_constant=np.inf))
    wide = series_flow(a_path(mixer_constant=1e-2))
    np.testing.assert_allclose(wide.flow, hand.flow, rtol=1e-6)
    assert not hand.valve_loss.any()


@settings(max_examples=60, deadline=None)
@given(st.floats(-7.5, -5.0), st.floats(0.01, 1.0), st.floats(0.0, 1.0))
def test_a_tighter_valve_never_gives_more(exponent, tighter, share):
    wide, tight = 10.0**exponent, 10.0 ** (exponent - tighter)
    one = a_path(5, rows=1, hot_share=share)
    flows = [float(series_flow(replace(one, mixer_constant=k)).flow[0]) for k in (np.inf, wide, tight)]
    assert flows[0] * (1.0 + 1e-12) >= flows[1]
    assert flows[1] > flows[2] > 0.0


@pytest.mark.parametrize("share", [0.0, 1.0])
def test_all_of_one_side_loses_at_the_port_as_at_any_valve(share):
    found = series_flow(a_path(7, hot_share=share))
    np.testing.assert_allclose(found.valve_loss, (found.flow / a_path(7).mixer_constant) ** 2, rtol=1e-9)


def test_valves_and_taps_side_by_side_give_what_each_gives_alone():
    paths = [a_path(1), a_path(2, mixer_constant=np.inf), a_path(4)]
    for found, path in zip(series_flows(paths), paths, strict=True):
        alone = series_flow(path)
        np.testing.assert_allclose(found.flow, alone.flow, rtol=1e-9)
        np.testing.assert_allclose(found.valve_loss, alone.valve_loss, rtol=1e-7, atol=1e-9)


def test_impossible_constant_is_refused():
    with pytest.raises(ValueError, match="mixer_constant"):
        a_path(mixer_constant=0.0)


def test_ports_law_is_met_over_all_that_can_come():
    draw = np.random.default_rng(1)
    rows = 20_000
    ratio = 10.0 ** draw.uniform(-3.0, 4.0, rows)
    share = 10.0 ** draw.uniform(-6.0, 0.0, rows)
    gap = np.where(draw.random(rows) < 0.1, 0.0, 10.0 ** draw.uniform(-8.0, 7.0, rows))
    share[:100] = 1.0
    fall, weight, slope = port_loss(ratio, share, gap)
    law = (share / np.sqrt(fall) + (1.0 - share) / np.sqrt(fall + gap)) * ratio
    np.testing.assert_allclose(law, 1.0, rtol=1e-13)
    assert np.all((weight > 0.0) & (weight <= 1.0))
    step = 1e-6 * ratio
    more, less = (port_loss(ratio + sign * step, share, gap)[0] for sign in (1.0, -1.0))
    np.testing.assert_allclose((more - less) / (2.0 * step), slope, rtol=1e-5)
