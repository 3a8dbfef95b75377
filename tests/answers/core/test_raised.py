from __future__ import annotations

from typing import Any

import pytest

from tests.answers.dangers import plan_with
from tests.examples import example
from vanwater.answers.core.raised import doubtful_hose, filtered, freezing, heated_by, holding, scalding, under_floor
from vanwater.plan.tables import pipes


def test_heaters_and_tanks_are_looked_for_by_what_they_are() -> None:
    assert heated_by("gas", "inverter")(plan_with()) and not heated_by("gas", "engine")(plan_with())
    assert holding("urine", "cassette")(plan_with()) and not holding("cassette")(plan_with())


@pytest.mark.parametrize(("set_point", "burns"), [("43 °C", False), ("44 °C", True)])
def test_water_scalds_above_what_a_shower_may_be(set_point: str, burns: bool) -> None:
    assert scalding(plan_with({"heaters.heater.set_point": set_point})) is burns


@pytest.mark.parametrize(("cold", "frost"), [("-1 °C", True), ("0 °C", False), (None, False)])
def test_frost_is_what_the_plan_must_stand(cold: str | None, frost: bool) -> None:
    assert freezing(plan_with({"frost.design_cold": cold, "frost.mean_cold": cold})) is frost


@pytest.mark.parametrize(
    ("fittings", "has"),
    [({"cartridge filter": 1}, True), ({"cartridge filter": 0}, False), ({"strainer": 1}, False)],
)
def test_a_strainer_is_no_filter(fittings: dict[str, int], has: bool) -> None:
    assert filtered(plan_with({"runs.trunk.fittings": fittings})) is has


def test_only_hoses_that_fresh_water_passes_are_doubted() -> None:
    assert not doubtful_hose(plan_with())
    assert doubtful_hose(plan_with({"runs.trunk.size": "polyamide tube 12 mm"}))
    drain: dict[str, Any] = {"from": "grey", "to": "dump", "size": "pvc hose 19 mm", "length": "1 m"}
    assert not doubtful_hose(plan_with({"tees.dump": {}, "runs.drain": drain}))
    assert {row.material for row in pipes().values()} >= {"reinforced pvc", "polyamide"}


def test_what_lies_outside_or_below_the_floor_is_under_it() -> None:
    inside = {f"tanks.{tank}.beside": "room" for tank in ("fresh", "grey")}
    raised = {f"tanks.{tank}.z": "0.1 m" for tank in ("fresh", "grey")}
    assert under_floor(plan_with(inside)) and under_floor(plan_with(raised))
    assert not under_floor(plan_with(inside, raised))
    assert under_floor(plan_with(inside, raised, {"runs.suction.beside": "outside"}))


@pytest.mark.parametrize("also", ["engine", "shore"])
def test_a_second_source_of_heat_raises_what_belongs_to_it(also: str) -> None:
    plan = example("family-winter").changed({"heaters.heater.source": "gas", "heaters.heater.volts": None})
    assert heated_by("gas")(plan) and not heated_by(also)(plan)
    assert heated_by(also)(plan.changed({"heaters.heater.also": also}))
