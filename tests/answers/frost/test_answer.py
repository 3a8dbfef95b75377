from __future__ import annotations

import math
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.answered import frost as asked
from tests.answers.frosty import ZERO, frosty
from tests.drawn import WHOLE_PLANS
from tests.examples import NAMES, example
from tests.strategies import plans
from tests.walk import walk
from vanwater.answers.core.finding import Verdict
from vanwater.answers.frost.answer import Frost, frost
from vanwater.answers.frost.question import QUESTION
from vanwater.plan.model import Plan
from vanwater.plan.problems import PlanError

WARM_TOP = {"top": {"beside": "room"}}


def ask(**changes: Any) -> Frost:
    return frost(frosty(**changes))


def test_the_verdict_names_the_cold_that_is_held_and_what_freezes_first() -> None:
    text = ask().verdict.text()
    answer = ask()
    holds = answer.pads["fresh"].holds["parked"]
    assert f"The pad holds the fresh tank down to {holds.text()} parked" in text
    assert answer.verdict.amounts[0] == holds.shown  # what a panel compares
    assert answer.first_hours is not None
    assert answer.first_blocked is not None and answer.first_hours.likely < answer.first_blocked.likely
    blocked = answer.first_blocked.amount.text()
    assert text.endswith(f"; no pad warms the pipes: the hose freezes first, blocked after {blocked}.")


def test_the_verdict_tells_what_blocks_first_indoors_with_the_heating_off() -> None:
    line = {"from": "fresh", "to": "tap", "size": "pex 12 mm", "length": "2 m"}
    text = ask(runs__hose=line).verdict.text()
    answer = ask(runs__hose=line)
    assert answer.off is not None and answer.off.first is not None
    assert text.endswith(f"Heating off, the hose blocks first indoors, after {answer.off.first.blocked.amount.text()}.")
    assert "Heating off" not in ask(runs__hose=line, frost__room="-2 °C").verdict.text()


def test_a_pad_that_does_not_hold_says_so_first() -> None:
    text = ask(frost__design_cold="-25 °C", pads__pad__power="30 W").verdict.text()
    assert text.startswith("In −25\N{NO-BREAK SPACE}°C the pad does not hold the fresh tank, only down to ")


def test_no_pad_no_hose() -> None:
    assert ask(pads=None).verdict.text().startswith("Van heated, the hose freezes first, blocked after")
    tank = ask(pads=None, runs__hose__beside="room").verdict.text()
    assert tank.startswith("Van heated, the last tenth of the fresh tank freezes first, blocked after")
    inside = ask(pads=None, runs__hose__beside="room", tanks__fresh__z="0.1 m")
    assert inside.verdict.text() == (
        "In −10\N{NO-BREAK SPACE}°C all water lies in the heated room and does not freeze while it is heated. Heating "
        f"off, the hose blocks first indoors, after {inside.numbers['run.hose.time_to_ice.heating_off'].amount.text()}."
    )
    assert (inside.first, inside.first_hours) == ("", None)
    assert [table.key for table in inside.tables] == ["heating_off"]


def test_a_design_cold_above_freezing_is_no_error() -> None:
    answer = ask(frost__design_cold="3 °C")
    assert answer.verdict.text() == "No frost to fear at 3\N{NO-BREAK SPACE}°C."
    assert answer.decided
    assert answer.findings[-1].verdict is Verdict.FINE
    assert [one.key for one in answer.findings] == ["frost.cold", "frost.pad.protected"]
    assert ask(frost__design_cold="0 °C").verdict.text().startswith("No frost")


def test_no_cold_said_is_not_decided_but_an_unprotected_pad_still_fails() -> None:
    answer = ask(frost=None, pads__pad__protected_by="none")
    assert not answer.decided
    assert [(one.key, one.verdict) for one in answer.findings] == [
        ("frost.pad.protected", Verdict.FAILS),
        ("frost.cold", Verdict.NOT_DECIDED),
    ]
    cautions = QUESTION.ask(frosty(frost=None, pads__pad__protected_by="none")).cautions
    assert any(caution.key == "pad" and caution.grave for caution in cautions)


