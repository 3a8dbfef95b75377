from __future__ import annotations

import math
from typing import Any

import pytest

from tests.answers.frosty import HOUR, TANK, ZERO, frosty
from vanwater.answers.core.finding import Finding, Verdict
from vanwater.answers.core.statement import Amount
from vanwater.answers.frost.answer import frost
from vanwater.answers.stay.answer import stay
from vanwater.plan.model import Plan


def finding(plan: Plan, key: str) -> Finding:
    return next(one for one in frost(plan).findings if one.key == key)


def test_a_pad_that_fails_says_the_smallest_that_holds_and_that_one_does() -> None:
    plan = frosty(pads__pad__power="20 W")
    one = finding(plan, "frost.fresh.pad")
    assert one.verdict is Verdict.FAILS
    assert one.change is not None
    least = one.change.amounts[0].value  # type: ignore[union-attr]
    assert str(math.ceil(least)) in one.change.text()
    after = finding(plan.changed({"pads.pad.power": least}, si=True), "frost.fresh.pad")
    assert after.verdict is not Verdict.FAILS
    before = finding(plan.changed({"pads.pad.power": least - 1.0}, si=True), "frost.fresh.pad")
    assert before.verdict is Verdict.FAILS


def test_what_foam_would_bring_is_what_the_changed_plan_gives() -> None:
    plan = frosty(pads__pad__power="8 W", tanks__fresh__faces={"top": {"beside": "room"}})
    gain = finding(plan, "frost.fresh.pad").gain
    assert gain is not None
    faces: dict[str, Any] = {side: {"foam": "40 mm"} for side in ("bottom", "front", "rear", "left", "right")}
    foamed = plan.changed({"tanks.fresh.faces": {"top": {"beside": "room"}, **faces}})
    now, after = (frost(one).pads["fresh"].holds["parked"].likely for one in (plan, foamed))
    assert gain.amounts[-1].value == pytest.approx(now - after, abs=1e-3)  # type: ignore[union-attr]


def test_watch_where_only_the_range_fails() -> None:
    holds = frost(frosty()).pads["fresh"].holds["parked"]
    assert holds.range is not None
    between = 0.5 * (holds.likely + holds.range[1])
    one = finding(frosty(frost__design_cold=between, frost__mean_cold=ZERO - 4), "frost.fresh.pad")
    assert one.verdict is Verdict.WATCH
    assert one.change is not None
    assert one.change.text() == "Measure first: the share of a pad's heat that reaches the water."


def test_on_the_road_it_fails_only_if_the_water_freezes_in_the_hours_driven() -> None:
    weak = {"pads__pad__power": "10 W", "tanks__fresh__foam": "10 mm", "frost__design_cold": "-20 °C"}
    short = finding(frosty(**weak, day__driving="0.1 h"), "frost.fresh.driving")
    assert short.verdict is Verdict.WATCH
    assert "its last tenth is at 0\N{NO-BREAK SPACE}°C after" in short.statement.text()
    times = [one for one in short.statement.amounts if isinstance(one, Amount) and one.quantity.si == "s"]
    after = times[0].value
    assert 0.1 * HOUR < after < 10 * HOUR
    assert finding(frosty(**weak, day__driving=after * 1.1), "frost.fresh.driving").verdict is Verdict.FAILS
    assert finding(frosty(**weak, day__driving=after * 0.9), "frost.fresh.driving").verdict is Verdict.WATCH


def test_on_the_road_a_pad_may_cool_and_yet_not_freeze() -> None:
    holds = frost(frosty()).pads["fresh"].holds["driving"]
    mild = finding(frosty(frost__design_cold=holds.likely - 1.0), "frost.fresh.driving")
    assert mild.verdict is Verdict.WATCH
    assert "stays above 0" in mild.statement.text()
    assert finding(frosty(), "frost.fresh.driving").verdict is Verdict.FINE


@pytest.mark.parametrize(
    ("said", "verdict"),
    [("none", Verdict.FAILS), (None, Verdict.NOT_DECIDED), ("level", Verdict.FINE), ("temperature", Verdict.FINE)],
)
def test_what_keeps_a_pad_off_an_empty_tank(said: str | None, verdict: Verdict) -> None:
    one = finding(frosty(pads__pad__protected_by=said), "frost.pad.protected")
    assert one.verdict is verdict
    assert (one.change is None) == (verdict is Verdict.FINE)
    assert one.address == "pads.pad.protected_by"


