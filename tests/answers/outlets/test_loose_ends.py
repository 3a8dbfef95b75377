from __future__ import annotations

import pytest

from tests.examples import NAMES, example
from vanwater.answers.core.finding import Verdict
from vanwater.answers.outlets.answer import outlets
from vanwater.answers.outlets.loose_ends import loose_ends
from vanwater.plan.model import Plan

FAMILY = example("family-winter")


@pytest.mark.parametrize("name", NAMES)
def test_a_whole_van_has_none(name: str) -> None:
    assert list(loose_ends(example(name))) == []


@pytest.mark.parametrize(
    ("changes", "address", "words"),
    [
        ({"tees.spare": {}}, "tees.spare", "No run touches the spare yet."),
        ({"heaters.second": {"volume": 0.005}}, "heaters.second", "No run touches the second yet."),
        (
            {"tees.stub": {}, "runs.stub hose": {"from": "cold tee", "to": "stub"}},
            "tees.stub",
            "No run leaves the stub yet.",
        ),
        ({"runs.suction": None}, "pumps.pump", "No run leads to the pump yet."),
    ],
)
def test_piece_that_is_not_joined_is_not_decided(changes: dict[str, object], address: str, words: str) -> None:
    plan = FAMILY.changed(changes, si=True)
    (one,) = loose_ends(plan)
    assert (one.verdict, one.address, one.statement.text()) == (Verdict.NOT_DECIDED, address, words)
    assert one in outlets(plan).findings


def test_while_no_run_is_drawn_nothing_is_told() -> None:
    bare = {"van": {"name": "t"}, "household": {"people": 1}, "pumps": {"pump": {}}, "tees": {"tee": {}}}
    assert list(loose_ends(Plan.of(bare))) == []


def test_pump_that_hangs_in_its_tank_needs_no_suction() -> None:
    raw = {
        "van": {"name": "t"},
        "household": {"people": 1},
        "tanks": {"fresh": {"holds": "fresh", "capacity": "50 L"}},
        "pumps": {"pump": {"kind": "submersible", "tank": "fresh"}},
        "outlets": {"tap": {}},
        "runs": {"hose": {"from": "pump", "to": "tap"}},
    }
    assert list(loose_ends(Plan.of(raw))) == []
