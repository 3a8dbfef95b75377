from __future__ import annotations

import numpy as np
import pytest

from tests.answers.frosty import ZERO, frosty
from vanwater.answers.frost.cold import cold_of, pads_off, told_in
from vanwater.answers.frost.cold_rows import INSIDE, MORE_FOAM, SLEEVED, added, cold_remedies, sleeve, unsure_cold
from vanwater.plan.tanks import label_of
from vanwater.plan.winter import BESIDE
from vanwater.quantities import DURATION, HOURS
from vanwater.system.heat import FACES


def test_a_tank_is_called_by_its_name() -> None:
    assert [label_of(name) for name in ("fresh", "grey can", "urine container", "Tank 2", "candle")] == [
        "fresh tank",
        "grey can",
        "urine container",
        "Tank 2",
        "candle tank",
    ]


def test_share_of_the_road_speed_is_unsure_by_common_practice_or_by_a_fifth() -> None:
    def ends(**changes: object) -> tuple[float, float]:
        plan = frosty(**changes)
        one = next(one for one in unsure_cold(plan) if one.key == "under floor")
        return one.low * plan.frost.under_floor, one.high * plan.frost.under_floor

    assert ends() == pytest.approx((0.3, 0.7))
    assert ends(frost__under_floor="40 %") == pytest.approx((0.32, 0.48))
    assert ends(frost__under_floor="0 %") == (0, 0)


ALWAYS = ["wind", "under floor", "foam", "body", "air", "block", "burst"]


def test_the_bodys_time_constant_is_unsure_by_its_size_or_by_a_fifth() -> None:
    def ends(**changes: object) -> tuple[float, float]:
        one = next(one for one in unsure_cold(frosty(**changes)) if one.key == "body")
        return one.low, one.high

    assert ends() == ends(body__size="medium") == pytest.approx((1.2 / 2.2, 4 / 2.2))
    assert ends(body__size="small") == pytest.approx((0.5, 1.75))
    said = {"first": "12 °C", "later": "5 °C", "after": "2 h", "outside": "-3 °C"}
    assert ends(body__time_constant="3 h") == ends(body={"measured": said}) == (0.8, 1.2)


def test_the_first_ice_is_unsure_by_common_practice_or_by_a_fifth() -> None:
    def ends(**changes: object) -> tuple[float, float]:
        plan = frosty(**changes)
        one = next(one for one in unsure_cold(plan) if one.key == "block")
        return one.low * plan.frost.ice_share, one.high * plan.frost.ice_share

    assert ends() == pytest.approx((0.05, 0.1))
    assert ends(frost__ice_share="20 %") == pytest.approx((0.16, 0.24))


def test_each_situation_has_its_name() -> None:
    assert pads_off(frosty()) == "pads off, van heated"
    assert pads_off(frosty(pads=None), True) == "Van heated"


def test_the_pads_share_is_unsure_only_where_there_is_a_pad() -> None:
    assert [one.key for one in unsure_cold(frosty())] == ["pad share", *ALWAYS]
    assert [one.key for one in unsure_cold(frosty(pads=None))] == ALWAYS


def test_remedies_foam_the_cold_faces_and_sleeve_thin_runs() -> None:
    plan = frosty(tanks__fresh__faces={"top": {"beside": "room"}, "left": {"foam": "290 mm"}})
    foam, sleeved, inside = cold_remedies(plan, ("hose",), ("hose",))
    assert (foam.key, sleeved.key, inside.key) == (MORE_FOAM, SLEEVED, INSIDE)
    assert "tanks.fresh.faces.top.foam" not in foam.values
    assert foam.values["tanks.fresh.faces.bottom.foam"] == pytest.approx(0.02 + added(plan).likely)
    assert foam.values["tanks.fresh.faces.left.foam"] == pytest.approx(0.3)  # the thickest that a plan may say
    assert sleeved.values == {"runs.hose.foam": sleeve(plan).likely}
    assert inside.values == {"runs.hose.beside": "room"}
    assert cold_remedies(frosty(runs__hose__foam="19 mm"), ("hose",), ("hose",))[1].values == {}


def test_tanks_are_sorted_by_what_lies_beside_them() -> None:
    plan = frosty(
        tanks__grey={"holds": "grey", "capacity": "50 L", "z": "-0.3 m"},
        tanks__drinking={"holds": "fresh", "capacity": "10 L", "z": "0.1 m"},
        tanks__boxed={"holds": "fresh", "capacity": "10 L", "beside": "box"},
        tanks__lost={"holds": "fresh", "capacity": "10 L"},
    )
    cold = cold_of(plan)
    assert (tuple(cold.tanks), cold.warm, cold.gaps) == (("fresh",), ("drinking", "boxed"), ("grey", "lost"))
    frozen = cold_of(plan.changed({"frost.box": "-1 °C"}))
    assert (frozen.warm, frozen.gaps) == (("drinking",), ("grey", "boxed", "lost"))
    unheated = cold_of(plan.changed({"frost.room": "-2 °C"}))
    assert unheated.warm == ()


def test_cases_and_rest() -> None:
    one = cold_of(frosty(tanks__fresh__faces={"top": {"beside": "room"}})).tanks["fresh"]
    assert one.transmittance.shape[0] == one.through.shape[0] == one.needed.shape[0] == 4
    parked, driving, parked_at_mean, driving_at_mean = one.rest
    assert np.all(one.through[1] > one.through[0])
    assert np.all(parked_at_mean > parked)
    assert np.all(driving < parked)  # wind takes from the cold faces, the room's feed stays
    assert np.all(driving_at_mean > driving)
    top = FACES.index("top")
    assert one.beside[0, 0, top] == pytest.approx(291.15)
    assert BESIDE[one.heat.codes[0, top]] == "room"
    assert one.mass[:, 0] == pytest.approx([72, 36, 7.2])


def test_start_is_the_water_that_a_pad_keeps_else_as_it_is_filled_while_it_is_not_said() -> None:
    assert cold_of(frosty()).start.likely == pytest.approx(ZERO + 8)
    kept = cold_of(frosty(frost__start=None, site__cold_water="6 °C"))
    for start in (kept.start, kept.tanks["fresh"].start):
        assert start.key == ("tank", "fresh", "water_temperature")
        assert ZERO + 4 < start.likely < ZERO + 5
    bare = cold_of(frosty(frost__start=None, site__cold_water="6 °C", pads__pad=None))
    own = cold_of(frosty(frost__start=None, tanks__fresh__temperature="5 °C", pads__pad=None))
    for cold, likely in ((bare, 6.0), (own, 5.0)):
        assert cold.start.likely == cold.tanks["fresh"].start.likely == pytest.approx(ZERO + likely)


def test_short_times_are_told_in_minutes() -> None:
    assert told_in(3599.0) is DURATION and told_in(3600.0) is HOURS
    assert told_in(float("inf")) is HOURS