def test_a_tank_that_nothing_heats() -> None:
    one = finding(frosty(pads=None), "frost.fresh.hours")
    assert one.verdict is Verdict.WATCH
    assert one.advice is not None
    assert "Drain it before frost" in one.advice.text()
    thick = {"pads": None, "frost__mean_cold": "1 °C", "frost__design_cold": "-3 °C", "tanks__fresh__foam": "100 mm"}
    assert finding(frosty(**thick), "frost.fresh.hours").verdict is Verdict.FINE
    assert finding(frosty(**thick | {"frost__mean_cold": "-1 °C"}), "frost.fresh.hours").verdict is Verdict.WATCH
    thin = finding(frosty(**thick | {"tanks__fresh__foam": "10 mm"}), "frost.fresh.hours")
    assert thin.verdict is Verdict.WATCH  # its last tenth does not outlast the night
    fed = {name: {"beside": "room", "foam": "0 mm"} for name in ("top", "left", "right")}
    rests = finding(frosty(pads=None, tanks__fresh__faces=fed), "frost.fresh.hours")
    assert rests.verdict is Verdict.FINE
    assert "comes to rest" in rests.statement.text()


def test_the_first_run_is_judged_by_when_it_is_blocked_and_what_helps() -> None:
    plan = frosty()
    one = finding(plan, "frost.hose.freezes")
    assert one.verdict is Verdict.FAILS
    assert one.statement.text().startswith("Van heated, the hose, no pad on it, freezes first: ")
    assert (
        finding(frosty(pads=None), "frost.hose.freezes")
        .statement.text()
        .startswith("Van heated, the hose freezes first: ")
    )
    first = frost(plan).runs[0]
    assert one.value == first.blocked.shown and first.hours["parked"].amount in one.statement.amounts
    assert one.gain is not None
    sleeved = frost(plan.changed({"runs.hose.foam": "13 mm"})).runs[0].blocked.likely
    assert one.gain.amounts[-1].value == pytest.approx(sleeved, rel=1e-3)  # type: ignore[union-attr]
    assert "never freezes there" in one.gain.text()
    cold_room = finding(frosty(frost__room="-2 °C"), "frost.hose.freezes")
    assert cold_room.gain is not None
    assert "there" in cold_room.gain.text() and "never" not in cold_room.gain.text()
    boxed = finding(frosty(runs__hose__beside="box"), "frost.hose.freezes")
    assert boxed.verdict is Verdict.FINE


LIVES = {"battery__other_loads": "100 Wh/day", "household__habits": "careful"}


def test_nights_of_the_battery_are_those_of_the_stay() -> None:
    plan = frosty(**LIVES, battery__charging="80 Wh/day")
    one = finding(plan, "frost.nights")
    assert one.verdict is Verdict.FINE
    store = next(store for store in stay(plan).stores if store.holds == "battery")
    assert store.uncharged is not None and one.value == store.uncharged.shown
    day = frost(plan).day
    assert day is not None
    loads = store.a_day.likely + 80 * 3600 / 86400
    assert one.value.likely == pytest.approx(12.8 * 100 * 3600 * 0.9 / loads)  # type: ignore[union-attr]
    assert day.energy.likely < loads
    short = finding(frosty(**LIVES, frost__nights=20), "frost.nights")
    assert short.verdict is Verdict.FAILS
    assert "20\N{NO-BREAK SPACE}nights" in short.statement.text()
    assert finding(frosty(), "frost.nights").verdict is Verdict.NOT_DECIDED  # what else lives on it is not said
    assert finding(frosty(battery=None), "frost.nights").verdict is Verdict.NOT_DECIDED
    unfed = finding(frosty(pads__pad__fed="shore"), "frost.nights")
    assert unfed.verdict is Verdict.FINE
    assert "The battery feeds no pad" in unfed.statement.text()


OFF = "Pads off, van heated: "


def test_a_pad_that_the_engine_feeds_holds_nothing_while_parked() -> None:
    plan = frosty(pads__pad__fed="engine", day__driving="1 h")
    answer, bare = frost(plan), frost(frosty(pads=None, day__driving="1 h"))
    told = {finding.key: finding for finding in answer.findings}
    parked = told["frost.fresh.hours"]
    assert parked.statement.text().startswith(OFF + "with the engine off, nothing heats the fresh tank; in ")
    assert parked.value == {finding.key: finding for finding in bare.findings}["frost.fresh.hours"].value
    assert "frost.fresh.pad" not in told and "frost.fresh.driving" in told
    assert "tank.fresh.lowest_cold.parked" not in answer.numbers and "tank.fresh.lowest_cold.driving" in answer.numbers
    assert "hold" not in answer.verdict.text()
    assert answer.tables[0].rows[0][3] is None and answer.tables[0].rows[0][4] is not None


