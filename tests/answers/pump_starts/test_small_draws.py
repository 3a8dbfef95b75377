from __future__ import annotations

import numpy as np
import pytest

from tests.examples import NAMES, example
from vanwater.answers.core.finding import Finding, Verdict
from vanwater.answers.core.working import Step
from vanwater.answers.pump_starts.answer import accumulator
from vanwater.answers.pump_starts.pump import DRIPS, NIGHT, PumpCushion, pump_cushion
from vanwater.answers.pump_starts.small_draws import hand_wash, small_draw_findings, small_draw_numbers
from vanwater.physics.switching import volume_between
from vanwater.plan.model import Plan

FAMILY = example("family-winter")


def cushion_of(plan: Plan) -> PumpCushion:
    return pump_cushion(plan, "pump", None)


def found(plan: Plan, key: str) -> Finding:
    return next(one for one in small_draw_findings(plan, cushion_of(plan)) if one.key == f"accumulator.pump.{key}")


@pytest.mark.parametrize("name", NAMES)
def test_a_night_is_the_litres_lost_over_the_litres_between_starts(name: str) -> None:
    plan = example(name)
    for one in accumulator(plan).pumps:
        held = float(np.ravel(volume_between(one.switch, one.cushion))[0])
        ends = [NIGHT * drip / held for drip in DRIPS]
        assert [one.night.low, one.night.likely, one.night.high] == pytest.approx(ends, rel=0.02)
        assert one.bare_night.low < one.bare_night.likely < one.bare_night.high


def test_an_accumulator_spares_the_sleep() -> None:
    one = cushion_of(FAMILY)
    assert one.night.high < one.bare_night.low
    text = found(FAMILY, "night").statement.text().replace("\xa0", " ")
    assert "2.4 L/day to 24 L/day" in text and "8 (3 to 27) times" in text and "hoses alone" in text
    bare = FAMILY.changed({"accumulators": None})
    assert "hoses alone" not in found(bare, "night").statement.text()
    assert cushion_of(bare).night.likely == pytest.approx(one.bare_night.likely, rel=0.02)


def test_a_hand_wash_is_counted_against_what_the_accumulator_gives() -> None:
    litres = hand_wash(FAMILY, "pump")
    assert litres == pytest.approx(0.4e-3)  # 3 L/min for 8 s
    assert "every time" in found(FAMILY, "hand_wash").statement.text()
    large = FAMILY.changed({"accumulators.accumulator.volume": 2.5e-3}, si=True)
    one = cushion_of(large)
    assert one.drawdown is not None
    chance = 0.4e-3 / float(one.drawdown.value[0])
    assert f"in {round(10 * chance)} of 10 cases" in found(large, "hand_wash").statement.text()
    assert found(large, "hand_wash").value.value == pytest.approx(chance)  # type: ignore[union-attr]
    assert small_draw_numbers(large, one)["accumulator.hand_wash.pump"].value == pytest.approx(chance)


def test_a_hand_wash_elsewhere_or_nowhere_says_nothing() -> None:
    assert hand_wash(FAMILY, "other pump") is None
    none = FAMILY.changed({"uses.hands.outlet": None})
    assert hand_wash(none, "pump") == pytest.approx(0.4e-3)  # at an outlet that is not named
    assert all(one.verdict is Verdict.FINE for one in small_draw_findings(FAMILY, cushion_of(FAMILY)))


def test_a_pump_that_never_stops_has_no_small_draws() -> None:
    never = FAMILY.changed({"pumps.pump.cut_out": 8e5}, si=True)
    assert not list(small_draw_findings(never, cushion_of(never)))
    assert not small_draw_numbers(never, cushion_of(never))


def test_the_night_unfolds_to_its_sum() -> None:
    numbers = small_draw_numbers(FAMILY, cushion_of(FAMILY))
    told = "\n".join(numbers["accumulator.night.pump"].lines())
    assert "T / (t_on + V / q)" in told
    (fact,) = numbers["accumulator.night.pump"].facts
    assert isinstance(fact.value, Step)
    assert float(np.ravel(fact.value.value)[0]) == pytest.approx(cushion_of(FAMILY).night.likely, rel=1e-9)
