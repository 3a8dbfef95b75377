from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.drawn import WHOLE_PLANS
from tests.pumped import BY_HAND as BY_HAND_FIELDS
from tests.pumped import CURVE, KINDS, on_the_mains, pumped, two_tanks
from tests.strategies import Draw, Raw, supplies, vessels
from vanwater.answers.outlets.outlet import UNSURE
from vanwater.physics.pump import pump_rise, shut_off_pressure
from vanwater.physics.series import series_flow
from vanwater.plan.model import Plan
from vanwater.plan.pump import BY_HAND, ELECTRIC, SWITCHED, Pump
from vanwater.system.batch import Batch, Row, low_and_high
from vanwater.system.network import Case, open_together, solve_ways
from vanwater.system.path_conditions import missing
from vanwater.system.pump import mains_pressure, pump_curve, pump_gaps, rest_pressure, starts_from
from vanwater.system.series import series_case
from vanwater.system.ways import way_from_mains, way_to

SOME = settings(max_examples=30, deadline=None)
ROWS = low_and_high(UNSURE)


def flow(plan: Plan, outlet: str = "tap", rows: list[Row] | None = None) -> np.ndarray:
    return series_flow(series_case(Batch(plan, rows or []), way_to(plan, outlet)).physics).flow


@pytest.mark.parametrize("kind", KINDS)
def test_the_series_agrees_with_the_network_for_every_kind(kind: str) -> None:
    plan = Plan.of(pumped(kind))
    solved = open_together(Batch(plan, ROWS), [("tap",), ("rinse",)])
    for place, outlet in enumerate(("tap", "rinse")):
        together = solved.flow[place, :, solved.outlets.index(outlet)]
        assert together == pytest.approx(flow(plan, outlet, ROWS), rel=1e-6)
        assert together.min() > 1e-5


@pytest.mark.parametrize("kind", KINDS)
def test_discharge_and_rise_agree_too(kind: str) -> None:
    plan = Plan.of(pumped(kind))
    alone = series_flow(series_case(Batch(plan), way_to(plan, "tap")).physics)
    solved = open_together(Batch(plan), [("tap",)])
    assert solved.discharge["pump"][0, 0] == pytest.approx(alone.discharge_pressure[0], rel=1e-6)
    assert abs(alone.residual[0]) < 1e-6


@SOME
@given(st.sampled_from(ELECTRIC), st.floats(7.0, 14.0), st.floats(0.01, 4.0))
def test_less_volts_never_give_more_flow_whatever_the_kind(kind: str, volts: float, more: float) -> None:
    weak, strong = flow(
        Plan.of(pumped(kind)),
        rows=[Row("weak", {"pumps.pump.volts": volts}), Row("strong", {"pumps.pump.volts": volts + more})],
    )[1:]
    assert weak <= strong * (1.0 + 1e-9)


@SOME
@given(st.floats(6.0, 15.0), st.floats(0.3, 2.6))
def test_a_speed_controlled_pump_never_makes_more_than_it_holds(volts: float, holds: float) -> None:
    plan = Plan.of(pumped("speed-controlled", volts=f"{volts:.3f} V", holds=f"{holds:.4f} bar"))
    held = plan.pumps["pump"].holds
    assert held is not None
    curve = pump_curve(Batch(plan, ROWS), "pump")
    assert all(np.all(pump_rise(each, curve) <= held) for each in np.linspace(0.0, 4e-4, 21))
    solved = series_flow(series_case(Batch(plan, ROWS), way_to(plan, "tap")).physics)
    assert np.all(solved.pump_rise <= held)


@SOME
@given(st.sampled_from(BY_HAND), st.floats(0.2, 2.0))
def test_the_strokes_flow_does_not_hang_on_the_height_below_the_stall(kind: str, height: float) -> None:
    raw = pumped(kind, stall="2 bar")
    raw["outlets"]["tap"]["z"] = f"{height} m"
    assert flow(Plan.of(raw))[0] == pytest.approx(4e-3 / 60, rel=3e-6)


def test_unsure_strokes_move_the_flow_and_a_stall_ends_it() -> None:
    plan = Plan.of(pumped("foot", stall="2 bar"))
    rows = flow(plan, rows=[Row("slow", factors={"pumps": 0.85})])
    assert rows[1] == pytest.approx(0.85 * rows[0], rel=1e-5)
    raw = pumped("foot", stall="0.05 bar")
    assert flow(Plan.of(raw))[0] == 0.0  # a metre of water is twice that


