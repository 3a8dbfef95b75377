import json
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import brentq

from vanwater.physics import water
from vanwater.physics.atmosphere import air_pressure
from vanwater.physics.demand import hot_share
from vanwater.physics.friction import friction_loss, velocity
from vanwater.physics.pump import PumpCurve, pump_rise
from vanwater.physics.series import COLD, COMMON, HOT, SeriesPath, series_flow, series_flows
from vanwater.physics.suction import npsh_available

L_MIN = 1e-3 / 60
VANS = json.loads((Path(__file__).parents[2] / "data" / "validation" / "worked_vans.json").read_text(encoding="utf-8"))
SCENARIOS = {scenario["id"]: scenario for scenario in VANS["scenarios"]}
SEGMENTS = ("suction", "trunk", "hot_leg", "cold_leg", "mixed_hose")
ROLES = (COMMON, COMMON, HOT, COLD, COMMON)
BEFORE_PUMP = (True, False, False, False, False)


def worked_path(scenario, table=False):
    supply = scenario["inputs"]["supply"]
    celsius = [supply[name] for name in ("T_cold", "T_cold", "T_hot", "T_cold", "T_mix")]
    kelvin = np.array(celsius) + 273.15
    by_hand = np.array([VANS["water"][str(t)] for t in celsius])
    points = np.array(supply["pump"])
    handset = supply["handset"]
    return SeriesPath(
        bore=np.array([supply[name]["bore_mm"] for name in SEGMENTS]) * 1e-3,
        length=np.array([supply[name]["length_m"] for name in SEGMENTS]),
        k=np.array([supply[name]["K"] for name in SEGMENTS]),
        roughness=1.5e-6,
        density=by_hand[:, 0] if table else water.density(kelvin),
        viscosity=by_hand[:, 1] if table else water.viscosity(kelvin),
        role=ROLES,
        suction=BEFORE_PUMP,
        hot_share=hot_share(*(supply[name] + 273.15 for name in ("T_mix", "T_hot", "T_cold"))),
        surface_height=supply["z_tank_surface"],
        pump_height=supply["z_pump"],
        outlet_height=supply["z_handset"],
        outlet_constant=handset["flow_L_min"] * L_MIN / np.sqrt(handset["at_bar"] * 1e5),
        pump=PumpCurve(points[:, 0] * L_MIN, points[:, 1] * 1e5, 12.0, 12.0),
    )


def worked_answers(scenario, path):
    supply = scenario["inputs"]["supply"]
    found = series_flow(path)
    cold = supply["T_cold"] + 273.15
    npsh = npsh_available(
        air_pressure(supply["altitude_m"]),
        water.vapour_pressure(cold),
        water.density(cold),
        supply["z_tank_surface"] - supply["z_pump"],
        found.losses[0],
    )
    governing = {name: float(loss) for name, loss in zip(SEGMENTS, found.losses, strict=True)}
    governing.pop("cold_leg" if governing["hot_leg"] > governing["cold_leg"] else "hot_leg")
    loss = "loss at the steady crossing: "
    return {
        "shower flow at the handset, mixed, alone": found.flow / L_MIN,
        "pressure at the handset": found.outlet_pressure / 1e5,
        "pump discharge pressure where pump curve and system cross": found.discharge_pressure / 1e5,
        "pump runs without cycling during the shower": (
            "yes" if found.discharge_pressure < supply["cut_out_bar"] * 1e5 else "no"
        ),
        "NPSH available at the pump, shower flow": npsh,
        loss + "suction": found.losses[0] / 1e5,
        loss + "trunk": found.losses[1] / 1e5,
        loss + "hot leg (own loss at its share, tap wide open)": found.losses[2] / 1e5,
        loss + "cold leg (own loss at its share, tap wide open)": found.losses[3] / 1e5,
        loss + "mixed hose": found.losses[4] / 1e5,
        "share of the pump rise that the handset takes at the steady crossing": (
            100.0 * found.outlet_pressure / found.pump_rise
        ),
        "largest loss between pump and handset (handset itself and lift left out)": max(
            governing, key=governing.__getitem__
        ).replace("_", " "),
    }


