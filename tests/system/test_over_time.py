from __future__ import annotations

import numpy as np
import pytest

from tests.examples import NAMES, example
from vanwater.physics.accumulator import water_held
from vanwater.physics.transient import Transient, follow
from vanwater.plan.model import Plan
from vanwater.system.batch import Batch, Row
from vanwater.system.network import Case, open_together, solve_cases
from vanwater.system.over_time import HAND_WASH, SHOWER, UNTIL, Behind, circuits, scripts, switched_outlets, vessels_of

FAMILY = example("family-winter")
LONG = example("long-stay-dry-toilet")


def behind(plan: Plan, name: str, **options: float) -> Behind:
    script = scripts(plan)[name]
    return circuits(Batch(plan), script.pump, script.opened, **options)[0]  # type: ignore[arg-type]


def seen(plan: Plan, name: str) -> tuple[Behind, Transient]:
    script, one = scripts(plan)[name], behind(plan, name)
    return one, follow(one.circuit, script.begin, [one.sets.index(opened) for opened in script.opened], script.until)


def test_a_set_opens_one_after_the_other_and_shuts_in_reverse() -> None:
    evening = scripts(FAMILY)["evening"]
    assert evening.opened == ((), ("shower",), ("shower", "galley tap"), ("shower",), ())
    assert evening.begin == (0.0, 2.0, 10.0, 42.0, 50.0)
    assert evening.until == UNTIL
    many = FAMILY.changed({"together.evening.outlets": ("shower", "galley tap", "basin tap")})
    begin = scripts(many)["evening"].begin
    assert len(begin) == 7 and list(begin) == sorted(set(begin)) and begin[1] == 2.0 and begin[-1] == 50.0


def test_single_uses_are_followed_at_their_outlet() -> None:
    found = scripts(FAMILY)
    assert found[SHOWER].outlets == ("shower",)
    assert found[HAND_WASH].outlets == ("basin tap",)
    assert found[HAND_WASH].begin == (0.0, 2.0, 10.0)  # 8 s of a moderate hand-wash
    litres = FAMILY.changed(
        {"uses.hands.flow": None, "uses.hands.duration": None, "uses.hands.volume": 0.4e-3}, si=True
    )
    assert scripts(litres)[HAND_WASH].begin == (0.0, 2.0, 10.0)
    named = FAMILY.changed({"together": {"shower": {"outlets": ["shower", "basin tap"]}}})
    assert len(scripts(named)["shower"].outlets) == 2  # a set's own name goes first


def test_what_is_not_decided_or_has_no_switch_is_left_out() -> None:
    assert not scripts(FAMILY.changed({"pumps.pump.cut_out": None}))
    assert not switched_outlets(FAMILY.changed({"pumps.pump.cut_in": None}))
    without = FAMILY.changed({"runs.handset hose.length": None})
    assert set(scripts(without)) == {HAND_WASH}
    assert vessels_of(FAMILY, "pump") == ("accumulator",)
    assert vessels_of(FAMILY.changed({"accumulators.accumulator.precharge": None}), "pump") == ()


@pytest.mark.parametrize("name", NAMES)
def test_curves_between_their_pressures_are_those_of_the_network(name: str) -> None:
    plan = example(name)
    for key in scripts(plan):
        one = behind(plan, key)
        node = "tee" if one.vessel else "pump outlet"
        held = np.linspace(0.31, 0.97, 7) * float(one.curves.stop.max())
        for place, opened in enumerate(one.sets):
            cases = [Case(opened, held=p, resting=rest) for rest in ((), ("pump",)) for p in held.tolist()]
            cases = [*cases, Case(scripts(plan)[key].outlets)]  # so that every outlet is part of the network
            flows = solve_cases(Batch(plan), cases, node).flows
            at = np.searchsorted(one.circuit.pressure, held)
            share = (held - one.circuit.pressure[at - 1]) / (one.circuit.pressure[at] - one.circuit.pressure[at - 1])
            many = len(one.sets)
            pump = one.circuit.pump[many + place]
            between = pump[at - 1] + share * (pump[at] - pump[at - 1])
            assert between == pytest.approx(flows.pump("pump")[:7], rel=6e-3, abs=1e-9)
            for number, outlet in enumerate(one.outlets):
                for state, rows in ((many + place, slice(0, 7)), (place, slice(7, 14))):  # running, resting
                    flow = one.circuit.flow[state, number]
                    between = flow[at - 1] + share * (flow[at] - flow[at - 1])
                    assert between == pytest.approx(flows.outlet(outlet)[rows], rel=1e-3, abs=1e-9)
        assert one.residual < 1e-3


def test_outlets_that_branch_off_before_the_accumulator_get_more_while_the_pump_runs() -> None:
    plan = FAMILY.changed({"accumulators.accumulator.at": "cold tee"})  # the hot side leaves the line before it
    curves, opened = behind(plan, "evening").curves, scripts(plan)["evening"].opened[2]
    held = float(curves.pressure[-5])
    flows = solve_cases(
        Batch(plan), [Case(opened, held=held), Case(opened, held=held, resting=("pump",))], "cold tee"
    ).flows
    for number, outlet in enumerate(behind(plan, "evening").outlets):
        running, resting = flows.outlet(outlet)
        assert running > 1.01 * resting
        assert curves.running[2, number, -5] == pytest.approx(running, rel=1e-6)
        assert curves.resting[2, number, -5] == pytest.approx(resting, rel=1e-6)


