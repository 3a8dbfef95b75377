"""Half a plan: days with each ready habit, what is asked for and what is not, whatever the order of its tables."""

from __future__ import annotations

import itertools
import math
from typing import Any

import pytest

from tests.examples import NAMES, example
from tests.walk import walk
from vanwater.answers.core.finding import Finding, Verdict
from vanwater.answers.stay.answer import Stay, stay
from vanwater.answers.stay.question import QUESTION
from vanwater.plan.model import Plan
from vanwater.plan.problems import PlanError
from vanwater.plan.tables import HABITS
from vanwater.system.batch import Row, with_designs

TABLES = ("uses", "tanks", "pumps", "outlets", "runs", "tees", "mixers", "accumulators", "heaters", "pads", "loads")
FAMILY = example("family-winter")
TANKS = {"fresh": {"holds": "fresh", "capacity": "80 L"}, "grey": {"holds": "grey", "capacity": "50 L"}}


def bare(**more: Any) -> Plan:
    return Plan.of({"van": {"name": "t"}, "household": {"people": 2}, **more})


def told(answer: Stay) -> dict[str, Finding]:
    return {finding.key: finding for finding in answer.findings}


def test_tanks_and_people_give_days_with_each_ready_habit() -> None:
    plan = bare(tanks=TANKS)
    answer = QUESTION.ask(plan)
    assert isinstance(answer, Stay)
    days = []
    for habit in HABITS:
        own = stay(plan.changed({"household.habits": habit}))
        days.append(own.days.likely)
        shown = answer.numbers[f"habits.{habit}.days"]
        assert (shown.likely, shown.range) == (own.days.likely, own.days.range)
        assert answer.numbers[f"habits.{habit}.fresh_a_day"].likely == own.fresh.likely
    careful, _, home_like = days
    assert math.inf > careful > home_like > 0
    (table,) = answer.tables
    assert [row[0] for row in table.rows] == list(HABITS)
    assert "unlimited" not in answer.verdict.text() and answer.decided
    assert answer.verdict.text().replace("\N{NO-BREAK SPACE}", " ") == (
        "The van can stay out 1.4 days with home-like habits, 3.8 days with careful ones; which of them is not decided."
    )
    assert math.isnan(answer.days.likely) and told(answer)["stay.uses"].verdict is Verdict.NOT_DECIDED
    assert walk(answer) >= 6


def test_which_habits_reach_the_stay_wanted_is_told() -> None:
    # 1.4, 2.3 and 3.8 days
    for wanted, told_ in (("2 days", "careful and moderate"), ("3 days", "careful"), ("5 days", "none of the ready")):
        van = {"van": {"name": "t"}, "household": {"people": 2, "days_wanted": wanted}, "tanks": TANKS}
        change = told(stay(Plan.of(van)))["stay.uses"].change
        assert change is not None and change.text().endswith(f"wanted, and {told_} habits reach them.")


def test_the_habits_side_by_side_follow_the_rows_of_a_batch() -> None:
    plan = bare(tanks=TANKS)
    rows = stay(with_designs(plan, [Row("larger", {"tanks.grey.capacity": 0.07})])).numbers
    own = stay(plan.changed({"tanks.grey.capacity": "70 L"})).numbers
    assert set(rows) == set(own) >= {"habits.careful.days", "tank.grey.days"}
    for key, number in rows.items():
        assert number.values.flat[-1] == pytest.approx(own[key].likely, nan_ok=True), key


def test_a_battery_does_not_end_a_stay_whose_uses_are_not_decided() -> None:
    battery = {"volts": "12 V", "charge": "100 Ah", "usable": "80 %", "other_loads": "10 Wh/day"}
    answer = stay(bare(battery=battery))
    assert answer.verdict.text() == "How long the van can stay out is not decided yet." and not answer.decided


