from __future__ import annotations

from typing import Any

import numpy as np
import pytest

from tests.examples import example
from tests.half_plans import raw_example
from vanwater.plan.model import Plan
from vanwater.system.batch import Batch, Row
from vanwater.system.stores import UNREACHED, hot_content, moved, outlet_of, stores, tank_reach, without_use

LONG = example("long-stay-dry-toilet")


def plan(tanks: dict[str, Any], uses: dict[str, Any] | None = None, **more: Any) -> Plan:
    return Plan.of({"van": {"name": "t"}, "household": {"people": 2}, "tanks": tanks, "uses": uses or {}, **more})


def test_capacity_alone_leaves_the_assumed_share() -> None:
    reach = tank_reach(Batch(plan({"a": {"holds": "fresh", "capacity": "100 L"}})), "a")
    assert reach.how == "assumed"
    assert reach.usable[0] == pytest.approx(0.1 * (1 - UNREACHED))


def test_measured_litres_and_filling_count() -> None:
    tank = {"holds": "fresh", "capacity": "100 L", "out_of_reach": "3 L", "filled": "80 %", "count": 2}
    assert tank_reach(Batch(plan({"a": tank})), "a").usable[0] == pytest.approx(0.154)
    grey = {"holds": "grey", "capacity": "100 L", "filled": "25 %"}
    assert tank_reach(Batch(plan({"a": grey})), "a").usable[0] == pytest.approx(0.075)


def test_box_by_its_shape_level_and_tilted() -> None:
    # the long-stay worked van: 1.00 x 0.50 m, inlet 15 mm up at the rear end
    tank = {
        "holds": "fresh",
        "length": "1 m",
        "width": "0.5 m",
        "height": "0.26 m",
        "pickup": "15 mm",
        "pickup_from_front": "1 m",
        "overflow": "0.25 m",
    }
    level = tank_reach(Batch(plan({"a": tank})), "a")
    assert level.out_of_reach[0] == pytest.approx(7.5e-3)
    assert level.usable[0] == pytest.approx(0.1175)
    down = tank_reach(Batch(plan({"a": tank}, site={"pitch": "3°"})), "a")
    assert down.out_of_reach[0] == pytest.approx(20.602e-3, rel=0.03)
    up = tank_reach(Batch(plan({"a": tank}, site={"pitch": "-3°"})), "a")
    wedge = 0.5 * 0.5 * 0.015**2 / np.tan(np.radians(3))  # a wedge at the low end is all that stays
    assert up.out_of_reach[0] == pytest.approx(wedge)


def test_cylinders() -> None:
    lying = {"holds": "grey", "shape": "lying cylinder", "diameter": "0.4 m", "length": "1 m", "overflow": "0.2 m"}
    assert tank_reach(Batch(plan({"a": lying})), "a").usable[0] == pytest.approx(np.pi / 4 * 0.16 / 2)
    standing = {"holds": "fresh", "shape": "standing cylinder", "diameter": "0.4 m", "height": "1 m", "pickup": "0.1 m"}
    assert tank_reach(Batch(plan({"a": standing})), "a").usable[0] == pytest.approx(np.pi / 4 * 0.16 * 0.9)


def test_cans_join_the_tank_they_refill_and_named_tanks_stand_alone() -> None:
    found = stores(
        Batch(
            plan(
                {
                    "main": {"holds": "fresh", "capacity": "50 L", "out_of_reach": "0 L"},
                    "can": {"holds": "fresh", "capacity": "20 L", "out_of_reach": "0 L", "refills": "main", "count": 2},
                    "drinking": {"holds": "fresh", "capacity": "10 L", "out_of_reach": "0 L"},
                    "second": {"holds": "fresh", "capacity": "5 L", "out_of_reach": "0 L"},
                    "grey": {"holds": "grey", "capacity": "40 L"},
                },
                {"drink": {"a_day": "1 a day", "volume": "1 L", "tank": "drinking"}},
            )
        )
    )
    assert [(store.name, store.holds, round(float(store.usable[0]) * 1e3, 6)) for store in found] == [
        ("main + second", "fresh", 95.0),
        ("drinking", "fresh", 10.0),
        ("grey", "grey", 40.0),
    ]


def test_uses_find_their_stores() -> None:
    moves = moved(Batch(LONG))
    assert moves["drinking"].source == "drinking"
    assert moves["shower"].source == "main"
    assert moves["shower"].sink == "grey"
    assert moves["urine"].sink == "urine container"
    assert moves["drinking"].sink == ""


def test_a_row_changes_a_use() -> None:
    batch = Batch(LONG, [Row("half", {"uses.shower.a_day": LONG.uses["shower"].a_day / 2})])
    events = moved(batch)["shower"].events
    assert events[1] == pytest.approx(events[0] / 2)


def test_hot_pipe_content_is_what_one_waits_for() -> None:
    content = hot_content(Batch(LONG), "shower")[0]
    assert content == pytest.approx(np.pi / 4 * 0.013**2 * 4.6)
    assert hot_content(Batch(LONG), "hands")[0] == 0
    assert outlet_of(LONG, "shower") == "shower"
    assert outlet_of(LONG, "hands") == ""


def renamed(name: str, **more: dict[str, str]) -> Plan:
    """The van for long stays with its shower called otherwise."""
    raw = raw_example("long-stay-dry-toilet")
    raw["outlets"] = {name: raw["outlets"]["shower"], **more}
    raw["runs"]["handset hose"]["to"] = name
    raw["uses"]["shower"].pop("outlet", None)
    return Plan.of(raw, file=True)


def test_an_outlet_with_the_name_of_a_use_in_it_is_that_of_the_use() -> None:
    plan = renamed("Rain shower")
    assert outlet_of(plan, "shower") == "Rain shower"
    assert hot_content(Batch(plan), "shower")[0] == hot_content(Batch(LONG), "shower")[0] > 0
    assert outlet_of(renamed("rain shower", **{"outside shower": {}}), "shower") == ""  # which of the two is asked
    assert outlet_of(renamed("showers"), "shower") == ""


def test_hot_outlets_without_a_use_are_known_while_a_use_waits_at_none() -> None:
    assert without_use(renamed("handset")) == (("handset",), ("shower", "dishes"))
    assert without_use(LONG)[0] == without_use(renamed("rain shower"))[0] == ()


def test_a_word_for_what_a_tank_holds_names_no_tank() -> None:
    tanks = {"grey": {"holds": "grey", "capacity": "50 L"}, "spare": {"holds": "grey", "capacity": "30 L"}}
    both = plan(tanks, {"wash": {"a_day": "1 a day", "volume": "5 L", "to": "grey"}})
    (store,) = stores(Batch(both))
    assert store.tanks == ("grey", "spare")
    assert store.usable[0] == pytest.approx(0.08)
    assert moved(Batch(both))["wash"].sink == store.name
