from __future__ import annotations

import copy

from vanwater.plan.raw import copied, parts, table, text


def test_what_is_not_as_it_should_be_counts_as_not_there() -> None:
    raw = {"tanks": {"fresh": {"holds": "fresh"}, "grey": 3, 7: {"holds": 4}}, "runs": [1], "van": None}
    assert table(raw, "tanks") == raw["tanks"]
    assert table(raw, "runs") == table(raw, "van") == table(raw, "none") == {}
    assert dict(parts(raw, "tanks")) == {"fresh": {"holds": "fresh"}, "7": {"holds": 4}}
    assert list(parts(raw, "runs")) == []
    assert text({"holds": "fresh"}, "holds") == "fresh"
    assert text({"holds": 4}, "holds") is None
    assert text({}, "holds") is None


def test_a_copy_shares_nothing_that_can_be_written_to() -> None:
    class Table(dict[str, object]):
        pass

    raw = {"tanks": {"fresh": {"faces": ["top", {"foam": 3.0}], "holds": None}}, "own": Table(a=[1])}
    before, other = copy.deepcopy(raw), copied(raw)
    assert other == raw and type(other["own"]) is Table
    other["tanks"]["fresh"]["faces"][1]["foam"] = other["own"]["a"][0] = other["tanks"]["fresh"]["holds"] = 4
    other["tanks"]["fresh"]["faces"].append("low")
    assert raw == before
