from __future__ import annotations

import numpy as np
import pytest

from tests.examples import example
from tests.pumped import on_the_mains, pumped
from vanwater.answers.core.key import key_text
from vanwater.answers.mains.answer import mains
from vanwater.answers.mains.flows import on_mains, sets_on_mains
from vanwater.plan.model import Plan
from vanwater.system.path_conditions import mains_ways

HELD = Plan.of(on_the_mains("diaphragm", regulator="2.5 bar"))


def test_together_each_gives_less_than_alone_and_the_regulator_is_what_drives_them() -> None:
    alone = on_mains(HELD, mains_ways(HELD))
    (one,) = sets_on_mains(HELD, mains_ways(HELD))
    assert list(one.flow) == ["tap", "rinse"]
    for outlet, flow in one.flow.items():
        assert 0 < flow.likely < alone[outlet].flow.likely
        assert one.pressure[outlet].range is not None
        assert one.pressure[outlet].range[1] < 2.5e5
        outlet_law = HELD.outlets[outlet].flow * np.sqrt(one.pressure[outlet].likely / HELD.outlets[outlet].at)  # type: ignore[operator]
        assert flow.likely == pytest.approx(outlet_law, rel=1e-9)
        assert {piece.name: piece.value for piece in flow.facts}["left unbalanced"].value < 1e-3  # type: ignore[union-attr]


def test_less_pressure_at_the_regulator_gives_less() -> None:
    (low,) = sets_on_mains(weak := Plan.of(on_the_mains("diaphragm", regulator="1 bar")), mains_ways(weak))
    (high,) = sets_on_mains(HELD, mains_ways(HELD))
    assert all(low.flow[outlet].likely < high.flow[outlet].likely for outlet in high.flow)


def test_the_answer_tells_them_in_a_table_and_by_number() -> None:
    plan = example("touring-campsites")
    answer = mains(plan)
    found = sets_on_mains(plan, mains_ways(plan))
    table = next(table for table in answer.tables if table.key == "mains together")
    assert [row[2] for row in table.rows] == [flow.shown for one in found for flow in one.flow.values()]
    for one in found:
        for outlet, flow in one.flow.items():
            assert answer.numbers[key_text(("set", one.name, outlet, "flow", "mains"))].shown == flow.shown


def test_without_an_inlet_nothing_is_told() -> None:
    plan = Plan.of(pumped("diaphragm"))
    assert sets_on_mains(plan, mains_ways(plan)) == ()
    assert mains(plan).silent


def test_each_set_has_its_own_flows() -> None:
    raw = on_the_mains("diaphragm", regulator="2.5 bar")
    raw["outlets"]["third"] = {"flow": "12 L/min", "at": "1 bar", "z": "0.5 m"}
    raw["runs"]["third hose"] = {"from": "tee", "to": "third", "length": "2 m", "bore": "10 mm"}
    raw["together"] = {"two": {"outlets": ["tap", "rinse"]}, "others": {"outlets": ["tap", "third"]}}
    plan = Plan.of(raw)
    two, others = sets_on_mains(plan, mains_ways(plan))
    assert (two.name, others.name) == ("two", "others")
    assert set(others.flow) == {"tap", "third"}
    assert others.flow["third"].likely > 0
    assert others.flow["tap"].likely < two.flow["tap"].likely  # the third outlet draws more than the rinse


def two_inlets(turned: bool) -> Plan:
    """A second inlet with a tap and a hose of its own, without a regulator."""
    raw = on_the_mains("diaphragm", lowest="2 bar", highest="4 bar", regulator="2.5 bar")
    raw["mains"]["side inlet"] = {"z": "40 cm", "lowest": "1 bar", "highest": "6 bar"}
    raw["outlets"]["third"] = {"flow": "12 L/min", "at": "1 bar", "z": "0.5 m"}
    raw["runs"]["third hose"] = {"from": "side inlet", "to": "third", "length": "2 m", "bore": "10 mm"}
    raw["together"] = {"all": {"outlets": ["tap", "third"]}}
    if turned:
        raw |= {table: dict(reversed(raw[table].items())) for table in ("mains", "outlets", "runs")}
    return Plan.of(raw)