def test_first_is_the_least_of_all_pieces() -> None:
    answer = ask(
        tanks__grey={"holds": "grey", "length": "0.3 m", "width": "0.2 m", "height": "0.1 m", "z": "-0.3 m"},
        tees={"dump valve": {}},
        runs__drain={"from": "grey", "to": "dump valve", "bore": "40 mm", "beside": "outside"},
        pads=None,
    )
    pieces = {run.run: run.hours["parked"].likely for run in answer.runs}
    pieces |= {tank.label: tank.hours["parked"]["tenth"].likely for tank in answer.tanks}
    assert answer.first == min(pieces, key=lambda piece: pieces[piece])
    assert answer.first_hours is not None
    assert answer.first_hours.likely == min(pieces.values())


@pytest.mark.parametrize("name", NAMES)
def test_each_example_is_told_whole(name: str) -> None:
    answer = asked(example(name))
    assert answer.verdict.text() and answer.verdict.text(us=True)
    for finding in answer.findings:
        assert finding.statement.text() and (finding.verdict is Verdict.FINE or finding.change is not None)
        assert finding.source or finding.verdict is Verdict.NOT_DECIDED
    keys = [finding.key for finding in answer.findings]
    assert len(keys) == len(set(keys))
    assert walk(answer) == len(answer.numbers)
    for number in answer.numbers.values():
        assert number.lines(us=True)
    if answer.tables:
        assert any(caution.key == "frost" for caution in answer.cautions)


@pytest.mark.parametrize(
    ("address", "value"),
    [
        ("tanks.fresh.foam", "1.2 m"),
        ("tanks.fresh.foam_conductivity", "0 W/mK"),
        ("tanks.fresh.material", "cheese"),
        ("pads.pad.tank", "fersh"),
        ("pads.pad.net_share", "0 %"),
        ("frost.hold", "-1 °C"),
    ],
)
def test_bad_input_is_refused_with_its_address(address: str, value: str) -> None:
    with pytest.raises(PlanError) as caught:
        frosty().changed({address: value})
    assert caught.value.problems[0].address == address
    assert caught.value.problems[0].expected


def test_names_of_a_plan_are_text_only() -> None:
    nasty = frosty().changed({"tanks.b_i": {"holds": "grey", "capacity": "9 L", "z": "-0.1 m"}})
    assert "b_i tank" in " ".join(one.statement.text() for one in frost(nasty).findings)


def full(answer: Frost) -> float:
    return answer.tanks[0].hours["parked"]["full"].likely


def run(answer: Frost) -> float:
    return answer.runs[0].hours["parked"].likely


TEMPERATURES = st.floats(-30, -0.5)
FOAM = st.floats(0, 0.1)


def told(answer: Frost) -> tuple[float, float, float, float, float]:
    """Loss parked and driving, duty, lowest cold, energy a day of the one tank."""
    one, pad = answer.tanks[0], answer.pads["fresh"]
    told = (one.loss["parked"], one.loss["driving"], pad.duty["parked"], pad.holds["parked"], pad.energy)
    parked, driving, duty, holds, energy = (number.likely for number in told)
    return parked, driving, duty, holds, energy


@settings(max_examples=20, deadline=None)
@given(cold=TEMPERATURES, colder=st.floats(0, 20), warm=st.booleans())
def test_colder_never_loses_less_nor_lasts_longer(cold: float, colder: float, warm: bool) -> None:
    def answer(celsius: float) -> Frost:
        faces = WARM_TOP if warm else {}
        return ask(frost__design_cold=ZERO + celsius, frost__mean_cold=ZERO + celsius, tanks__fresh__faces=faces)

    one, other = answer(cold), answer(cold - colder)
    for before, after in zip(told(one)[:3], told(other)[:3], strict=True):
        assert after >= before - 1e-3
    assert told(other)[4] >= told(one)[4] - 1e-3
    assert full(other) <= full(one) * (1 + 1e-6)
    assert run(other) <= run(one) * (1 + 1e-4)


@settings(max_examples=20, deadline=None)
@given(foam=FOAM, more=st.floats(0, 0.15), warm=st.booleans())
def test_foam_on_cold_faces_never_draws_more(foam: float, more: float, warm: bool) -> None:
    faces = {"top": {"beside": "room", "foam": "20 mm"}} if warm else {}
    thin, thick = (told(ask(tanks__fresh__foam=metres, tanks__fresh__faces=faces)) for metres in (foam, foam + more))
    for place in (0, 1, 2, 4):
        assert thick[place] <= thin[place] + 1e-3
    assert thick[3] <= thin[3] + 1e-2


