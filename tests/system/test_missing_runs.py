from __future__ import annotations

from tests.half_plans import pieces_out
from vanwater.plan.model import Plan
from vanwater.system.missing_runs import LooseEnd, MissingRun, missing_runs, waiting_for


def small(runs: dict[str, tuple[str, str]], **tables: dict[str, object]) -> Plan:
    raw = {
        "van": {"name": "t"},
        "household": {"people": 1},
        "tanks": {"fresh": {"holds": "fresh", "capacity": "50 L"}, "grey": {"holds": "grey", "capacity": "50 L"}},
        "outlets": {"tap": {}},
        "runs": {name: {"from": start, "to": end} for name, (start, end) in runs.items()},
        **tables,
    }
    return Plan.of(raw, file=True)


def test_by_gravity_the_way_begins_at_the_tank() -> None:
    (lack,) = missing_runs(small({"a": ("tee", "tap")}, tees={"tee": {}}))
    assert lack == MissingRun(end="tee", starts=("fresh",), side="", outlets=("tap",))


def test_the_next_run_is_looked_for_as_if_the_one_before_were_drawn() -> None:
    plan = small({"a": ("tee", "tap")}, tees={"tee": {}}, pumps={"pump": {}})
    lacks = missing_runs(plan)
    assert [(lack.starts, lack.end) for lack in lacks if isinstance(lack, MissingRun)] == [
        (("pump",), "tee"),
        (("fresh",), "pump"),
    ]


def test_what_a_waste_tank_feeds_lacks_nothing() -> None:
    runs = {"a": ("fresh", "tap"), "b": ("grey", "drain pump"), "c": ("tap", "grey")}
    assert missing_runs(small(runs, pumps={"drain pump": {}})) == ()
    (loose,) = missing_runs(small({**runs, "b": ("fresh", "drain pump")}, pumps={"drain pump": {}}))
    assert loose == LooseEnd(table="pumps", name="drain pump", reached=True)


def test_outlets_behind_a_place_that_is_not_written_wait_for_it() -> None:
    plan = small({"a": ("fresh", "valve box"), "b": ("valve box", "tap")})
    assert waiting_for(plan, "valve box") == ("tap",)
    assert waiting_for(plan, "grey") == ()
    assert missing_runs(plan) == ()  # the place is told, not its runs


def test_each_missing_run_is_told_once_and_the_search_ends() -> None:
    for _, raw in pieces_out(1):
        lacks = missing_runs(Plan.of(raw, file=True))
        ends = [(lack.end, lack.side) for lack in lacks if isinstance(lack, MissingRun)]
        assert len(ends) == len(set(ends)) <= 2