@SOME
@given(st.floats(0.3, 2.0))
def test_gravity_ends_at_torricellis_law(drop: float) -> None:
    raw = pumped("diaphragm")
    del raw["pumps"], raw["runs"]["suction"], raw["runs"]["trunk"]
    raw["tanks"]["fresh"]["z"] = f"{drop + 0.5} m"
    raw["outlets"]["tap"] = {"flow": "1 L/min", "at": "1 bar", "z": "0.5 m"}
    raw["outlets"]["rinse"]["z"] = "0.5 m"
    for run in raw["runs"].values():
        run |= {"from": "fresh", "bore": "50 mm", "length": "1 cm"}
        del run["size"]
    # a wide short hose loses nothing, so that the outlet's own law is left: Q = k sqrt(rho g h)
    assert flow(Plan.of(raw))[0] == pytest.approx(1e-3 / 60 * np.sqrt(999.5 * 9.80665 * drop / 1e5), rel=2e-3)


def test_a_submersible_pump_runs_by_a_switch_only() -> None:
    raw = pumped("submersible")
    raw["outlets"]["rinse"]["micro_switch"] = False
    plan = Plan.of(raw)
    assert (starts_from(plan, "pump", "tap"), starts_from(plan, "pump", "rinse")) == (True, False)
    solved = open_together(Batch(plan), [("tap",), ("rinse",), ("tap", "rinse")])
    tap, rinse = (solved.outlets.index(name) for name in ("tap", "rinse"))
    assert solved.flow[0, 0, tap] > 0
    assert flow(plan, "rinse")[0] == solved.flow[1, 0, rinse] == 0.0
    assert solved.flow[2, 0, rinse] > 1e-5  # the tap beside it starts the pump
    assert starts_from(Plan.of(pumped("hand")), "pump", "tap") is True


@pytest.mark.parametrize("kind", KINDS)
def test_gaps_are_those_of_the_kind(kind: str) -> None:
    plan = Plan.of(pumped(kind))
    assert pump_gaps(plan.pumps["pump"]) == missing(plan, way_to(plan, "tap")) == ()
    bare = Plan.of(pumped(kind)).pumps["pump"].model_copy(update=dict.fromkeys(("curve", "stroke", "z", "holds")))
    assert pump_gaps(bare)[0] == ("stroke" if kind in BY_HAND else "curve")
    assert ("z" in pump_gaps(bare)) is (kind != "submersible")


@pytest.mark.parametrize("kind", KINDS)
def test_pressure_at_rest(kind: str) -> None:
    pump = Plan.of(pumped(kind)).pumps["pump"]
    expected = pump.cut_out if kind in SWITCHED else pump.holds if kind == "speed-controlled" else 0.0
    assert rest_pressure(pump) == expected
    curve = pump_curve(Batch(Plan.of(pumped(kind))), "pump")
    assert float(np.ravel(shut_off_pressure(curve))[0]) > 0


def test_a_regulator_caps_the_campsites_tap() -> None:
    plan = Plan.of(on_the_mains("diaphragm", lowest="1.5 bar", highest="4.5 bar", regulator="2.5 bar"))
    rows = [Row("low", factors={"mains": 0.5}), Row("high", factors={"mains": 1.5})]
    assert mains_pressure(Batch(plan, rows), "inlet").tolist() == pytest.approx([2.5e5, 1.5e5, 2.5e5])
    bare = Plan.of(on_the_mains("diaphragm", lowest="1.5 bar", highest="4.5 bar"))
    assert mains_pressure(Batch(bare, rows), "inlet").tolist() == pytest.approx([3e5, 1.5e5, 4.5e5])


@pytest.mark.parametrize("kind", KINDS)
def test_the_mains_gives_the_same_whatever_the_pump_and_agrees_with_the_network(kind: str) -> None:
    plan = Plan.of(on_the_mains(kind, regulator="2.5 bar"))
    way = way_from_mains(plan, "tap")
    assert (way.mains, way.pump, way.tank, way.broken, way.trunk) == ("inlet", "", "", (), ("inlet hose", "tap hose"))
    batch = Batch(plan, ROWS)
    alone = series_flow(series_case(batch, way).physics).flow
    solved = solve_ways(batch, {"tap": way}, [Case(("tap",), row) for row in range(len(batch))])
    assert solved.flows.outlet("tap") == pytest.approx(alone, rel=1e-6)
    reference = Plan.of(on_the_mains("diaphragm", regulator="2.5 bar"))
    assert alone[0] == series_flow(series_case(Batch(reference), way_from_mains(reference, "tap")).physics).flow[0]
    assert way_to(plan, "tap").tank == "fresh"  # off-grid as ever


@pytest.mark.parametrize("higher", ["5 cm", "30 cm", "-20 cm"])
@pytest.mark.parametrize("kind", [kind for kind in KINDS if kind != "submersible"])
def test_joined_tanks_agree_with_the_network(kind: str, higher: str) -> None:
    plan = Plan.of(two_tanks(kind, higher))
    batch = Batch(plan, ROWS)
    solved = open_together(batch, [("tap",)])
    way = way_to(plan, "tap")
    assert way.tank == ("second" if higher == "30 cm" else "fresh")
    alone = series_flow(series_case(batch, way).physics)
    assert solved.flow[0, :, 0] == pytest.approx(alone.flow, rel=1e-6)
    assert solved.discharge["pump"][0] == pytest.approx(alone.discharge_pressure, rel=1e-6)
    assert np.abs(alone.residual).max() < 1e-6


