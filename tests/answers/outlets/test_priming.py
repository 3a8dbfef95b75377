from __future__ import annotations

import copy
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.pumped import pumped
from vanwater.answers.core.finding import Finding, Verdict
from vanwater.answers.core.statement import Amount
from vanwater.answers.outlets.answer import outlets
from vanwater.answers.outlets.priming import MOST_RATED, priming
from vanwater.plan.model import Plan

MINUS = "\N{MINUS SIGN}"


def van(z: float, altitude: float = 0.0, lift: float | None = 1.6, **suction: Any) -> dict[str, Any]:
    """The small van; its tank's floor lies 5 cm above the van's floor."""
    raw = pumped("diaphragm", z=z, priming_lift=lift)
    if lift is None:
        del raw["pumps"]["pump"]["priming_lift"]
    raw["site"] = {"altitude": altitude}
    raw["runs"]["suction"] |= suction
    return raw


def told(raw: dict[str, Any]) -> Finding:
    answer = outlets(Plan.of(raw))
    return next(finding for finding in answer.findings if finding.key == "outlets.pump.priming")


def cured(raw: dict[str, Any], finding: Finding) -> dict[str, Any]:
    """The van after what the finding says of heights."""
    assert finding.change is not None
    lower = dict(finding.change.given)["lower"]
    assert isinstance(lower, Amount)
    after = copy.deepcopy(raw)
    after["pumps"]["pump"]["z"] -= lower.value
    return after


@pytest.mark.parametrize("altitude", [1500.0, 2500.0, 3000.0])
def test_a_pump_a_little_above_its_tank_is_sound_in_the_mountains(altitude: float) -> None:
    finding = told(van(0.25, altitude))
    assert finding.verdict is Verdict.FINE
    assert "pulls the water up" in finding.statement.text()


def test_water_well_above_pump_and_line_runs_to_it_by_itself() -> None:
    """Rated or not, at any height; 0.3 m by floats is 0.3 m."""
    for lift in (None, 0.0, 1.6):
        finding = told(van(-0.25, 5000.0, lift))
        assert finding.verdict is Verdict.FINE
        assert "runs to the pump by itself" in finding.statement.text()
        assert "0.3" in finding.statement.text()
    assert told(van(-0.24, 0.0, None)).verdict is Verdict.NOT_DECIDED


@pytest.mark.parametrize(
    "suction",
    [{"fittings": {"spring check valve": 1}}, {"highest": 0.1}, {"highest": -0.2}],
    ids=["spring check valve", "over the water", "hump"],
)
def test_a_hump_or_a_spring_check_valve_keeps_it_from_running_by_itself(suction: dict[str, Any]) -> None:
    finding = told(van(-0.40, 0.0, None, **suction))
    assert finding.verdict is Verdict.NOT_DECIDED
    assert told(van(-0.40, 0.0, None, fittings={"swing check valve": 1})).verdict is Verdict.FINE


def test_a_pump_just_below_the_water_hardly_has_to_pull() -> None:
    finding = told(van(-0.05, 3000.0, 0.5))
    assert finding.verdict is Verdict.FINE
    assert "hardly has to pull" in finding.statement.text()


def test_what_it_lifts_by_hand() -> None:
    """1.6 m rated, 12 °C, 2000 m: (1.6 + 0.306) × 0.78456 − 0.306 m; 0.05 bar more for a check valve."""
    (supply, *_) = outlets(Plan.of(van(0.25, 2000.0, fittings={"spring check valve": 1}))).outlets.values()
    dry = priming(supply)
    assert dry is not None and dry.dry is not None and dry.spare is not None
    weight = 9.80665 * 999.5
    by_hand = (1.6 + 3000.0 / weight) * 0.78456 - 8000.0 / weight
    assert dry.dry.likely == pytest.approx(by_hand, abs=1e-3)
    assert dry.lift.likely == pytest.approx(0.2)
    assert dry.spare.likely == pytest.approx(by_hand - 0.2, abs=1e-3)