def test_where_the_pump_runs_on_the_flow_is_the_steady_one() -> None:
    one, told = seen(FAMILY, "evening")
    steady = open_together(Batch(FAMILY), [("shower", "galley tap")])
    last = np.flatnonzero(told.time <= 42.0)[-2]
    for number, outlet in enumerate(one.outlets):
        wanted = float(steady.flow[0, 0, steady.outlets.index(outlet)])
        assert told.outlet_flow[number, last] == pytest.approx(wanted, rel=3e-3)
    assert told.stops.size == 0 or told.stops[0] > 42.0


def test_litres_drawn_come_from_the_pump_and_the_accumulator() -> None:
    for name in scripts(FAMILY):
        one, told = seen(FAMILY, name)
        storage = one.circuit.storage
        held = water_held(storage.volume, storage.precharge, told.pressure[[0, -1]], storage.atmosphere)
        held = held + np.asarray(storage.compliance) * told.pressure[[0, -1]]
        assert told.drawn.sum() == pytest.approx(told.pumped - (held[1] - held[0]), rel=1e-9)


def test_a_larger_accumulator_starts_the_pump_later_and_less_often() -> None:
    first = [
        seen(FAMILY.changed({"accumulators.accumulator.volume": size * 1e-3}, si=True), SHOWER)[1].starts[0]
        for size in (1, 2, 4)
    ]
    assert first == sorted(first)
    assert first[1] - 2.0 == pytest.approx(2 * (first[0] - 2.0), rel=0.03)  # beside the little that the hoses give


def test_without_one_the_hoses_alone_decide() -> None:
    bare = behind(FAMILY.changed({"accumulators": None}), SHOWER)
    assert bare.vessel == "" and float(np.asarray(bare.circuit.storage.volume)) == 0.0
    told = seen(FAMILY.changed({"accumulators": None}), SHOWER)[1]
    assert told.starts[0] - 2.0 < 0.2


def test_gas_that_is_colder_or_higher_up_is_reckoned_with() -> None:
    cold, warm = (behind(FAMILY, SHOWER, gas=273.15 + t).circuit.storage.precharge for t in (-5.0, 40.0))
    assert cold < FAMILY.accumulators["accumulator"].precharge < warm  # type: ignore[operator]
    high = behind(FAMILY.changed({"site.altitude": 2000.0}, si=True), SHOWER).circuit.storage.atmosphere
    assert float(np.asarray(high)) < float(np.asarray(behind(FAMILY, SHOWER).circuit.storage.atmosphere))


def test_rows_are_followed_side_by_side() -> None:
    script = scripts(FAMILY)[SHOWER]
    batch = Batch(FAMILY, [Row("weak", factors={"pumps": 0.85}), Row("late", {"pumps.pump.cut_in": 1.0e5})])
    plain, weak, late = circuits(batch, script.pump, script.opened)
    assert np.all(weak.curves.pump_flow <= plain.curves.pump_flow + 1e-12)
    assert late.curves.start[0] < plain.curves.start[0]
    assert plain.curves.running == pytest.approx(behind(FAMILY, SHOWER).curves.running, abs=1e-12)


def test_an_accumulator_that_the_switch_does_not_feel_is_refused_with_its_reason() -> None:
    hot_side = FAMILY.changed({"accumulators.accumulator.at": "hot tee"})
    with pytest.raises(ValueError, match="check valve"):
        behind(hot_side, SHOWER)
    open_way = hot_side.changed({"runs.heater feed.fittings": {"push-fit elbow": 1}})
    assert behind(open_way, SHOWER).vessel == "accumulator"
    with pytest.raises(ValueError, match="mixing tap"):
        behind(FAMILY.changed({"accumulators.accumulator.at": "shower mixer"}), SHOWER)
    far = FAMILY.changed({"runs.trunk.length": 40.0, "runs.trunk.size": None, "runs.trunk.bore": 5e-3}, si=True)
    with pytest.raises(ValueError, match="too far off"):
        behind(far, SHOWER)


@pytest.mark.parametrize("deeper", [1.0, 3.0])
def test_an_accumulator_below_the_pump_bears_the_water_above_it(deeper: float) -> None:
    level, deep = (
        behind(
            FAMILY.changed(
                {"runs.trunk.length": 5.0, "tees.tee.z": 0.05 - z, "tanks.fresh.temperature": 283.15}, si=True
            ),
            SHOWER,
        ).curves
        for z in (0.0, deeper)
    )
    weight = 999.7 * 9.80665 * deeper  # of water at 10 °C
    assert deep.start[0] - level.start[0] == pytest.approx(weight, rel=1e-4)
    assert deep.stop[0] - level.stop[0] == pytest.approx(weight, abs=10.0)  # read between 33 pressures
    assert deep.pressure[-1] > deep.stop.max()


def test_pressures_begin_where_the_lowest_outlet_gives_nothing() -> None:
    high = FAMILY.changed({"tees.tee.z": 2.3, "runs.trunk.length": 5.0}, si=True)
    curves = behind(high, "evening").curves
    lowest = min(high.outlets[name].z or 0.0 for name in scripts(high)["evening"].outlets)
    assert curves.pressure[0] == pytest.approx(-9810.0 * (2.3 - lowest), rel=0.02)
    assert not curves.running[..., 0].any() and curves.running[-1].max(axis=0)[1] > 0.0


def test_the_switch_sits_at_the_pump_not_at_the_accumulator() -> None:
    curves = behind(FAMILY, SHOWER).curves
    assert np.all(curves.stop < 2.6e5)  # the loss of the trunk while the pump runs
    assert curves.start == pytest.approx(1.4e5 - 0.05 * 9810, abs=30.0)  # the tee sits 5 cm above the pump
    at_pump = behind(FAMILY.changed({"accumulators.accumulator.at": "pump"}), SHOWER).curves
    assert at_pump.start == pytest.approx(1.4e5, rel=1e-6) and at_pump.stop == pytest.approx(2.6e5, rel=1e-6)
