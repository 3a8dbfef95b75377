from __future__ import annotations

import pytest

from tests.examples import example
from vanwater.answers.core.cautions import SCALD
from vanwater.answers.core.unsure import (
    BORES,
    CHARGING,
    FITTINGS,
    GAS,
    LOADS,
    OUTLETS,
    PUMPS,
    RUN_OFF,
    assumed,
    habits,
    rows_of,
)
from vanwater.system.batch import Batch, low_and_high

ALL = (OUTLETS, PUMPS, FITTINGS, BORES, RUN_OFF, LOADS, CHARGING)


def test_each_has_a_range_about_one_something_to_measure_and_a_source() -> None:
    for one in ALL:
        assert one.low < 1 < one.high
        assert one.measure
        assert one.source
    assert len({one.key for one in ALL}) == len(ALL)


def test_habits_follow_the_plan() -> None:
    plan = example("family-winter")
    assert (habits(plan).low, habits(plan).high) == (0.75, 1.25)
    sure = plan.changed({"household.unsure": 0.0})
    assert assumed([habits(sure)]) == ()
    assert "25" in assumed([habits(plan)])[0].statement.text()


def test_rows_are_where_the_batch_has_them() -> None:
    batch = Batch(example("family-winter"), low_and_high(ALL))
    for place, rows in enumerate(rows_of(batch, ALL)):
        assert (rows.low, rows.high) == (1 + 2 * place, 2 + 2 * place)
        assert rows.factors is not None
        assert [batch.factor(rows.address)[row] for row in (rows.low, rows.high)] == list(rows.factors)


def test_scald_is_grave() -> None:
    assert SCALD.grave


def test_how_far_each_input_may_lie_off_is_what_is_said_of_it() -> None:
    off = {"outlets": (0.25, 0.25), "pumps": (0.15, 0.15), "fittings": (0.3, 0.3), "bores": (0.03, 0.03)}
    for unsure in (OUTLETS, PUMPS, FITTINGS, BORES):
        assert (1.0 - unsure.low, unsure.high - 1.0) == pytest.approx(off[unsure.key])
        (assumption,) = assumed([unsure])
        low, high = (f"{share:.0%}".replace("%", "\N{NO-BREAK SPACE}%") for share in off[unsure.key])
        assert f"may lie {low} lower or {high} higher" in assumption.statement.text()


def test_gas_goes_from_as_warm_as_its_surroundings_to_no_time_to_give_its_warmth() -> None:
    """Isothermal to adiabatic: of a gas of two atoms 7/5 (any handbook of thermodynamics)."""
    assert (GAS.low, GAS.high) == (1.0, pytest.approx(7 / 5))
