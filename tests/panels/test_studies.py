from __future__ import annotations

import pytest

import vanwater
from vanwater.options.tornado import tornado
from vanwater.panels.bench import Bench
from vanwater.plan.file import PlanFile, read


def test_a_ready_comparison_says_what_was_assumed(family: PlanFile) -> None:
    study = Bench(family).ready("heat")
    text = repr(study)
    assert "water heated by electricity, by the engine or by diesel" in text
    assert "heated by diesel" in text
    assert "Assumed: its litres, power, hours and temperature stay" in text
    with pytest.raises(KeyError, match="accumulator"):
        Bench(family).ready("colour")


def test_a_ready_comparison_says_why_this_van_cannot_carry_it(family: PlanFile) -> None:
    cans = Bench(read(family.path.with_name("weekend-cans.toml")))
    assert "Not for this van: No heater is planned." in repr(cans.ready("heat"))


def test_what_to_change_first_is_the_tornado_of_the_plan_as_it_stands(family: PlanFile) -> None:
    bench = Bench(family)
    bench.set("household.people", 2)
    study = bench.first()
    told = tornado(family.plan.changed({"household.people": 2}), "stay.days")
    assert told.table.text(bench.us) in repr(study)
    assert told.bars[0].low.put_in in repr(study)
    assert "<svg" in study.piece.html
    assert "fresh tank" in repr(bench.first("tank.fresh.days"))


def test_a_number_that_there_is_not_is_told_with_the_nearest(family: PlanFile) -> None:
    assert "stay.days" in repr(Bench(family).first("stay.dys"))


def test_the_smallest_that_works_by_the_plans_own_wish_or_a_typed_one(family: PlanFile) -> None:
    bench = Bench(family)
    study = bench.smallest()
    assert study.boxes[0].value == "tanks.grey"  # it ends the stay
    assert "Nothing that is sold for grey tank does" in repr(study)
    study.boxes[1].value = "stay.days >= 2 days"
    own = vanwater.smallest(family.plan, "tanks.grey", "stay.days >= 2 days")
    assert own.size is not None and own.smaller is not None
    assert own.sentence.text() in repr(study)
    study.boxes[1].value = "stay.days two"
    assert "is no wish" in repr(study)
    study.boxes[1].value = "<b> >= 2 days"
    assert "<b> " not in study.piece.html