def test_a_higher_tank_that_runs_into_a_lower_one_may_leave_nothing_for_the_outlet() -> None:
    raw = two_tanks("diaphragm", "-60 cm")
    del raw["pumps"], raw["runs"]["suction"]
    raw["runs"]["trunk"]["from"] = "join"
    raw["outlets"]["tap"]["z"] = "0 cm"  # below the surface of the one, but both meet lower
    plan = Plan.of(raw)
    batch = Batch(plan, ROWS)
    assert open_together(batch, [("tap",)]).flow[0, :, 0].max() == 0.0
    alone = series_flow(series_case(batch, way_to(plan, "tap")).physics)
    assert not alone.reaches.any()
    assert alone.flow.max() == 0.0


def test_two_pumps_side_by_side_give_more_than_one_and_agree_with_the_network() -> None:
    raw = two_tanks("diaphragm")
    del raw["tees"]["join"], raw["runs"]["from fresh"], raw["runs"]["from second"]
    raw["pumps"]["other"] = raw["pumps"]["pump"] | {"volts": "11.5 V"}
    raw["runs"]["suction"]["from"] = "fresh"
    raw["runs"]["other suction"] = {**raw["runs"]["suction"], "from": "second", "to": "other"}
    raw["runs"]["other trunk"] = {**raw["runs"]["trunk"], "from": "other"}
    plan = Plan.of(raw)
    way = way_to(plan, "rinse")
    assert way.joined == (("other suction", "other trunk"),)
    both = flow(plan, "rinse", ROWS)
    solved = open_together(Batch(plan, ROWS), [("rinse",)])
    assert solved.flow[0, :, 0] == pytest.approx(both, rel=1e-6)
    assert np.all(both > flow(Plan.of(pumped("diaphragm")), "rinse", ROWS))


@st.composite
def decided_vans(draw: Draw) -> Raw:
    """Vans of every shape whose ways lack nothing: any pump, mains, joined tanks, hot legs."""
    raw: Raw = {"van": {"name": "any"}, "household": {"people": 2}, "tanks": draw(vessels())}
    raw["tanks"]["fresh"] = {"holds": "fresh", "capacity": "50 L"}
    draw(supplies(raw))
    for tank in raw["tanks"].values():
        tank.setdefault("z", "0 m")
    for run in raw["runs"].values():
        run.setdefault("length", "1 m")
        if "size" not in run and "bore" not in run:
            run["bore"] = "10 mm"
            for field in ("outside", "roughness"):
                run.pop(field, None)
    for outlet in raw["outlets"].values():
        outlet.setdefault("z", "1 m")
        if "type" not in outlet and "flow" not in outlet:
            outlet |= {"flow": "4 L/min", "at": "1 bar"}
    for pump in raw.get("pumps", {}).values():
        kind = pump.get("kind", "diaphragm")
        if kind in ELECTRIC and "curve" not in pump and not {"holds", "by_pass"} & set(pump):
            pump |= {"curve": CURVE} | ({} if "curve_volts" in pump else {"curve_volts": "12 V"})
        for field, value in {**BY_HAND_FIELDS, "z": "0 m", "tank": "fresh", "holds": "0.2 bar"}.items():
            if Pump.model_construct(kind=kind).belongs(field):
                if field == "holds" and field not in pump:
                    pump["curve"] = CURVE  # one that reaches the pressure held
                pump.setdefault(field, value)
    return raw


@WHOLE_PLANS
@given(decided_vans())
def test_series_and_network_agree_in_any_van_off_grid_and_on_the_mains(raw: Raw) -> None:
    plan = Plan.of(raw)
    batch = Batch(plan)
    for outlet in plan.outlets:
        for way in (way_to(plan, outlet), way_from_mains(plan, outlet)):
            if way.broken or missing(plan, way):
                continue
            case = series_case(batch, way)
            alone = series_flow(case.physics)
            network = solve_ways(batch, {outlet: way}, [Case((outlet,))])
            if not way.mixer:
                together = float(network.flows.outlet(outlet)[0])
                drop = float(np.ravel(case.physics.outlet_constant)[0]) * 1e-3  # what a millionth of a pascal drives
                assert together == pytest.approx(float(alone.flow[0]), rel=1e-6, abs=drop)
                continue
            # behind a mixing tap the series lifts the whole way at the cold water's density: what that changes is at
            # most the lightest and the heaviest water apart over all the height there is
            apart = float(np.ptp(case.physics.density[0]) * 9.80665 * np.ptp(network.numbers["elevation"][0]))
            before = float(network.flows.at(outlet)[0]), float(alone.outlet_pressure[0])
            assert abs(max(before[0], 0.0) - before[1]) <= apart + 1e-6 * before[1] + 1e-3
