from __future__ import annotations

import math

import pytest

from tests.answers.frosty import HOUR, frosty
from vanwater.answers.frost.answer import frost


def test_hours_by_hand() -> None:
    one = frost(frosty()).tanks[0]
    through = one.parked.likely / 14
    hand = 72 * 4186 / through * math.log(18 / 10)  # from 8 °C in −10 °C
    assert one.hours["full"].likely == pytest.approx(hand, rel=1e-6)
    assert one.ice.likely == pytest.approx(hand + 0.1 * 72 * 334e3 / (through * 10), rel=2e-3)
    assert one.hours["full"].low < hand < one.hours["full"].high
    assert one.hours_driving["full"].likely < hand


def test_faces_alike_stand_together_and_a_warm_one_feeds() -> None:
    one = frost(frosty(tanks__fresh__faces={"top": {"beside": "room", "foam": "40 mm"}})).tanks[0]
    assert [(face.names, face.beside, round(face.foam * 1e3)) for face in one.faces] == [
        (("bottom",), "outside", 20),
        (("top",), "room", 40),
        (("front", "rear", "left", "right"), "outside", 20),
    ]
    assert one.faces[1].parked < 0 < one.faces[0].parked
    assert one.faces[1].parked == pytest.approx(one.faces[1].driving)  # no wind in the room
    assert one.faces[0].driving > one.faces[0].parked


def test_a_fed_tank_comes_to_rest_above_freezing_and_never_freezes() -> None:
    faces = {name: {"beside": "room", "foam": "0 mm"} for name in ("top", "left", "right")}
    one = frost(frosty(pads=None, tanks__fresh__faces=faces)).tanks[0]
    assert one.rest > 273.15
    assert math.isinf(one.hours["full"].likely)
    assert math.isinf(one.ice.likely)


def test_a_run_by_hand_with_its_wall_counted() -> None:
    answer = frost(frosty())
    one = answer.runs[0]
    assert one.beside == "outside"
    assert one.wall_share == pytest.approx(1.25 * 1.2 / 4.186)
    hose = answer.numbers["frost.hose.hours_parked"]
    given = {piece.name: piece.value for piece in hose.given}
    through = given["conductance"].value  # type: ignore[union-attr]
    water = math.pi / 4 * 0.01**2 * 2 * 1000
    hand = water * (1 + one.wall_share) * 4186 / through * math.log(18 / 10)
    assert one.hours.likely == pytest.approx(hand)
    assert one.hours.likely < HOUR
    assert one.hours_driving.likely < one.hours.likely


def test_a_runs_length_does_not_matter() -> None:
    short, long = (frost(frosty(runs__hose__length=length)).runs[0].hours.likely for length in ("0.5 m", "5 m"))
    assert short == pytest.approx(long)


def test_a_box_above_freezing_keeps_a_run() -> None:
    answer = frost(frosty(runs__hose__beside="box"))
    assert math.isinf(answer.runs[0].hours.likely)
    assert answer.first == "fresh tank"