def test_each_order_of_the_tables_tells_the_same_days() -> None:
    tanks = {
        "left": {"holds": "fresh", "capacity": "30 L"},
        "right": {"holds": "fresh", "capacity": "90 L"},
        "front": {"holds": "grey", "capacity": "40 L"},
        "rear": {"holds": "grey", "capacity": "70 L"},
    }
    uses = {
        "wash": {"a_day": "2 a day", "volume": "2 L", "tank": "left", "to": "front"},
        "shower": {"a_day": "1 a day", "volume": "5 L", "tank": "right", "to": "rear"},
        "tea": {"a_day": "4 a day", "volume": "0.5 L"},
    }
    seen = set()
    for order in itertools.permutations(tanks):
        answer = stay(bare(tanks={name: tanks[name] for name in order}, uses=uses))
        findings = told(answer)
        assert findings["stay.unsaid.fresh"].verdict is findings["stay.unsaid.grey"].verdict is Verdict.NOT_DECIDED
        assert findings["stay.unsaid.fresh"].address == "uses.tea.tank"
        assert "tea" in findings["stay.unsaid.fresh"].statement.text()
        assert math.isnan(answer.days.likely) and not answer.decided
        walk(QUESTION.ask(bare(tanks={name: tanks[name] for name in order}, uses=uses)))
        said = stay(
            bare(
                tanks={name: tanks[name] for name in order},
                uses=uses | {"tea": uses["tea"] | {"tank": "left", "to": "rear"}},
            )
        )
        assert not {"stay.unsaid.fresh", "stay.unsaid.grey"} & set(told(said))
        seen.add(round(said.days.likely, 3))
    assert len(seen) == 1


@pytest.mark.parametrize("name", NAMES)
def test_an_example_turned_round_tells_the_same_numbers(name: str) -> None:
    plan = example(name)
    turned = {key: dict(reversed(part.items())) for key, part in plan.own.items() if key in TABLES}
    other = stay(Plan.of(dict(plan.own) | turned)).numbers
    for key, number in stay(plan).numbers.items():
        assert other[key].likely == pytest.approx(number.likely, rel=1e-12, nan_ok=True), key


def test_two_pumps_take_what_each_lifts_in_any_order() -> None:
    # 10 L a day by a pump of 0.1 Wh/L and 2 L by one of 0.5 Wh/L: 2 Wh a day
    curve = [["0 L/min", "2 bar"], ["10 L/min", "0 bar"]]
    pumps = {  # at half their pressure they give 5 L/min
        "large": {"kind": "diaphragm", "curve": curve, "curve_volts": "12 V", "volts": "12 V", "current": "2.5 A"},
        "small": {"kind": "diaphragm", "curve": curve, "curve_volts": "12 V", "volts": "12 V", "current": "12.5 A"},
    }
    run = {"bore": "10 mm", "length": "1 m"}
    rest = {
        "tanks": {name: {"holds": "fresh", "capacity": "50 L"} for name in ("a", "b")},
        "outlets": {"tap": {"type": "galley tap"}, "spout": {"type": "galley tap"}},
        "runs": {
            "one": {"from": "a", "to": "large", **run},
            "two": {"from": "large", "to": "tap", **run},
            "three": {"from": "b", "to": "small", **run},
            "four": {"from": "small", "to": "spout", **run},
        },
        "uses": {
            "wash": {"a_day": "1 a day", "volume": "5 L", "outlet": "tap"},
            "tea": {"a_day": "1 a day", "volume": "1 L", "outlet": "spout"},
        },
        "battery": {"volts": "12 V", "charge": "100 Ah", "usable": "80 %", "other_loads": "100 Wh/day"},
    }
    for order in (("large", "small"), ("small", "large")):
        answer = stay(bare(pumps={name: pumps[name] for name in order}, **rest))
        assert answer.numbers["battery.a_day"].likely * 24 == pytest.approx(102)


def test_the_tank_stands_beside_each_use() -> None:
    answer = stay(example("long-stay-dry-toilet"))
    table = next(table for table in answer.tables if table.key == "uses")
    place = next(place for place, column in enumerate(table.columns) if column.heading == "from")
    from_tank = {row[0]: row[place] for row in table.rows}
    assert from_tank["drinking"] == "drinking" and from_tank["hands"] == "main" and from_tank["urine"] == ""


def test_a_use_without_a_tank_draws_from_the_one_that_feeds_most_outlets() -> None:
    run = {"bore": "10 mm", "length": "1 m"}
    tanks = {name: {"holds": "fresh", "capacity": size} for name, size in (("small", "10 L"), ("large", "90 L"))}
    rest = {
        "outlets": {name: {"type": "galley tap"} for name in ("spout", "galley", "basin")},
        "tees": {"tee": {}},
        "runs": {
            "a": {"from": "small", "to": "spout", **run},
            "b": {"from": "large", "to": "tee", **run},
            "c": {"from": "tee", "to": "galley", **run},
            "d": {"from": "tee", "to": "basin", **run},
        },
        "uses": {
            "tea": {"a_day": "4 a day", "volume": "0.5 L", "outlet": "spout"},
            "dishes": {"a_day": "1 a day", "volume": "4 L", "outlet": "galley"},
            "pets": {"a_day": "1 a day", "volume": "1 L"},
        },
    }
    for order in (("small", "large"), ("large", "small")):
        answer = stay(bare(tanks={name: tanks[name] for name in order}, **rest))
        assert {use.name: use.source for use in answer.uses} == {"tea": "small", "dishes": "large", "pets": "large"}