WORKED = [
    pytest.param(scenario, expected, id=f"{name}: {expected['quantity']}")
    for name, scenario in SCENARIOS.items()
    for expected in scenario["expected"]
    if expected["quantity"] in worked_answers(SCENARIOS["S1"], worked_path(SCENARIOS["S1"]))
]


def test_every_hydraulic_answer_of_both_vans_is_checked():
    assert len(WORKED) == 24


@pytest.mark.parametrize(("scenario", "expected"), WORKED)
def test_worked_van_with_this_package_s_water(scenario, expected):
    answer = worked_answers(scenario, worked_path(scenario))[expected["quantity"]]
    if expected["tolerance_kind"] == "exact":
        assert answer == expected["value"]
    else:
        tolerance = expected.get("strict_tolerance", expected["tolerance"])
        assert float(answer) == pytest.approx(expected["value"], rel=tolerance)


@pytest.mark.parametrize(("scenario", "expected"), WORKED)
def test_worked_van_with_its_own_water_table_agrees_to_its_digits(scenario, expected):
    """The same law and the same water leave no room for a tolerance: five digits are printed."""
    if expected["tolerance_kind"] != "exact":
        answer = worked_answers(scenario, worked_path(scenario, table=True))[expected["quantity"]]
        assert float(answer) == pytest.approx(expected["value"], rel=1.5e-4)


def by_brentq(path, row):
    """The same balance, one row, written out again with the public functions and a root finder of scipy."""

    def one(values):
        values = np.asarray(values)
        return values if values.ndim < 2 else values[row]

    def row_of(values):
        return float(np.broadcast_to(values, (ROWS,))[row])

    x, k = row_of(path.hot_share), row_of(path.outlet_constant)
    share = np.array([{COMMON: 1.0, HOT: x, COLD: 1.0 - x}[role] for role in path.role])
    curve = PumpCurve(path.pump.flow, path.pump.rise, row_of(path.pump.voltage), 12.0)
    weight = float(one(path.density)[0]) * 9.80665
    lift = weight * (row_of(path.surface_height) - row_of(path.outlet_height))

    def excess(flow):
        carried = flow * share
        lost = friction_loss(
            carried, one(path.bore), one(path.length), path.roughness, one(path.density), one(path.viscosity)
        )
        lost = lost + one(path.k) * one(path.density) * velocity(carried, one(path.bore)) ** 2 / 2.0
        common = lost[path.role == COMMON].sum()
        leg = max(lost[path.role == HOT].sum(), lost[path.role == COLD].sum())
        return float(pump_rise(flow, curve)) + lift - common - leg - (flow / k) ** 2

    return 0.0 if excess(0.0) <= 0.0 else brentq(excess, 0.0, 1e-3, xtol=1e-18, rtol=1e-13)


ROWS = 40


def many_paths(seed):
    draw = np.random.default_rng(seed).uniform
    van = worked_path(SCENARIOS["S1"])
    shape = (ROWS, 5)
    return replace(
        van,
        bore=draw(0.004, 0.02, shape),
        length=draw(0.0, 8.0, shape),
        k=draw(0.0, 30.0, shape),
        density=draw(960.0, 1000.0, shape),
        viscosity=draw(3e-4, 1.8e-3, shape),
        hot_share=draw(0.0, 1.0, ROWS),
        outlet_height=draw(-1.0, 3.0, ROWS),
        outlet_constant=10.0 ** draw(-9.0, -5.0, ROWS),
        pump=replace(van.pump, voltage=draw(6.0, 15.0, ROWS)),
    )


@pytest.mark.parametrize("seed", range(5))
def test_every_row_is_the_root_that_scipy_finds(seed):
    path = many_paths(seed)
    found = series_flow(path)
    judge = [by_brentq(path, row) for row in range(ROWS)]
    np.testing.assert_allclose(found.flow, judge, rtol=1e-9, atol=1e-15)


