from __future__ import annotations

from typing import Any

import numpy as np
import pytest

from tests.pumped import KINDS, on_the_mains, pumped, two_tanks
from vanwater.answers.core.finding import Finding, Verdict
from vanwater.answers.outlets.answer import outlets
from vanwater.answers.pump_starts.answer import pump_starts
from vanwater.answers.questions import answers_to
from vanwater.plan.model import Plan
from vanwater.plan.pump import SWITCHED
from vanwater.system.batch import Batch
from vanwater.system.design_pressure import STUCK, design_pressures
from vanwater.system.power import PUMP_ENERGY, pump_energy


def told(raw: dict[str, Any], key: str) -> Finding:
    return next(found for found in outlets(Plan.of(raw)).findings if found.key == key)


@pytest.mark.parametrize("kind", KINDS)
def test_each_kind_says_how_it_runs(kind: str) -> None:
    answer = outlets(Plan.of(pumped(kind)))
    keys = {found.key for found in answer.findings}
    assert (f"outlets.tap.{'switch' if kind in SWITCHED else 'pump'}" in keys) is True
    assert (f"outlets.tap.{'pump' if kind in SWITCHED else 'switch'}" in keys) is False
    assert ("outlets.pump.priming" in keys) is (kind != "submersible")
    assert any(table.key == "suction" for table in answer.tables) is (kind != "submersible")
    assert (answer.outlets["tap"].cycles is None) is (kind not in SWITCHED)


def test_a_by_pass_that_is_open_lets_the_pump_run_on() -> None:
    assert "runs on" in told(pumped("by-pass"), "outlets.tap.switch").statement.text()
    assert "runs steadily" in told(pumped("by-pass", by_pass="2.3 bar"), "outlets.tap.switch").statement.text()


def test_a_by_pass_that_takes_a_hand_wash_runs_on_instead_of_cycling() -> None:
    curve = [["0 L/min", "2.8 bar"], ["1 L/min", "2.6 bar"], ["6 L/min", "1.8 bar"], ["9 L/min", "0 bar"]]
    gentle = pumped("by-pass", curve=curve, volts="13 V", cut_out="2.6 bar")
    told_of = {one.key: one for one in pump_starts(Plan.of(gentle)).findings}
    assert told_of["pump_starts.pump.by-pass"].verdict is Verdict.FINE
    assert "From 1.0\N{NO-BREAK SPACE}L/min on" in told_of["pump_starts.pump.by-pass"].statement.text()
    sooner = gentle | {"pumps": {"pump": {**gentle["pumps"]["pump"], "cut_out": "2.2 bar"}}}
    told_of = {one.key: one for one in pump_starts(Plan.of(sooner)).findings}
    assert told_of["pump_starts.pump.chatter"].verdict is Verdict.WATCH
    assert "pump_starts.pump.by-pass" not in told_of


def test_a_speed_control_holds_its_pressure_runs_at_full_speed_or_pulses() -> None:
    assert "holds" in told(pumped("speed-controlled"), "outlets.tap.pump").statement.text()
    full = told(pumped("speed-controlled", holds="2.6 bar"), "outlets.tap.pump")
    assert "full speed" in full.statement.text()
    assert full.verdict is Verdict.FINE
    high = pumped("speed-controlled")
    high["tanks"]["fresh"]["z"] = "2 m"  # its column adds to what the pump holds
    assert told(high, "outlets.tap.pump").verdict is Verdict.FINE
    pulses = told(pumped("speed-controlled", least_flow="5 L/min"), "outlets.tap.pump")
    assert pulses.verdict is Verdict.WATCH


@pytest.mark.parametrize(
    ("said", "verdict"), [(True, Verdict.FINE), (None, Verdict.NOT_DECIDED), (False, Verdict.FAILS)]
)
def test_a_submersible_pump_asks_for_a_micro_switch(said: bool | None, verdict: Verdict) -> None:
    raw = pumped("submersible")
    if said is None:
        del raw["outlets"]["tap"]["micro_switch"]
    else:
        raw["outlets"]["tap"]["micro_switch"] = said
    found = told(raw, "outlets.tap.pump")
    assert found.verdict is verdict
    assert found.address == "outlets.tap.micro_switch"
    assert outlets(Plan.of(raw)).outlets["tap"].reaches is (said is not False)


def test_strokes_are_what_is_unsure_of_a_pump_that_is_worked_by_hand() -> None:
    names = {
        kind: {hung.name for hung in outlets(Plan.of(pumped(kind))).outlets["tap"].flow.influences} for kind in KINDS
    }
    assert {kind for kind in KINDS if "how fast the pump is worked" in names[kind]} == {"hand", "foot"}


