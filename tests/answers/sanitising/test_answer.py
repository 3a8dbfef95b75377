from __future__ import annotations

import math
from typing import Any

import pytest
from hypothesis import given

from tests.drawn import WHOLE_PLANS
from tests.examples import NAMES, example
from tests.strategies import plans
from tests.walk import walk
from vanwater.answers.core.finding import Verdict
from vanwater.answers.core.handover import Step
from vanwater.answers.questions import QUESTIONS
from vanwater.answers.sanitising.answer import Sanitising, sanitising
from vanwater.answers.sanitising.controls import controls
from vanwater.plan.model import Plan

PLAN = {
    "van": {"name": "Van"},
    "household": {"people": 2},
    "tanks": {
        "fresh": {"holds": "fresh", "capacity": "100 L", "out_of_reach": "10 L"},
        "grey": {"holds": "grey", "capacity": "80 L"},
    },
    "heaters": {"heater": {"volume": "8 L", "source": "gas", "power": "2000 W"}},
    "outlets": {"tap": {"type": "galley tap"}},
    "tees": {"tee": {}},
    "runs": {
        "cold": {"from": "fresh", "to": "tee", "bore": "10 mm", "length": "5 m"},
        "cold tap": {"from": "tee", "to": "tap", "bore": "10 mm", "length": "3 m"},
        "to heater": {"from": "tee", "to": "heater", "bore": "10 mm", "length": "1 m"},
        "hot": {"from": "heater", "to": "tap", "bore": "10 mm", "length": "4 m"},
        "drain": {"from": "tap", "to": "grey", "bore": "25 mm", "length": "2 m"},
    },
}
LINES = 13 * math.pi / 4 * 0.01**2
WATER = 0.1 + LINES + 0.008
IN_BLEACH = 0.05 * 1080 * 2 * 35.45 / (22.990 + 15.999 + 35.45)  # kg of Cl₂ in a cubic metre of bleach


def asked(changes: dict[str, Any] | None = None) -> Sanitising:
    return sanitising(Plan.of(PLAN).changed(changes or {}, si=True))


def words(text: Any) -> str:
    return text.text().replace("\N{NO-BREAK SPACE}", " ")


def test_tank_lines_and_heater_are_counted_and_the_drain_is_not():
    numbers = asked().numbers
    assert numbers["tank.fresh.lines"].likely == pytest.approx(LINES)
    assert numbers["tank.fresh.heaters"].likely == pytest.approx(0.008)
    assert numbers["tank.fresh.water"].likely == pytest.approx(WATER)


def test_a_full_tank_starts_with_twenty_between_ten_and_twentyfive():
    numbers = asked().numbers
    bleach, granules = numbers["tank.fresh.bleach.full"], numbers["tank.fresh.granules.full"]
    for level, ends in ((20e-3, 1), (10e-3, 0), (25e-3, 2)):
        assert (bleach.range[0], bleach.likely, bleach.range[1])[ends] == pytest.approx(WATER * level / IN_BLEACH)
        assert (granules.range[0], granules.likely, granules.range[1])[ends] == pytest.approx(WATER * level / 0.65)
    assert words(bleach.shown).endswith("mL (21 to 53)") and words(granules.shown).split()[1] == "g"


def test_the_bottom_alone_gets_fifty_and_makes_little_more_than_two_when_all_is_full():
    numbers = asked().numbers
    assert numbers["tank.fresh.bleach.bottom"].likely == pytest.approx(0.005 * 50e-3 / IN_BLEACH)
    assert numbers["tank.fresh.granules.bottom"].likely == pytest.approx(0.005 * 50e-3 / 0.65)
    assert numbers["tank.fresh.chlorine.filled"].likely == pytest.approx(0.005 * 50e-3 / WATER)
    assert numbers["spray.bleach"].likely == pytest.approx(1e-3 * 0.2 / IN_BLEACH)


def test_flushed_by_fillings_or_by_water_between_plug_and_mixed():
    numbers = asked().numbers
    assert numbers["tank.fresh.flush.fillings"].likely == 1.0  # 20 mg/L, a tenth of it left
    through = numbers["tank.fresh.flush.through"]
    assert through.likely == pytest.approx(WATER * math.log(4))
    assert through.range == pytest.approx((WATER, WATER * math.log(5)))
    much = asked({"tanks.fresh.out_of_reach": 0.025}).numbers["tank.fresh.flush.fillings"]
    assert (much.likely, much.range) == (1.0, (1.0, 2.0))  # just enough from 20 mg/L, not from 25


def test_in_the_united_states_it_is_flushed_further():
    us = asked({"van.units": "us"})
    assert us.numbers["tank.fresh.flush.through"].likely == pytest.approx(WATER * math.log(5))
    assert words(us.verdict).endswith("flush to 4 mg/L.") and words(asked().verdict).endswith("flush to 5 mg/L.")
    assert "fl oz" in us.verdict.text(True)


def test_a_tank_that_the_pickup_does_not_empty_at_all_is_flushed_through():
    answer = sanitising(
        Plan.of(PLAN).changed(
            {
                "tanks.fresh": {
                    "holds": "fresh",
                    "length": "0.8 m",
                    "width": "0.5 m",
                    "height": "0.25 m",
                    "pickup": "0.25 m",
                }
            }
        )
    )
    assert "tank.fresh.flush.fillings" not in answer.numbers
    (flush,) = (one for one in answer.findings if one.key == "sanitising.fresh.flush")
    assert words(flush.statement).startswith("To flush the fresh tank, let ")


