from __future__ import annotations

import pytest

from vanwater.panels.markup import agreement
from vanwater.panels.published import agrees, published, reckoned, rows_of
from vanwater.plan.tables import resource

ELSEWHERE = ("tables", "left_out", "summary")
SUBJECTS = sorted(path.stem for path in resource("data", "validation").glob("*.csv") if path.stem not in ELSEWHERE)


@pytest.mark.parametrize("subject", SUBJECTS)
def test_every_published_value_can_be_shown_and_agrees(subject: str) -> None:
    rows = rows_of(subject)
    assert rows
    for row in rows:
        assert agrees(row, reckoned(row)), row["id"]
    text = repr(published(subject))
    assert text.count(agreement(True)) == len(rows)
    assert all(row["source"] in text for row in rows)


def test_a_row_shows_what_is_printed_what_is_reckoned_and_the_source() -> None:
    shown = published("accumulator", "acc-01-volume")
    heads, names, row = repr(shown).split("\n")
    assert heads.split()[:2] == ["published", "here"]
    assert names.split()[:4] == ["number", "gal", "gal", "%"]
    assert "  25.1  25.1            0.5  " in row
    several = repr(published("accumulator", "acc-01-volume", "acc-01-factor"))
    assert "25.1\N{NO-BREAK SPACE}gal" in several
    assert "Pelikan" in repr(shown)
    assert shown.html.count("<tr>") == 2
    assert reckoned(rows_of("accumulator", "acc-01-volume")[0]) == pytest.approx(25.1, rel=0.005)


def test_what_nobody_saw_printed_is_called_so() -> None:
    assert "(from memory, recomputed)" in repr(published("accumulator", "acc-03-20-40"))
    assert "memory" not in repr(published("accumulator", "acc-01-volume"))


def test_a_value_too_far_off_is_not_said_to_agree() -> None:
    (row,) = rows_of("accumulator", "acc-01-volume")
    assert agrees(row, 25.2)
    assert not agrees(row, 25.3)
    assert not agrees({**row, "tolerance_kind": "abs"}, 25.2)
    inside = {**row, "expected": "20 to 25", "tolerance_kind": "inside"}
    assert agrees(inside, 20.0)
    assert not agrees(inside, 25.1)


def test_a_row_that_is_not_there_is_refused_with_those_that_are() -> None:
    with pytest.raises(KeyError, match="acc-01-factor"):
        rows_of("accumulator", "acc-99")