def test_strokes_give_their_flow_or_stall() -> None:
    fine = told(pumped("foot", stall="2 bar"), "outlets.tap.pump")
    assert fine.verdict is Verdict.FINE
    assert "40 a minute" in fine.statement.text().replace("\N{NO-BREAK SPACE}", " ")
    assert told(pumped("foot"), "outlets.tap.pump").verdict is Verdict.WATCH


@pytest.mark.parametrize("kind", [kind for kind in KINDS if kind not in SWITCHED])
def test_a_pump_that_never_cycles_needs_no_accumulator_and_says_why(kind: str) -> None:
    answer = pump_starts(Plan.of(pumped(kind)))
    (found,) = answer.findings
    assert answer.decided
    assert found.verdict is Verdict.FINE
    assert answer.verdict.text() == found.statement.text()
    assert "needs no accumulator: " in found.statement.text()
    raw = pumped(kind) | {"accumulators": {"vessel": {"at": "tee", "volume": "1 L", "precharge": "0.5 bar"}}}
    (found,) = pump_starts(Plan.of(raw)).findings
    assert found.verdict is Verdict.WATCH
    assert found.address == "accumulators.vessel.at"


@pytest.mark.parametrize("kind", KINDS)
def test_the_greatest_pressure_is_that_of_the_kind(kind: str) -> None:
    design = design_pressures(Plan.of(pumped(kind)))["trunk"]
    assert design.cause == STUCK[kind]
    at_volts = {"submersible": 2.8e5 * (12.3 / 13) ** 2, "hand": 0.8e5, "foot": 0.8e5}
    displacement = 2.8e5 - 0.6e5 / 4 * 11 * (1 - 12.3 / 13)  # the first line falls 0.6 bar in 4 L/min
    assert design.pressure == pytest.approx(at_volts.get(kind, displacement))


def test_the_mains_strains_by_its_regulator_or_its_most() -> None:
    held = design_pressures(Plan.of(on_the_mains("foot", regulator="2.5 bar")))
    assert (held["tap hose"].pressure, held["tap hose"].cause) == (2.5e5, "regulator")
    assert held["trunk"].cause == "regulator"  # no check valve keeps it from the trunk
    bare = design_pressures(Plan.of(on_the_mains("foot")))
    assert (bare["rinse hose"].pressure, bare["rinse hose"].cause) == (6e5, "mains")


@pytest.mark.parametrize("kind", KINDS)
def test_only_electric_pumps_draw_on_the_battery(kind: str) -> None:
    taken = pump_energy(Batch(Plan.of(pumped(kind))))[0]
    if kind in ("hand", "foot"):
        assert taken == 0.0
        return
    middle = {"speed-controlled": 1.2e5, "submersible": 1.4e5}.get(kind, 0.5 * (1.2e5 + 2.5e5))
    flow = np.interp(middle, [0.0, 1.4e5, 2.2e5, 2.8e5], [11.0, 8.0, 4.0, 0.0]) * 1e-3 / 60
    assert taken == pytest.approx(12.3 * 4.5 / flow)
    bare = pumped(kind)
    del bare["pumps"]["pump"]["current"]
    assert pump_energy(Batch(Plan.of(bare)))[0] == PUMP_ENERGY


def heated(kind: str) -> dict[str, Any]:
    """The van with a heater behind its tee."""
    raw = pumped(kind)
    raw["heaters"] = {"heater": {"volume": "6 L", "relief": "3.5 bar", "source": "gas", "z": "20 cm"}}
    raw["runs"]["heater feed"] = {"from": "tee", "to": "heater", "bore": "10 mm", "length": "1 m"}
    raw["runs"]["hot line"] = {"from": "heater", "to": "hot tap", "bore": "10 mm", "length": "1 m"}
    raw["outlets"]["hot tap"] = {"flow": "4 L/min", "at": "1 bar", "z": "1 m", "micro_switch": True}
    return raw


@pytest.mark.parametrize("kind", KINDS)
def test_grown_water_goes_back_through_a_pump_without_valves_only(kind: str) -> None:
    found = {one.key: one for one in pump_starts(Plan.of(heated(kind))).findings}["pump_starts.heater.expansion"]
    assert ("goes back into the fresh" in found.statement.text()) is (kind == "submersible")
    assert (found.verdict is Verdict.FINE) is (kind == "submersible")
    relieved = {one.cause for one in design_pressures(Plan.of(heated(kind))).values()}
    assert ("relief" in relieved) is (kind != "submersible")


@pytest.mark.parametrize("kind", KINDS)
def test_every_answer_stands_for_every_kind(kind: str) -> None:
    for raw in (pumped(kind), heated(kind), on_the_mains(kind), *([two_tanks(kind)] if kind != "submersible" else [])):
        for answer in answers_to(Plan.of(raw)).values():
            assert answer.verdict.text()
            assert all("nan" not in line.lower().split() for step in answer.numbers.values() for line in step.lines())
            assert all(table.rows for table in answer.tables)
