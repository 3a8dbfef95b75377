"""What keeps a plan from being whole, and that every medium tells it above all findings."""

from __future__ import annotations

import copy
import datetime as dt
import json
from typing import Any

import pytest

from tests.examples import NAMES, example, example_answers
from tests.half_plans import raw_example
from tests.terminal.made import piped
from vanwater.answers.core.finding import Verdict
from vanwater.answers.missing import missing
from vanwater.answers.outlets.answer import outlets
from vanwater.answers.questions import answers_to
from vanwater.document.html import render
from vanwater.panels.bench import Bench
from vanwater.plan.model import Plan
from vanwater.terminal.json_form import json_text
from vanwater.terminal.overview import everything, overview


def without(*runs: str, name: str = "family-winter") -> dict[str, Any]:
    raw = raw_example(name)
    for run in runs:
        del raw["runs"][run]
    return raw


def told(raw: dict[str, Any]) -> list[tuple[str, str, str]]:
    lacks = missing(Plan.of(raw, file=True))
    return [(lack.statement.text(), lack.change.text(), lack.address) for lack in lacks]


@pytest.mark.parametrize("name", NAMES)
def test_an_example_is_whole(name: str) -> None:
    assert missing(example(name)) == ()
    assert "not whole" not in "\n".join(everything(example_answers(name), piped()))


@pytest.mark.parametrize(
    ("run", "statement", "ends"),
    [
        ("suction", "Nothing leads from the fresh tank to the pump;", ("fresh", "pump")),
        ("trunk", "Nothing leads from the pump to the tee;", ("pump", "tee")),
        (
            "hot trunk",
            "Nothing leads from the heater to the hot tee; shower and galley tap wait",
            ("heater", "hot tee"),
        ),
        ("handset hose", "Nothing leads from the shower mixer to the shower.", ("shower mixer", "shower")),
        (
            "hot shower line",
            "Nothing leads from the hot tee to the shower mixer, its hot side; shower waits for it.",
            ("hot tee", "shower mixer"),
        ),
    ],
)
def test_a_missing_run_is_told_by_where_it_would_lead(run: str, statement: str, ends: tuple[str, str]) -> None:
    ((words, change, address),) = told(without(run))
    assert words.startswith(statement)
    assert change == f'Write [runs.NAME] with from = "{ends[0]}" and to = "{ends[1]}".'
    assert address == "runs"


def test_where_several_places_may_be_meant_none_is_chosen() -> None:
    ((words, change, _),) = told(without("cold shower line"))
    assert words == "Nothing leads to the shower mixer, its cold side; shower waits for it."
    assert change == 'Write [runs.NAME] with from = "tee" or "cold tee" and to = "shower mixer".'
    (cold, hot) = told(without("cold trunk", "hot trunk"))
    assert 'from = "heater" or "tee" and to = "cold tee"' in cold[1]
    assert 'from = "heater" and to = "hot tee"' in hot[1]


@pytest.mark.parametrize("run", ["suction", "trunk", "handset hose"])
def test_every_medium_says_it_above_all_findings_and_no_danger_moves_down(run: str) -> None:
    raw = without(run)
    del raw["situations"]  # what fails then hangs on the run too
    raw["pads"]["fresh pad"]["protected_by"] = "none"  # can scorch the tank
    whole = answers_to(Plan.of({**raw, "runs": raw_example("family-winter")["runs"]}, file=True))
    answers = answers_to(Plan.of(raw, file=True))
    (lack,) = answers.missing
    sentence = " ".join(lack.statement.text().split())
    for view in (overview, everything):
        text = " ".join(" ".join(view(answers, piped())).split())
        assert text.index("The plan is not whole: 1 thing is missing.") < text.index(sentence) < text.index("✕ fails")
        assert "can scorch the tank" in text
    shown = [line for line in overview(answers, piped()) if "✕" in line or "! watch" in line]
    assert len(shown) >= sum("✕" in line for line in overview(whole, piped()))
    page = render(answers, date=dt.date(2026, 5, 1), charts={})
    first = page[: page.index("In this document")]
    assert first.index("The plan is not whole") < first.index("What to know first")
    form = json.loads(json_text(answers, "1", "utf-8"))
    assert form["missing"] == [
        {
            "text": lack.statement.text(),
            "change": lack.change.text(),
            "address": "runs",
            "outlets": list(lack.outlets),
        }
    ]
    assert lack.statement.text() in repr(answers)
    assert lack.statement.text() in answers._repr_html_()


def test_a_panel_shows_it_and_nothing_once_the_plan_is_whole() -> None:
    panel = Bench(Plan.of(without("trunk"), file=True)).panel("outlets")
    assert "Nothing leads from the pump to the tee" in panel.missing.value
    assert panel.missing.layout.display == ""
    assert Bench(example("family-winter")).panel("outlets").missing.value == ""


