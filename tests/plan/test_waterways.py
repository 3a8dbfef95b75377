from __future__ import annotations

import itertools
from pathlib import Path
from typing import Any

import pytest

from tests.examples import NAMES, example
from vanwater.plan.file import read
from vanwater.plan.model import Plan
from vanwater.plan.problems import PlanError, Problem

Ends = tuple[str, str]
RUNS: dict[str, Ends] = {
    "suction": ("fresh", "pump"),
    "trunk": ("pump", "tee"),
    "feed": ("tee", "heater"),
    "hot": ("heater", "mixer"),
    "cold": ("tee", "mixer"),
    "hose": ("mixer", "shower"),
    "branch": ("tee", "tap"),
}
CHECKED = ("suction", "feed", "branch")


def tables(**changes: Ends | None) -> dict[str, Any]:
    """A van with a shower and a tap; runs changed, added, or taken away."""
    drawn = {name.replace("_", " "): ends for name, ends in {**RUNS, **changes}.items() if ends is not None}
    return {
        "van": {"name": "t"},
        "household": {"people": 1},
        "tanks": {
            "fresh": {"holds": "fresh", "capacity": "50 L"},
            "can": {"holds": "fresh", "capacity": "10 L"},
            "grey": {"holds": "grey", "capacity": "50 L"},
        },
        "pumps": {"pump": {}, "second pump": {}},
        "tees": {"tee": {}, "hot tee": {}, "far tee": {}},
        "heaters": {"heater": {"volume": "5 L"}},
        "mixers": {"mixer": {}},
        "outlets": {"shower": {}, "tap": {}},
        "runs": {
            name: {"from": ends[0], "to": ends[1]}
            | ({"fittings": {"spring check valve": 1}} if name in CHECKED else {})
            for name, ends in drawn.items()
        },
    }


def problems(raw: dict[str, Any]) -> list[Problem]:
    try:
        Plan.of(raw, file=True)
    except PlanError as error:
        return list(error.problems)
    return []


@pytest.mark.parametrize(
    ("changes", "address", "words"),
    [
        ({"suction": ("pump", "fresh")}, "runs.suction.to", ('The pump "pump" faces backwards', 'from = "fresh"')),
        ({"trunk": ("tee", "pump")}, "runs.trunk.from", ('"tee", which nothing feeds', 'from = "pump" and to = "tee"')),
        ({"feed": ("heater", "tee")}, "runs.feed.from", ("check valve in it faces the source", "swapped?")),
        ({"branch": ("tap", "tee")}, "runs.branch.from", ('ends at "tee", which is fed', 'from = "tee"')),
        ({"hose": ("shower", "mixer")}, "runs.hose.from", ('begins at "shower"', 'from = "mixer"')),
        ({"hot": ("mixer", "heater")}, "heaters.heater", ('"feed" and "hot" lead into "heater"', "one away")),
        (
            {"hot": ("heater", "hot tee"), "side": ("mixer", "hot tee")},
            "runs.side.from",
            ('to which only "cold" leads, and ends at "hot tee"', 'from = "hot tee" and to = "mixer"'),
        ),
        ({"feed": None, "hot": ("tee", "mixer")}, "mixers.mixer", ('Neither "hot" nor "cold"', "a hot and a cold")),
        ({"third": ("tee", "mixer")}, "mixers.mixer", ('3 runs lead to it: "hot", "cold" and "third"', "one hot")),
        ({"branch": ("grey", "tap")}, "runs.branch.from", ('"grey" holds no fresh water', "fresh water")),
        ({"back": ("tee", "fresh")}, "runs.back.to", ('leads back into "fresh"', "an outlet")),
        ({"back": ("pump", "fresh")}, "runs.back.to", ('leads back into "fresh"', "an outlet")),
        (
            {"branch": ("tap", "can")},
            "runs.branch.to",
            ("not out of it, and the check valve in it faces the tank", "swapped"),
        ),
        (
            {"one": ("tee", "hot tee"), "two": ("hot tee", "far tee"), "three": ("far tee", "hot tee")},
            "runs.two.from",
            ('"two" and "three" lead in a circle through "hot tee", and no pump drives it', "a pump in the circle"),
        ),
        ({"cold": ("mixer", "tee")}, "runs.feed.from", ('"feed", "hot" and "cold" lead in a circle', "a pump")),
        (
            {"one": ("hot tee", "second pump"), "two": ("second pump", "hot tee")},
            "pumps.second pump",
            ("a ring of runs that hangs on no tank", "a run to the ring"),
        ),
    ],
)
def test_ways_that_no_water_can_take(changes: dict[str, Ends | None], address: str, words: tuple[str, str]) -> None:
    (problem,) = problems(tables(**changes))
    assert problem.address == address
    assert words[0] in problem.message
    assert words[1] in f"{problem.expected} {problem.slip}"


def test_pump_with_both_runs_the_wrong_way_round_is_told_at_both() -> None:
    found = problems(tables(suction=("pump", "fresh"), trunk=("tee", "pump")))
    assert [problem.address for problem in found] == ["runs.suction.to", "runs.trunk.to"]
    assert [problem.expected for problem in found] == ['from = "fresh" and to = "pump"', 'from = "pump" and to = "tee"']


