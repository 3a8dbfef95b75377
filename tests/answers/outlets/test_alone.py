from __future__ import annotations

import pytest

from tests.examples import example
from vanwater.answers.outlets.alone import outlets_alone

FAMILY = example("family-winter")


def test_an_outlet_carries_only_the_rows_of_its_own_way_unless_it_is_opened_with_others() -> None:
    alone = outlets_alone(FAMILY)
    rows = {name: {row.key for row in supply.batch.rows} for name, supply in alone.outlets.items()}
    tried = {name: {remedy.row.key for remedy in supply.tried} for name, supply in alone.outlets.items()}
    assert rows["shower"] == rows["galley tap"] >= tried["shower"] | tried["galley tap"]
    assert len(rows["basin tap"]) == 9 + len(tried["basin tap"])
    assert alone.outlets["shower"].batch is alone.batch is not alone.outlets["basin tap"].batch


def test_rows_of_its_own_change_no_flow() -> None:
    bare = FAMILY.changed({"together.evening": None})
    for name, supply in outlets_alone(bare).outlets.items():
        known = outlets_alone(FAMILY).outlets[name]
        assert supply.flow.likely == pytest.approx(known.flow.likely, rel=1e-12)
        assert [gain.flow.likely for gain in supply.gains] == pytest.approx(
            [gain.flow.likely for gain in known.gains], rel=1e-9
        )
