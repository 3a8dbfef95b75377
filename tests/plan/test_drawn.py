from __future__ import annotations

from typing import Any

from vanwater.plan.drawn import drawn_runs, listed, reached

KINDS = {"fresh": "tanks", "grey": "tanks", "inlet": "mains", "pump": "pumps", "well": "pumps", "tee": "tees"}


def tables(**runs: dict[str, Any]) -> dict[str, Any]:
    return {
        "tanks": {"fresh": {"holds": "fresh"}, "grey": {"holds": "grey"}},
        "pumps": {"pump": {}, "well": {"kind": "submersible", "tank": "fresh"}},
        "runs": runs,
    }


def test_runs_are_sorted_by_what_they_do() -> None:
    raw = tables(
        suction={"from": "fresh", "to": "pump", "fittings": {"spring check valve": 1, "barb elbow": 2}},
        trunk={"from": "pump", "to": "tee", "fittings": {"spring check valve": 0}},
        home={"from": "tee", "to": "fresh", "run_back": True},
        drain={"from": "tee", "to": "grey"},
        told_elsewhere={"from": "fresh", "to": "well"},
    )
    drawn = drawn_runs(raw, KINDS)
    assert drawn is not None
    assert drawn.sources == {"fresh", "inlet", "well"}
    assert drawn.waste == {"grey"}
    assert dict(drawn.runs) == {"suction": ("fresh", "pump"), "trunk": ("pump", "tee"), "drain": ("tee", "grey")}
    assert dict(drawn.back) == {"home": ("tee", "fresh")}
    assert drawn.checked == {"suction"}
    assert set(drawn.inner()) == {"suction", "trunk"}
    assert drawn.fed() == {"fresh", "grey", "inlet", "well", "pump", "tee"}
    assert drawn.place("tee") == "tees.tee"


def test_a_slip_is_read_as_what_it_means_and_anything_else_not_at_all() -> None:
    drawn = drawn_runs(tables(suction={"from": "frsh", "to": "pump"}), KINDS)
    assert drawn is not None
    assert drawn.runs["suction"] == ("fresh", "pump")
    for end in ("nowhere at all", None, 3):
        assert drawn_runs(tables(suction={"from": end, "to": "pump"}), KINDS) is None


def test_reached_goes_the_way_of_the_runs() -> None:
    runs = [("a", "b"), ("b", "c"), ("c", "a"), ("d", "a")]
    assert reached("a", runs) == {"a", "b", "c"}
    assert reached((), runs) == set()


def test_names_are_listed_short_and_harmless() -> None:
    assert listed(["a"]) == '"a"'
    assert listed(["a", "b", "c"]) == '"a", "b" and "c"'
    assert listed("abcdef") == '"a", "b", "c", "d" and 2 more'
    assert listed(["\x1b"]) == '"?"'


def test_a_pump_that_cannot_be_read_may_hang_in_its_tank() -> None:
    for pump in ({"kind": "submersibel"}, {"kinde": "submersible"}, 7, []):
        drawn = drawn_runs({"pumps": {"pump": pump}, "runs": {"hose": {"from": "pump", "to": "tee"}}}, KINDS)
        assert drawn is not None
        assert "tee" in drawn.fed(), pump
    drawn = drawn_runs({"pumps": {"pump": {}}, "runs": {"hose": {"from": "pump", "to": "tee"}}}, KINDS)
    assert drawn is not None
    assert "tee" not in drawn.fed()