@pytest.mark.parametrize(
    "changes",
    [
        {},
        {"suction": None},
        {"suction": None, "trunk": None},
        dict.fromkeys((*tuple(RUNS)[:5], "branch")),  # only the handset's hose
        {"hot": None},  # the hot side is not drawn yet
        {"cold": None},
        {"feed": None},
        {"branch": ("far tee", "tap")},
        {"stub": ("far tee", "hot tee")},
        {"aux": ("second pump", "far tee"), "far_hose": ("far tee", "tap")},
        {"feed": None, "hot": None},
        {"branch": None},
        {"hose": None},
        {"stub": ("tee", "far tee")},
        {"waste": ("shower", "grey")},
        {"second_trunk": ("pump", "tee")},  # two runs between the same two places
        {"ring_a": ("tee", "hot tee"), "ring_b": ("tee", "far tee"), "ring_c": ("hot tee", "far tee")},
        {"fill": ("can", "second pump"), "filling": ("second pump", "fresh")},
        {"cans": ("can", "fresh")},
        {"round": ("hot tee", "second pump"), "hot": ("heater", "hot tee"), "on": ("hot tee", "mixer")}
        | {"home": ("second pump", "heater")},
    ],
)
def test_half_drawn_and_unusual_ways_are_allowed(changes: dict[str, Ends | None]) -> None:
    assert problems(tables(**changes)) == []


def test_any_part_of_a_sound_plan_is_no_contradiction() -> None:
    for count in range(len(RUNS) + 1):
        for kept in itertools.combinations(RUNS, count):
            assert not problems(tables(**{name: None for name in RUNS if name not in kept})), kept


def test_one_turned_run_of_an_example_is_told_at_that_run() -> None:
    told = 0
    for name in NAMES:
        plan = example(name)
        for run in plan.runs.values():
            found = next(key for key, other in plan.runs.items() if other is run)
            try:
                plan.changed({f"runs.{found}.from": run.end, f"runs.{found}.to": run.start})
            except PlanError as error:
                addresses = [problem.address for problem in error.problems]
                told += 1
                assert len(addresses) == 1, (name, found, addresses)
                place = addresses[0].split(".")[1]
                assert place in (found, run.start, run.end) or found in error.problems[0].message
    assert told == sum(len(example(name).runs) for name in NAMES)


def test_line_of_the_file_is_told_and_all_in_one_go(tmp_path: Path) -> None:
    path = tmp_path / "van.toml"
    lines = [
        '[van]\nname = "t"\n[household]\npeople = 1\n[tanks.fresh]\nholds = "fresh"\ncapacity = "50 L"',
        "[pumps.pump]\n[tees.tee]\n[outlets.tap]\n[outlets.shower]",
        '[runs.suction]\nfrom = "fresh"\nto = "pump"\n[runs.hose]\nfrom = "pump"\nto = "tap"',
        '[runs.far]\nfrom = "tee"\nto = "pump"\n[runs.ring]\nfrom = "tap"\nto = "fresh"\nlength = "3"',
    ]
    path.write_text("\n".join(lines) + "\n")
    with pytest.raises(PlanError) as caught:
        read(path)
    found = {problem.address: problem.line for problem in caught.value.problems}
    assert found == {"runs.far.from": 19, "runs.ring.to": 23, "runs.ring.length": 24}
    assert str(caught.value).startswith("van.toml:19 runs.far.from: The run begins at")


@pytest.mark.parametrize(
    ("changes", "address", "words"),
    [
        (("heater", "fresh"), None, ""),
        (("hot tee", "fresh"), None, ""),  # the tee is not joined yet
        (("heater", "grey"), "to", 'The run-back line leads to "grey".'),
        (("heater", "tee"), "to", 'The run-back line leads to "tee".'),
        (("fresh", "heater"), "to", 'The run-back line leads to "heater".'),
        (("can", "fresh"), "from", 'The run-back line begins at "can".'),
        (("tee", "fresh"), "from", "only cold water comes back"),
    ],
)
def test_run_back_line_leads_from_the_hot_line_to_the_fresh_tank(
    changes: Ends, address: str | None, words: str
) -> None:
    raw = tables(back=changes)
    raw["runs"]["back"]["run_back"] = True
    found = problems(raw)
    assert [problem.address for problem in found] == ([] if address is None else [f"runs.back.{address}"])
    assert all(words in problem.message for problem in found)


def test_loss_of_a_thermostatic_valve_is_counted_once() -> None:
    raw = tables()
    raw["mixers"]["mixer"] = {"kind": "thermostatic", "kv": "1.2 Kv"}
    assert problems(raw) == []
    raw["runs"]["hot"]["fittings"] = {"thermostatic mixing valve": 1}
    (problem,) = problems(raw)
    assert problem.address == "runs.hot.fittings.thermostatic mixing valve"
    assert "counted twice" in problem.message
    del raw["mixers"]["mixer"]["kv"]
    assert problems(raw) == []


def test_a_slip_is_read_as_what_it_means_and_a_run_to_an_absent_place_not_at_all() -> None:
    assert problems(tables(branch=("nowhere at all", "tap"))) == []
    raw = tables(branch=("nowhere at all", "tap"), suction=("pump", "fresh"))
    assert [problem.address for problem in problems(raw)] == ["runs.suction.to"]
    raw = tables(branch=("te", "tap"), suction=("pump", "fresh"))
    assert [problem.address for problem in problems(raw)] == ["runs.branch.from", "runs.suction.to"]


def test_a_branch_whose_feed_begins_at_a_place_not_written_yet_waits_for_it() -> None:
    turned = tables(second=("far tee", "shower"))
    with pytest.raises(PlanError, match="swapped"):
        Plan.of(turned)
    for feed in (("not written yet", "far tee"), ("tee", "not written yet")):
        waiting = tables(second=("far tee", "shower"), feed_of_it=feed)
        assert [awaited.name for awaited in Plan.of(waiting).awaited] == ["not written yet"]