def test_the_shower_without_its_hose_keeps_its_row() -> None:
    answer = outlets(Plan.of(without("handset hose"), file=True))
    rows = {row[0]: row for row in answer.tables[0].rows}
    assert rows["shower"][1] is None and rows["shower"][4] == "not decided"
    assert set(rows) == {"shower", "galley tap", "basin tap"}
    assert not [finding for finding in answer.findings if finding.key == "outlets.shower.way"]


def test_an_answer_about_outlets_none_of_which_has_a_way_keeps_its_place() -> None:
    answers = answers_to(Plan.of(without("suction"), file=True))
    assert answers["outlets"].verdict.text() == "What the outlets give is not decided yet."


def test_no_run_at_all_is_one_thing() -> None:
    raw = raw_example("family-winter")
    del raw["runs"]
    ((words, change, address),) = told(raw)
    assert words == "No run is written yet, so no water reaches shower, galley tap and basin tap."
    assert change == 'Write [runs.NAME] with from = "fresh" and to = "pump".'
    assert address == "runs"


@pytest.mark.parametrize(
    ("changes", "address", "words"),
    [
        ({"tees.spare": {}}, "tees.spare", "No run touches the spare."),
        ({"heaters.second": {"volume": 0.005}}, "heaters.second", "No run touches the second."),
        ({"mains.inlet": {}}, "mains.inlet", "No run leaves the inlet."),
        (
            {"pumps.second": {}, "runs.stub hose": {"from": "cold tee", "to": "second"}},
            "pumps.second",
            "No run leaves the second.",
        ),
    ],
)
def test_a_piece_that_serves_nothing_is_told(changes: dict[str, object], address: str, words: str) -> None:
    (lack,) = missing(example("family-winter").changed(changes, si=True))
    assert (lack.address, lack.statement.text()) == (address, words)


@pytest.mark.parametrize("start", ["grey", "cold tee"])
def test_a_drain_that_ends_in_a_valve_lacks_nothing(start: str) -> None:
    """The last piece of a drain is the last: no run has to leave it."""
    changes = {"tees.dump valve": {}, "runs.drain": {"from": start, "to": "dump valve"}}
    assert missing(example("family-winter").changed(changes, si=True)) == ()


def test_while_neither_run_nor_outlet_is_written_nothing_is_missing() -> None:
    bare = {"van": {"name": "t"}, "household": {"people": 1}, "pumps": {"pump": {}}, "tees": {"tee": {}}}
    assert missing(Plan.of(bare)) == ()


def test_a_submersible_pump_wants_its_tank_and_no_run_to_it() -> None:
    raw = raw_example("touring-campsites")
    del raw["pumps"]["pump"]["tank"]
    ((words, change, address),) = told(raw)
    assert words == "The pump hangs in no tank yet."
    assert change == 'Write tank = "fresh" in [pumps.pump].'
    assert address == "pumps.pump.tank"


def test_a_place_that_is_pointed_at_before_it_is_written_is_told_once_with_all_that_points() -> None:
    raw = raw_example("family-winter")
    del raw["heaters"]
    ((words, change, address),) = told(raw)
    assert words.startswith('There is no "heater" yet, and runs.heater feed.to and runs.hot trunk.from point to it;')
    assert change.startswith("Write a tank, pump, tee, heater")
    assert address == "runs.heater feed.to"
    raw = raw_example("weekend-cans")
    raw["uses"]["hands"]["outlet"] = "basin"
    ((words, change, address),) = told(raw)
    assert (change, address) == ("Write [outlets.basin].", "uses.hands.outlet")


def test_a_name_that_is_somewhat_like_another_says_which() -> None:
    raw = raw_example("weekend-cans")
    raw["uses"]["hands"]["outlet"] = "galley spout"
    ((_, change, _),) = told(raw)
    assert change == 'Write [outlets.galley spout], unless "galley tap" is meant.'


def test_what_cannot_be_followed_is_no_missing_run_and_stays_a_finding() -> None:
    raw = copy.deepcopy(raw_example("weekend-cans"))
    raw["tees"] = {"tee": {}}
    hose = raw["runs"]["tap hose"]
    raw["runs"]["tap hose"] = {**hose, "from": "tee"}
    raw["runs"] |= {"left": {**hose, "from": "pump", "to": "tee"}, "right": {**hose, "from": "pump", "to": "tee"}}
    plan = Plan.of(raw, file=True)
    assert missing(plan) == ()
    (finding,) = [finding for finding in outlets(plan).findings if finding.key == "outlets.galley tap.way"]
    assert finding.verdict is Verdict.NOT_DECIDED
    assert "2 runs lead side by side" in finding.statement.text()
