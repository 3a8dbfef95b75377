from __future__ import annotations

import numpy as np
import pytest

from tests.examples import NAMES, example
from vanwater.answers.core.finding import Finding, Verdict
from vanwater.answers.pump_starts.hammer import BY_HAND, FAST, blows, hammer_finding
from vanwater.physics.hammer import wave_speed
from vanwater.physics.surge import surge
from vanwater.plan.model import Plan

FAMILY = example("family-winter")
WEEKEND = example("weekend-cans")


def found(plan: Plan) -> Finding:
    (one,) = hammer_finding(plan, "pump")
    return one


def test_one_run_equals_the_plain_sum_by_hand() -> None:
    """The cans' tap hose is one run of 10 mm hose from pump to tap: twice the rigid column, or the full wave."""
    blow = blows(WEEKEND)["galley tap"]
    speed = blow.column.flow / (0.25 * np.pi * 0.010**2)
    full = blow.column.density * blow.wave[0] * speed
    returns = 2 * 1.524 / blow.wave[0]
    assert FAST < returns < BY_HAND[0]
    assert blow.fast.likely == pytest.approx(full, rel=1e-9)
    assert blow.quick.likely == pytest.approx(2 * blow.column.density * 1.524 * speed / 0.1, rel=1e-9)
    assert blow.leisurely.likely == pytest.approx(blow.quick.likely / 5, rel=1e-9)
    thin = float(wave_speed(blow.column.density, 0.010, 2.5e-3, 120e6))  # the thin-wall law of the same hose
    assert blow.wave[0] == pytest.approx(thin, rel=0.25)


def test_ranges_go_from_a_tap_that_stops_the_water_early_to_one_that_stops_it_late() -> None:
    blow = blows(WEEKEND)["galley tap"]
    assert blow.quick.range is not None and blow.leisurely.range is not None
    assert blow.quick.range == pytest.approx((0.5 * blow.quick.likely, blow.late.likely))
    shares = 0.8 / np.sqrt(blow.column.share)
    assert shares > 2
    assert blow.leisurely.range[1] == pytest.approx(shares * blow.leisurely.likely, rel=1e-9)
    assert blow.late.likely == pytest.approx(min(shares * blow.quick.likely, blow.fast.likely), rel=1e-9)


@pytest.mark.parametrize("name", NAMES)
def test_slower_is_gentler_and_each_is_below_the_full_wave(name: str) -> None:
    for blow in blows(example(name)).values():
        one = blow.column
        assert 0 < blow.leisurely.likely < blow.quick.likely < blow.fast.likely
        column = 2 * one.density * float(np.sum(one.length * one.flow / one.area))
        assert blow.quick.likely <= column / BY_HAND[0] * (1 + 1e-12)
        assert blow.leisurely.likely == pytest.approx(column / BY_HAND[1])
        assert blow.quick.likely <= blow.late.likely
        padded = float(surge(one.density, blow.wave, one.length, one.flow / one.area, FAST))
        assert blow.fast.likely == pytest.approx(padded, rel=1e-12)


def test_a_longer_run_and_no_accumulator_are_worse() -> None:
    near = blows(FAMILY)["basin tap"]
    far = blows(FAMILY.changed({"runs.basin line.length": 8.0}, si=True))["basin tap"]
    bare = blows(FAMILY.changed({"accumulators": None}))["basin tap"]
    assert far.quick.likely > near.quick.likely < bare.quick.likely


def test_the_finding_holds_a_hand_against_the_weakest_piece() -> None:
    """Likely well below what the hot joints stand for long; a tap that chokes late below what they stand a moment."""
    one = found(FAMILY)
    worst = blows(FAMILY)["shower"]
    assert one.value is not None and one.limit is not None
    assert one.value.value == pytest.approx(2.6e5 + worst.quick.likely)  # type: ignore[union-attr]
    assert worst.stands is not None and one.limit.value == pytest.approx(1.5 * worst.stands.likely)
    assert worst.leisurely.range is not None
    assert worst.total.range == (2.6e5 + worst.leisurely.range[0], 2.6e5 + worst.late.likely)
    assert one.verdict is Verdict.FINE and worst.spare < 0 < worst.stands.likely - worst.total.likely
    assert worst.before.likely + worst.late.likely < 1.5 * worst.stands.likely
    assert "snaps shut" in one.statement.text()
    assert "too much" not in found(WEEKEND).statement.text()
    assert found(WEEKEND).verdict is Verdict.FINE


def test_without_an_accumulator_the_blow_comes_on_top_of_what_the_pump_makes_at_its_own_volts() -> None:
    held, bare = blows(FAMILY)["basin tap"], blows(FAMILY.changed({"accumulators": None}))["basin tap"]
    assert held.before.likely == 2.6e5
    more = blows(FAMILY.changed({"accumulators": None, "pumps.pump.volts": "13.6 V"}))["basin tap"]
    assert more.before.likely == pytest.approx(3.1e5)  # its curve at the volts it was measured at
    assert 2.6e5 < bare.before.likely < more.before.likely
    assert bare.total.likely == pytest.approx(bare.before.likely + bare.quick.likely)
    assert "without flow" in "\n".join(bare.total.lines())
    weak = {"pumps.pump.curve": [["0 L/min", "2.4 bar"], ["12 L/min", "0 bar"]], "pumps.pump.volts": "13.6 V"}
    assert blows(FAMILY.changed(weak))["basin tap"].before.likely == pytest.approx(2.4e5)  # it never gets to cut-out


def test_a_weak_or_long_line_is_watched_or_fails() -> None:
    """Polyethylene tube stands 3 bar at 60 °C, half as much again for a moment; ordinary PEX pipe more than comes."""
    weak = {"runs.hot shower line.size": "polyethylene tube 12 mm"}
    changes = ({}, {"runs.hot shower line.length": 14.0}, weak, weak | {"runs.hot shower line.length": 14.0})
    findings = [found(FAMILY.changed(change, si=True)) for change in changes]
    assert [each.verdict for each in findings] == [Verdict.FINE, Verdict.WATCH, Verdict.WATCH, Verdict.FAILS]
    assert [each.value.value > each.limit.value for each in findings] == [False, False, False, True]  # type: ignore[union-attr]


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
    assert "2 Σ ρ L Δv / t" in told and "a = 207 m/s to 349 m/s" in told.replace("\xa0", " ")
    total = "\n".join(blows(FAMILY)["shower"].total.lines()).replace("\xa0", " ")
    assert "what a quick hand adds at the shower" in total and "Column up to accumulator: heater feed" in total
    assert "t min(1, √s / 0.8)" in total and "what the open tap before the shower takes itself" in total
    assert not blows(FAMILY.changed({"pumps.pump.cut_in": None}))


def test_runs_that_are_alike_are_told_by_one_number() -> None:
    told = "\n".join(blows(FAMILY)["basin tap"].fast.lines()).replace("\xa0", " ")
    assert "a = 207 m/s  Speed" in told and "Δv = 1.57 m/s  Speed" in told
    assert "L = 0.9 m to 3.2 m in 2 values" in told