@pytest.mark.parametrize("seed", range(100, 150))
def test_the_pressures_add_up_in_wild_designs(seed):
    path = many_paths(seed)
    heights = np.random.default_rng(seed).uniform(-2.0, 28.0, ROWS)
    heights[:2] = -2.0, 60.0  # one that surely runs, one that surely stays dry
    path = replace(path, outlet_height=heights)
    found = series_flow(path)
    assert np.isfinite(found.flow).all() and np.isfinite(found.losses).all()
    assert np.abs(found.residual).max() < 1e-6
    np.testing.assert_array_equal(found.flow > 0.0, found.reaches)
    assert found.reaches[0] and not found.reaches[1]


def a_path(**changes):
    return replace(worked_path(SCENARIOS["S1"]), **changes)


def test_a_row_alone_and_among_others_is_the_same():
    heights = np.array([0.5, 1.0, 1.75, 40.0])
    rows = series_flow(a_path(outlet_height=heights))
    for number, height in enumerate(heights):
        alone = series_flow(a_path(outlet_height=height))
        assert float(alone.flow) == pytest.approx(rows.flow[number], rel=1e-12)
        np.testing.assert_allclose(alone.losses, rows.losses[number], rtol=1e-11)
        assert float(alone.discharge_pressure) == pytest.approx(rows.discharge_pressure[number], rel=1e-12)


SMALL = settings(max_examples=60, deadline=None)


@SMALL
@given(st.sampled_from(range(5)), st.floats(0.005, 0.02), st.floats(1e-5, 5e-3))
def test_more_bore_never_gives_less_flow(segment, bore, more):
    narrow, wide = np.array(a_path().bore), np.array(a_path().bore)
    narrow[segment], wide[segment] = bore, bore + more
    assert series_flow(a_path(bore=wide)).flow >= series_flow(a_path(bore=narrow)).flow * (1.0 - 1e-12)


@SMALL
@given(st.floats(7.0, 15.0), st.floats(0.01, 3.0))
def test_more_volts_never_give_less_flow(volts, more):
    weak = series_flow(a_path(pump=replace(a_path().pump, voltage=volts)))
    strong = series_flow(a_path(pump=replace(a_path().pump, voltage=volts + more)))
    assert strong.flow >= weak.flow
    assert strong.discharge_pressure >= weak.discharge_pressure - 1e-6


@SMALL
@given(st.sampled_from(range(5)), st.floats(0.0, 50.0))
def test_more_fittings_never_give_more_flow(segment, more):
    k = np.array(a_path().k)
    k[segment] += more
    assert series_flow(a_path(k=k)).flow <= a_flow()


def a_flow():
    return float(series_flow(a_path()).flow) * (1.0 + 1e-12)


@SMALL
@given(st.floats(-3.0, 30.0), st.floats(0.0, 5.0))
def test_a_higher_outlet_never_gets_more(height, more):
    low, high = series_flow(a_path(outlet_height=height)), series_flow(a_path(outlet_height=height + more))
    assert high.flow <= low.flow


def test_the_throttled_leg_can_be_either_one():
    hot_governs = series_flow(a_path())
    cold_governs = series_flow(a_path(hot_share=0.2))
    assert hot_governs.leg_loss == hot_governs.losses[2] > hot_governs.losses[3]
    assert cold_governs.leg_loss == cold_governs.losses[3] > cold_governs.losses[2]


@pytest.mark.parametrize("share", [0.0, 1.0])
def test_one_leg_alone_loses_nothing_in_the_other(share):
    found = series_flow(a_path(hot_share=share))
    assert found.losses[3 if share else 2] == 0.0
    assert np.isfinite(found.flow) and abs(found.residual) < 1e-6


def test_gravity_alone_runs_a_low_outlet_and_no_high_one():
    heights = np.array([-0.6, -0.1, 0.3])
    found = series_flow(a_path(pump=None, outlet_height=heights))
    assert found.reaches.tolist() == [True, False, False]
    assert found.flow[0] > 0.0 and found.flow[1:].tolist() == [0.0, 0.0]
    assert found.pump_rise.tolist() == [0.0, 0.0, 0.0]
    assert np.abs(found.residual).max() < 1e-6


def test_a_mains_inlet_drives_without_a_pump():
    at_two_bar = series_flow(a_path(pump=None, supply_pressure=2.0e5))
    assert at_two_bar.reaches and abs(at_two_bar.residual) < 1e-6
    assert at_two_bar.pump_inlet_pressure == at_two_bar.discharge_pressure


