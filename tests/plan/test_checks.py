from __future__ import annotations

import copy
from typing import Any

import pytest

from vanwater.plan.address import known_keys
from vanwater.plan.checks import PLACES, references
from vanwater.plan.model import Plan
from vanwater.plan.problems import Problem

KNOWN = known_keys(Plan)
RAW: dict[str, Any] = {
    "tanks": {
        "main": {"holds": "fresh"},
        "can": {"holds": "fresh", "refills": "main"},
        "sink tank": {"holds": "grey"},
    },
    "pumps": {"pump": {}},
    "tees": {"tee": {}},
    "outlets": {"shower": {"type": "handset"}},
    "fittings": {"own": {}},
    "runs": {"a": {"from": "main", "to": "pump", "size": "pex 12 mm", "fittings": {"own": 1, "dip tube": 1}}},
    "accumulators": {"vessel": {"at": "pump"}},
    "uses": {"wash": {"tank": "main", "to": "sink tank", "outlet": "shower"}},
    "pads": {"pad": {"tank": "main"}},
}


def found(**changes: Any) -> list[Problem]:
    raw = copy.deepcopy(RAW)
    for address, value in changes.items():
        *tables, last = address.split("__")
        here = raw
        for name in tables:
            here = here.setdefault(name.replace("_", " "), {})
        here[last.replace("_", " ")] = value
    return references(raw, KNOWN)[0]


def test_names_that_lead_somewhere_are_fine() -> None:
    assert found() == []
    assert set(PLACES) <= set(KNOWN)
    for to in ("outside", "grey", "urine", "cassette", "sink tank"):
        assert found(uses__wash__to=to) == []


@pytest.mark.parametrize(
    ("changes", "address", "message", "words"),
    [
        ({"runs__a__from": "mian"}, "runs.a.from", '"mian" does not exist.', '"main"'),
        ({"runs__a__to": "PUMP"}, "runs.a.to", '"PUMP" does not exist.', '"pump"'),
        ({"runs__a__to": "a"}, "runs.a.to", '"a" does not exist.', "main, can, sink tank, pump"),
        ({"runs__a__size": "pex 12mm"}, "runs.a.size", '"pex 12mm" does not exist.', '"pex 12 mm"'),
        ({"runs__a__fittings": {"onw": 1}}, "runs.a.fittings.onw", '"onw" does not exist.', '"own"'),
        ({"outlets__shower__type": "hand"}, "outlets.shower.type", '"hand" does not exist.', "the table"),
        ({"tanks__main__material": "pvd"}, "tanks.main.material", '"pvd" does not exist.', '"pvc"'),
        ({"accumulators__vessel__at": "vessel"}, "accumulators.vessel.at", '"vessel" does not exist.', "pump"),
        ({"pads__pad__tank": "pump"}, "pads.pad.tank", '"pump" does not exist.', "main"),
        ({"uses__wash__outlet": "showr"}, "uses.wash.outlet", '"showr" does not exist.', "shower"),
        ({"uses__wash__outlet": "sink tank"}, "uses.wash.outlet", '"sink tank" does not exist.', "shower"),
        ({"uses__wash__to": "pump"}, "uses.wash.to", '"pump" does not exist.', "outside"),
        ({"uses__wash__to": "main"}, "uses.wash.to", '"main" holds fresh water.', "grey or toilet"),
        ({"uses__wash__to": "fresh"}, "uses.wash.to", '"fresh" holds fresh water.', "grey or toilet"),
        ({"uses__wash__tank": "sink tank"}, "uses.wash.tank", '"sink tank" holds no fresh water.', "a fresh tank"),
        ({"uses__wash__tank": "can"}, "uses.wash.tank", '"can" is emptied into "main".', 'tank = "main"'),
        ({"uses__wash__tank": "mian"}, "uses.wash.tank", '"mian" does not exist.', '"main"'),
        ({"tanks__can__refills": "can"}, "tanks.can.refills", '"can" refills itself.', "another"),
        ({"tanks__can__refills": "cann"}, "tanks.can.refills", '"cann" does not exist.', '"can"'),
        ({"tanks__can__refills": "sink tank"}, "tanks.can.refills", "Only fresh water refills", "two tanks"),
        ({"tanks__can__holds": "grey"}, "tanks.can.refills", "Only fresh water refills", "two tanks"),
        (
            {"tanks__third": {"holds": "fresh", "refills": "can"}},
            "tanks.third.refills",
            '"can" itself refills',
            "drawn",
        ),
        ({"tanks__outside": {"holds": "grey"}}, "tanks.outside", 'cannot be named "outside"', "another name"),
        ({"tanks__urine": {"holds": "grey"}}, "tanks.urine", 'A tank named "urine" holds grey.', 'holds = "urine"'),
        ({"tees__main": {}}, "tees.main", '"main" names two places: [tanks.main] and [tees.main].', "of its own"),
        ({"uses__wash__to": ""}, "uses.wash.to", '"" does not exist.', "outside"),
    ],
)
def test_name_that_leads_nowhere_or_astray(changes: dict[str, Any], address: str, message: str, words: str) -> None:
    (problem,) = found(**changes)
    assert problem.address == address
    assert problem.message.startswith(message) or message in problem.message
    assert words in f"{problem.expected} {problem.slip}"


def test_two_tanks_that_refill_each_other_are_both_told() -> None:
    assert [p.address for p in found(tanks__main__refills="can")][:2] == ["tanks.main.refills", "tanks.can.refills"]


def test_what_is_wrong_itself_still_counts_as_there() -> None:
    assert found(tanks__main=3) == []
    assert found(tanks={"main": [], "can": {}, "sink tank": None}) == []
    assert found(runs__a="pump", uses=7, fittings=[], runs=None) == []
    assert found(runs__a__from=3, uses__wash__to=[], outlets__shower__type={}) == []


def test_what_stands_in_a_misspelt_table_counts_as_there() -> None:
    raw = copy.deepcopy(RAW)
    raw["pump"] = raw.pop("pumps")
    raw["tank"] = raw.pop("tanks")
    assert references(raw, KNOWN) == ([], ())
    raw["tank"]["can"]["refills"] = "nowhere"  # looked at once the table is spelt right: it has no line yet
    assert references(raw, KNOWN) == ([], ())


def test_lists_are_short_and_names_harmless() -> None:
    many = found(tees={f"tee {n}": {} for n in range(99)}, runs__a__to="\x1b[2J" + "x" * 999)
    (problem,) = many
    assert str(problem).isprintable()
    assert " more" in problem.expected
    assert len(str(problem)) < 400
    (problem,) = found(runs__a__size="nothing like it")
    assert problem.expected.count(",") == 2
    (problem,) = references({"runs": {"a": {"from": "a"}}}, KNOWN)[0]
    assert problem.expected == "a place of the plan; the plan has none yet"


def test_pump_that_hangs_in_no_tank_yet_is_not_blamed_for_a_nameless_one() -> None:
    tanks = {
        "main": {"holds": "fresh"},
        "can": {"holds": "fresh"},
        "sink tank": {"holds": "grey"},
        "": {"holds": "grey"},
    }
    assert found(tanks=tanks, pumps__pump={"kind": "submersible"}, runs={}) == []
