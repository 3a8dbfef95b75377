from __future__ import annotations

from typing import Any

import pytest

from tests.pumped import pumped, two_tanks
from vanwater.answers.core.finding import Finding, Verdict
from vanwater.answers.outlets.answer import outlets
from vanwater.plan.model import Plan


def joined(raw: dict[str, Any]) -> list[Finding]:
    return [found for found in outlets(Plan.of(raw)).findings if found.key.startswith("outlets.joined")]


def boxes(higher: str) -> dict[str, Any]:
    raw = two_tanks("diaphragm", higher)
    for name in ("fresh", "second"):
        del raw["tanks"][name]["capacity"]
        raw["tanks"][name] |= {"length": "0.5 m", "width": "0.3 m", "height": "0.25 m", "overflow": "0.24 m"}
    return raw


def test_tanks_at_one_height_find_one_level() -> None:
    (found,) = joined(two_tanks("diaphragm"))
    assert found.verdict is Verdict.FINE
    assert "fresh and second" in found.statement.text()
    assert joined(pumped("diaphragm")) == []


def test_a_higher_tank_runs_over_through_a_lower_one() -> None:
    (found,) = joined(boxes("30 cm"))  # 5 + 24 cm is where the lower one stands over
    assert found.verdict is Verdict.FAILS
    assert found.key == "outlets.joined.fresh"
    assert "second empties itself into the fresh" in found.statement.text()
    (found,) = joined(boxes("20 cm"))
    assert found.verdict is Verdict.FINE


def test_how_far_the_higher_one_stands_over_adds_up() -> None:
    plan = Plan.of(boxes("60 cm"))
    (fall,) = (number for key, number in outlets(plan).numbers.items() if key.startswith("tank.fresh.fall"))
    high, low = plan.tanks["second"], plan.tanks["fresh"]
    assert high.z is not None and low.z is not None and low.overflow is not None
    assert fall.value == pytest.approx(high.z + high.pickup - low.z - low.overflow)
    assert "second" in fall.sum() and "left" not in fall.sum()


def test_a_check_valve_in_the_lower_ones_run_keeps_it() -> None:
    raw = boxes("60 cm")
    raw["runs"]["from fresh"]["fittings"] = {"spring check valve": 1}
    (found,) = joined(raw)
    assert found.verdict is Verdict.FINE


def test_tanks_with_a_pump_each_are_kept_apart_by_them() -> None:
    raw = boxes("60 cm")
    del raw["tees"]["join"], raw["runs"]["from fresh"], raw["runs"]["from second"]
    raw["pumps"]["other"] = dict(raw["pumps"]["pump"])
    raw["runs"]["suction"]["from"] = "fresh"
    raw["runs"]["other suction"] = {**raw["runs"]["suction"], "from": "second", "to": "other"}
    raw["runs"]["other trunk"] = {**raw["runs"]["trunk"], "from": "other"}
    answer = outlets(Plan.of(raw))
    assert answer.outlets["tap"].way.joined
    assert joined(raw) == []
