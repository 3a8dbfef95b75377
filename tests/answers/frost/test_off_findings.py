from __future__ import annotations

from typing import Any

import pytest

from tests.answers.frosty import ZERO, frosty
from vanwater.answers.core.finding import Finding, Verdict
from vanwater.answers.core.harm import Harm
from vanwater.answers.frost.answer import Frost, frost

LINE = {"from": "fresh", "to": "tap", "size": "pex 12 mm", "length": "2 m"}
WARM_TOP = {"top": {"beside": "room"}}


def asked(**changes: Any) -> tuple[Frost, dict[str, Finding]]:
    answer = frost(frosty(**changes))
    return answer, {one.key: one for one in answer.findings}


def test_what_blocks_indoors_within_a_night_is_watched_with_what_helps() -> None:
    answer, told = asked(runs__hose=LINE)
    one = told["frost.heating_off"]
    assert (one.verdict, one.harm, one.urgent) == (Verdict.WATCH, Harm.STAY_ENDS, False)
    assert one.statement.text().startswith("Heating off, the hose blocks first indoors: in ")
    assert answer.off is not None and answer.off.first is not None
    assert one.value == answer.off.first.blocked.shown
    assert one.advice is not None and one.advice.text().startswith("Drain the water indoors before that")
    sleeved, _ = asked(runs__hose=LINE | {"foam": "13 mm"})
    then = sleeved.numbers["run.hose.time_to_ice.heating_off"].likely
    assert one.gain is not None and one.gain.amounts[-1].value == pytest.approx(then)  # type: ignore[union-attr]
    assert "follow within" not in one.statement.text()
    _, two = asked(runs__hose=LINE, tees={"tee": {}}, runs__other={**LINE, "to": "tee"})
    assert "1\N{NO-BREAK SPACE}other run follows within 12" in two["frost.heating_off"].statement.text()


def test_what_outlasts_a_night_is_fine_and_outside_alone_says_nothing() -> None:
    slow = {"body__time_constant": "40 h", "frost__design_cold": "-2 °C", "runs__hose": LINE}
    one = asked(**slow)[1]["frost.heating_off"]
    assert one.verdict is Verdict.FINE and one.change is None
    assert "frost.heating_off" not in asked()[1]


def test_a_tank_that_blocks_first_is_told_the_heat_that_holds_it() -> None:
    small = {"holds": "fresh", "length": "0.3 m", "width": "0.2 m", "height": "0.1 m", "beside": "room"}
    answer, told = asked(tanks__fresh=small, pads=None)
    one = told["frost.heating_off"]
    assert one.verdict is Verdict.WATCH and "the last tenth of the fresh tank blocks first" in one.statement.text()
    assert one.change is not None and " of heat into its water" in one.change.text() and one.gain is None
    through = answer.numbers["tank.fresh.heat_needed.heating_off"].likely / 14  # 4 °C against −10 °C
    held, _ = asked(tanks__fresh=small, pads__pad__power=14 * through / 0.75)
    assert held.numbers["tank.fresh.lowest_cold.heating_off"].likely == pytest.approx(ZERO - 10)


def test_a_pad_that_holds_without_the_room_too_is_fine_else_watched() -> None:
    strong = asked(tanks__fresh__faces=WARM_TOP, pads__pad__power="150 W")[1]["frost.fresh.heating_off"]
    assert strong.verdict is Verdict.FINE and "as long as its battery lasts" in strong.statement.text()
    weak, told = asked(tanks__fresh__faces=WARM_TOP, pads__pad__power="30 W")
    one = told["frost.fresh.heating_off"]
    assert one.verdict is Verdict.WATCH and "only down to" in one.statement.text()
    assert one.change is not None
    power = one.change.amounts[0].value  # type: ignore[union-attr]
    holds = asked(tanks__fresh__faces=WARM_TOP, pads__pad__power=power)[0]
    lowest = holds.numbers["tank.fresh.lowest_cold.heating_off"].likely
    assert lowest == pytest.approx(ZERO - 10)
    assert weak.numbers["tank.fresh.lowest_cold.heating_off"].likely > lowest
    assert weak.numbers["tank.fresh.lowest_cold.heating_off"].likely > weak.pads["fresh"].holds["parked"].likely


def test_nothing_is_said_of_a_pad_that_the_room_does_not_help_or_that_is_off() -> None:
    assert "frost.fresh.heating_off" not in asked()[1]
    assert "frost.fresh.heating_off" not in asked(tanks__fresh__faces=WARM_TOP, pads__pad__fed="engine")[1]
    shore = asked(tanks__fresh__faces=WARM_TOP, pads__pad__fed="shore")[1]["frost.fresh.heating_off"]
    assert "at a socket" in shore.statement.text()
