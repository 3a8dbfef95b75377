from __future__ import annotations

import numpy as np
import pytest

from tests.examples import example
from tests.pumped import on_the_mains, pumped, two_tanks
from vanwater.plan.model import Plan
from vanwater.system.batch import Batch
from vanwater.system.network_parts import network_numbers, network_of
from vanwater.system.ways import way_from_mains, way_to


def test_plans_that_differ_in_numbers_only_share_the_structure() -> None:
    family = example("family-winter")
    ways = {"shower": way_to(family, "shower")}
    longer = family.changed({"runs.trunk.length": 3.0}, si=True)
    assert network_of(family, ways) is network_of(longer, {"shower": way_to(longer, "shower")})
    mixed = network_of(family, ways)
    assert [mixer.name for mixer in mixed.mixers] == ["shower mixer"]
    assert next(run for run in mixed.runs if run.name == "heater feed").check_valve


def test_a_submersible_pump_stands_between_its_tank_and_its_hose_without_a_valve() -> None:
    plan = Plan.of(pumped("submersible"))
    ways = {"tap": way_to(plan, "tap")}
    built = network_of(plan, ways)
    (pump,) = built.pumps
    assert (pump.start, pump.end, pump.check_valve) == ("fresh", "pump outlet", False)
    numbers = network_numbers(Batch(plan), ways, built)
    heights = dict(zip(built.nodes, numbers["elevation"][0].tolist(), strict=True))
    assert heights["pump outlet"] == heights["fresh"] == pytest.approx(0.05)
    assert network_of(Plan.of(pumped("foot")), {"tap": way_to(Plan.of(pumped("foot")), "tap")}).pumps[0].check_valve


def test_joined_tanks_are_sources_side_by_side() -> None:
    plan = Plan.of(two_tanks("foot", "30 cm"))
    ways = {"tap": way_to(plan, "tap")}
    built = network_of(plan, ways)
    assert {source.name for source in built.sources} == {"fresh", "second"}
    assert {run.name for run in built.runs} == set(plan.runs) - {"rinse hose"}
    numbers = network_numbers(Batch(plan), ways, built)
    assert np.all(numbers["source_pressure"] == 0.0)
    assert sorted(numbers["elevation"][0, [built.nodes.index(tank) for tank in ("fresh", "second")]]) == [0.05, 0.3]


def test_a_mains_inlet_is_a_source_at_its_regulators_pressure() -> None:
    plan = Plan.of(on_the_mains("foot", regulator="2.5 bar"))
    ways = {"tap": way_from_mains(plan, "tap")}
    built = network_of(plan, ways)
    assert [source.name for source in built.sources] == ["inlet"]
    assert built.pumps == ()
    assert network_numbers(Batch(plan), ways, built)["source_pressure"].tolist() == [[pytest.approx(2.5e5)]]
