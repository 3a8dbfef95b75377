from __future__ import annotations

import json

import pytest

from tests.system.test_thermostat import FAMILY, VALVE
from tests.terminal.made import piped
from vanwater.answers.core.finding import Finding, Verdict
from vanwater.answers.core.statement import Amount
from vanwater.answers.hot_water.answer import hot_water
from vanwater.answers.outlets.answer import outlets
from vanwater.answers.questions import answers_to
from vanwater.answers.simultaneous.answer import simultaneous
from vanwater.plan.model import Plan
from vanwater.terminal.json_form import json_text
from vanwater.terminal.overview import everything

DECIDED = VALVE.changed({"mixers.shower mixer.least_flow": 4e-3 / 60, "mixers.shower mixer.hot_excess": 10.0}, si=True)


def found(plan: Plan, key: str) -> Finding:
    return next(one for one in outlets(plan).findings if one.key == f"outlets.shower.{key}")


@pytest.mark.parametrize(
    ("key", "changes", "verdict", "words"),
    [
        ("least_flow", {}, Verdict.FINE, "below 4 L/min the shower mixer does not hold"),
        ("least_flow", {"mixers.shower mixer.least_flow": 6e-3 / 60}, Verdict.WATCH, "below 6 L/min"),
        ("least_flow", {"mixers.shower mixer.least_flow": 8e-3 / 60}, Verdict.FAILS, "below 8 L/min"),
        ("least_flow", {"mixers.shower mixer.least_flow": None}, Verdict.NOT_DECIDED, "need about 4 L/min"),
        ("hot_excess", {}, Verdict.FINE, "hotter than the shower mixer is set; it needs 10 K"),
        ("hot_excess", {"heaters.heater.set_point": 273.15 + 49}, Verdict.FAILS, "is 9 K hotter"),
        ("hot_excess", {"heaters.heater.set_point": 273.15 + 38}, Verdict.FAILS, "it needs 10 K"),
        ("hot_excess", {"mixers.shower mixer.hot_excess": None}, Verdict.NOT_DECIDED, "such valves need about 10 K"),
        (
            "hot_excess",
            {"mixers.shower mixer.hot_excess": None, "heaters.heater.set_point": 273.15 + 45},
            Verdict.FAILS,
            "it needs 10 K",
        ),
        ("scald", {}, Verdict.FINE, "nobody is scalded"),
        ("scald", {"mixers.shower mixer.set": 273.15 + 43.5}, Verdict.WATCH, "hotter than a shower's 43 °C."),
        (
            "scald",
            {"mixers.shower mixer.set": 273.15 + 50},
            Verdict.WATCH,
            "it burns skin to the third degree within about",
        ),
        ("set", {"outlets.shower.temperature": 273.15 + 42}, Verdict.WATCH, "is set to 40 °C; the shower wants 42 °C"),
        ("valve_pressure", {}, Verdict.FINE, "works at"),
    ],
)
def test_finding(key: str, changes: dict[str, object], verdict: Verdict, words: str) -> None:
    one = found(DECIDED.changed(changes, si=True), key)
    assert one.verdict is verdict
    assert words in one.statement.text().replace("\N{NO-BREAK SPACE}", " ").replace("\N{NARROW NO-BREAK SPACE}", " ")


def test_a_tap_set_by_hand_has_none_of_them_and_keeps_its_own() -> None:
    keys = {one.key for one in outlets(FAMILY).findings}
    assert "outlets.shower.warm" in keys
    assert not keys & {f"outlets.shower.{key}" for key in ("least_flow", "hot_excess", "scald", "set")}
    assert "outlets.shower.warm" not in {one.key for one in outlets(DECIDED).findings}


def test_valve_takes_its_part_of_the_budget_and_more_when_it_is_tighter() -> None:
    wide, tight = (
        outlets(DECIDED.changed({"mixers.shower mixer.kv": kv * 1e-6}, si=True)).outlets["shower"] for kv in (2.0, 0.5)
    )
    parts = []
    for one in (wide, tight):
        (piece,) = [piece for piece in one.budget if piece.kind == "valve"]
        assert piece.loss.key == ("mixer", "shower mixer", "loss", "shower")
        assert sum(piece.loss.likely for piece in one.budget) == pytest.approx(one.rise.likely, abs=1e-3)
        parts.append(piece.loss.likely)
    assert parts[0] < parts[1]
    assert wide.flow.likely > tight.flow.likely > 0


def test_pressure_at_the_valve_is_what_the_way_behind_it_takes() -> None:
    level = DECIDED.changed({"mixers.shower mixer.z": DECIDED.outlets["shower"].z}, si=True)
    pieces = {piece.label: piece.loss.likely for piece in outlets(level).outlets["shower"].budget}
    told = dict(found(level, "valve_pressure").statement.given)["pressure"]
    assert isinstance(told, Amount)
    assert told.value == pytest.approx(pieces["shower"] + pieces["handset hose"] + pieces["shower mixer"])
    lower = level.changed({"mixers.shower mixer.z": level.outlets["shower"].z - 1.0}, si=True)  # type: ignore[operator]
    below = dict(found(lower, "valve_pressure").statement.given)["pressure"]
    assert isinstance(below, Amount)
    assert below.value == pytest.approx(told.value + 9.80e3, rel=1e-3)


def test_together_the_valve_sets_itself_and_is_no_tap_left_as_it_was() -> None:
    answer = simultaneous(DECIDED)
    assert "set.evening.shower.flow" in answer.numbers
    left = [one for one in answer.findings if "left" in one.statement.text() and "shower mixer" in one.statement.text()]
    assert not left


def test_heater_behind_valves_everywhere_scalds_nobody() -> None:
    scald = next(one for one in hot_water(DECIDED).findings if one.key == "hot_water.heater.scald")
    assert scald.verdict is Verdict.FINE and "mixed before every outlet" in scald.statement.text()
    cold_sink = {"runs.hot galley line": None, "runs.cold galley line.to": "galley tap", "runs.galley spout": None}
    plan = DECIDED.changed({**cold_sink, "mixers.galley mixer": None})
    scald = next(one for one in hot_water(plan).findings if one.key == "hot_water.heater.scald")
    assert scald.verdict is Verdict.FINE
    assert "behind a thermostatic valve" in scald.statement.text()
    hot = plan.changed({"mixers.shower mixer.set": 273.15 + 48}, si=True)
    scald = next(one for one in outlets(hot).findings if one.key == "outlets.shower.scald")
    assert scald.verdict is Verdict.WATCH and "holds 48" in scald.statement.text()


def test_every_answer_tells_it_without_a_gap() -> None:
    answers = answers_to(DECIDED)
    assert everything(answers, piped())
    json.loads(json_text(answers, "1", "utf-8"), parse_constant=lambda word: pytest.fail(word))
