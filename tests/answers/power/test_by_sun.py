from __future__ import annotations

import pytest

from tests.examples import example
from tests.walk import walk
from vanwater.answers.core.finding import Finding, Verdict
from vanwater.answers.power.question import QUESTION
from vanwater.plan.change import CappedWarning

LONG_STAY = example("long-stay-dry-toilet").changed({"heaters.heater.when": "sun"})


def told(**changes: str | None) -> Finding | None:
    plan = LONG_STAY.changed({address.replace("__", "."): value for address, value in changes.items()})
    answer = QUESTION.ask(plan)
    return next((one for one in answer.findings if one.key == "power.heater.sun"), None)


def test_the_gain_of_heating_by_the_sun_is_told() -> None:
    finding = told()
    assert finding is not None and finding.verdict is Verdict.FINE
    assert "do not go through the battery" in finding.statement.text()
    assert walk(QUESTION.ask(LONG_STAY))


def test_a_sun_that_does_not_carry_it_is_watched() -> None:
    finding = told(sun__full_sun="0.1 h")
    assert finding is not None and finding.verdict is Verdict.WATCH


def test_without_panels_it_is_not_decided() -> None:
    finding = told(sun=None)
    assert finding is not None and finding.verdict is Verdict.NOT_DECIDED


def test_in_its_hours_nothing_is_told_of_the_sun() -> None:
    assert told(heaters__heater__when="hours") is None


def test_a_burner_is_not_heated_by_the_sun() -> None:
    gas = LONG_STAY.changed({"heaters.heater.source": "gas", "heaters.heater.when": "hours"})
    with pytest.warns(CappedWarning, match="lives on the battery"):
        gas.changed({"heaters.heater.when": "sun"})
    with pytest.warns(CappedWarning, match="while the sun charges"):
        LONG_STAY.changed({"heaters.heater.hours_on": "2 h"})
