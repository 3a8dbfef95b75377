from __future__ import annotations

import math
from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.answers.frosty import ZERO, frosty
from vanwater.answers.frost.answer import frost
from vanwater.answers.frost.pads import COLDEST, PadFrost


def pad(**changes: Any) -> PadFrost:
    return frost(frosty(**changes)).pads["fresh"]


FACES = [{}, {"top": {"beside": "room"}}, {"top": {"beside": "box"}, "left": {"beside": "room", "foam": "0 mm"}}]


@pytest.mark.parametrize("faces", FACES)
@pytest.mark.parametrize(("foam", "power"), [("0 mm", "400 W"), ("20 mm", "60 W")])
def test_at_the_lowest_cold_the_pad_is_always_on(faces: dict[str, Any], foam: str, power: str) -> None:
    base = {"tanks__fresh__faces": faces, "tanks__fresh__foam": foam, "pads__pad__power": power}
    one = pad(**base)
    assert pad(**base, frost__design_cold=one.holds["parked"].likely).duty["parked"].likely == pytest.approx(
        1.0, abs=5e-3
    )
    driving = pad(**base, frost__design_cold=one.holds["driving"].likely)
    assert driving.duty["driving"].likely == pytest.approx(1.0, abs=5e-3)


def test_by_hand_where_all_faces_look_outside() -> None:
    one, tank = pad(), frost(frosty()).tanks[0]
    through = tank.loss["parked"].likely / 14  # 4 °C against −10 °C
    assert one.duty["parked"].likely == pytest.approx(tank.loss["parked"].likely / 45)
    assert one.holds["parked"].likely - ZERO == pytest.approx(
        4 - 45 / through, abs=0.5
    )  # the films of that cold differ a little
    assert one.smallest["parked"].likely == pytest.approx(tank.loss["parked"].likely / 0.75)
    assert one.smallest["driving"].likely == pytest.approx(tank.loss["driving"].likely / 0.75)


@settings(max_examples=15, deadline=None)
@given(cold=st.floats(-30, -1), power=st.floats(10, 200))
def test_the_smallest_pad_holds_and_a_smaller_one_does_not(cold: float, power: float) -> None:
    base = {"frost__design_cold": ZERO + cold, "frost__mean_cold": ZERO + cold}
    one = pad(**base, pads__pad__power=power)
    smallest, holds = one.smallest["parked"].likely, one.holds["parked"]
    least = min(max(smallest, 5.0), 1000.0)
    if least == smallest:
        assert pad(**base, pads__pad__power=least).duty["parked"].likely == pytest.approx(1.0)
    assert (one.duty["parked"].likely <= 1.0) == (power >= smallest)
    assert one.energy.likely <= power + 1e-9
    assert holds.likely >= COLDEST
    assert holds.range is None or holds.range[0] <= holds.likely <= holds.range[1]


def test_a_tank_without_a_face_outside_is_held_at_any_cold() -> None:
    answer = frost(frosty(tanks__fresh__beside="room"))
    one = answer.pads["fresh"]
    assert one.holds["parked"].likely == float("-inf")
    assert one.duty["parked"].likely == 0
    finding = next(one for one in answer.findings if one.key == "frost.fresh.pad")
    assert "at any cold" in finding.statement.text()


def test_energy_a_day_counts_the_hours_on_the_road() -> None:
    parked, mixed, driving = (pad(day__driving=f"{hours} h") for hours in (0, 6, 24))
    assert driving.energy.likely > parked.energy.likely
    assert mixed.energy.likely == pytest.approx(0.75 * parked.energy.likely + 0.25 * driving.energy.likely)


def test_what_the_lowest_cold_hangs_on_is_told_most_first() -> None:
    hung = pad().holds["parked"].influences
    assert hung[0].address == "pad share"
    assert [one.swing for one in hung] == sorted((one.swing for one in hung), reverse=True)
    assert hung[-1].swing == 0  # parked, the road does not count


def test_no_cold_below_the_coldest_is_told() -> None:
    answer = frost(frosty(pads__pad__power="800 W"))
    one = answer.pads["fresh"]
    holds = one.holds["parked"]
    assert holds.likely == COLDEST
    assert holds.range is None or holds.range[0] == COLDEST
    assert any("lowest temperature of rest" in line for line in holds.lines())


def test_the_lowest_cold_unfolds_by_its_formula_where_all_faces_look_outside() -> None:
    assert pad().holds["parked"].formula == "T_h − s P / UA"
    several = pad(tanks__fresh__faces={"top": {"beside": "room"}}).holds["parked"]
    assert several.formula == ""  # told by its pieces
    assert "T_h − s P / UA" in "\n".join(several.lines())


def test_the_duty_unfolds_to_what_the_tank_needs() -> None:
    text = "\n".join(pad().duty["parked"].lines())
    assert "P_h / (s P)" in text and "max(UA (T_h − T_o), 0)" in text and "Σ U A" in text


def test_the_smallest_pad_of_both_is_the_larger_and_is_rounded_up_to_be_fitted() -> None:
    one = pad()
    parked, driving, both = (one.smallest[state].likely for state in ("parked", "driving", "both"))
    assert both == driving > parked
    assert one.to_fit("parked").likely == np.ceil(parked)


def test_on_the_road_with_its_pad_on_the_last_tenth_lasts_by_hand() -> None:
    weak = pad(pads__pad__power="10 W", frost__design_cold="-20 °C")
    through = weak.tank.loss["driving"].likely / 24  # 4 °C against −20 °C
    rest = -20 + 7.5 / through
    assert weak.lasts.likely == pytest.approx(7.2 * 4186 / through * math.log((4 - rest) / (0 - rest)))
