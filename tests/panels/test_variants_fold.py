from __future__ import annotations

import pytest

from vanwater.panels.bench import Bench
from vanwater.panels.keeping import Keeping
from vanwater.panels.variants_fold import VariantsFold
from vanwater.plan.file import PlanFile


def test_it_is_worked_out_only_while_somebody_looks(family: PlanFile, monkeypatch: pytest.MonkeyPatch) -> None:
    bench = Bench(family)
    fold = VariantsFold(bench)
    bench.set("household.people", 2)
    bench.keep()
    asked: list[str] = []
    real = Keeping.side_by_side
    assert isinstance(real, property) and real.fget is not None
    get = real.fget
    monkeypatch.setattr(Keeping, "side_by_side", property(lambda self: (asked.append("x"), get(self))[1]))
    fold.moved()
    fold.collapsible.refresh()
    assert asked == [] and list(fold.rows.names) == ["B"]
    fold.collapsible.button.value = True
    assert asked and "4 → 2" in fold.collapsible.text.value