def test_a_pad_at_a_socket_holds_while_the_van_stands_at_one() -> None:
    answer = frost(frosty(pads__pad__fed="shore", day__driving="1 h"))
    told = {finding.key: finding for finding in answer.findings}
    assert "at a socket" in told["frost.fresh.pad"].statement.text()
    assert "frost.fresh.driving" not in told
    away = told["frost.fresh.hours"]
    assert away.statement.text().startswith(OFF + "away from a socket, nothing heats the fresh tank; in ")
    bare = {finding.key: finding for finding in frost(frosty(pads=None, day__driving="1 h")).findings}
    assert (away.verdict, away.value) == (bare["frost.fresh.hours"].verdict, bare["frost.fresh.hours"].value)
    assert "at a socket" in answer.verdict.text() and "driving" not in answer.verdict.text()
    fed = frost(frosty(day__driving="1 h")).numbers["tank.fresh.lowest_cold.parked"]
    assert answer.numbers["tank.fresh.lowest_cold.parked"].likely == fed.likely


def test_a_pad_on_a_tank_without_sides_takes_from_nothing_to_what_it_takes_always_on() -> None:
    unknown = {key: TANK[key] for key in ("holds", "z")} | {"capacity": "70 L"}
    answer = frost(frosty(tanks__fresh=unknown))
    assert answer.day is not None
    assert answer.day.energy.likely == pytest.approx(60)
    assert answer.day.energy.range == pytest.approx((0, 60))
    assert frost(frosty()).day.energy.range[0] > 0  # type: ignore[index, union-attr]
    assert any(one.key == "frost.fresh.sides" and one.verdict is Verdict.NOT_DECIDED for one in answer.findings)


def test_gaps_say_what_to_measure() -> None:
    plan = frosty(
        pads=None,
        tanks__grey={"holds": "grey", "capacity": "50 L", "z": "-0.3 m"},
        tanks__lost={"holds": "fresh", "capacity": "10 L"},
        tanks__warm={"holds": "fresh", "capacity": "10 L", "beside": "room"},
        tees={"dump valve": {}},
        runs__drain={"from": "grey", "to": "dump valve", "beside": "outside"},
    )
    found = {one.key: one for one in frost(plan).findings}
    assert found["frost.grey.sides"].address == "tanks.grey.length"
    assert "length, width and height" in found["frost.grey.sides"].change.text()  # type: ignore[union-attr]
    assert found["frost.lost.beside"].verdict is Verdict.NOT_DECIDED
    assert "frost.lost.sides" not in found
    assert found["frost.drain.bore"].address == "runs.drain.size"
    assert "warm tank" in found["frost.warm"].statement.text()
    only = frost(plan.changed({"tanks.fresh": {"holds": "fresh", "capacity": "9 L", "z": "-1 m"}, "runs.hose": None}))
    assert "is not decided yet" in only.verdict.text()
    assert not only.decided


def test_assumptions_are_those_that_were_made() -> None:
    def keys(**changes: Any) -> set[str]:
        return {one.key for one in frost(frosty(**changes)).assumptions}

    assert {"heated room", "foam", "pad share", "wind", "van's body", "ice"} <= keys()
    assert not {"body", "air", "block", "burst"} & keys()  # told in sentences of their own
    assert "van's body" not in keys(frost__room="-1 °C")
    told = {one.key: one for one in frost(frosty()).assumptions}
    assert told["van's body"].measure.startswith("Measure first: ") and told["van's body"].address == "body.size"
    read = {"first": "12 °C", "later": "5 °C", "after": "2 h", "outside": "-3 °C"}
    measured = next(one for one in frost(frosty(body={"measured": read})).assumptions if one.key == "van's body")
    assert (measured.measure, measured.address) == ("", "body.measured")
    assert not {"tank walls", "boxes", "hose walls"} & keys()
    assert "tank walls" in keys(tanks__fresh__wall=None)
    assert "boxes" in keys(runs__hose__beside="box")
    assert "boxes" not in keys(runs__hose__beside="box", frost__box="-2 °C")
    assert "hose walls" in keys(runs__hose__size=None, runs__hose__bore="10 mm")
    said = [one for one in frost(frosty(tanks__fresh__foam_conductivity="0.04 W/mK")).assumptions if one.key == "foam"]
    assert all("closed-cell" not in one.statement.text() for one in said)
