"""Heights are the plan's own, columns stand where something stands in them."""

from __future__ import annotations

import math

from tests.examples import example
from vanwater.answers.parts.heights import heights


def test_each_height_that_the_plan_says_has_a_row_and_no_column_is_empty() -> None:
    plan = example("family-winter")
    table = heights(plan)
    shown = {row[0]: row[1].value for row in table.rows}  # type: ignore[union-attr]
    assert shown["shower"] == plan.outlets["shower"].z and shown["fresh"] == plan.tanks["fresh"].z
    assert [column.heading for column in table.columns] == ["what", "height"]


def test_a_run_tells_its_low_point_and_its_fall() -> None:
    plan = example("family-winter").changed({"runs.suction.lowest": "-30 cm", "runs.suction.slope": "2 %"})
    table = heights(plan)
    row = next(row for row in table.rows if row[0] == "R1 suction")
    values = [cell.value for cell in row[2:]]  # type: ignore[union-attr]
    assert math.isclose(values[0], -0.3) and math.isclose(values[1], 0.02)
    assert [column.heading for column in table.columns] == ["what", "height", "lowest", "falls"]


def test_a_plan_without_heights_has_no_rows() -> None:
    plan = example("family-winter").changed(
        {f"{table}.{name}.z": None for table in ("tanks", "pumps", "outlets", "mixers", "heaters")
         for name, part in getattr(example("family-winter"), table).items() if part.z is not None}
    )  # fmt: skip
    assert heights(plan).rows == ()