@pytest.mark.parametrize("turned", [False, True])
def test_of_two_inlets_each_has_the_pressure_of_its_own_tap(turned: bool) -> None:
    plan = two_inlets(turned)
    outlets = on_mains(plan, mains_ways(plan))
    assert outlets["third"].source.range == pytest.approx((1e5, 6e5))
    assert outlets["tap"].source.range == pytest.approx((2e5, 2.5e5))
    alone = on_mains(HELD, mains_ways(HELD))["tap"]
    assert outlets["tap"].flow.likely == pytest.approx(alone.flow.likely)
    (every,) = sets_on_mains(plan, mains_ways(plan))
    assert every.flow["third"].likely == pytest.approx(outlets["third"].flow.likely, rel=1e-6)
    assert every.flow["third"].range == pytest.approx(outlets["third"].flow.range, rel=1e-6)
    (tap,) = [assumed for assumed in mains(plan).assumptions if assumed.key == "mains"]
    assert tap.statement.text() == "The pressure of the campsite's tap may lie 71\u00a0% lower or 71\u00a0% higher."


def drooped(droop: str, regulator: str | None = "2.5 bar", **hose: object) -> Plan:
    inlet = {"droop": droop} if regulator is None else {"droop": droop, "regulator": regulator}
    raw = on_the_mains("diaphragm", **inlet)
    raw["runs"]["inlet hose"]["fittings"] |= hose
    raw["fittings"] = {"choke": {"loss": "0.5 bar", "loss_at": "10 L/min"}}
    return Plan.of(raw)


def test_a_regulator_lets_its_pressure_fall_as_a_fitting_of_the_same_loss_would() -> None:
    held, choked, stiff = drooped("0.5 bar"), drooped("0 bar", choke=1), drooped("0 bar")
    one, other, most = (on_mains(plan, mains_ways(plan))["tap"] for plan in (held, choked, stiff))
    assert one.flow.likely == pytest.approx(other.flow.likely, rel=1e-6)
    assert one.flow.likely < most.flow.likely
    assert one.droop is not None and most.droop is not None
    assert one.droop.likely == pytest.approx(0.5e5 * (one.flow.likely * 6e4 / 10.0) ** 2, rel=1e-9)
    assert most.droop.likely == 0.0
    assert one.source.likely == 2.5e5  # with all taps shut


def test_outlets_open_together_share_one_droop() -> None:
    """The whole flow passes the regulator: by the network, as one fitting in the inlet's hose would take it."""
    (one,) = sets_on_mains(held := drooped("0.5 bar"), mains_ways(held))
    (other,) = sets_on_mains(choked := drooped("0 bar", choke=1), mains_ways(choked))
    for outlet, flow in one.flow.items():
        assert flow.likely == pytest.approx(other.flow[outlet].likely, rel=1e-6)


def test_half_to_twice_the_droop_is_in_the_range_and_none_counts_without_a_regulator() -> None:
    known = on_mains(HELD, mains_ways(HELD))["tap"]
    assert known.droop is not None and known.droop.range is not None
    low, high = known.droop.range
    assert low < 0.6 * known.droop.likely and high > 1.6 * known.droop.likely
    bare = [on_mains(plan, mains_ways(plan))["tap"] for plan in (drooped("0 bar", None), drooped("2 bar", None))]
    assert bare[0].flow.likely == bare[1].flow.likely
    assert bare[0].droop is None
    worse = [
        on_mains(plan, mains_ways(plan))["tap"].flow.likely for plan in map(drooped, ("0 bar", "0.5 bar", "2 bar"))
    ]
    assert worse == sorted(worse, reverse=True)
