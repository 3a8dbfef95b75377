"""Ready comparisons: they make sense for the plan, or say why they do not."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given

from tests.drawn import WHOLE_PLANS
from tests.examples import NAMES, example
from tests.over import over
from tests.strategies import plans
from vanwater.answers.core.difference import is_sure
from vanwater.answers.outlets.answer import Outlets
from vanwater.answers.questions import QUESTIONS
from vanwater.options.ready import ready
from vanwater.plan.model import Plan
from vanwater.plan.problems import PlanError
from vanwater.plan.tables import pipes
from vanwater.quantities import BORE

FAMILY, LONG_STAY = example("family-winter"), example("long-stay-dry-toilet")


@over(NAMES)
def test_every_variant_is_a_plan_that_is_not_the_plan(name: str) -> None:
    plan = example(name)
    told = ready(plan)
    assert list(told) == ["filter", "accumulator", "tank", "heat", "hose"]
    for each in told.values():
        assert each.overlays or each.refused, each.key
        assert bool(each.assumed) == bool(each.overlays)
        for overlay in each.overlays:
            assert overlay.plan(plan) != plan, overlay.name
    assert sum(len(each.overlays) for each in told.values()) >= 3


@WHOLE_PLANS
@given(plans())
def test_of_any_plan_each_is_ready_or_says_why_not(raw: dict[str, Any]) -> None:
    plan = Plan.of(raw)
    for each in ready(plan).values():
        assert each.overlays or each.refused, each.key
        for overlay in each.overlays:
            assert overlay.plan(plan) != plan


def test_a_bare_plan_says_of_each_why_not() -> None:
    bare = Plan.of({"van": {"name": "bare"}, "household": {"people": 2}})
    told = ready(bare)
    assert all(not each.overlays and each.refused for each in told.values())
    with pytest.raises(PlanError, match="no variant to compare"):
        told["heat"].compare()


def test_a_filter_for_the_whole_van_costs_the_shower_some_flow_and_one_for_a_tap_none() -> None:
    told = ready(FAMILY)["filter"]
    assert [overlay.name for overlay in told.overlays] == [
        "filter for the whole van",
        "filter for the galley tap alone",
    ]
    assert told.overlays[0].values == {"runs.trunk.fittings.cartridge filter": 1}
    assert told.overlays[1].values == {"runs.cold galley line.fittings.small cartridge filter": 1}
    whole, tap = told.compare(["outlet.shower.flow"])["outlet.shower.flow"].differences
    assert whole is not None and whole.likely < 0 and is_sure(whole)
    assert tap is not None and tap.likely == 0.0


def test_a_van_with_a_filter_is_held_against_one_without() -> None:
    told = ready(LONG_STAY)["filter"]
    assert {overlay.name: overlay.values for overlay in told.overlays}["no filter"] == {
        "runs.trunk.fittings.cartridge filter": None
    }
    assert "filter for the whole van" not in [overlay.name for overlay in told.overlays]  # it is so already
    (more,) = told.compare(["outlet.shower.flow"])["outlet.shower.flow"].differences[-1:]
    assert more is not None and more.likely > 0


def test_an_accumulator_comes_or_goes() -> None:
    (none,) = ready(FAMILY)["accumulator"].overlays
    assert none.plan(FAMILY).accumulators == {}
    (fitted,) = ready(LONG_STAY)["accumulator"].overlays
    vessel = fitted.plan(LONG_STAY).accumulators["accumulator"]
    assert vessel.stock == "accumulator 1 L" and vessel.precharge is not None
    pump = LONG_STAY.pumps["pump"]
    assert pump.cut_in is not None and vessel.precharge < pump.cut_in
    assert ready(example("touring-campsites"))["accumulator"].refused


def test_a_tank_under_the_floor_comes_in_and_one_inside_goes_out() -> None:
    inside = ready(FAMILY)["tank"].overlays[0].plan(FAMILY).tanks["fresh"]
    assert (inside.z, inside.beside, inside.faces) == (0.0, "room", {})
    under = ready(LONG_STAY)["tank"].overlays[0].plan(LONG_STAY).tanks["main"]
    assert under.beside == "outside" and under.z == pytest.approx(-0.32)
    assert under.length == LONG_STAY.tanks["main"].length
    told = ready(LONG_STAY.changed({"tanks.main.z": None}))["tank"]
    assert told.refused == ("It is not said where the main tank stands: tanks.main.z.",)


def test_other_heat_takes_less_from_the_battery() -> None:
    told = ready(FAMILY)["heat"]
    assert [overlay.name for overlay in told.overlays] == ["heated by the engine", "heated by diesel"]
    for less in told.compare(["battery.all_loads_a_day"])["battery.all_loads_a_day"].differences:
        assert less is not None and less.likely < 0 and is_sure(less)
    diesel = told.overlays[1].plan(FAMILY)
    assert "heated by electricity, by the inverter" in [overlay.name for overlay in ready(diesel)["heat"].overlays]
    bare = diesel.changed({"inverter": None, "appliances": {}, "cables": {}})
    assert ready(bare)["heat"].refused == ("No inverter is planned.",)
    instant = diesel.changed({"heaters.heater.least_flow": "2 L/min"})
    assert not ready(instant)["heat"].overlays


@over(NAMES)
def test_hoses_have_the_bore_that_is_told_and_wider_ones_give_no_less(name: str) -> None:
    plan = example(name)
    told = ready(plan)["hose"]
    assert len(told.overlays) + len(told.refused) == 3 and len(told.overlays) >= 2
    flows = []
    for overlay in told.overlays:
        bore = BORE.read(overlay.name.removeprefix("hose of ").removesuffix(" bore"))
        other = overlay.plan(plan)
        runs = {address.split(".")[1] for address in overlay.values}
        assert runs
        for run in runs:
            row = pipes().get(other.runs[run].size or "")
            assert (row.bore if row is not None else other.runs[run].bore) == pytest.approx(bore)
            assert other.runs[run].fittings == plan.runs[run].fittings
        answer = QUESTIONS["outlets"].ask(other)
        assert isinstance(answer, Outlets)
        flows.append(answer.outlets[answer.main].flow.likely)
    assert flows == sorted(flows)
