from __future__ import annotations

import numpy as np
import pytest

from tests.examples import NAMES, example
from vanwater.answers.core.finding import Finding, Verdict
from vanwater.answers.core.number import Number
from vanwater.answers.core.unsure import PUMPS
from vanwater.answers.pump_starts.answer import pump_starts
from vanwater.answers.pump_starts.cycle import DRIPS, NIGHT, PumpCycle, pump_cycle
from vanwater.answers.pump_starts.findings import cycle_findings
from vanwater.physics.switching import volume_between
from vanwater.plan.model import Plan
from vanwater.system.batch import Batch, low_and_high

FAMILY = example("family-winter")


def cycle_of(plan: Plan) -> PumpCycle:
    return pump_cycle(Batch(plan, low_and_high((PUMPS,))), "pump")


def found(plan: Plan, key: str) -> Finding:
    findings = cycle_findings(plan, cycle_of(plan))
    return next(finding for finding in findings if finding.key == f"pump_starts.pump.{key}")


def ends(number: Number) -> tuple[float, float, float]:
    assert number.range is not None
    return number.range[0], number.likely, number.range[1]


@pytest.mark.parametrize("name", NAMES)
def test_a_night_is_the_litres_lost_over_the_litres_between_starts(name: str) -> None:
    for cycle in pump_starts(example(name)).pumps:
        held = float(np.ravel(volume_between(cycle.switch, cycle.storage))[0])
        assert cycle.between.likely == pytest.approx(held)
        assert ends(cycle.night) == pytest.approx([NIGHT * drip / held for drip in DRIPS], rel=0.02)
        low, likely, high = ends(cycle.bare_night)
        assert low < likely < high


def test_an_accumulator_spares_the_sleep() -> None:
    cycle = cycle_of(FAMILY)
    assert ends(cycle.night)[2] < ends(cycle.bare_night)[0]
    text = found(FAMILY, "night").statement.text().replace("\xa0", " ")
    assert "2.4 L/day to 24 L/day" in text and "8 (3 to 27) times" in text and "hoses alone" in text
    bare = FAMILY.changed({"accumulators": None})
    assert "hoses alone" not in found(bare, "night").statement.text()
    assert cycle_of(bare).night.likely == pytest.approx(cycle.bare_night.likely, rel=0.02)


def test_a_hand_wash_is_counted_against_what_the_accumulator_gives() -> None:
    assert cycle_of(FAMILY).wash is not None
    assert cycle_of(FAMILY).wash.likely == pytest.approx(0.4e-3)  # type: ignore[union-attr]  # 3 L/min for 8 s
    assert "every time" in found(FAMILY, "hand_wash").statement.text()
    large = FAMILY.changed({"accumulators.accumulator.volume": 2.5e-3}, si=True)
    chance = 0.4e-3 / cycle_of(large).between.likely
    assert f"in {round(10 * chance)} of 10 cases" in found(large, "hand_wash").statement.text()
    assert found(large, "hand_wash").value.value == pytest.approx(chance)  # type: ignore[union-attr]


def test_a_hand_wash_elsewhere_or_nowhere_says_nothing() -> None:
    none = FAMILY.changed({"uses.hands.outlet": None})
    assert cycle_of(none).wash is not None  # at an outlet that is not named
    cycle = cycle_of(FAMILY.changed({"runs.basin line.length": None}))  # its tap is behind no pump that is known
    assert cycle.wash is None and cycle.wash_starts is None
    assert not [finding for finding in cycle_findings(FAMILY, cycle) if finding.key.endswith("hand_wash")]
    assert all(finding.verdict is Verdict.FINE for finding in cycle_findings(FAMILY, cycle_of(FAMILY)))


def test_a_pump_that_never_stops_has_no_small_draws() -> None:
    never = FAMILY.changed({"pumps.pump.cut_out": 8e5}, si=True)
    assert [finding.key for finding in cycle_findings(never, cycle_of(never))] == ["pump_starts.pump.stops"]


def test_the_night_unfolds_to_its_sum() -> None:
    told = "\n".join(cycle_of(FAMILY).night.lines())
    assert "T / (t_on + V / q)" in told and "middling" not in told


def test_the_hoses_alone_lie_between_the_softest_and_the_stiffest() -> None:
    cycle = cycle_of(FAMILY)
    low, likely, high = ends(cycle.bare)
    assert likely == pytest.approx(np.sqrt(low * high))
    assert cycle.softest.likely / cycle.stiffest.likely == pytest.approx(high / low, rel=0.02)
    measured = cycle_of(FAMILY.changed({"pumps.pump.line_gives": cycle.softest.likely}, si=True))
    assert ends(measured.bare) == pytest.approx([low] * 3)


def test_a_weaker_pump_runs_longer_and_starts_less() -> None:
    cycle = cycle_of(FAMILY)
    planned, weak, strong = cycle.worst_starts.values
    assert weak < planned < strong
    assert cycle.between.values.tolist() == [cycle.between.likely] * 3 and cycle.between.unranged
