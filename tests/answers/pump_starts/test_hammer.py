from __future__ import annotations

import numpy as np
import pytest

from tests.examples import NAMES, example
from vanwater.answers.core.finding import Finding, Verdict
from vanwater.answers.pump_starts.hammer import BY_HAND, FAST, blows, hammer_finding
from vanwater.physics.hammer import hammer, slow_closing, wave_speed
from vanwater.physics.surge import surge
from vanwater.plan.model import Plan

FAMILY = example("family-winter")
WEEKEND = example("weekend-cans")


def found(plan: Plan) -> Finding:
    (one,) = hammer_finding(plan, "pump")
    return one


def test_one_run_equals_the_plain_sum_by_hand() -> None:
    """The cans' tap hose is one run of 10 mm hose from the pump to the tap."""
    blow = blows(WEEKEND)["galley tap"]
    speed = blow.column.flow / (0.25 * np.pi * 0.010**2)
    column = float(slow_closing(blow.column.density, 1.524, speed, BY_HAND[0]))
    assert blow.quick.likely == pytest.approx(column, rel=1e-3)
    assert blow.fast.likely == pytest.approx(
        float(hammer(blow.column.density, blow.wave[0], blow.column.length[0], speed, FAST)), rel=1e-9
    )
    thin = float(wave_speed(blow.column.density, 0.010, 2.5e-3, 120e6))  # the thin-wall law of the same hose
    assert blow.wave[0] == pytest.approx(thin, rel=0.25)


@pytest.mark.parametrize("name", NAMES)
def test_slower_is_gentler_and_each_is_below_the_full_wave(name: str) -> None:
    for blow in blows(example(name)).values():
        one = blow.column
        assert 0 < blow.leisurely.likely < blow.quick.likely < blow.fast.likely
        full = float(np.max(one.density * blow.wave * one.flow / one.area))
        assert blow.fast.likely <= full * (1 + 1e-12)
        padded = float(surge(one.density, blow.wave, one.length, one.flow / one.area, FAST))
        assert blow.fast.likely == pytest.approx(padded, rel=1e-12)


def test_a_longer_run_and_no_accumulator_are_worse() -> None:
    near = blows(FAMILY)["basin tap"]
    far = blows(FAMILY.changed({"runs.basin line.length": 8.0}, si=True))["basin tap"]
    bare = blows(FAMILY.changed({"accumulators": None}))["basin tap"]
    assert far.quick.likely > near.quick.likely < bare.quick.likely


def test_the_finding_holds_a_hand_against_the_weakest_piece() -> None:
    one = found(FAMILY)
    assert one.verdict is Verdict.FINE
    worst = blows(FAMILY)["shower"]
    assert one.value is not None and one.limit is not None
    assert one.value.value == pytest.approx(2.6e5 + worst.quick.likely)  # type: ignore[union-attr]
    assert worst.stands is not None and one.limit.value == worst.stands.likely
    assert worst.total.range == (2.6e5 + worst.leisurely.likely, worst.total.likely)
    assert "snaps shut" in one.statement.text() and "too much" in one.statement.text()
    assert "too much" not in found(WEEKEND).statement.text()


def test_a_weak_or_long_line_is_watched_or_fails() -> None:
    verdicts = [
        found(FAMILY.changed({"runs.hot shower line.length": metres}, si=True)).verdict for metres in (2.6, 14.0, 40.0)
    ]
    assert verdicts[0] is Verdict.FINE
    assert verdicts[2] is Verdict.FAILS
    ranks = [verdict.rank for verdict in verdicts]
    assert ranks == sorted(ranks)


def test_without_a_rating_nothing_is_claimed() -> None:
    own = WEEKEND.changed(
        {"runs.tap hose.size": None, "runs.tap hose.bore": 0.010, "runs.tap hose.fittings": {}}, si=True
    )
    if blows(own)["galley tap"].stands is None:
        assert not list(hammer_finding(own, "pump"))
    else:  # a joint of the run is rated
        assert blows(own)["galley tap"].weakest != "tap hose"


def test_numbers_unfold_to_the_sums_of_the_physics() -> None:
    told = "\n".join(blows(FAMILY)["shower"].fast.lines())
    assert "min(max(ρ a Δv), Σ ρ L Δv / t)" in told and "a = 207 m/s to 349 m/s" in told.replace("\xa0", " ")
    total = "\n".join(blows(FAMILY)["shower"].total.lines()).replace("\xa0", " ")
    assert "what a quick hand adds at the shower" in total and "Column up to accumulator: heater feed" in total
    assert not blows(FAMILY.changed({"pumps.pump.cut_in": None}))
