from __future__ import annotations

import copy
from typing import Any

import pytest

from vanwater.plan.awaited import is_slip, without
from vanwater.plan.model import Plan
from vanwater.plan.problems import PlanError

RAW: dict[str, Any] = {
    "van": {"name": "t"},
    "household": {"people": 1},
    "tanks": {"main": {"holds": "fresh", "capacity": "50 L"}, "can": {"holds": "fresh", "capacity": "10 L"}},
    "pumps": {"pump": {"kind": "submersible", "tank": "main"}},
    "outlets": {"shower": {}, "tap 1": {}},
    "runs": {"hose": {"from": "pump", "to": "shower"}},
    "accumulators": {"vessel": {"at": "shower", "volume": "1 L"}},
    "pads": {"pad": {"tank": "main", "power": "40 W"}},
    "together": {"both": {"outlets": ["shower", "tap 1"]}},
    "uses": {"wash": {"a_day": "1 a day", "volume": "5 L", "to": "outside"}},
}


def pointing(address: str, name: Any) -> dict[str, Any]:
    raw = copy.deepcopy(RAW)
    table, entry, field = address.split(".")
    raw[table][entry][field] = name
    return raw


@pytest.mark.parametrize(
    ("address", "table", "left"),
    [
        ("runs.hose.from", "", "runs"),
        ("runs.hose.to", "", "runs"),
        ("accumulators.vessel.at", "", "accumulators"),
        ("pads.pad.tank", "tanks", "pads"),
        ("pumps.pump.tank", "tanks", "pumps.pump.tank"),
        ("tanks.can.refills", "tanks", "tanks.can.refills"),
        ("uses.wash.outlet", "outlets", "uses.wash.outlet"),
        ("uses.wash.tank", "tanks", "uses.wash.tank"),
        ("uses.wash.to", "tanks", "uses.wash.to"),
    ],
)
def test_what_points_at_a_place_that_is_not_written_yet_waits_for_it(address: str, table: str, left: str) -> None:
    plan = Plan.of(pointing(address, "bathroom"), file=True)
    (awaited,) = plan.awaited
    assert (".".join(awaited.place), awaited.name, awaited.table) == (address, "bathroom", table)
    assert plan.at(left) in ({}, None)
    kept = Plan.of(RAW, file=True)
    assert kept.awaited == ()
    untouched = [name for name in RAW if name != left.split(".", maxsplit=1)[0]]
    assert all(plan.at(name) == kept.at(name) for name in untouched)
    assert plan.own["van"] == RAW["van"]  # what the builder wrote stays written
    assert plan.changed({"van.name": "other"}).awaited == plan.awaited


def test_of_outlets_open_together_those_written_are_kept_while_two_are_left() -> None:
    plan = Plan.of(pointing("together.both.outlets", ["shower", "bathroom", "tap 1"]), file=True)
    assert plan.together["both"].outlets == ("shower", "tap 1")
    for none_left in (["shower", "bathroom"], ["bath", "bathroom"], ["bath", "bathroom", "basin"]):
        assert Plan.of(pointing("together.both.outlets", none_left), file=True).together == {}


@pytest.mark.parametrize(
    ("name", "slip"),
    [
        ("showr", True),
        ("Shower", True),
        ("tap1", True),
        ("tap 2", False),  # beside "tap 1" another tap, not a slip
        ("tap 11", False),
        ("bathroom", False),
        ("rear tap", False),
    ],
)
def test_a_slip_is_refused_and_an_absent_place_is_awaited(name: str, slip: bool) -> None:
    assert is_slip(name, ("shower", "tap 1")) is slip
    raw = pointing("uses.wash.outlet", name)
    if slip:
        with pytest.raises(PlanError, match="Did you mean"):
            Plan.of(raw, file=True)
    else:
        assert Plan.of(raw, file=True).awaited


@pytest.mark.parametrize("name", ["main", "hose", "", "a/b", "x" * 41])
def test_a_name_that_another_piece_has_or_no_place_can_have_is_refused(name: str) -> None:
    with pytest.raises(PlanError, match="does not exist"):
        Plan.of(pointing("uses.wash.outlet", name), file=True)


def test_the_tables_themselves_stay_as_they_are() -> None:
    raw = pointing("runs.hose.to", "bathroom")
    before = copy.deepcopy(raw)
    awaited = Plan.of(raw, file=True).awaited
    assert without(raw, awaited)["runs"] == {}
    assert raw == before
