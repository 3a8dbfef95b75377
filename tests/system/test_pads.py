from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.answers.frosty import TANK, ZERO, frosty
from vanwater.answers.frost.answer import frost
from vanwater.system.batch import Batch, Row
from vanwater.system.day import day_of
from vanwater.system.pads import mean_cold, pad_draws, pad_heat, pads_of

TWO = {
    "first": {"tank": "fresh", "power": "40 W", "net_share": "80 %"},
    "second": {"tank": "fresh", "power": "20 W", "net_share": "50 %", "fed": "engine"},
}


def drawn(**changes: object) -> float:
    """What the battery gives the pads a day, as its mean [W]."""
    return float(sum(energy[0] for _, energy in day_of(Batch(frosty(**changes))).of("pad")))


def test_pads_of_one_tank_act_as_one() -> None:
    plan = frosty(pads=TWO)
    assert pads_of(plan) == {"fresh": ("first", "second")}
    one = pad_heat(Batch(plan, [Row("all", factors={"pad share": 2.0})]), "fresh")
    assert one.fed == (True, True)
    assert one.on == ((True, False), (True, True))
    assert one.power[:, 0] == pytest.approx([40, 60])
    assert one.net_share[1] == pytest.approx([(0.8 * 40 + 0.5 * 20) / 60, 1.0])  # no more than all of it
    assert one.net_share[0] == pytest.approx([0.8, 1.0])


def test_beside_a_pad_on_the_battery_no_socket_is_counted_on() -> None:
    pads = {**TWO, "second": {**TWO["second"], "fed": "shore"}}
    assert pad_heat(Batch(frosty(pads=pads)), "fresh").power[:, 0] == pytest.approx([40, 40])
    sockets = {name: {**pad, "fed": "shore"} for name, pad in TWO.items()}
    assert pad_heat(Batch(frosty(pads=sockets)), "fresh").power[0, 0] == pytest.approx(60)


@pytest.mark.parametrize(
    ("feeder", "fed"), [("battery", (True, True)), ("engine", (False, True)), ("shore", (True, False))]
)
def test_a_pad_heats_while_what_feeds_it_does(feeder: str, fed: tuple[bool, bool]) -> None:
    pad = pad_heat(Batch(frosty(pads__pad__fed=feeder)), "fresh")
    assert pad.fed == fed
    assert drawn(pads__pad__fed=feeder, day__driving=3600.0, day__shore=3600.0) == (
        pytest.approx(drawn(day__driving=3600.0, day__shore=3600.0)) if feeder == "battery" else 0.0
    )


def test_mean_cold_is_the_coldest_while_it_is_not_said() -> None:
    assert mean_cold(Batch(frosty()))[0] == pytest.approx(ZERO - 4)
    assert mean_cold(Batch(frosty(frost__mean_cold=None)))[0] == pytest.approx(ZERO - 10)
    assert np.isnan(mean_cold(Batch(frosty(frost=None)))[0])


def test_power_is_loss_over_share_in_every_state() -> None:
    answer = frost(frosty(day__driving=6 * 3600.0))
    assert answer.day is not None
    states = answer.pads["fresh"].drawn
    power = drawn(day__driving=6 * 3600.0)
    assert power == pytest.approx(0.75 * states["parked"].likely + 0.25 * states["driving"].likely, rel=1e-6)
    assert power == pytest.approx(answer.day.energy.likely, rel=1e-6)


def test_with_the_heating_off_a_tank_beside_the_room_takes_more() -> None:
    beside = {"top": {"beside": "room"}}
    batch = Batch(frosty(tanks__fresh__faces=beside))
    (_, feeder, power), *_ = pad_draws(batch).values()
    assert feeder == "battery"
    assert power[4, 0] > power[0, 0] == power[2, 0] == power[3, 0]


def test_nothing_is_drawn_without_cold_pads_or_need() -> None:
    assert drawn(frost=None) == 0
    assert drawn(pads=None) == 0
    assert drawn(frost__mean_cold="6 °C") == 0
    assert drawn(pads__pad__fed="shore") == drawn(pads__pad__fed="engine") == 0


def test_a_pad_too_small_is_always_on_and_one_on_an_unknown_tank_too() -> None:
    assert drawn(pads__pad__power="5 W", frost__mean_cold="-30 °C") == pytest.approx(5)
    unknown = {key: TANK[key] for key in ("holds", "z")} | {"capacity": "70 L"}
    assert drawn(tanks__fresh=unknown) == pytest.approx(60)


@settings(max_examples=25, deadline=None)
@given(warm=st.floats(-15, 3), colder=st.floats(0, 15), foam=st.floats(0, 0.1), more=st.floats(0, 0.1))
def test_colder_never_draws_less_and_foam_never_more(warm: float, colder: float, foam: float, more: float) -> None:
    def power(mean: float, foam: float) -> float:
        return drawn(frost__mean_cold=ZERO + mean, tanks__fresh__foam=foam)

    assert power(warm - colder, foam) >= power(warm, foam) - 1e-4
    assert power(warm, foam + more) <= power(warm, foam) + 1e-4


def test_a_pad_that_the_engine_feeds_takes_nothing_from_the_battery_and_helps_none_that_it_feeds() -> None:
    alone = drawn(pads={"first": TWO["first"]})
    assert drawn(pads=TWO) == pytest.approx(alone) and alone > 0.0


def test_a_tank_that_its_neighbours_feed_draws_nothing() -> None:
    warm = {face: {"beside": "room"} for face in ("top", "bottom", "front", "rear", "left", "right")}
    assert drawn(tanks__fresh__faces=warm) == 0.0