def test_no_battery_is_asked_for_where_nothing_lives_on_one() -> None:
    by_hand = {"pumps": {"foot": {"kind": "foot"}}}
    electric = {"pumps": {"pump": {"kind": "diaphragm"}}}
    assert "stay.battery" not in told(stay(bare(tanks=TANKS)))
    assert "stay.battery" not in told(stay(bare(tanks=TANKS, **by_hand)))
    asked = told(stay(bare(tanks=TANKS, **electric)))["stay.battery"]
    assert asked.verdict is Verdict.NOT_DECIDED and asked.change is not None
    assert 'without = ["battery"]' in asked.change.text()
    without = Plan.of(
        {"van": {"name": "t", "without": ["battery"]}, "household": {"people": 2}, "tanks": TANKS, **electric}
    )
    assert "stay.battery" not in told(stay(without))


def test_a_battery_that_is_planned_cannot_be_done_without() -> None:
    with pytest.raises(PlanError, match="built without a battery") as raised:
        FAMILY.changed({"van.without": ["battery"]})
    assert [problem.address for problem in raised.value.problems] == ["van.without"]


def test_a_battery_without_its_loads_is_asked_for_them() -> None:
    finding = told(stay(FAMILY.changed({"battery.other_loads": None, "appliances": {}})))["stay.battery"]
    assert finding.address == "battery.other_loads"


@pytest.mark.parametrize("field", ["charging", "other_loads"])
@pytest.mark.parametrize("power", ["300 W", "0.3 kW"])
def test_a_power_is_no_energy_a_day(field: str, power: str) -> None:
    with pytest.raises(PlanError, match="Multiply it by its hours a day") as raised:
        FAMILY.changed({f"battery.{field}": power})
    assert [problem.address for problem in raised.value.problems] == [f"battery.{field}"]
    assert "Wh/day" in str(raised.value)


@pytest.mark.parametrize("energy", ["-200 Wh/day", "90 kWh/day"])
def test_an_energy_a_day_that_no_van_has_is_refused(energy: str) -> None:
    with pytest.raises(PlanError, match="not believable"):
        FAMILY.changed({"battery.charging": energy})


def test_a_use_that_wants_hot_water_at_a_cold_tap_is_counted_as_cold_and_told() -> None:
    def hot_water(plan: Plan) -> float:
        (battery,) = [store for store in stay(plan).stores if store.holds == "battery"]
        return next(piece.value.value for piece in battery.a_day.given if piece.name == "hot water")  # type: ignore[union-attr]

    cold = FAMILY.changed({"uses.hands.temperature": "35 °C"})  # at the basin tap, to which one cold run leads
    finding = told(stay(cold))["stay.cold.hands"]
    assert finding.verdict is Verdict.WATCH and finding.address == "uses.hands.outlet"
    assert "basin tap" in finding.statement.text()
    assert hot_water(cold) == pytest.approx(hot_water(FAMILY), rel=1e-12)
    elsewhere = cold.changed({"uses.hands.outlet": "galley tap"})
    assert "stay.cold.hands" not in told(stay(elsewhere)) and hot_water(elsewhere) > 1.1 * hot_water(FAMILY)
    assert not [key for key in told(stay(FAMILY)) if key.startswith("stay.cold.")]


def test_a_way_that_is_not_whole_leaves_the_use_hot() -> None:
    undrawn = FAMILY.changed({"uses.hands.temperature": "35 °C", "runs.basin line": None})
    assert "stay.cold.hands" not in told(stay(undrawn))


def test_what_fills_the_urine_container_twice_is_told() -> None:
    plan = example("long-stay-dry-toilet")
    assert not [key for key in told(stay(plan)) if key.startswith(("stay.twice", "stay.washing"))]
    own = {"a_day": "4 a day", "volume": "0 L", "adds": "0.35 L", "returns": "0 %", "to": "urine container"}
    twice = told(stay(plan.changed({"uses.toilet": own})))["stay.twice.urine container"]
    assert twice.verdict is Verdict.WATCH and twice.address == "uses.toilet.adds"
    # 2 people, 4 times, 0.35 L, twice: 5.6 L a day
    assert "toilet and urine" in twice.statement.text() and "5.6" in twice.statement.text()
    rinse = plan.changed({"uses.rinse": {"a_day": "1 a day", "volume": "0.5 L", "to": "urine"}})
    washing = told(stay(rinse))["stay.washing.rinse"]
    assert washing.verdict is Verdict.WATCH and washing.address == "uses.rinse.to"
