from __future__ import annotations

import numpy as np
import pytest

from tests.answers.frosty import HOUR, ZERO, frosty
from vanwater.plan.winter import BESIDE
from vanwater.system.batch import Batch, Row
from vanwater.system.surroundings import neighbours
from vanwater.system.van_body import AIR, BODY, body_row, cooled, van_body

OUTSIDE, BOX, ROOM = (BESIDE.index(name) for name in ("outside", "box", "room"))
READ = {"first": "12 °C", "later": "5 °C", "after": "2 h", "outside": "-3 °C"}


def hours(**changes: object) -> float:
    return float(van_body(Batch(frosty(**changes))).time_constant[0]) / HOUR


def test_its_time_constant_is_measured_else_said_else_that_of_its_size() -> None:
    assert hours() == hours(body__size="medium") == pytest.approx(2.2)
    assert hours(body__size="large") == pytest.approx(2.4)
    assert hours(body__size="large", body__time_constant="3 h") == pytest.approx(3)
    assert hours(body={"size": "large", "measured": READ}) == pytest.approx(2 / np.log(15 / 8))
    assert body_row(frosty(body__size="small")).key == "small"


def test_along_the_rows() -> None:
    rows = [
        Row("quick", factors={BODY: 0.5, AIR: 1.5}),
        Row("large", {"body.size": "large"}),
        Row("said", {"body.time_constant": 4 * HOUR}),
    ]
    body = van_body(Batch(frosty(), rows))
    assert body.time_constant / HOUR == pytest.approx([2.2, 1.1, 2.4, 4])
    assert body.fall == pytest.approx([0.2, 0.3, 0.2, 0.2])
    colder = Batch(frosty(body={"measured": READ}), [Row("colder", {"body.measured.later": ZERO + 3})])
    first, other = van_body(colder).time_constant
    assert other < first


def test_room_and_boxes_fall_by_the_same_share_and_no_colder_than_outside() -> None:
    batch = Batch(frosty(frost__room="20 °C"), [Row("cellar", {"frost.room": ZERO - 15, "frost.box": ZERO - 12})])
    outside = batch.number("frost.design_cold")
    around = cooled(van_body(batch), neighbours(batch, outside), outside)
    assert around.temperature[:, 0] - ZERO == pytest.approx([-10, -10 + 0.8 * 15, -10 + 0.8 * 30])
    assert around.temperature[:, 1] - ZERO == pytest.approx([-10, -10, -10])
