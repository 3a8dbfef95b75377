from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.examples import example
from tests.pumped import on_the_mains, pumped, two_tanks
from vanwater.answers.outlets.answer import outlets
from vanwater.answers.pump_starts.answer import pump_starts
from vanwater.physics.friction import friction_loss
from vanwater.plan.model import Plan
from vanwater.plan.problems import PlanError
from vanwater.system.hot_pipe import hot_pipe
from vanwater.system.ways import sources, way_from_mains, way_to

FAMILY = example("family-winter")


def small(**runs: tuple[str, str]) -> Plan:
    return Plan.of(
        {
            "van": {"name": "t"},
            "household": {"people": 1},
            "tanks": {"fresh": {"holds": "fresh", "capacity": "50 L"}},
            "pumps": {"pump": {}, "second pump": {}},
            "tees": {"tee": {}, "tee two": {}},
            "heaters": {"heater": {"volume": "5 L"}},
            "mixers": {"mixer": {}},
            "outlets": {"tap": {"flow": "5 L/min", "at": "1 bar"}},
            "runs": {name: {"from": start, "to": end} for name, (start, end) in runs.items()},
        }
    )


def test_shower_of_the_family_van() -> None:
    way = way_to(FAMILY, "shower")
    assert (way.tank, way.pump, way.heater, way.mixer) == ("fresh", "pump", "heater", "shower mixer")
    assert way.suction == ("suction",)
    assert way.trunk == ("trunk",)
    assert way.hot == ("heater feed", "hot trunk", "hot shower line")
    assert way.cold == ("cold trunk", "cold shower line")
    assert way.mixed == ("handset hose",)
    assert not way.broken
    assert hot_pipe(FAMILY, "shower") == ("hot trunk", "hot shower line")


def test_cold_tap_has_no_legs_and_no_hot_pipe() -> None:
    way = way_to(FAMILY, "basin tap")
    assert way.trunk == ("trunk", "cold trunk", "basin line")
    assert way.hot == way.cold == way.mixed == ()
    assert hot_pipe(FAMILY, "basin tap") == ()
    assert hot_pipe(FAMILY, "no such outlet") == ()


def test_gravity_has_no_suction() -> None:
    way = way_to(small(a=("fresh", "tap")), "tap")
    assert (way.pump, way.suction, way.trunk, way.broken) == ("", (), ("a",), ())


def test_outlet_may_mix_itself() -> None:
    plan = small(s=("fresh", "pump"), t=("pump", "tee"), h1=("tee", "heater"), h2=("heater", "tap"), c=("tee", "tap"))
    way = way_to(plan, "tap")
    assert way.mixer == "tap"
    assert way.hot == ("h1", "h2")
    assert way.cold == ("c",)


def test_hot_only_outlet_is_hot_behind_the_heater() -> None:
    plan = small(s=("fresh", "pump"), t=("pump", "heater"), h=("heater", "tap"))
    way = way_to(plan, "tap")
    assert (way.heater, way.mixer, way.trunk) == ("heater", "", ("t", "h"))
    assert hot_pipe(plan, "tap") == ("h",)


def test_gaps_and_circles_are_told() -> None:
    assert "No run leads from a tank" in way_to(small(a=("pump", "tap")), "tap").broken[0]
    circle = small(a=("tee", "tap"), b=("pump", "tee"), c=("tee", "pump"))
    assert "circle" in way_to(circle, "tap").broken[0]
    three = small(a=("fresh", "tee"), b=("fresh", "tee"), c=("tee", "tap"))
    doubled = '2 runs lead side by side to "tee"; draw one run of 1.3 times the bore instead.'
    assert way_to(three, "tap").broken == (doubled,)
    both_cold = small(s=("fresh", "pump"), t=("pump", "tee"), a=("tee", "tap"), b=("tee", "tap"))
    assert "None of the runs" in way_to(both_cold, "tap").broken[0]


