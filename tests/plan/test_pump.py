from __future__ import annotations

from typing import Any

import pytest

from tests.pumped import CURVE, KINDS, PLAN, PUMPS, pumped
from vanwater.plan.model import Plan
from vanwater.plan.problems import PlanError
from vanwater.plan.pump import BELONGS, ELECTRIC, Kind, Pump


def complaints(raw: dict[str, Any]) -> dict[str, str]:
    with pytest.raises(PlanError) as caught:
        Plan.of(raw)
    return {problem.address: str(problem).replace("\N{NO-BREAK SPACE}", " ") for problem in caught.value.problems}


@pytest.mark.parametrize("kind", KINDS)
def test_every_kind_is_read_with_its_own_fields(kind: str) -> None:
    pump = Plan.of(pumped(kind)).pumps["pump"]
    assert pump.kind == kind
    assert all(pump.belongs(field) for field in PUMPS[kind])
    assert set(Kind.__args__) == set(KINDS)


VALUES: dict[str, Any] = {
    "curve": CURVE,
    **dict.fromkeys(("curve_volts", "volts"), "12 V"),
    "current": "3 A",
    "cut_in": "1 bar",
    "cut_out": "2 bar",
    "by_pass": "2.5 bar",
    "holds": "2 bar",
    "least_flow": "1 L/min",
    "tank": "fresh",
    "stroke": "0.1 L",
    "strokes": "40 a minute",
    "stall": "0.8 bar",
    "priming_lift": "1 m",
    "npsh": "3 m",
    "line_gives": "8 mL/bar",
    "trickle": "1 L/min",
    **dict.fromkeys("xyz", "10 cm"),
}


@pytest.mark.parametrize("kind", KINDS)
@pytest.mark.parametrize("field", sorted(BELONGS))
def test_a_field_of_another_kind_is_named_with_its_value_what_belongs_and_a_slip(kind: str, field: str) -> None:
    if kind in BELONGS[field]:
        Pump.model_validate(
            {"kind": kind, field: VALUES[field]} | ({"curve_volts": "12 V"} if field == "curve" else {})
        )
        return
    (told,) = complaints(pumped(kind, **{field: VALUES[field]})).values()
    assert told.startswith(f"pumps.pump.{field}: ")
    assert f"stands in {field}, which a {kind} pump does not have" in told
    assert "Expected what belongs to it: " in told
    assert (
        ('Did you mean kind = "' in told) or ("Say holds" in told) or ("hangs in its tank" in told) or ("lifts" in told)
    )
    if isinstance(VALUES[field], str) and field not in ("tank", *"xyz"):
        assert VALUES[field] in told


@pytest.mark.parametrize(
    ("kind", "fields", "address", "words"),
    [
        ("by-pass", {"by_pass": "2.5 bar"}, "pumps.pump.by_pass", "before its by-pass opens"),
        ("by-pass", {"by_pass": "2.9 bar", "cut_out": "3 bar"}, "pumps.pump.by_pass", "never reaches it"),
        ("speed-controlled", {"holds": "2.8 bar"}, "pumps.pump.holds", "never reaches it"),
        ("speed-controlled", {"curve": [*CURVE, ["12 L/min", "0.5 bar"]]}, "pumps.pump.curve", "does not fall"),
        ("submersible", {"curve_volts": None}, "pumps.pump.curve_volts", "no volts"),
        ("submersible", {"tank": "frsh"}, "pumps.pump.tank", "does not exist"),
        ("hand", {"strokes": "40"}, "pumps.pump.strokes", "no unit"),
        ("hand", {"strokes": "900 a minute"}, "pumps.pump.strokes", "not believable"),
    ],
)
def test_what_cannot_be_is_told_once(kind: str, fields: dict[str, Any], address: str, words: str) -> None:
    raw = pumped(kind, **fields)
    raw["pumps"]["pump"] = {key: value for key, value in raw["pumps"]["pump"].items() if value is not None}
    found = complaints(raw)
    assert list(found) == [address]
    assert words in found[address]


def test_no_run_leads_to_a_pump_that_hangs_in_its_tank() -> None:
    raw = pumped("submersible")
    raw["runs"]["suction"] = PLAN["runs"]["suction"]
    assert 'Write tank = "fresh"' in complaints(raw)["runs.suction.to"]
    raw = pumped("submersible", tank="grey")
    raw["tanks"]["grey"] = {"holds": "grey", "capacity": "30 L"}
    assert "holds no fresh water" in complaints(raw)["pumps.pump.tank"]


def test_the_range_of_a_campsites_tap_is_the_right_way_round() -> None:
    raw = {**pumped("hand"), "mains": {"inlet": {"lowest": "4 bar", "highest": "3 bar"}}}
    assert "lies above the most" in complaints(raw)["mains.inlet.lowest"]
    known = Plan.of({**raw, "mains": {"inlet": {}}}).mains["inlet"]
    assert (known.lowest, known.highest, known.regulator) == (2e5, 6e5, None)


def test_electric_kinds_are_those_with_a_curve() -> None:
    assert {kind for kind in KINDS if "curve" in PUMPS[kind]} == set(ELECTRIC)
