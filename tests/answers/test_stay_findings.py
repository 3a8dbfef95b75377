from __future__ import annotations

import math

import pytest

from tests.examples import NAMES, example
from vanwater.answers.autonomy import Autonomy, autonomy
from vanwater.answers.finding import Finding, Verdict
from vanwater.plan.model import Plan

FAMILY = example("family-winter")
WASH = {"wash": {"a_day": "2 a day", "volume": "5 L"}}


def two(fresh: str, grey: str, wanted: str) -> Autonomy:
    """Two people, 20 L a day in and out."""
    tanks = {
        "fresh": {"holds": "fresh", "capacity": fresh, "out_of_reach": "0 L"},
        "grey": {"holds": "grey", "capacity": grey},
    }
    return autonomy(
        Plan.of({"van": {"name": "t"}, "household": {"people": 2, "days_wanted": wanted}, "tanks": tanks, "uses": WASH})
    )


def stay(answer: Autonomy) -> Finding:
    return next(one for one in answer.findings if one.key == "autonomy.stay")


def test_the_mend_promises_the_wish_only_where_the_next_store_lasts_so_long() -> None:
    enough = stay(two("120 L", "50 L", "5 days"))  # fresh lasts 6 days
    assert enough.gain is not None
    assert enough.gain.text().startswith("the stay that is wanted")
    short = stay(two("80 L", "50 L", "5 days"))  # fresh ends it after 4
    assert short.gain is not None
    assert short.gain.text().startswith("4\N{NO-BREAK SPACE}days, as fresh water runs out then")
    assert "50\N{NO-BREAK SPACE}L more grey water" in short.change.text()  # type: ignore[union-attr]


def test_nobody_is_told_to_drink_less() -> None:
    for name in NAMES:
        change = stay(autonomy(example(name))).change
        assert change is None or not {"drinking", "cooking", "urine"} & set(change.text().rstrip(".").split())


def test_a_full_container_is_emptied_on_the_way() -> None:
    answer = autonomy(example("long-stay-dry-toilet"))
    told = stay(answer)
    assert told.change is not None
    assert told.change.text() == "Empty it once on the way."
    (way,) = [one for one in answer.on_the_way if one.store == "urine container"]
    assert way.stay.likely > answer.stay.likely


def test_litres_a_person_outside_the_usual_are_watched_not_failed() -> None:
    few = two("80 L", "50 L", "2 days")
    person = next(one for one in few.findings if one.key == "autonomy.person")
    assert person.verdict is Verdict.FINE  # 10 L a person
    much = autonomy(FAMILY.changed({"household.habits": "home-like", "uses.shower.a_day": 3 / 86400}))
    assert next(one for one in much.findings if one.key == "autonomy.person").verdict is Verdict.WATCH


@pytest.mark.parametrize("name", NAMES)
def test_a_dump_or_refill_is_told_only_where_it_lengthens_the_stay(name: str) -> None:
    answer = autonomy(example(name))
    for one in answer.on_the_way:
        assert one.stay.likely > answer.stay.likely
        assert math.isfinite(one.stay.likely)