@pytest.mark.parametrize(
    ("runs", "round_"),
    [
        ({"s": ("fresh", "tee"), "p": ("tee", "pump"), "t": ("pump", "tap"), "back": ("pump", "tee")}, '"back", "p"'),
        (
            {
                "s": ("fresh", "tee"),
                "p": ("tee", "pump"),
                "t": ("pump", "tee two"),
                "o": ("tee two", "tap"),
                "back": ("tee two", "tee"),
            },
            '"back", "p", "t"',
        ),
        (
            {"s": ("fresh", "tee"), "p": ("tee", "pump"), "t": ("pump", "tap"), "back": ("tap", "tee")},
            '"back", "p", "t"',
        ),
        (
            {
                "s": ("fresh", "tee"),
                "p": ("tee", "pump"),
                "t": ("pump", "tee two"),
                "o": ("tee two", "tap"),
                "u": ("tee two", "second pump"),
                "back": ("second pump", "tee"),
            },
            '"u", "back", "p", "t"',
        ),
        ({"t": ("pump", "second pump"), "u": ("second pump", "pump"), "o": ("second pump", "tap")}, '"u", "t"'),
    ],
)
def test_water_led_back_to_the_suction_goes_round(runs: dict[str, tuple[str, str]], round_: str) -> None:
    plan = small(**runs)
    (why,) = way_to(plan, "tap").broken
    assert why == f"The runs {round_} lead in a circle: the water goes round instead of out."
    told = outlets(plan)
    assert not told.decided
    assert any(why in finding.statement.text() for finding in told.findings)
    assert not pump_starts(plan).pumps


def test_water_led_back_past_a_joined_tank_goes_round() -> None:
    raw = two_tanks("diaphragm")
    runs = raw["runs"]
    runs["back"] = {"from": "pump", "to": runs["suction"]["from"], "bore": "10 mm", "length": "1 m"}
    assert "lead in a circle" in way_to(Plan.of(raw), "tap").broken[0]


PIECES = ("fresh", "pump", "second pump", "tee", "tee two", "heater", "mixer", "tap")


@given(st.lists(st.tuples(st.sampled_from(PIECES), st.sampled_from(PIECES)), min_size=2, max_size=9))
def test_any_runs_are_followed_to_an_end_or_refused(ends: list[tuple[str, str]]) -> None:
    try:
        plan = small(**{f"run{number}": pair for number, pair in enumerate(ends)})
    except PlanError:
        return
    way = way_to(plan, "tap")
    assert way.broken or way.tank == "fresh"


def test_mixing_tap_with_one_side_is_not_complete_yet() -> None:
    plan = small(s=("fresh", "pump"), t=("pump", "tee"), a=("tee", "mixer"), c=("mixer", "tap"))
    way = way_to(plan, "tap")
    assert way.broken == ('One run leads to the mixing tap "mixer"; its other side is not drawn yet.',)


def test_tanks_joined_before_the_pump_make_one_way_that_follows_the_higher_one() -> None:
    plan = Plan.of(two_tanks("diaphragm", "30 cm"))
    way = way_to(plan, "tap")
    assert (way.tank, way.pump, way.broken) == ("second", "pump", ())
    assert way.suction == ("from second", "suction")
    assert way.joined == (("from fresh",),)
    assert sources(plan, way) == (("second", "fresh"), ("pump",))


def boxes(fresh: float, second: float, higher: str = "5 cm") -> Plan:
    """The van with two joined tanks of a box's shape, by their inside heights."""
    raw = two_tanks("diaphragm", higher)
    for tank, height in (("fresh", fresh), ("second", second)):
        del raw["tanks"][tank]["capacity"]
        raw["tanks"][tank] |= {"length": 0.5, "width": 0.3, "height": height}
    return Plan.of(raw)


@pytest.mark.parametrize(
    ("fresh", "second", "higher", "followed"),
    [
        (0.3, 0.2, "5 cm", "fresh"),
        (0.2, 0.3, "5 cm", "second"),
        (0.5, 0.21, "20 cm", "second"),  # 5 + 25 against 20 + 10.5 cm
        (0.52, 0.21, "20 cm", "fresh"),
    ],
)
def test_of_joined_tanks_the_one_whose_water_stands_higher_when_half_full_is_followed(
    fresh: float, second: float, higher: str, followed: str
) -> None:
    assert way_to(boxes(fresh, second, higher), "tap").tank == followed