@settings(max_examples=20, deadline=None)
@given(wind=st.floats(0, 15), more=st.floats(0, 15), foam=FOAM)
def test_wind_never_helps(wind: float, more: float, foam: float) -> None:
    calm, windy = (ask(site__wind=speed, tanks__fresh__foam=foam) for speed in (wind, wind + more))
    for place in (0, 2, 4):
        assert told(windy)[place] >= told(calm)[place] - 1e-3
    assert told(windy)[3] >= told(calm)[3] - 1e-2
    assert run(windy) <= run(calm) * (1 + 1e-4)
    assert told(windy)[1] == pytest.approx(told(calm)[1])  # driving, the road counts


@settings(max_examples=20, deadline=None)
@given(cold=TEMPERATURES, foam=FOAM, warm=st.booleans())
def test_full_outlasts_half_outlasts_a_tenth(cold: float, foam: float, warm: bool) -> None:
    one = ask(
        frost__design_cold=ZERO + cold, tanks__fresh__foam=foam, tanks__fresh__faces=WARM_TOP if warm else {}
    ).tanks[0]
    whole, half, tenth = (one.hours["parked"][fill].likely for fill in ("full", "half", "tenth"))
    assert whole >= half >= tenth >= 0
    if math.isfinite(whole):
        assert (half / whole, tenth / whole) == pytest.approx((0.5, 0.1))
    for fill, hours in one.hours["parked"].items():
        assert one.blocked[fill].likely >= hours.likely
    assert one.burst.likely >= one.blocked["full"].likely


@settings(max_examples=20, deadline=None)
@given(cold=TEMPERATURES, foam=FOAM, warm=st.booleans())
def test_heat_balances_close(cold: float, foam: float, warm: bool) -> None:
    answer = ask(frost__design_cold=ZERO + cold, tanks__fresh__foam=foam, tanks__fresh__faces=WARM_TOP if warm else {})
    tank, pad = answer.tanks[0], answer.pads["fresh"]
    for place, (state, loss) in enumerate(tank.loss.items()):
        assert sum(face.loss[state].likely for face in tank.faces) == pytest.approx(loss.likely, rel=1e-9, abs=1e-9)
        net = pad.duty[state].likely * pad.heat.power[place][0] * pad.heat.net_share[place][0]
        assert net == pytest.approx(max(loss.likely, 0.0), rel=1e-9, abs=1e-9)
        assert loss.lines()


def test_answer_is_quick_to_give_and_complete_when_asked() -> None:
    answer = ask(battery__other_loads="100 Wh/day", household__habits="careful")
    assert {
        "tank.fresh.heat_loss.parked",
        "tank.fresh.pad_duty.parked",
        "run.hose.time_to_freezing.parked",
        "battery.pads_a_day",
        "battery.days",
    } <= set(answer.numbers)
    assert [table.key for table in answer.tables] == ["tanks", "hours", "heating_off", "remedies", "faces"]
    assert all(len(row) == len(table.columns) for table in answer.tables for row in table.rows)


def test_all_numbers_are_finite_or_said_to_be_endless() -> None:
    for plan in (frosty(), frosty(tanks__fresh__faces={name: {"beside": "room"} for name in ("top", "left", "right")})):
        for number in frost(plan).numbers.values():
            assert not any(math.isnan(end) for end in (number.likely, *(number.range or ()))), number.name


def test_every_number_stands_once_also_where_tanks_are_called_alike() -> None:
    twin = {"holds": "grey", "length": "0.6 m", "width": "0.5 m", "height": "0.25 m", "z": "-0.3 m"}
    plan = frosty(**{"tanks__fresh tank": twin, "pads__other": {"tank": "fresh tank", "power": "40 W"}})
    answer = asked(plan)
    walk(answer)
    fresh, other = (answer.pads[name].drawn["parked"].likely for name in ("fresh", "fresh tank"))
    assert answer.day is not None
    assert answer.day.energy.likely == pytest.approx(fresh + other)  # both are called "fresh tank" in a sentence


@WHOLE_PLANS
@given(plans())
def test_numbers_of_any_plan_are_whole(raw: dict[str, Any]) -> None:
    walk(asked(Plan.of(raw)))


def test_empty_plan() -> None:
    answer = frost(Plan.of({"van": {"name": "t"}, "household": {"people": 1}}))
    assert not answer.decided
    assert "not decided" in answer.verdict.text()
