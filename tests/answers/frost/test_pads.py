from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.answers.frosty import ZERO, frosty
from vanwater.answers.frost.answer import frost
from vanwater.answers.frost.pads import COLDEST, PadFrost


def pad(**changes: Any) -> PadFrost:
    found = frost(frosty(**changes)).tanks[0].pad
    assert found is not None
    return found


FACES = [{}, {"top": {"beside": "room"}}, {"top": {"beside": "box"}, "left": {"beside": "room", "foam": "0 mm"}}]


@pytest.mark.parametrize("faces", FACES)
@pytest.mark.parametrize(("foam", "power"), [("0 mm", "400 W"), ("20 mm", "60 W")])
def test_at_the_lowest_cold_the_pad_is_always_on(faces: dict[str, Any], foam: str, power: str) -> None:
    base = {"tanks__fresh__faces": faces, "tanks__fresh__foam": foam, "pads__pad__power": power}
    one = pad(**base)
    assert pad(**base, frost__design_cold=one.holds.likely).duty.likely == pytest.approx(1.0, abs=5e-3)
    driving = pad(**base, frost__design_cold=one.holds_driving.likely)
    assert driving.duty_driving.likely == pytest.approx(1.0, abs=5e-3)


def test_by_hand_where_all_faces_look_outside() -> None:
    one, tank = pad(), frost(frosty()).tanks[0]
    through = tank.parked.likely / 14  # 4 °C against −10 °C
    assert one.net == pytest.approx(45)
    assert one.duty.likely == pytest.approx(tank.parked.likely / 45)
    assert one.holds.likely - ZERO == pytest.approx(4 - 45 / through, abs=0.5)  # the films of that cold differ a little
    assert one.smallest == pytest.approx(tank.parked.likely / 0.75)
    assert one.smallest_driving == pytest.approx(tank.driving.likely / 0.75)


@settings(max_examples=15, deadline=None)
@given(cold=st.floats(-30, -1), power=st.floats(10, 200))
def test_the_smallest_pad_holds_and_a_smaller_one_does_not(cold: float, power: float) -> None:
    base = {"frost__design_cold": ZERO + cold, "frost__mean_cold": ZERO + cold}
    one = pad(**base, pads__pad__power=power)
    least = min(max(one.smallest, 5.0), 1000.0)
    if least == one.smallest:
        assert pad(**base, pads__pad__power=least).duty.likely == pytest.approx(1.0)
    assert (one.duty.likely <= 1.0) == (power >= one.smallest)
    assert one.energy.likely <= power + 1e-9
    assert one.holds.likely >= COLDEST
    assert one.holds.low <= one.holds.likely <= one.holds.high


def test_a_tank_without_a_face_outside_is_held_at_any_cold() -> None:
    answer = frost(frosty(tanks__fresh__beside="room"))
    one = answer.tanks[0].pad
    assert one is not None
    assert one.holds.likely == float("-inf")
    assert one.duty.likely == 0
    finding = next(one for one in answer.findings if one.key == "frost.fresh.pad")
    assert "at any cold" in finding.statement.text()


def test_energy_a_day_counts_the_hours_on_the_road() -> None:
    parked, mixed, driving = (pad(frost__hours_driving=f"{hours} h") for hours in (0, 6, 24))
    assert driving.energy.likely > parked.energy.likely
    assert mixed.energy.likely == pytest.approx(0.75 * parked.energy.likely + 0.25 * driving.energy.likely)


def test_what_the_lowest_cold_hangs_on_is_told_most_first() -> None:
    hung = pad().hung
    assert hung[0].address == "pad share"
    assert [one.swing for one in hung] == sorted((one.swing for one in hung), reverse=True)
    assert hung[-1].swing == 0  # parked, the road does not count


def test_no_cold_below_the_coldest_is_told() -> None:
    answer = frost(frosty(pads__pad__power="800 W"))
    one = answer.tanks[0].pad
    assert one is not None
    assert one.holds.likely == one.holds.low == COLDEST
    number = answer.numbers["frost.fresh.holds_parked"]
    assert float(number.value) == COLDEST
    assert any("lowest temperature of rest" in line for line in number.lines())
