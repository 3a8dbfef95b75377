from __future__ import annotations

import numpy as np
import pytest

from tests.answered import simultaneous
from tests.examples import example
from vanwater.answers.core.chart import words
from vanwater.answers.simultaneous.charts import pressure_budget_together

FAMILY = example("family-winter")


def test_the_sets_budget_takes_what_the_pump_gives_there_largest_first() -> None:
    answer = simultaneous(FAMILY)
    chart = pressure_budget_together(answer)
    assert chart is not None
    (one,) = chart.bars
    (evening,) = answer.sets
    assert one.values.sum() == pytest.approx(evening.pumps["pump"].rise.likely, abs=1.0)
    assert np.all(np.diff(one.values) <= 0)
    role = dict(zip(one.names, one.roles, strict=True))
    assert role["lift"] == "plain"
    assert role["shower"] == "fresh"
    assert role["fittings of the hot trunk"] == role["hot trunk"] == "hot"
    assert role["fittings of the suction"] == "cold"
    assert words(chart.title, "terminal").startswith("With the galley tap open too, 0.6")
    assert pressure_budget_together(simultaneous(example("long-stay-dry-toilet"))) is None
