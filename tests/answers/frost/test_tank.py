from __future__ import annotations

import math
from typing import Any

import pytest

from tests.answers.frosty import frosty
from vanwater.answers.frost.answer import frost
from vanwater.answers.frost.tank import TankFrost


def tank(**changes: Any) -> TankFrost:
    return frost(frosty(**changes)).tanks[0]


def test_hours_by_hand() -> None:
    one = tank()
    full, driving = (one.hours[state]["full"] for state in ("parked", "driving"))
    through = one.loss["parked"].likely / 14
    hand = 72 * 4186 / through * math.log(18 / 10)  # from 8 °C in −10 °C
    assert full.likely == pytest.approx(hand, rel=1e-6)
    for fill, share in (("full", 1.0), ("half", 0.5), ("tenth", 0.1)):
        iced = share * (hand + 0.07 * 72 * 334e3 / (through * 10))
        assert one.blocked[fill].likely == pytest.approx(iced, rel=1e-6)
    assert one.blocked["full"].likely == pytest.approx(full.likely + one.freezing.likely)
    assert one.burst.likely == pytest.approx(hand + 0.92 * 72 * 334e3 / (through * 10), rel=1e-6)
    assert full.range is not None and full.range[0] < hand < full.range[1]
    assert driving.likely < hand


def test_faces_alike_stand_together_and_a_warm_one_feeds() -> None:
    bottom, top, sides = tank(tanks__fresh__faces={"top": {"beside": "room", "foam": "40 mm"}}).faces
    assert [(face.names, face.beside, round(face.foam.likely * 1e3)) for face in (bottom, top, sides)] == [
        ("bottom", "outside", 20),
        ("top", "room", 40),
        ("front, rear, left, right", "outside", 20),
    ]
    assert top.loss["parked"].likely < 0 < bottom.loss["parked"].likely
    assert top.loss["parked"].likely == pytest.approx(top.loss["driving"].likely)  # no wind in the room
    assert bottom.loss["driving"].likely > bottom.loss["parked"].likely


def test_a_fed_tank_comes_to_rest_above_freezing_and_never_freezes() -> None:
    faces = {name: {"beside": "room", "foam": "0 mm"} for name in ("top", "left", "right")}
    one = tank(pads=None, tanks__fresh__faces=faces)
    assert one.rest["parked"].likely > 273.15
    assert math.isinf(one.hours["parked"]["full"].likely)
    assert math.isinf(one.blocked["full"].likely) and math.isinf(one.burst.likely)


def test_a_loss_unfolds_to_its_faces_and_their_layers() -> None:
    text = "\n".join(tank(tanks__fresh__faces={"top": {"beside": "room"}}).loss["parked"].lines())
    assert "1 / (1 / h_i + e_w / λ_w + e_f / (a_f λ_f) + 1 / (a_o h_o))" in text
    assert "heat that the top of" in text and "heat that the front, rear, left, right of" in text
    assert "e_f = 20\N{NO-BREAK SPACE}mm" in text
