from __future__ import annotations

import numpy as np
import pytest

from tests.answered import frost
from tests.answers.frosty import frosty
from tests.examples import example
from vanwater.answers.core.chart import Bars, Chart
from vanwater.answers.frost.charts import heat_by_face, hours_to_freeze


def bars(chart: Chart | None) -> tuple[Bars, ...]:
    assert chart is not None
    return chart.bars


def test_hours_are_those_of_the_answer_the_first_piece_on_top() -> None:
    answer = frost(frosty())
    (one,) = bars(hours_to_freeze(answer))
    tank = answer.tanks[0]
    assert one.values.tolist() == sorted(
        [answer.runs[0].hours["parked"].likely, *(tank.hours["parked"][fill].likely for fill in ("full", "tenth"))]
    )
    assert one.low is not None and one.high is not None
    assert np.all(one.low <= one.values) and np.all(one.values <= one.high)
    assert one.roles == ("cold", "fresh", "fresh")


def test_a_piece_that_never_freezes_has_no_bar() -> None:
    (one,) = bars(hours_to_freeze(frost(frosty(runs__hose__beside="box"))))
    assert len(one.values) == 2
    inside = frost(frosty(pads=None, runs__hose__beside="room", tanks__fresh__z="0.1 m"))
    assert hours_to_freeze(inside) is None
    assert heat_by_face(inside) is None


def test_faces_add_up_to_the_tanks_loss() -> None:
    answer = frost(frosty(tanks__fresh__faces={"top": {"beside": "room"}}))
    parked, driving = bars(heat_by_face(answer))
    assert parked.values.sum() == pytest.approx(answer.tanks[0].loss["parked"].likely)
    assert driving.values.sum() == pytest.approx(answer.tanks[0].loss["driving"].likely)
    assert parked.values.min() < 0
    assert (parked.label, driving.label) == ("parked", "driving")
    assert parked.low is None  # its ranges are told where its sums are


def test_charts_of_frost() -> None:
    assert [chart.key for chart in frost(example("family-winter")).charts] == ["freezing", "faces"]
    assert frost(example("weekend-cans")).charts == ()
