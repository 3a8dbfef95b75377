"""Today's answers are yesterday's: every number, range, unit and verdict of the examples and of generated plans.

By default the examples and the few plans that make every sentence (``tests/told_plans.py``), whose sentences, tables
and sums are compared too; all of them with ``VANWATER_NET=all`` in the environment.
"""

from __future__ import annotations

import copy
import os
from difflib import unified_diff
from typing import Any

import pytest

from tests import told_plans
from tests.net.compare import Rules, compiled, differences, lines, old_keys, read_rules
from tests.net.plans import EXAMPLES, raw_plans
from tests.net.record import answered, before, kept

RULES = read_rules()
PLANS = list(raw_plans())
CHOSEN = list(dict.fromkeys([*told_plans.kept(), *(PLANS if os.environ.get("VANWATER_NET") == "all" else PLANS[:4])]))
FAMILY = before()["plans"]["family-winter"]


def told(
    old: dict[str, Any],
    new: dict[str, Any],
    keys: dict[str, str] | None = None,
    *ranges: str,
    values: tuple[tuple[str, float], ...] = (),
) -> list[str]:
    rules = Rules(tuple((keys or {}).items()), ranges, values)
    return [str(difference) for difference in differences("van", old, new, rules)]


def van(words: dict[str, str] | None = None, **numbers: list[Any]) -> dict[str, Any]:
    return {"numbers": numbers, "words": words or {}}


@pytest.mark.parametrize("plan", CHOSEN)
def test_answers_are_as_before(plan: str) -> None:
    known = told_plans.kept().get(plan)
    answers = answered(raw_plans()[plan] if known is None else known["plan"])
    record = before()["plans"].get(plan)
    unlike = [] if record is None else [str(each) for each in differences(plan, record, kept(answers), RULES)]
    assert not unlike, "\n" + "\n".join(unlike)
    read = [] if known is None else known["lines"]
    diff = "\n".join(unified_diff(read, told_plans.told(answers) if read else [], "kept", "now", lineterm="", n=0))
    assert not diff, f"{diff}\n\nRead each new line, then write the file anew:\n  python -m tests.sentences"


def test_the_record_holds_two_hundred_plans_and_the_examples() -> None:
    assert sorted(before()["plans"]) == sorted(PLANS)
    assert PLANS[:4] == sorted(path.stem for path in EXAMPLES.glob("*.toml"))
    assert len(PLANS) == 204
    decided = [
        plan
        for plan in before()["plans"].values()
        if sum("|" not in key for key in plan["numbers"]) >= 30 and list(plan["words"].values()).count("decided") >= 3
    ]
    assert len(decided) > 120


@pytest.mark.parametrize("name", ["keys.csv", "ranges.csv", "values.csv"])
def test_tables_are_sorted_and_every_line_fits_a_key(name: str) -> None:
    table = lines(name)
    assert table == sorted(table)
    assert len({tuple(line[:2]) for line in table}) == len(table)
    keys = old_keys(PLANS)
    patterns = [line[0] for line in table if line[0] != "(new)"]
    assert [pattern for pattern in patterns if not any(map(compiled(pattern).fullmatch, keys))] == []


def test_ranges_and_values_say_their_reason() -> None:
    assert all(line[-1] for name in ("ranges.csv", "values.csv") for line in lines(name))


def test_a_value_may_lie_apart_as_far_as_it_is_listed() -> None:
    old, new, far = (van(**{"a.b": [value, None, None, "m"]}) for value in (2.0, 2.0 + 1e-9, 2.0 + 1e-6))
    assert len(told(old, new)) == 1
    assert told(old, new, values=(("a.{what}", 1e-8),)) == []
    assert len(told(old, new, values=(("b.{what}", 1e-8),))) == 1
    assert len(told(old, far, values=(("a.{what}", 1e-8),))) == 1


