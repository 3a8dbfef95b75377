"""The heating off: by an own march in time through cooling and freezing, at its limits, and what moves it which way."""

from __future__ import annotations

import math
from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.integrate import solve_ivp

from tests.answers.frosty import HOUR, ZERO, frosty
from tests.examples import example
from vanwater.answers.frost.cold import cold_of
from vanwater.answers.frost.heating_off import HeatingOff, OffPiece, heating_off
from vanwater.system.batch import Batch
from vanwater.system.heat import tank_heat, transmittances
from vanwater.system.surroundings import Case

LINE = {"from": "fresh", "to": "tap", "size": "pex 12 mm", "length": "2 m"}
WARM_TOP = {"top": {"beside": "room"}}


def off_of(**changes: Any) -> HeatingOff:
    off = heating_off(cold_of(frosty(**changes)))
    assert off is not None
    return off


def piece(off: HeatingOff, name: str, fill: str = "") -> OffPiece:
    return next(one for one in off.pieces if one.name == name and one.lump.fill == fill)


def times(one: OffPiece) -> list[float]:
    return [number.likely for number in (one.freezing, one.blocked, one.burst) if number is not None]


@pytest.mark.parametrize(
    "faces", [WARM_TOP, {"top": {"beside": "box"}, "left": {"beside": "room", "foam": "0 mm"}}, {}]
)
def test_a_tank_between_room_and_outside_agrees_with_marching_in_time(faces: dict[str, Any]) -> None:
    """Each face by itself between the water and what lies beside it then; the heat of the water as state, by scipy."""
    plan = frosty(tanks__fresh__faces=faces)
    batch = Batch(plan)
    heat = tank_heat(batch, "fresh")
    assert heat is not None
    case = Case(np.array([ZERO + 4]), np.array([ZERO - 10]), heated=False)
    each = (heat.faces.area * transmittances(batch, [heat], [case])[0][0])[0]
    warmer = np.array([0.0, 0.5, 1.0])[heat.codes[0]]  # outside, box, room
    holds = 72 * 4186.0

    def rate(t: float, lost: Any) -> list[float]:
        beside = ZERO - 10 + warmer * 0.8 * 28 * math.exp(-t / (2.2 * HOUR))
        water = ZERO + max(8 - lost[0] / holds, 0.0)
        return [float(np.sum(each * (water - beside)))]

    wanted = [holds * 8 + share * 72 * 334e3 for share in (0.0, 0.07, 0.92)]
    events = [lambda _, lost, heat=heat: lost[0] - heat for heat in wanted]
    march = solve_ivp(rate, (0.0, 2000 * HOUR), [0.0], events=events, rtol=1e-8, atol=1.0, max_step=HOUR)
    found = times(piece(heating_off(cold_of(plan)) or off_of(), "fresh", "full"))
    assert found == pytest.approx([float(times[0]) for times in march.t_events or ()], rel=1e-5)


def test_all_standing_water_is_told_wherever_it_lies() -> None:
    grey = {"holds": "grey", "capacity": "40 L", "beside": "room"}
    off = off_of(tanks__grey=grey, tees={"tee": {}}, runs__line={**LINE, "to": "tee"}, runs__hose__beside="outside")
    assert {(one.name, one.lump.fill) for one in off.pieces} == {
        ("hose", ""),
        ("line", ""),
        *(("fresh", fill) for fill in ("full", "half", "tenth")),
    }
    assert off.silent == ("grey tank",)
    assert [piece(off, name).indoors for name in ("hose", "line")] == [False, True]
    assert off.first is not None and off.first.name == "line"
    blocked = [one.blocked.likely for one in off.pieces]
    assert blocked == sorted(blocked)


def test_what_lies_outside_freezes_as_with_the_pads_off() -> None:
    answer = off_of()
    cold = answer.cold
    through = piece(answer, "hose").lump.conductance[0]
    assert through == pytest.approx(cold.conductance[0, 0, 0])
    assert not answer.follows_room("fresh") and off_of(tanks__fresh__faces=WARM_TOP).follows_room("fresh")


def test_no_room_that_is_heated_no_heating_off() -> None:
    assert heating_off(cold_of(frosty(frost__room="-1 °C"))) is None
    bare = frosty(runs=None, pads=None, tanks__fresh={"holds": "fresh", "capacity": "40 L", "z": "-0.3 m"})
    assert heating_off(cold_of(bare)) is None


def test_a_run_behind_a_mixing_tap_is_open_and_never_told_first() -> None:
    off = heating_off(cold_of(example("long-stay-dry-toilet")))
    assert off is not None and off.first is not None
    hose = piece(off, "handset hose")
    assert hose.lump.open_ended and hose.blocked.likely <= off.first.blocked.likely
    assert off.first.name == "hot line"


def test_the_bodys_numbers_say_where_they_come_from() -> None:
    by_size, said = off_of().time_constant, off_of(body__time_constant="3 h").time_constant
    assert by_size.range == pytest.approx((1.2 * HOUR, 4 * HOUR)) and "common practice" in by_size.source
    assert said.source == "the plan" and said.likely == 3 * HOUR
    read = {"first": "12 °C", "later": "5 °C", "after": "2 h", "outside": "-3 °C"}
    measured = off_of(body={"measured": read}).time_constant
    assert measured.formula and measured.likely == pytest.approx(2 * HOUR / math.log(15 / 8))
    assert off_of().fall.range == pytest.approx((0.12, 0.3))


@settings(max_examples=12, deadline=None)
@given(
    cold=st.floats(-25, -1),
    colder=st.floats(0.1, 10),
    hours=st.floats(0.5, 10),
    more=st.floats(1.1, 3),
    foam=st.floats(0, 0.03),
)
def test_colder_is_sooner_a_slower_body_or_foam_later_and_the_times_are_in_order(
    cold: float, colder: float, hours: float, more: float, foam: float
) -> None:
    def told(cold: float = cold, hours: float = hours, foam: float = foam) -> list[float]:
        off = off_of(
            runs__hose=LINE | {"foam": foam},
            tanks__fresh__foam=foam,
            tanks__fresh__faces=WARM_TOP,
            frost__design_cold=ZERO + cold,
            body__time_constant=hours * HOUR,
        )
        each = [times(piece(off, "hose")), times(piece(off, "fresh", "full")), times(piece(off, "fresh", "tenth"))]
        for freezing, *iced in each:
            assert 0 < freezing <= iced[0] and iced == sorted(iced)
        return [seconds for one in each for seconds in one]

    now = np.array(told())
    assert np.all(np.array(told(cold=cold - colder)) <= now * (1 + 1e-9))
    assert np.all(np.array(told(hours=hours * more)) >= now * (1 - 1e-9))
    thicker = np.array(told(foam=foam + 0.02))
    assert np.all(thicker[:3] >= now[:3] * (1 - 1e-9))  # of a run; on a tank's top foam also keeps the room's heat out


def test_a_run_of_no_length_to_speak_of_holds_nothing_that_freezes() -> None:
    plan = example("family-winter").changed({"runs.heater feed.length": "5e-322 cm"})
    off = heating_off(cold_of(plan))
    assert off is not None and all(np.all(lump.water + lump.wall > 0) for lump in off.lumps)
    assert ("run", "heater feed") not in {lump.key for lump in off.lumps}
