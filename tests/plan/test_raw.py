from __future__ import annotations

from vanwater.plan.raw import parts, table, text


def test_what_is_not_as_it_should_be_counts_as_not_there() -> None:
    raw = {"tanks": {"fresh": {"holds": "fresh"}, "grey": 3, 7: {"holds": 4}}, "runs": [1], "van": None}
    assert table(raw, "tanks") == raw["tanks"]
    assert table(raw, "runs") == table(raw, "van") == table(raw, "none") == {}
    assert dict(parts(raw, "tanks")) == {"fresh": {"holds": "fresh"}, "7": {"holds": 4}}
    assert list(parts(raw, "runs")) == []
    assert text({"holds": "fresh"}, "holds") == "fresh"
    assert text({"holds": 4}, "holds") is None
    assert text({}, "holds") is None