def test_friction_of_water_does_not_count_while_the_line_is_dry() -> None:
    short, long = told(van(0.8)), told(van(0.8, length="9 m", size="pvc hose 8 mm"))
    assert (short.value, short.verdict) == (long.value, long.verdict)


def test_it_is_judged_where_the_air_is_thinnest() -> None:
    raw = van(1.2)
    assert told(raw).verdict is Verdict.FINE
    raw["site"]["highest"] = 3000.0
    finding = told(raw)
    assert finding.verdict is Verdict.FAILS
    assert "3000" in "".join(letter for letter in finding.statement.text() if letter.isdigit())
    raw["site"]["highest"] = None
    raw["site"]["altitude"] = 3000.0
    assert told(raw).verdict is Verdict.FAILS


def test_it_has_to_lift_over_the_highest_point_of_its_line() -> None:
    finding = told(van(0.1, 0.0, 0.8, highest=0.7))
    assert finding.verdict is Verdict.WATCH
    assert "over the top of the suction" in finding.statement.text()
    assert told(van(0.1, 0.0, 0.8)).verdict is Verdict.FINE


def test_a_short_lift_says_how_much_is_missing() -> None:
    """1.9 m up against 1.6 m at sea level."""
    finding = told(van(1.95))
    assert finding.verdict is Verdict.FAILS
    assert finding.statement.text() == (
        "The pump cannot pull the water up: it has to lift 1.9\N{NO-BREAK SPACE}m, 0.3\N{NO-BREAK SPACE}m too much."
    )


@settings(max_examples=60, deadline=None)
@given(st.floats(-0.5, 3.0), st.floats(0.0, 4000.0), st.floats(0.0, 2.5), st.sampled_from((0, 1)))
def test_what_is_advised_cures_and_nothing_below_nothing_is_told(
    z: float, altitude: float, lift: float, valves: int
) -> None:
    raw = van(z, altitude, lift, fittings={"spring check valve": valves} if valves else {})
    finding = told(raw)
    assert MINUS not in finding.statement.text()
    if finding.verdict is Verdict.FINE:
        assert finding.change is None
        return
    assert finding.change is not None
    advice = dict(finding.change.given)
    if "lower" in advice:
        assert told(cured(raw, finding)).verdict is Verdict.FINE
    else:
        raw["runs"]["suction"]["fittings"] = {}
        assert told(raw).verdict is Verdict.FINE
    rated = advice.get("rated")
    if rated is not None:
        assert isinstance(rated, Amount)
        assert rated.value <= MOST_RATED
        stronger = van(z, altitude, rated.value, fittings={"spring check valve": valves} if valves else {})
        assert told(stronger).verdict is Verdict.FINE


def test_a_dip_tube_that_leads_too_high_is_left_out() -> None:
    raw = van(0.1, 0.0, 0.5, fittings={"dip tube": 1})
    assert told(raw).verdict is Verdict.NOT_DECIDED
    assert told(raw).address == "runs.suction.highest"
    raw["tanks"]["fresh"] |= {"length": "30 cm", "width": "30 cm", "height": "45 cm"}
    finding = told(raw)
    assert finding.verdict is Verdict.WATCH
    assert finding.change is not None and "Draw from the bottom of the fresh" in finding.change.text()
    raw["runs"]["suction"]["fittings"] = {"tank outlet": 1}
    assert told(raw).verdict is Verdict.FINE


def test_an_undecided_lift_is_asked_for() -> None:
    raw = van(0.9, 0.0, None)
    assert told(raw).address == "pumps.pump.priming_lift"
    assert "has to lift 0.85" in told(raw).change.text()  # type: ignore[union-attr]


@pytest.mark.parametrize("kind", ["hand", "foot", "speed-controlled", "by-pass"])
def test_every_kind_with_a_suction_line_is_looked_at(kind: str) -> None:
    finding = told(pumped(kind, priming_lift="0.1 m", z="1 m"))
    assert finding.verdict is Verdict.FAILS
