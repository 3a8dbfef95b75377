from __future__ import annotations

from typing import Any

import pytest

from tests.answered import frost, hot_water, outlets, pump_starts, stay
from vanwater.answers.questions import QUESTIONS
from vanwater.panels.bench import Bench
from vanwater.panels.control import Choice, Slid, control_for
from vanwater.panels.control_part import part_at
from vanwater.panels.control_selection import IN_SIGHT, controls_for
from vanwater.panels.field import Field
from vanwater.plan.file import PlanFile
from vanwater.plan.model import Plan

BARE = Plan.of({"van": {"name": "empty"}, "household": {"people": 2}})


def test_every_example_gets_controls_that_exist_for_each_question(example: PlanFile) -> None:
    plan = example.plan
    for answer in (question.ask(plan) for question in QUESTIONS.values()):
        sight, rest = controls_for(plan, answer)
        fits = answer.question.fits(plan, answer)
        assert (1 if answer.decided else 0) <= len(sight) <= IN_SIGHT
        assert len({*sight, *rest}) == len(sight) + len(rest)
        for address in (*sight, *rest):
            first = fits.get(part_at(address), {}).get(address.rpartition(".")[2], "")
            control_for(Field(plan, address, first=first))


def test_people_tanks_and_the_largest_use_come_first(family: PlanFile) -> None:
    sight, _ = controls_for(family.plan, stay(family.plan))
    assert sight[:6] == (
        "household.people",
        "household.habits",
        "tanks.fresh.width",
        "tanks.grey.length",
        "uses.shower.a_day",
        "uses.shower.duration",
    )


def test_the_way_to_the_main_outlet_has_its_controls(family: PlanFile) -> None:
    sight, rest = controls_for(family.plan, outlets(family.plan))
    assert sight == (
        "pumps.pump.volts",
        "outlets.shower.flow",
        "runs.handset hose.size",
        "runs.handset hose.length",
        "runs.suction.clogged",
        "pumps.pump.cut_out",
        "outlets.shower.temperature",
    )
    assert "runs.hot trunk.size" in rest
    assert len(set(rest)) == len(rest)


def test_a_filter_of_the_table_is_one_that_clogs(family: PlanFile) -> None:
    """A strainer of the builder's own says its loss itself; nothing makes it worse."""
    own = family.plan.changed({"fittings.mesh": {"k": 3.0}, "runs.suction.fittings": {"mesh": 1}})
    sight, rest = controls_for(own, outlets(own))
    assert not any(address.endswith(".clogged") for address in (*sight, *rest))


def test_the_accumulator_and_its_switch_have_their_controls(family: PlanFile) -> None:
    sight, rest = controls_for(family.plan, pump_starts(family.plan))
    assert sight == (
        "accumulators.accumulator.volume",
        "accumulators.accumulator.precharge",
        "pumps.pump.cut_in",
        "pumps.pump.cut_out",
        "pumps.pump.volts",
        "site.highest",
        "site.warmest",
    )
    assert "pumps.pump.line_gives" in rest


def test_the_heater_and_the_shower_have_their_controls(family: PlanFile) -> None:
    sight, rest = controls_for(family.plan, hot_water(family.plan))
    assert sight == (
        "heaters.heater.volume",
        "heaters.heater.power",
        "heaters.heater.set_point",
        "uses.shower.duration",
        "uses.shower.temperature",
        "site.cold_water",
        "battery.max_current",
    )
    assert "inverter.rating" in rest


def test_foam_pads_cold_and_wind_have_their_controls(family: PlanFile) -> None:
    sight, rest = controls_for(family.plan, frost(family.plan))
    assert sight == (
        "frost.design_cold",
        "frost.road_speed",
        "site.wind",
        "tanks.fresh.foam",
        "pads.fresh pad.power",
        "tanks.grey.foam",
        "pads.grey pad.power",
    )
    assert "runs.suction.foam" in rest


def test_a_tank_in_the_room_has_no_foam_to_turn(family: PlanFile) -> None:
    plan = family.plan.changed({"tanks.fresh.beside": "room", "tanks.fresh.faces": {}})
    assert "tanks.fresh.foam" not in {*controls_for(plan, frost(plan))[0], *controls_for(plan, frost(plan))[1]}


def test_the_temperature_of_a_thermostatic_valve_is_turned_at_the_valve(family: PlanFile) -> None:
    plan = family.plan.changed(
        {"mixers.shower mixer.kind": "thermostatic", "mixers.shower mixer.set": 273.15 + 39}, si=True
    )
    known = {*controls_for(plan, outlets(plan))[0], *controls_for(plan, outlets(plan))[1]}
    assert "mixers.shower mixer.set" in known
    assert "outlets.shower.temperature" not in known
    free = plan.changed({"mixers.shower mixer.set": None})
    assert "outlets.shower.temperature" in {
        *controls_for(free, outlets(free))[0],
        *controls_for(free, outlets(free))[1],
    }
    assert isinstance(control_for(Field(plan, "mixers.shower mixer.set")), Slid)


def test_a_plan_with_nothing_in_it_still_has_its_people() -> None:
    sight, rest = controls_for(BARE, stay(BARE))
    assert sight[:2] == ("household.people", "household.habits")
    assert not any(address.startswith("battery") for address in (*sight, *rest))
    for question in (outlets, pump_starts, hot_water):
        assert controls_for(BARE, question(BARE)) == ((), ())


def test_parts_can_be_taken_from_the_stock_where_their_question_is_asked(family: PlanFile) -> None:
    for question, address in (
        (outlets, "pumps.pump.stock"),
        (pump_starts, "accumulators.accumulator.stock"),
        (hot_water, "heaters.heater.stock"),
    ):
        assert address in controls_for(family.plan, question(family.plan))[1]


@pytest.mark.parametrize("question", ["hot_water", "frost"])
def test_no_control_fails_but_by_a_refusal_that_names_it(family: PlanFile, question: str) -> None:
    panel = Bench(family).panel(question)
    assert panel.answer is not None
    for address, one in panel.controls.items():
        ends: tuple[Any, ...] = (True, False)
        if isinstance(one, Slid):
            ends = one.field.read(f"{one.slider.min:.10g}"), one.field.read(f"{one.slider.max:.10g}")
        elif isinstance(one, Choice):
            ends = one.field.choices[:2]
        told = set()
        for end in ends:
            one.turn(end)
            assert (panel.answer is None) is ('role="alert"' in panel.verdict.value), address
            if panel.answer is not None:
                numbers = [step.lines()[0] for step in panel.answer.numbers.values()]
                told.add((panel.answer.verdict, repr(panel.answer.findings), repr(panel.answer.tables), *numbers))
            panel.bench.home(panel)
        assert len(told) == 2, f"{address} moves nothing"