def test_a_sound_van_is_told_what_to_do():
    told = {finding.key: finding for finding in asked().findings}
    assert set(told) == {"sanitising.fresh.dose", "sanitising.fresh.flush"}
    assert {finding.verdict for finding in told.values()} == {Verdict.FINE}
    dose = words(told["sanitising.fresh.dose"].statement)
    assert "stand 24 h" in dose and "still read 10 mg/L" in dose


@pytest.mark.parametrize(("lacks", "address"), [("length", "runs.hot.length"), ("bore", "runs.hot.size")])
def test_a_line_that_is_not_decided_is_named(lacks, address):
    finding = asked({f"runs.hot.{lacks}": None}).findings[0]
    assert (finding.key, finding.verdict, finding.address) == ("sanitising.fresh.lines", Verdict.NOT_DECIDED, address)
    assert asked({f"runs.hot.{lacks}": None}).numbers["tank.fresh.lines"].likely == pytest.approx(LINES * 9 / 13)


def test_a_line_behind_no_fresh_tank_is_not_asked_for():
    assert asked({"runs.drain.length": None}).findings[0].verdict is Verdict.FINE


def test_without_a_fresh_tank_nothing_is_said():
    answer = sanitising(Plan.of({"van": {"name": "Van"}, "household": {"people": 1}}))
    assert answer.silent
    assert answer.assumptions == ()


def test_cans_that_refill_a_tank_are_sanitised_with_it():
    answer = sanitising(example("weekend-cans"))
    (store,) = answer.stores
    assert store.group.tanks == ("can in use", "spare can")
    assert answer.numbers['tanks."can in use".content'].likely == pytest.approx(2 * 5 * 3.785411784e-3)


def test_two_tanks_that_feed_nothing_in_common_have_a_dose_each():
    answer = sanitising(
        Plan.of(PLAN).changed(
            {
                "tanks.second": {"holds": "fresh", "capacity": "20 L"},
                "outlets.hose": {"type": "galley tap"},
                "runs.rear": {"from": "second", "to": "hose", "bore": "10 mm", "length": "1 m"},
            }
        )
    )
    assert {"tank.fresh.bleach.full", "tank.second.bleach.full"} <= set(answer.numbers)
    second = answer.numbers["tank.second.water"].likely
    assert second == pytest.approx(0.02 + math.pi / 4 * 0.01**2)
    assert len(answer.tables[0].rows) == 6 and len(answer.tables[1].rows) == 2


def test_a_tank_without_a_line_is_stirred_and_its_dose_is_handed_over_too():
    plan = example("long-stay-dry-toilet")
    answer = QUESTIONS["sanitising"].ask(plan)
    said = {one.key: words(one.statement) for one in answer.findings}
    assert "open every tap until it smells" in said["sanitising.main.dose"]
    assert "by every tap, hot ones too, until a strip" in said["sanitising.main.flush"]
    assert ", stir, and let all" in said["sanitising.drinking.dose"]
    assert "tap" not in said["sanitising.drinking.dose"] + said["sanitising.drinking.flush"]
    steps = [words(each.text) for each in answer.question.handover(plan, answer) if isinstance(each, Step)]
    assert [("main tank" in text, "drinking tank" in text) for text in steps] == [(True, False), (False, True)]
    assert "tap" in steps[0] and "tap" not in steps[1]


def test_the_water_of_a_tank_with_its_pump_in_it_comes_by_the_taps():
    answer = QUESTIONS["sanitising"].ask(example("touring-campsites"))
    said = {one.key: words(one.statement) for one in answer.findings}
    assert "open every tap until it smells" in said["sanitising.fresh.dose"]
    assert "by every tap, until a strip" in said["sanitising.fresh.flush"]


def test_heaters_and_hot_taps_are_told_of_where_there_are_any():
    cold = QUESTIONS["sanitising"].ask(example("weekend-cans"))
    assert "hot side" not in {each.key for each in cold.assumptions}
    assert not [one for one in cold.findings if "hot ones" in one.statement.text()]
    assert "hot side" in {each.key for each in asked().assumptions}


def test_the_danger_of_bleach_is_grave():
    grave = [caution for caution in QUESTIONS["sanitising"].ask(Plan.of(PLAN)).cautions if caution.grave]
    assert [caution.key for caution in grave] == ["bleach"]
    assert all(word in grave[0].text for word in ("acid", "descaler", "ammonia", "scent"))


@pytest.mark.parametrize("name", NAMES)
def test_every_number_of_the_examples_and_every_control(name):
    plan = example(name)
    answer = sanitising(plan)
    assert walk(answer) >= 20
    addresses = list(controls(plan, answer))
    assert addresses and len(set(addresses)) == len(addresses)
    assert all(plan.at(address) is not None for address in addresses)


@WHOLE_PLANS
@given(plans())
def test_the_same_for_any_plan(raw):
    walk(sanitising(Plan.of(raw, file=True)))
