from __future__ import annotations

from vanwater.document.stock import stock
from vanwater.plan.model import Plan
from vanwater.plan.tables import fittings, outlets, pipes


def test_every_row_that_the_plan_names_is_there_once_with_its_source(family):
    rows = {row.key: row for row in stock(family)}
    assert len(rows) == len(stock(family))
    sizes = {run.size for run in family.runs.values() if run.size}
    pieces = {key for run in family.runs.values() for key in run.fittings}
    kinds = {outlet.type for outlet in family.outlets.values() if outlet.type}
    assert sizes and pieces and kinds
    assert set(rows) == sizes | pieces | kinds | {"moderate"}
    assert all(rows[key].source == pipes()[key].source for key in sizes)
    assert all(rows[key].source == fittings()[key].source for key in pieces)
    assert all(rows[key].source == outlets()[key].source for key in kinds)


def test_a_fitting_of_ones_own_names_the_builders_source():
    plan = Plan.of(
        {
            "van": {"name": "A"},
            "household": {"people": 1},
            "tees": {"a": {}, "b": {}},
            "fittings": {"odd valve": {"k": 3, "source": "measured in spring"}},
            "runs": {"r": {"from": "a", "to": "b", "fittings": {"odd valve": 1}}},
        }
    )
    (row,) = stock(plan)
    assert (row.key, row.source) == ("odd valve", "measured in spring")
