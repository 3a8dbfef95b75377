"""Numbers along the water: each thing one, none twice, upstream before downstream."""

from __future__ import annotations

from hypothesis import given

from tests.drawn import WHOLE_PLANS
from tests.examples import NAMES, example
from tests.strategies import Raw, plans
from vanwater.plan.model import Plan
from vanwater.system.numbering import PLACES, numbering


def holds(plan: Plan) -> None:
    numbers = numbering(plan)
    assert sorted(numbers.pieces.values()) == list(range(1, len(numbers.pieces) + 1))
    assert sorted(numbers.runs.values()) == list(range(1, len(numbers.runs) + 1))
    assert set(numbers.runs) == set(plan.runs)
    assert sum("fittings" not in key for key in numbers.pieces) == sum(len(getattr(plan, table)) for table in PLACES)


def test_every_example() -> None:
    for name in NAMES:
        holds(example(name))


@given(plans())
@WHOLE_PLANS
def test_any_plan(raw: Raw) -> None:
    holds(Plan.of(raw))


def test_upstream_comes_first_in_the_family_van() -> None:
    numbers = numbering(example("family-winter"))
    along = (
        "tanks.fresh",
        "runs.suction.fittings.strainer",
        "pumps.pump",
        "tees.tee",
        "heaters.heater",
        "outlets.shower",
    )
    assert [numbers.pieces[key] for key in along] == sorted(numbers.pieces[key] for key in along)
    assert [numbers.runs[name] for name in ("suction", "trunk", "hot trunk", "handset hose")] == sorted(
        numbers.runs[name] for name in ("suction", "trunk", "hot trunk", "handset hose")
    )