def two_pumps(weaker: float, higher: str) -> Plan:
    """The van with a second tank, higher up, whose own pump gives a part of the first one's pressure."""
    raw = two_tanks("diaphragm", higher)
    raw["runs"]["suction"]["from"] = "fresh"
    raw["runs"].pop("from fresh")
    pump = raw["pumps"]["pump"]
    raw["pumps"]["other"] = pump | {
        "curve": [[flow, f"{weaker * float(p.split()[0])} bar"] for flow, p in pump["curve"]]
    }
    raw["tees"].pop("join")
    raw["runs"]["from second"] |= {"to": "other"}
    raw["runs"]["other trunk"] = {"from": "other", "to": "tee", "size": "pvc hose 10 mm", "length": "1 m"}
    return Plan.of(raw)


@pytest.mark.parametrize(
    ("weaker", "higher", "followed"),
    [(0.9, "5 cm", "pump"), (1.1, "5 cm", "other"), (0.9, "2.5 m", "pump"), (0.9, "3.5 m", "other")],
)
def test_of_two_pumps_the_one_that_presses_more_with_its_tank_is_followed(
    weaker: float, higher: str, followed: str
) -> None:
    plan = two_pumps(weaker, higher)  # a tenth of 2.8 bar is 2.86 m of water
    way = way_to(plan, "tap")
    assert way.pump == followed
    assert sources(plan, way)[1] == (followed, "other" if followed == "pump" else "pump")


def test_three_tanks_over_two_tees_are_joined_too() -> None:
    raw = two_tanks("foot")
    raw["tanks"]["third"] = {"holds": "fresh", "capacity": "10 L", "z": "0 cm"}
    raw["tees"]["join two"] = {"z": "5 cm"}
    raw["runs"]["from second"]["to"] = "join two"
    raw["runs"]["from third"] = {**raw["runs"]["from second"], "from": "third", "to": "join two"}
    raw["runs"]["between"] = {**raw["runs"]["from second"], "from": "join two", "to": "join"}
    way = way_to(Plan.of(raw), "tap")
    assert way.broken == ()
    assert sorted(sources(Plan.of(raw), way)[0]) == ["fresh", "second", "third"]


def test_the_mains_is_another_way_and_off_grid_stays_as_it_was() -> None:
    plan = Plan.of(on_the_mains("diaphragm"))
    assert way_to(plan, "tap") == way_to(Plan.of(pumped("diaphragm")), "tap")
    way = way_from_mains(plan, "tap")
    assert (way.mains, way.tank, way.pump, way.runs) == ("inlet", "", "", ("inlet hose", "tap hose"))
    lone = way_from_mains(Plan.of(pumped("diaphragm")), "tap")
    assert "No run leads from an inlet" in lone.broken[0]


def test_an_inlet_that_fills_the_tank_is_no_way_of_its_own() -> None:
    raw = on_the_mains("diaphragm")
    raw["runs"]["inlet hose"]["to"] = "fresh"
    plan = Plan.of(raw)
    assert way_to(plan, "tap").broken == ()
    assert "No run leads from an inlet" in way_from_mains(plan, "tap").broken[0]


def test_a_pump_in_its_tank_has_no_suction_and_needs_to_be_told_the_tank() -> None:
    way = way_to(Plan.of(pumped("submersible")), "tap")
    assert (way.tank, way.pump, way.suction, way.trunk) == ("fresh", "pump", (), ("trunk", "tap hose"))
    raw = pumped("submersible")
    del raw["pumps"]["pump"]["tank"]
    assert "No run leads from a tank" in way_to(Plan.of(raw), "tap").broken[0]


def test_runs_side_by_side_are_as_good_as_the_wider_one_that_is_told() -> None:
    bores = np.array([0.008, 0.008 * 2 ** (1.75 / 4.75)])
    loss = friction_loss(np.array([4e-5, 8e-5]), bores, 3.0, 0.0, 999.0, 1.1e-3)
    assert loss[1] == pytest.approx(loss[0], rel=0.03)
