"""What makes a stay longer can be bought: panels and capacity, where the plan says what they are worth."""

from __future__ import annotations

import math

from tests.examples import example, example_answers
from vanwater.answers.core.finding import Finding
from vanwater.answers.questions import Answers, answers_to
from vanwater.quantities import CHARGE


def stays(asked: Answers) -> Finding:
    return next(finding for finding in asked["stay"].findings if finding.key == "stay.days")


def advice(asked: Answers) -> str:
    told = stays(asked).advice
    assert told is not None
    return told.text().replace("\N{NO-BREAK SPACE}", " ")


def test_panels_are_told_only_where_it_is_said_what_their_day_yields() -> None:
    assert "W more panels" in advice(example_answers("family-winter"))
    assert "panels" not in advice(answers_to(example("family-winter").changed({"sun": None})))
    by_the_sun = example("family-winter").changed({"heaters.heater.when": "sun"})
    assert "more panels" not in advice(answers_to(by_the_sun))


def test_a_battery_that_ends_the_stay_is_told_what_a_further_day_takes() -> None:
    asked = example_answers("touring-campsites")
    told = advice(asked)
    lack, battery = asked.numbers["battery.lack"], asked.plan.battery
    assert battery is not None and lack.amount.text().replace("\N{NO-BREAK SPACE}", " ") in told
    assert "for each day" in told
    value = CHARGE.written(battery.charge + lack.likely, False)
    days = answers_to(asked.plan.changed({"battery.charge": value})).numbers["battery.days"].likely
    gained = days - asked.numbers["battery.days"].likely
    assert gained > 86400.0 and math.isclose(gained, 86400.0, rel_tol=0.1)


def test_more_of_a_battery_that_gives_nothing_is_not_told() -> None:
    cold = {"frost.mean_cold": "-55 °C", "frost.design_cold": "-55 °C"}
    frozen = {**cold, "battery.chemistry": "flooded", "battery.beside": "outside"}
    plan = example("family-winter").changed(frozen)
    asked = answers_to(plan)
    assert asked.numbers["battery.usable"].likely == 0.0
    told = advice(asked)
    assert "put back" in told and "more of battery" not in told and "Ah more" not in told


def test_nobody_is_told_to_refill_more_than_once_a_day() -> None:
    family = example("family-winter")
    for reach, often in (
        ("90 L", "refill the fresh tank twice on the way"),
        ("118 L", ""),
        ("136 L", ""),
        ("137.2 L", ""),
    ):
        hardly = family.changed({"tanks.fresh.out_of_reach": reach, "tanks.fresh.pickup": None})
        told = advice(answers_to(hardly))
        assert (often in told) if often else ("refill" not in told and "L more fresh water" in told), reach