@pytest.mark.parametrize("place", range(4))
def test_a_planted_change_is_seen(place: int) -> None:
    new = copy.deepcopy(FAMILY)
    number = new["numbers"]["stay.days"]
    number[place] = "min" if place == 3 else number[place] * (1 + 2e-12)
    assert len(told(FAMILY, new)) == 1
    number[place] = number[place] if place == 3 else FAMILY["numbers"]["stay.days"][place] * (1 + 2e-13)
    assert len(told(FAMILY, new)) == (place == 3)


def test_a_lost_or_turned_verdict_is_seen() -> None:
    new = copy.deepcopy(FAMILY)
    new["words"]["finding:stay.days"] = "fine"
    del new["words"]["finding:weight.total"]
    new["words"]["finding:weight.roof"] = "fails"
    assert told(FAMILY, new) == [
        "van: finding:stay.days: 'fails' -> 'fine'",
        "van: finding:weight.total: 'fine' -> 'not there'",
        "van: finding:weight.roof: 'not there' -> 'fails'",
    ]
    assert len(told(FAMILY, new, {"(new)": "finding:weight.{what}"})) == 2


def test_an_answer_may_be_left_out_only_where_nothing_was_decided() -> None:
    assert told(van({"answer:frost": "not decided"}), van()) == []
    assert told(van({"answer:frost": "decided"}), van()) == ["van: answer:frost: 'decided' -> 'not there'"]


def test_keys_are_followed_by_their_holes() -> None:
    old = van(**{"autonomy.days.rear tank": [1.0, None, None, "s"], "autonomy.days.battery": [2.0, None, None, "s"]})
    new = van(**{'tank."rear tank".days': [1.0, None, None, "s"], "battery.days": [2.0, None, None, "s"]})
    keys = {"autonomy.days.{store}": "tank.{store}.days"}
    assert told(old, new, keys) == ["van: autonomy.days.battery: [2.0, None, None, 's'] -> 'no tank.battery.days'"]
    assert told(old, new, keys | {"autonomy.days.battery": "battery.days"}) == []
    assert told(old, van(), {"autonomy.days.{store}": "gone: nobody asks"}) == []
    assert len(told(old, van())) == 2


def test_a_finding_carries_its_numbers_and_a_cell_its_names_with_dots() -> None:
    old = van(
        {"finding:supply.tap.flow": "fine"},
        **{
            "finding:supply.tap.flow|value": [1.0, None, None, "s"],
            "cell:supply|runs|hose 12.5 mm|loss": [3.0, None, None, "Pa"],
        },
    )
    new = van(
        {"finding:outlet.tap.flow": "fine"},
        **{
            "finding:outlet.tap.flow|value": [1.0, None, None, "s"],
            "cell:outlets|runs|hose 12.5 mm|loss": [3.0, None, None, "Pa"],
        },
    )
    keys = {"finding:supply.{outlet}.flow": "finding:outlet.{outlet}.flow"}
    keys["cell:supply|runs|{run}|{what}"] = "cell:outlets|runs|{run}|{what}"
    assert told(old, new, keys) == []


def test_a_range_may_be_added_the_right_way_round_or_listed() -> None:
    old, bare = van(x=[2.0, 1.0, 3.0, "s"]), van(x=[2.0, None, None, "s"])
    assert told(bare, old) == []
    assert len(told(bare, van(x=[2.0, 2.5, 3.0, "s"]))) == 2
    assert len(told(old, bare)) == 2
    assert len(told(old, van(x=[2.0, 0.5, 3.0, "s"]))) == 1
    assert told(old, van(x=[2.0, 0.5, 3.0, "s"]), {}, "x") == []
    assert len(told(old, van(x=[2.1, 0.5, 3.0, "s"]), {}, "x")) == 1


def test_not_known_and_unlimited_are_equal_to_themselves_only() -> None:
    assert told(van(x=["nan", None, "inf", "s"]), van(x=["nan", None, "inf", "s"])) == []
    assert len(told(van(x=["nan", None, None, "s"]), van(x=["inf", None, None, "s"]))) == 1
    assert len(told(van(x=["inf", None, None, "s"]), van(x=[1e300, None, None, "s"]))) == 1
