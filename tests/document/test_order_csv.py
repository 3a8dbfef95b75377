"""What to order as a table file."""

from __future__ import annotations

import csv
import io

import pytest

from tests.examples import NAMES, example
from vanwater.answers.parts.answer import parts
from vanwater.answers.parts.pieces import ordered
from vanwater.document.order_csv import order_csv


@pytest.mark.parametrize("us", [False, True], ids=["metric", "us"])
@pytest.mark.parametrize("name", NAMES)
def test_the_table_file_holds_what_the_answer_says(name: str, us: bool) -> None:
    plan = example(name).read_in(us)
    rows = list(csv.DictReader(io.StringIO(order_csv(plan))))
    lengths = {size.name: size.order.likely for size in parts(plan).sizes}
    hoses = [row for row in rows if row["what"] == "hose or pipe"]
    metres = [float(row["quantity"]) * (0.3048 if us else 1.0) for row in hoses]
    assert metres == pytest.approx(list(lengths.values()))
    assert {row["unit"] for row in hoses} == {"ft" if us else "m"}
    counted = sum(int(row["quantity"]) for row in rows if row["what"] in {each.name.text(us) for each in ordered(plan)})
    assert counted == sum(each.count for each in ordered(plan))
