from __future__ import annotations

import pytest

from tests.examples import example
from vanwater.answers.core.finding import Verdict
from vanwater.answers.core.key import key_text
from vanwater.answers.simultaneous.answer import simultaneous
from vanwater.plan.problems import PlanError

FAMILY = example("family-winter")
LONG = example("long-stay-dry-toilet")


def test_set_of_the_family_van_is_told_with_its_loss() -> None:
    answer = simultaneous(FAMILY)
    finding = next(one for one in answer.findings if one.key == "simultaneous.evening.shower")
    assert finding.verdict is Verdict.FAILS  # 5.5 L/min are wanted
    assert "With the galley tap open too, the shower gives" in finding.statement.text()
    table = next(table for table in answer.tables if table.key == "together")
    assert [row[1] for row in table.rows] == ["shower", "galley tap"]
    for outlet in ("shower", "galley tap"):
        flow = answer.numbers[key_text(("set", "evening", outlet, "flow"))]
        low, high = flow.range  # type: ignore[misc]
        assert low < flow.likely < high
        assert flow.likely < answer.sets[0].alone[outlet].flow.likely


def test_without_sets_nothing_is_told() -> None:
    answer = simultaneous(LONG)
    assert answer.silent


def test_set_with_an_undecided_outlet_is_left_out() -> None:
    answer = simultaneous(FAMILY.changed({"runs.handset hose.length": None}))
    assert answer.silent


@pytest.mark.parametrize(
    ("outlets", "words"),
    [(["shower", "galey tap"], "does not exist"), (["shower", "shower"], "twice"), (["shower"], "")],
)
def test_wrong_sets_are_refused(outlets: list[str], words: str) -> None:
    with pytest.raises(PlanError, match=r"together\.evening\.outlets") as caught:
        FAMILY.changed({"together.evening.outlets": outlets})
    assert words in str(caught.value)


def test_an_outlet_without_a_wish_that_loses_much_is_watched() -> None:
    plan = FAMILY.changed({"together.evening.outlets": ["shower", "galley tap", "basin tap"]})
    answer = simultaneous(plan)
    for outlet in ("galley tap", "basin tap"):
        key = f"simultaneous.evening.{outlet}"
        lost = 1 - answer.sets[0].flow[outlet].likely / answer.sets[0].alone[outlet].flow.likely
        assert lost > 0.4
        assert next(one for one in answer.findings if one.key == key).verdict is Verdict.WATCH
    two = simultaneous(FAMILY)  # with the shower alone it loses less: nothing is said of it
    assert not [one for one in two.findings if one.key == "simultaneous.evening.galley tap"]


def test_the_weakest_falls_furthest_short_of_its_wish_or_keeps_least() -> None:
    both = {"outlets.shower.wanted": "5.5 L/min", "outlets.galley tap.wanted": "6 L/min"}  # of 4.7 and 4.2 L/min
    assert simultaneous(FAMILY.changed(both)).sets[0].weakest == "galley tap"
    one = {"outlets.shower.wanted": "5.5 L/min", "outlets.galley tap.wanted": None}
    assert simultaneous(FAMILY.changed(one)).sets[0].weakest == "shower"
    (free,) = simultaneous(FAMILY.changed({"outlets.shower.wanted": None, "outlets.galley tap.wanted": None})).sets
    assert free.lost[free.weakest].likely == max(lost.likely for lost in free.lost.values())
