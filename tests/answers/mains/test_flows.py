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
