from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given

from tests.drawn import WHOLE_PLANS
from tests.examples import NAMES, example
from tests.strategies import Raw, plans
from vanwater.answers.core.finding import Finding, Verdict
from vanwater.answers.ratings.answer import ratings as answered
from vanwater.answers.ratings.answer import ratings_findings
from vanwater.plan.model import Plan
from vanwater.plan.ratings import MARGIN, rating_at, ratings
from vanwater.plan.tables import pipes

FAMILY = example("family-winter")
PIECES = tuple(f"ratings.{key}" for key in (*ratings(), "pieces"))
"""Keys of findings that ``test_pieces.py`` judges."""


def told(changes: dict[str, Any]) -> dict[str, Finding]:
    found = ratings_findings(FAMILY.changed(changes, si=True))
    return {one.key: one for one in found if not one.key.startswith(PIECES)}


@pytest.mark.parametrize("name", NAMES)
def test_examples_stand_and_say_their_weakest_piece(name: str) -> None:
    one = next(iter(ratings_findings(example(name))))
    assert one.verdict is Verdict.FINE
    assert one.statement.text().startswith("The weakest hose or pipe is the ")
    assert one.key in {told.key for told in answered(example(name)).findings}


def test_the_weakest_piece_is_the_one_nearest_to_its_rating() -> None:
    one = told({})["ratings.pipes"]
    assert one.address == "runs.handset hose.size"
    assert one.value is not None and one.limit is not None
    assert one.value.value == pytest.approx(2.6e5)  # type: ignore[union-attr]
    assert one.limit.value == pytest.approx(3e5)  # pvc hose at its 60 °C
    assert "Not judged: 1\N{NO-BREAK SPACE}run" in one.statement.text()  # the galley spout


def test_hotter_than_the_hose_stands_fails_and_what_is_told_instead_stands() -> None:
    hot = {"heaters.heater.set_point": "70 °C"}
    one = told(hot)["ratings.pvc hose 8 mm.hot"]
    assert one.verdict is Verdict.FAILS
    assert one.address == "runs.handset hose.size"
    assert "60\N{NO-BREAK SPACE}°C at most; 70\N{NO-BREAK SPACE}°C can come" in one.statement.text()
    assert one.change is not None and one.change.text() == "Take silicone hose 10 mm."
    (after,) = told(hot | {"runs.handset hose.size": "silicone hose 10 mm"}).values()
    assert after.verdict is Verdict.FINE


def test_polyethylene_on_the_hot_side_is_told_once_for_all_its_runs() -> None:
    runs = ("hot trunk", "hot shower line")
    changes: dict[str, Any] = {f"runs.{run}.size": "polyethylene tube 12 mm" for run in runs}
    found = told(changes | {"heaters.heater.set_point": "66 °C"})
    assert "hot trunk and hot shower line are" in found["ratings.polyethylene tube 12 mm.hot"].statement.text()


def test_relief_above_the_rating_fails_near_it_is_to_watch() -> None:
    silicone = {"runs.hot trunk.size": "silicone hose 13 mm"}
    stands = rating_at(pipes()["silicone hose 13 mm"], FAMILY.heaters["heater"].set_point)
    assert stands is not None
    assert stands == pytest.approx(4.2e5)
    weak = told(silicone)["ratings.silicone hose 13 mm.weak"]
    assert weak.verdict is Verdict.FAILS
    assert weak.change is not None
    assert "relief valve that opens at 3.7\N{NO-BREAK SPACE}bar or less" in weak.change.text()
    close = told(silicone | {"heaters.heater.relief": 4.0e5})["ratings.silicone hose 13 mm.close"]
    assert close.verdict is Verdict.WATCH
    after = told(silicone | {"heaters.heater.relief": 3.7e5})
    assert [one.verdict for one in after.values()] == [Verdict.FINE]
    assert 3.7e5 <= (1 - MARGIN) * stands < 3.8e5


def test_a_pump_too_strong_for_the_hose_fails_by_its_shut_off() -> None:
    strong = {"pumps.pump.curve": [["0 L/min", "9 bar"], ["12 L/min", "0 bar"]], "runs.trunk.size": "pvc hose 13 mm"}
    one = told(strong)["ratings.pvc hose 13 mm.weak"]
    assert one.verdict is Verdict.FAILS
    assert "when the pump's switch sticks" in one.statement.text()
    assert one.change is not None and "relief" not in one.change.text()


@pytest.mark.parametrize("size", sorted(key for key, row in pipes().items() if row.kind == "drain"))
@pytest.mark.parametrize("run", ["suction", "trunk", "hot trunk"])
def test_waste_pipe_on_the_supply_fails_wherever_it_lies(run: str, size: str) -> None:
    one = told({f"runs.{run}.size": size})[f"ratings.{size}.drain"]
    assert one.verdict is Verdict.FAILS
    assert one.change is not None
    other = one.change.text().removeprefix("Take ").partition(".")[0]
    after = told({f"runs.{run}.size": next(key for key in pipes() if key.startswith(other))})
    assert not any(finding.key.endswith(".drain") for finding in after.values())


def test_polyamide_asks_for_a_grade_for_drinking_water_once() -> None:
    found = told({"runs.trunk.size": "polyamide tube 12 mm", "runs.basin line.size": "polyamide tube 15 mm"})
    one = found["ratings.material.polyamide"]
    assert one.verdict is Verdict.WATCH
    assert "trunk and basin line are of polyamide" in one.statement.text()
    assert one.change is not None and "certified for drinking water" in one.change.text()


@WHOLE_PLANS
@given(raw=plans())
def test_any_plan_is_judged_and_no_finding_contradicts_its_numbers(raw: Raw) -> None:
    plan = Plan.of(raw)
    found = list(ratings_findings(plan))
    assert len({one.key for one in found}) == len(found)
    for one in found:
        if one.key.startswith(PIECES):
            continue
        assert plan.at(one.address) in pipes()
        over = one.margin is not None and one.margin.value < 0
        assert one.verdict is Verdict.FAILS or not over
