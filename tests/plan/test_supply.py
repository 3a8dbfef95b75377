from __future__ import annotations

from typing import Any

import pytest

from vanwater.plan.model import Plan
from vanwater.plan.problems import PlanError

CURVE = [["0 L/min", "2.9 bar"], ["11 L/min", "0 bar"]]
PLAN: dict[str, Any] = {
    "van": {"name": "x"},
    "household": {"people": 2},
    "tanks": {"fresh": {"holds": "fresh", "capacity": "75 L"}},
    "tees": {"tee": {}},
}


def complaints(table: str, said: dict[str, Any]) -> dict[str, str]:
    with pytest.raises(PlanError) as caught:
        Plan.of({**PLAN, table: {"it": said}})
    return {problem.address.removeprefix(f"{table}.it."): problem.message for problem in caught.value.problems}


def test_a_run_is_read_by_the_names_of_the_file() -> None:
    plan = Plan.of(
        {**PLAN, "runs": {"it": {"from": "fresh", "to": "tee", "bore": "1/2 in", "fittings": {"dip tube": 1}}}}
    )
    run = plan.runs["it"]
    assert (run.start, run.end, run.bore) == ("fresh", "tee", pytest.approx(0.0127))
    assert run.fittings == {"dip tube": 1}
    assert plan.at("runs.it.from") == "fresh"


def test_a_curve_is_read_in_si() -> None:
    plan = Plan.of({**PLAN, "pumps": {"it": {"curve": CURVE, "curve_volts": "13.6 V"}}})
    assert plan.pumps["it"].curve == ((0.0, pytest.approx(2.9e5)), (pytest.approx(11e-3 / 60), 0.0))


@pytest.mark.parametrize(
    ("table", "said", "field", "words"),
    [
        ("pumps", {"curve": CURVE}, "curve_volts", "no volts"),
        ("pumps", {"curve": CURVE[:1], "curve_volts": "12 V"}, "curve", "fewer than two points"),
        ("pumps", {"curve": [], "curve_volts": "12 V"}, "curve", "fewer than two points"),
        ("pumps", {"curve": CURVE[::-1], "curve_volts": "12 V"}, "curve", ""),
        ("pumps", {"curve": [*CURVE, ["12 L/min", "0.1 bar"]], "curve_volts": "12 V"}, "curve", "does not fall"),
        ("pumps", {"curve": [*CURVE[:1], ["5 L/min", "2.9 bar"]], "curve_volts": "12 V"}, "curve", "does not fall"),
        ("pumps", {"curve": [*CURVE[:1], ["0 L/min", "1 bar"]], "curve_volts": "12 V"}, "curve", "do not rise"),
        (
            "pumps",
            {"curve": [["0 L/min", "0 bar"], ["1 L/min", "-0.1 bar"]], "curve_volts": "12 V"},
            "curve",
            "without",
        ),
        ("pumps", {"curve": "steep", "curve_volts": "12 V"}, "curve", '"steep" stands where a list'),
        ("pumps", {"curve": [*CURVE, "x"], "curve_volts": "12 V"}, "curve.2", '"x" stands where a list'),
        ("pumps", {"curve": [["0 L/min"], CURVE[1]], "curve_volts": "12 V"}, "curve.0.1", "fewer than two values"),
        ("pumps", {"curve": [["0 L/min", "2.9 L"], CURVE[1]]}, "curve.0.1", "not a unit of pressure"),
        ("pumps", {"cut_in": "2 bar", "cut_out": "2 bar"}, "cut_in", "at or above"),
        ("pumps", {"cut_in": "30 psi", "cut_out": "2 bar"}, "cut_in", "at or above"),
        ("pumps", {"cut_in": "3", "cut_out": "2 bar"}, "cut_in", "no unit"),
        ("pumps", {"kind": "piston"}, "kind", "not one of the choices"),
        ("runs", {"from": "fresh", "to": "tee", "size": "pex 12 mm", "bore": "9 mm"}, "bore", "either a stock size"),
        (
            "runs",
            {"from": "fresh", "to": "tee", "bore": "9 mm", "outside": "9 mm"},
            "outside",
            "no larger than the bore",
        ),
        ("runs", {"from": "fresh", "to": "fresh"}, "to", '"fresh" to itself'),
        ("runs", {"from": "fresh", "to": "tee", "bore": "0 mm"}, "bore", "not believable"),
        ("runs", {"from": "fresh", "to": "tee", "length": "-1 m"}, "length", "not believable"),
        ("runs", {"from": "fresh", "to": "tee", "k": -1}, "k", "not believable"),
        ("runs", {"from": "fresh", "to": "tee", "fittings": ["dip tube"]}, "fittings", "A list stands where a table"),
        ("fittings", {}, "loss", "says no loss"),
        ("fittings", {"loss": "1 bar"}, "loss_at", "says no loss_at"),
        ("fittings", {"loss_at": "1 L/min"}, "loss", "says no loss"),
        ("fittings", {"k": 2, "loss_at": "1 L/min"}, "k", "either a k or a loss"),
        ("outlets", {"flow": "6 L/min"}, "at", "says no at"),
        ("outlets", {"at": "1 bar"}, "flow", "says no flow"),
        ("outlets", {"type": "handset", "flow": "6 L/min"}, "type", "either a type"),
        ("outlets", {"regulated": 1}, "regulated", "neither true nor false"),
        ("accumulators", {"at": "tee", "volume": "0 L"}, "volume", "not believable"),
        ("mixers", {"kind": "thermostat"}, "kind", "not one of the choices"),
    ],
)
def test_one_thing_is_said_of_a_piece_that_cannot_be(table: str, said: dict[str, Any], field: str, words: str) -> None:
    found = complaints(table, said)
    assert list(found) == [field]
    assert words in found[field]


def test_own_fittings_count_as_known() -> None:
    run = {"from": "fresh", "to": "tee", "fittings": {"my valve": 2}}
    plan = Plan.of({**PLAN, "fittings": {"my valve": {"k": 3}}, "runs": {"it": run}})
    assert plan.at("fittings.my valve.k") == 3.0
    assert plan.at("runs.it.fittings.my valve") == 2


def test_fittings_of_a_kind_are_known_by_the_table_and_own_ones_by_their_name() -> None:
    counts = {"cartridge filter": 1, "strainer": 1, "foot valve": 1, "my filter": 1, "small cartridge filter": 0}
    run = {"from": "fresh", "to": "tee", "fittings": counts}
    plan = Plan.of({**PLAN, "fittings": {"my filter": {"k": 3}}, "runs": {"it": run}})
    fitted = plan.runs["it"].fitted
    assert fitted("filter") == ("cartridge filter", "my filter") and fitted("strainer") == ("strainer",)
    assert fitted("check valve") == ("foot valve",) and fitted("meter") == ()
