from __future__ import annotations

import csv

from vanwater.document.validation import held_against, held_against_table
from vanwater.plan.tables import resource


def test_every_kind_of_the_shipped_summary_is_told_with_its_worst_case():
    text = resource("data", "validation", "summary.csv").read_text(encoding="utf-8")
    rows = list(csv.DictReader(text.splitlines()))
    table = held_against_table()
    assert [row[0] for row in table.rows] == [row["kind"] for row in rows]
    for told, row in zip(table.rows, rows, strict=True):
        assert [cell.text() for cell in told[1:4]] == [row["cases"], row["seen"], row["sources"]]
        assert told[4].value == float(row["worst"])
        assert told[5:] == (row["of"], row["source"])
    cases, seen = (sum(int(row[column]) for row in rows) for column in ("cases", "seen"))
    assert 0 < seen < cases
    told = held_against().text().replace("\N{NO-BREAK SPACE}", " ")
    assert told.startswith(f"{cases} published cases") and f" {seen} of their values" in told
