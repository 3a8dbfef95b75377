"""What the parts of a plan cost, by the builder's own shelf."""

from __future__ import annotations

import pytest

from tests.examples import example
from vanwater.options.prices import PRICE, price_of, unpriced
from vanwater.options.variants import compare
from vanwater.plan.model import Plan
from vanwater.plan.overlay import Overlay
from vanwater.plan.shelf import shelf_of

SHELF = """
[accumulators."small vessel"]
volume = "0.5 L"
price = "30 EUR"

[accumulators."large vessel"]
volume = "2 L"
price = "55 EUR"

[accumulators."unpriced vessel"]
volume = "3 L"

[fittings.coupling]
k = 1.0
price = "4 EUR"
"""


@pytest.fixture(scope="module")
def plan() -> Plan:
    own = dict(example("family-winter").own)
    own["shelf"] = "shelf.toml"
    own["accumulators"] = {"accumulator": {"at": "tee", "stock": "small vessel"}}
    own["runs"] = {**own["runs"], "trunk": {**own["runs"]["trunk"], "fittings": {"coupling": 2}}}
    return Plan.of(own, shelf=shelf_of("shelf.toml", SHELF))


def test_prices_of_parts_and_fittings_add_up(plan: Plan) -> None:
    total = price_of(plan)
    assert total is not None and total.likely == 30.0 + 2 * 4.0
    assert {piece.name for piece in total.given} == {"accumulators.accumulator", "2 coupling in trunk"}
    assert price_of(example("family-winter")) is None


def test_what_a_variant_costs_more_is_told(plan: Plan) -> None:
    told = compare(plan, [Overlay("large", {"accumulators.accumulator.stock": "large vessel"})])
    (more,) = told[PRICE].differences
    assert more is not None and more.likely == 25.0
    assert "price of the parts that name one" in told.headline.text()


def test_with_a_part_that_has_no_price_it_is_not_known(plan: Plan) -> None:
    told = compare(plan, [Overlay("other", {"accumulators.accumulator.stock": "unpriced vessel"})])
    assert unpriced(plan, next(iter(told.possible.values())).plan) == ("accumulators.accumulator",)
    assert told[PRICE].differences == (None,)
    assert any("no price is named for accumulators.accumulator" in note.text() for note in told.notes)
    assert unpriced(plan, plan) == ()
