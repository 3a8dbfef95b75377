from __future__ import annotations

from tests.evening import EVENING
from vanwater.answers.simultaneous.tables import MOST, set_tables


def test_each_set_has_its_outlets_its_budget_and_its_remedies() -> None:
    tables = {table.key: table for table in set_tables((EVENING,))}
    assert list(tables) == ["together", "together evening", "together gains"]
    for row in tables["together"].rows:
        outlet = str(row[1])
        assert row[3] == EVENING.flow[outlet]
        assert row[4] == EVENING.pressure[outlet].amount
        assert row[5].value == EVENING.speed[outlet].speed  # type: ignore[union-attr]
        assert row[6].value == EVENING.temperature[outlet].comes  # type: ignore[union-attr]
        assert row[7].value == EVENING.wait[outlet].wait.likely  # type: ignore[union-attr]
    shares = [row[2].value for row in tables["together evening"].rows]  # type: ignore[union-attr]
    assert abs(sum(shares) - 1.0) < 1e-6
    assert shares == sorted(shares, reverse=True)
    assert 0 < len(tables["together gains"].rows) <= MOST


def test_without_sets_there_is_no_table() -> None:
    assert list(set_tables(())) == []
