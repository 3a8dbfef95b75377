from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest

from tests.answered import frost, hot_water, outlets, pump_starts, stay
from vanwater.answers.core.question import Answer
from vanwater.answers.questions import QUESTIONS, answers_to
from vanwater.panels.bench import Bench
from vanwater.panels.control import Choice, Slid, control_for
from vanwater.panels.control_group import IN_SIGHT, ControlGroup, TankSizes, controls_for
from vanwater.panels.control_part import part_at
from vanwater.panels.field import Field
from vanwater.panels.page import Page
from vanwater.plan.file import PlanFile
from vanwater.plan.model import Plan

SIGHT = ("household.people", "tanks.fresh.length")
TOLD: tuple[Callable[[Answer], object], ...] = (
    lambda answer: answer.verdict,
    lambda answer: repr(answer.findings),
    lambda answer: repr(answer.tables),
    lambda answer: [number.lines()[0] for number in answer.numbers.values()],
)
"""What an answer tells; each is put together only where those before it are alike."""


def group_of(bench: Bench, sight: tuple[str, ...] = SIGHT, rest: tuple[str, ...] = ()) -> ControlGroup:
    return ControlGroup(bench, sight, rest, Page(bench, "stay").verdict())


def test_a_control_moves_the_bench_and_the_bench_the_control(family: PlanFile) -> None:
    bench = Bench(family)
    group = group_of(bench)
    people = group.controls["household.people"]
    people.turn(3)
    assert bench.values == {"household.people": 3}
    bench.undo()
    group.moved()
    assert (people.value, people.handed) == (4, False)
    people.turn(2)
    people.home.click()
    assert bench.values == {}


def test_folded_controls_are_made_when_they_are_unfolded_and_stand_where_the_bench_stands(family: PlanFile) -> None:
    bench = Bench(family)
    bench.set("battery.charge", 100 * 3600.0)
    group = group_of(bench, rest=("battery.charge",))
    assert "battery.charge" not in group.controls
    group.more.button.value = True
    assert group.controls["battery.charge"].value == 100 * 3600.0
    assert len(group.unfold()) == 3


def test_an_untouched_control_follows_the_plan_and_stays_while_it_is_impossible(family: PlanFile) -> None:
    bench = Bench(family)
    group = group_of(bench, ("uses.teeth.a_day", "uses.teeth.volume"))
    saved = family.plan.at("uses.teeth.a_day"), family.plan.at("uses.teeth.volume")
    bench.set("household.habits", "home-like")
    group.moved()
    followed = bench.plan.at("uses.teeth.a_day"), bench.plan.at("uses.teeth.volume")
    assert followed != saved
    assert tuple(control.value for control in group.controls.values()) == followed
    bench.set("tanks.grey.height", 0.15)
    assert bench.refused is not None
    group.moved()
    assert tuple(control.value for control in group.controls.values()) == followed


def test_more_than_seven_in_sight_are_too_many(family: PlanFile) -> None:
    many = tuple(f"uses.{name}.a_day" for name in family.plan.uses)
    assert len(many) > 7
    with pytest.raises(ValueError, match="at most 7"):
        group_of(Bench(family), many)


def test_a_tanks_controls_have_its_litres_beside_them(family: PlanFile) -> None:
    group = group_of(Bench(family))
    assert len(group.sizes) == 1
    assert "usable" in group.sizes[0].widget.value


def test_litres_kilograms_and_payload_are_the_answers_own(family: PlanFile) -> None:
    bench = Bench(family)
    sizes = TankSizes(bench, "grey")
    sizes.refresh()
    for wider in (False, True):
        if wider:
            bench.set("tanks.grey.length", "90 cm")
            sizes.refresh()
        numbers = answers_to(bench.plan).numbers
        keys = ("tank.grey.usable", "tank.grey.mass", "van.payload")
        told = [numbers[key].amount.text(False) for key in keys]
        assert sizes.widget.value == f"{told[0]} usable · {told[1]} full · {told[2]} payload left"


def test_it_suits_the_controls_of_a_tanks_size_alone() -> None:
    assert TankSizes.suits(("tanks.fresh.width",))
    assert TankSizes.suits(("tanks.fresh.x", "tanks.fresh.capacity"))
    assert not TankSizes.suits(("tanks.fresh.foam",))
    assert not TankSizes.suits(("runs.trunk.length",))


def test_it_turns_grey_while_the_plan_is_impossible(family: PlanFile) -> None:
    bench = Bench(family)
    sizes = TankSizes(bench, "grey")
    sizes.refresh()
    before = sizes.widget.value
    bench.set("tanks.grey.height", "15 cm")  # below its overflow
    sizes.refresh()
    assert (sizes.widget.value, sizes.widget._dom_classes[-1]) == (before, "vw-stale")
    bench.undo()
    sizes.refresh()
    assert "vw-stale" not in sizes.widget._dom_classes


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
        answers = []
        for end in ends:
            one.turn(end)
            assert (panel.answer is None) is ('role="alert"' in panel.verdict.value), address
            if panel.answer is not None:
                answers.append(panel.answer)
            panel.bench.home(panel)
        assert len(answers) == 2 and any(each(answers[0]) != each(answers[1]) for each in TOLD), (
            f"{address} moves nothing"
        )
