from __future__ import annotations

import pytest

from tests.examples import example
from tests.walk import walk
from vanwater.answers.core.finding import Verdict
from vanwater.answers.power.question import QUESTION

OWN = example("long-stay-dry-toilet")
SMALL = {"pumps.pump.curve_volts": "12 V", "pumps.pump.volts": "12 V", "pumps.pump.current": "5 A"}


def verdicts(converter: dict[str, str] | None) -> dict[str, Verdict]:
    answer = QUESTION.ask(OWN.changed({**SMALL, "converter": converter}))
    assert walk(answer)
    keys = ("power.pump.unlike", "power.converter.load")
    return {one.key: one.verdict for one in answer.findings if one.key in keys}


def test_a_pump_of_other_volts_asks_for_a_converter() -> None:
    assert verdicts(None) == {"power.pump.unlike": Verdict.NOT_DECIDED}


@pytest.mark.parametrize(
    ("rating", "verdict"),
    [("120 W", Verdict.FINE), ("50 W", Verdict.FAILS), (None, Verdict.NOT_DECIDED)],
)
def test_a_converter_is_held_against_what_hangs_on_it(rating: str | None, verdict: Verdict) -> None:
    converter = {"volts": "12 V"} | ({"rating": rating} if rating else {})
    assert verdicts(converter) == {"power.converter.load": verdict}


def test_nothing_is_told_where_the_volts_are_alike() -> None:
    keys = [one.key for one in QUESTION.ask(OWN).findings]
    assert not [key for key in keys if "unlike" in key or "converter" in key]