def test_a_regulator_holds_its_flow_and_takes_what_is_left():
    free = series_flow(a_path())
    held = series_flow(a_path(regulated_flow=5.0 * L_MIN))
    assert held.flow == pytest.approx(5.0 * L_MIN)
    assert held.outlet_pressure > free.outlet_pressure
    assert abs(held.residual) < 1e-6
    idle = series_flow(a_path(regulated_flow=9.0 * L_MIN))
    assert idle.flow == free.flow and idle.outlet_pressure == free.outlet_pressure


def test_a_dry_outlet_shows_the_shut_off_pressure():
    found = series_flow(a_path(outlet_height=40.0))
    assert not found.reaches
    assert found.flow == 0.0 and found.outlet_pressure == 0.0
    assert float(found.pump_rise) == pytest.approx(2.9e5)


@pytest.mark.parametrize(
    ("changes", "message"),
    [
        ({"bore": 0.0}, "bore"),
        ({"bore": np.array([0.01, 0.01])}, "2 values for 5 segments"),
        ({"k": -1.0}, "k"),
        ({"outlet_constant": 0.0}, "outlet_constant"),
        ({"hot_share": 1.2}, "hot_share"),
        ({"role": (0, 0, 1, 2, 3)}, "role"),
        ({"suction": (True, False, True, False, False)}, "suction"),
        ({"density": np.nan}, "density"),
        ({"outlet_constant": np.inf}, "outlet_constant: inf must be finite"),
        ({"surface_height": np.nan}, "surface_height"),
        ({"regulated_flow": 0.0}, "regulated_flow"),
    ],
)
def test_an_impossible_path_is_refused(changes, message):
    with pytest.raises(ValueError, match=message):
        a_path(**changes)


def test_ways_solved_side_by_side_give_what_each_gives_alone():
    heights = np.linspace(0.2, 30.0, 7)  # the last of them out of the pump's reach
    curve = PumpCurve(np.array([0.0, 8e-5, 2e-4]), np.array([2.8e5, 1.8e5, 0.0]), 11.8, 12.0)
    mixed = a_path(outlet_height=heights, pump=curve, bore=np.tile(a_path().bore, (7, 1)))
    short = SeriesPath(
        bore=np.full((7, 2), 0.009),
        length=np.array([1.0, 2.5]),
        k=np.array([3.0, 12.0]),
        roughness=1.5e-6,
        density=999.0,
        viscosity=1.2e-3,
        role=(COMMON, COMMON),
        suction=(False, False),
        hot_share=np.zeros(7),
        surface_height=-0.2,
        pump_height=0.1,
        outlet_height=1.0,
        outlet_constant=np.linspace(1e-7, 6e-7, 7),
        pump=curve,
        regulated_flow=6e-5,
    )
    fallen = replace(short, pump=None, surface_height=1.5)
    found = series_flows([mixed, fallen, short])
    for one, path in zip(found, (mixed, fallen, short), strict=True):
        alone = series_flow(path)
        assert alone.reaches.any()
        for name in ("flow", "outlet_pressure", "losses", "leg_loss", "pump_rise", "discharge_pressure", "reaches"):
            assert getattr(one, name) == pytest.approx(getattr(alone, name), rel=1e-9, abs=1e-7), name
    assert not found[0].reaches.all()
    assert (found[2].flow == 6e-5).any()


def test_a_segment_that_draws_a_part_of_the_flow_loses_what_that_part_loses():
    drawn = np.array([0.4, 1.0, 1.0, 1.0, 1.0])
    found = series_flow(a_path(drawn=drawn))
    whole = series_flow(a_path())
    assert found.flow > whole.flow
    part = a_path().runs.losses(0.4 * found.flow).each[..., 0]
    np.testing.assert_allclose(found.losses[..., 0], part, rtol=1e-12)
    assert np.abs(found.residual) < 1e-6
    with pytest.raises(ValueError, match="drawn"):
        a_path(drawn=np.array([0.0, 1.0, 1.0, 1.0, 1.0]))
