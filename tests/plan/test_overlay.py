from __future__ import annotations

from typing import Any

import pytest

from tests.examples import example
from vanwater.plan.overlay import Overlay
from vanwater.plan.problems import PlanError

FAMILY = example("family-winter")


def test_an_overlay_is_a_plan_with_other_values_made_once() -> None:
    small = Overlay("small tank", {"tanks.fresh.height": "24 cm", "household.people": 2})
    plan = small.plan(FAMILY)
    assert plan == FAMILY.changed({"tanks.fresh.height": "24 cm", "household.people": 2})
    assert small.plan(FAMILY) is plan
    assert Overlay("small tank", {"household.people": 2, "tanks.fresh.height": "24 cm"}).plan(FAMILY) is plan
    assert Overlay("small tank", {"household.people": 3}).plan(FAMILY).household.people == 3
    assert FAMILY.household.people == 4


def test_a_part_is_taken_out_or_put_in() -> None:
    assert Overlay("light", {"loads.luggage": None}).plan(FAMILY).loads.keys() == FAMILY.loads.keys() - {"luggage"}
    chest = {"mass": "40 kg", "x": "2 m"}
    heavy = Overlay("heavy", {"loads.chest": chest})
    chest["mass"] = "1 kg"
    assert heavy.plan(FAMILY).loads["chest"].mass == 40.0


@pytest.mark.parametrize(
    ("values", "words"),
    [
        ({"site.coldest": -12}, 'winter site.coldest: -12 has no unit. Expected a temperature such as "0 °C".'),
        ({"site.coldst": "-12 °C"}, 'winter site.coldst: "coldst" is not known here.'),
        ({"tanks.third.z": "1 m"}, "winter tanks.third.z: The plan has no [tanks.third]."),
    ],
)
def test_what_is_wrong_is_told_under_its_name_and_address(values: dict[str, Any], words: str) -> None:
    with pytest.raises(PlanError) as caught:
        Overlay("winter", values).plan(FAMILY)
    assert str(caught.value).startswith(words)
