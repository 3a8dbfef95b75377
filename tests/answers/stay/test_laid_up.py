"""A van that is laid up: no stay is counted, the battery has to last."""

from __future__ import annotations

import pytest

from tests.answers.frosty import DAY, frosty
from vanwater.answers.core.finding import Verdict
from vanwater.answers.stay.question import QUESTION

LAID_UP = {"water__drained": True, "battery__other_loads": "20 Wh/day", "household__days_wanted": "60 days"}


def test_the_battery_alone_is_counted() -> None:
    answer = QUESTION.ask(frosty(**LAID_UP))
    assert answer.verdict.text().startswith("Laid up, its water drained: no stay is counted; the battery lasts 58")
    assert [store.holds for store in answer.stores] == ["battery"]
    assert answer.days.likely == pytest.approx(12.8 * 100 * 0.9 / 20 * DAY)  # V Ah, over Wh a day
    assert [finding.key for finding in answer.findings] == ["stay.laid_up"]


@pytest.mark.parametrize(("wanted", "verdict"), [("30 days", Verdict.FINE), ("110 days", Verdict.FAILS)])
def test_it_has_to_outlast_the_time(wanted: str, verdict: Verdict) -> None:
    (finding,) = QUESTION.ask(frosty(**LAID_UP | {"household__days_wanted": wanted})).findings
    assert finding.verdict is verdict


def test_without_a_battery_no_days_are_told_and_none_fail() -> None:
    answer = QUESTION.ask(frosty(water__drained=True, battery=None, pads={}))
    assert answer.verdict.text() == "Laid up, its water drained: no stay is counted."
    assert answer.decided
    assert not answer.findings


def test_a_battery_that_nothing_empties_says_so() -> None:
    answer = QUESTION.ask(frosty(**LAID_UP | {"battery__other_loads": "0 Wh/day"}))
    assert "nothing empties the battery" in answer.verdict.text()


def test_what_moves_nothing_in_a_laid_up_van_has_no_slider() -> None:
    plan = frosty(**LAID_UP)
    sliders = list(QUESTION.controls(plan, QUESTION.ask(plan)))
    assert sliders == ["battery.charge", "battery.charging", "battery.other_loads", "household.days_wanted"]
