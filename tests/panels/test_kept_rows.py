from __future__ import annotations

from vanwater.panels.bench import Bench
from vanwater.panels.kept_rows import KeptRows
from vanwater.plan.file import PlanFile


def test_a_variant_is_named_taken_up_and_dropped_in_its_row(family: PlanFile) -> None:
    bench = Bench(family)
    rows = KeptRows(bench)
    assert rows.widget.children == ()
    bench.set("household.people", 2)
    bench.keep()
    rows.moved()
    assert list(rows.names) == ["B"] and rows.go["B"].disabled
    rows.names["B"].value = "two of them"
    assert bench.kept[0].head == "B, two of them"
    bench.home()
    rows.moved()
    assert not rows.go["B"].disabled
    rows.go["B"].click()
    assert dict(bench.values) == {"household.people": 2}
    rows.drops["B"].click()
    rows.moved()
    assert bench.kept == () and rows.widget.children == ()


def test_a_name_that_was_given_elsewhere_stands_in_the_box(family: PlanFile) -> None:
    bench = Bench(family)
    rows = KeptRows(bench)
    bench.set("household.people", 2)
    bench.keep("x")
    rows.moved()
    assert rows.names["B"].value == "x"
    bench.rename("B", "y")
    rows.moved()
    assert (rows.names["B"].value, bench.kept[0].name) == ("y", "y")
