"""Sizes that are sold, as values for a plan."""

from __future__ import annotations

from itertools import pairwise

import pytest

from tests.examples import NAMES, example
from tests.over import over
from vanwater.options.ladder import ladder, ladders
from vanwater.plan.model import Plan
from vanwater.plan.problems import PlanError
from vanwater.plan.shelf import shelf_of
from vanwater.plan.sold import sold
from vanwater.plan.stock import generic

FAMILY = example("family-winter")


KEPT = {
    "tanks": ("z", "x", "foam", "beside", "count", "holds"),
    "heaters": ("source", "set_point", "hours_on", "x"),
    "pumps": ("kind", "z", "volts"),
    "battery": ("other_loads", "chemistry"),
}
"""What of a part is no matter of its size."""


@over(NAMES)
def test_the_smallest_comes_first_and_all_that_is_not_of_the_size_stays(name: str) -> None:
    plan, built, lost = example(name), 0, 0
    for rungs in ladders(plan):
        kept = () if rungs.address.endswith(".foam") else KEPT.get(rungs.address.partition(".")[0], ())
        assert all(before.measure < after.measure for before, after in pairwise(rungs.sizes)), rungs.address
        for size in rungs.sizes:
            try:
                other = plan.changed(size.values)
            except PlanError:
                lost += 1
                continue
            built += 1
            assert ladder(other, rungs.address).now == pytest.approx(size.measure, rel=1e-6), (rungs.address, size.name)
            for field in kept:
                assert other.at(f"{rungs.address}.{field}") == plan.at(f"{rungs.address}.{field}"), size.name
    assert built > 10 and lost <= built / 10


def test_the_next_sizes_lie_on_both_sides_of_the_plan_s_own() -> None:
    rungs = ladder(FAMILY, "tanks.grey")
    assert rungs.now == pytest.approx(0.8 * 0.55 * 0.22)
    assert rungs.smaller is not None and rungs.smaller.name == "grey tank 90 L" and rungs.larger is None
    hose = ladder(FAMILY, "runs.suction")
    assert (hose.smaller and hose.smaller.name, hose.larger and hose.larger.name) == (
        "pvc hose 12 mm",
        "pvc hose 13 mm",
    )
    heater = ladder(FAMILY, "heaters.heater")
    assert [size.name for size in heater.sizes] == [f"electric heater {litres} L" for litres in (6, 10, 15)]
    assert heater.smaller == heater.sizes[0] and heater.larger == heater.sizes[2]  # a size is not its own neighbour


def test_sizes_are_those_of_the_plan_s_units_where_there_are_any() -> None:
    cans = example("weekend-cans")
    assert {size.name for size in ladder(cans, "runs.suction").sizes} == {
        f"pvc hose {bore} in" for bore in ("3/8", "1/2", "5/8", "3/4")
    }
    assert all("gal" not in size.name and " in" not in size.name for rungs in ladders(FAMILY) for size in rungs.sizes)
    assert [size.measure for size in ladder(FAMILY, "tanks.fresh.foam").sizes] == pytest.approx(sold(us=False).sheets)
    assert [size.measure for size in ladder(cans, "tanks.grey can.foam").sizes] == pytest.approx(sold(us=True).sheets)
    assert [size.measure for size in ladder(cans, "runs.suction.foam").sizes] == pytest.approx(sold(us=True).sleeves)


def test_pumps_are_of_the_same_kind_and_volts() -> None:
    assert all("24 V" not in size.name for size in ladder(FAMILY, "pumps.pump").sizes)
    at_24 = ladder(example("long-stay-dry-toilet"), "pumps.pump").sizes
    assert at_24 and all("24 V" in size.name for size in at_24)
    kinds = {size.name: generic()["pumps"][size.name].fields.get("kind") for size in at_24}
    assert set(kinds.values()) == {None}


def test_the_builder_s_own_shelf_is_sold_too() -> None:
    own = {**FAMILY.own, "shelf": "own.toml"}
    shelf = shelf_of("own.toml", '[tanks."wheel arch"]\nholds = "grey"\ncapacity = "110 L"\n')
    rungs = ladder(Plan.of(own, shelf=shelf), "tanks.grey")
    assert rungs.sizes[-1].name == "wheel arch" and rungs.larger == rungs.sizes[-1]


@pytest.mark.parametrize(
    ("address", "words"),
    [
        ("tanks.gray", 'Did you mean "tanks.grey"?'),
        ("household.people", "No sizes are sold of that."),
        ("tanks.fresh.length", "No sizes are sold of that."),
        ("", "No sizes are sold of that. Expected one of tanks.fresh"),
    ],
)
def test_what_is_not_sold_in_sizes_is_refused(address: str, words: str) -> None:
    with pytest.raises(PlanError) as caught:
        ladder(FAMILY, address)
    assert words in str(caught.value)


def test_a_kind_without_stock_is_refused() -> None:
    plan = FAMILY.changed({"heaters.heater.source": "engine", "heaters.heater.volts": None})
    with pytest.raises(PlanError, match="Nothing of its kind is in the stock"):
        ladder(plan, "heaters.heater")
