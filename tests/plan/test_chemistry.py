from __future__ import annotations

import typing

import pytest

from vanwater.plan.chemistry import chemistries
from vanwater.plan.electricity import Chemistry


def test_every_chemistry_that_a_plan_may_name_has_a_row() -> None:
    assert set(chemistries()) == set(typing.get_args(Chemistry))


@pytest.mark.parametrize("cells", list(chemistries().values()), ids=list(chemistries()))
def test_cold_takes_some_and_a_source_is_named(cells) -> None:
    assert 1.0 > cells.at_freezing > cells.at_minus_10 > cells.at_minus_20 > 0.3
    assert 1.0 <= cells.peukert < 1.3 and 0.75 < cells.stored < 1.0
    assert "common practice" in cells.source and cells.note


def test_only_lithium_is_barred_in_frost() -> None:
    assert [key for key, cells in chemistries().items() if not cells.charged_in_frost] == ["lithium iron phosphate"]
