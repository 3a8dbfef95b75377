from __future__ import annotations

from tests.examples import example
from vanwater.answers.core.sizes import example_of, free_name, of_pump, rounded, size_of, tanks_by_use
from vanwater.quantities import VOLUME


def test_a_tank_grows_by_a_side_that_leaves_pick_up_and_overflow_alone() -> None:
    plan = example("family-winter")
    for name, tank in plan.tanks.items():
        address = size_of(plan, name)
        assert plan.at(address) is not None
        assert (address == f"tanks.{name}.capacity") == (tank.inside_height is None)
    cans = example("weekend-cans")
    assert tanks_by_use(cans, "fresh")[0] == next(n for n, t in cans.tanks.items() if t.holds == "fresh")


def test_only_fields_that_the_kind_of_pump_has() -> None:
    plan = example("family-winter")
    assert list(of_pump(plan, "pump", ("volts", "strokes"))) == ["pumps.pump.volts"]
    assert list(of_pump(plan, "", ("volts",))) == []


def test_values_and_names_to_begin_with() -> None:
    plan = example("family-winter")
    assert VOLUME.read(example_of(plan, "accumulators.accumulator.volume")) > 0
    assert rounded(plan, VOLUME, 0.01234) == "12 L"
    assert free_name(plan, "fresh", ("tanks",)) == "fresh 2" and free_name(plan, "new", ("tanks",)) == "new"
