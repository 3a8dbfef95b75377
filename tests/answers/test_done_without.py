"""What a van is built without stands in no "not decided" for ever."""

from __future__ import annotations

from typing import Any

import pytest

from vanwater.answers.core.finding import Finding, Verdict
from vanwater.answers.questions import answers_to
from vanwater.plan.model import Plan
from vanwater.plan.problems import PlanError

RUN = {"bore": "10 mm", "length": "1 m"}
HEATER = {"volume": "5 L", "source": "gas", "power": "1 kW", "z": "0.3 m"}
FOOT = {"kind": "foot", "stroke": "0.1 L", "strokes": "40 a minute", "stall": "0.8 bar", "z": "0.1 m"}
GRAVITY = {"line": {"from": "fresh", "to": "tap", **RUN}}
HEATED = {"to heater": {"from": "fresh", "to": "heater", **RUN}, "to tap": {"from": "heater", "to": "tap", **RUN}}


def plain(without: tuple[str, ...] = ("battery",), **more: Any) -> Plan:
    raw = {
        "van": {"name": "plain", "without": list(without)},
        "household": {"people": 2, "habits": "careful"},
        "tanks": {
            "fresh": {"holds": "fresh", "capacity": "20 L", "z": "0.8 m"},
            "grey": {"holds": "grey", "capacity": "20 L"},
        },
        "outlets": {"tap": {"z": "0.7 m", "wanted": "3 L/min", "flow": "5 L/min", "at": "1 bar"}},
    }
    return Plan.of({**raw, **more})


def told(plan: Plan, key: str) -> Finding | None:
    return next((finding for finding in answers_to(plan).findings if finding.key == key), None)


@pytest.mark.parametrize(
    "plan",
    [
        plain(runs=GRAVITY),
        plain(runs={"line": {"from": "inlet", "to": "tap", **RUN}}, mains={"inlet": {}}),
        plain(pumps={"foot": FOOT}),
        plain(("battery", "pump")),
        plain(("battery", "pump", "outlets"), outlets={}),
    ],
    ids=["gravity", "mains", "foot", "no pump", "cans"],
)
def test_no_pump_is_asked_for_where_none_is_needed(plan: Plan) -> None:
    assert told(plan, "pump_starts.pump") is None


def test_a_pump_is_asked_for_while_no_water_comes_and_nothing_is_said() -> None:
    asked = told(plain(), "pump_starts.pump")
    assert asked is not None and asked.verdict is Verdict.NOT_DECIDED and asked.change is not None
    assert 'without = ["pump"]' in asked.change.text()


def test_outlets_are_asked_for_until_the_van_is_said_to_have_none() -> None:
    asked = told(plain(outlets={}), "outlets.none")
    assert asked is not None and asked.change is not None
    assert 'without = ["outlets"]' in asked.change.text()
    assert told(plain(("outlets",), outlets={}), "outlets.none") is None


@pytest.mark.parametrize(
    ("what", "more", "table"),
    [("pump", {"pumps": {"foot": FOOT}}, "pumps.foot"), ("outlets", {}, "outlets.tap")],
)
def test_what_is_planned_cannot_be_done_without(what: str, more: dict[str, Any], table: str) -> None:
    with pytest.raises(PlanError, match="built without") as raised:
        plain((what,), **more)
    (problem,) = raised.value.problems
    assert problem.address == "van.without" and f"[{table}]" in problem.message


def test_water_that_grows_goes_back_by_gravity_and_stays_before_a_check_valve_or_a_pump() -> None:
    room = told(plain(runs=HEATED, heaters={"heater": HEATER}), "pump_starts.heater.expansion")
    assert room is not None and room.verdict is Verdict.FINE and "back into the fresh" in room.statement.text()
    valve = {**HEATED["to heater"], "fittings": {"spring check valve": 1}}
    held = told(plain(runs={**HEATED, "to heater": valve}, heaters={"heater": HEATER}), "pump_starts.heater.expansion")
    assert held is not None and held.verdict is Verdict.NOT_DECIDED
    pumped = {
        "suction": {"from": "fresh", "to": "foot", **RUN},
        "to heater": {"from": "foot", "to": "heater", **RUN},
        "to tap": HEATED["to tap"],
    }
    held = told(plain(runs=pumped, pumps={"foot": FOOT}, heaters={"heater": HEATER}), "pump_starts.heater.expansion")
    assert held is not None and held.verdict is Verdict.NOT_DECIDED
    relief = told(plain(runs=HEATED, heaters={"heater": HEATER}), "hot_water.heater.relief")
    assert relief is not None and relief.verdict is Verdict.WATCH  # the caution stands all the same


def test_nights_of_pads_are_decided_without_a_battery() -> None:
    def nights(without: tuple[str, ...], fed: str) -> Verdict:
        pad = {"tank": "fresh", "power": "40 W", "fed": fed}
        finding = told(plain(without, frost={"design_cold": "-10 °C"}, pads={"pad": pad}), "frost.nights")
        assert finding is not None
        return finding.verdict

    assert nights((), "battery") is Verdict.NOT_DECIDED
    assert nights((), "engine") is Verdict.FINE
    assert nights(("battery",), "shore") is Verdict.FINE
    assert nights(("battery",), "battery") is Verdict.FAILS
