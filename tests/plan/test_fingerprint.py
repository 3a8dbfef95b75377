"""A fingerprint stays while a plan decides the same, and changes with every value."""

from __future__ import annotations

import re

from tests.examples import NAMES, example
from vanwater.plan.fingerprint import fingerprint, same
from vanwater.plan.model import Plan
from vanwater.plan.tables import resource


def test_what_is_written_about_a_plan_leaves_it() -> None:
    plan = example("family-winter")
    signed = {"on": "1 March 2027", "signed": "both of us", "fingerprint": fingerprint(plan)}
    for values in (
        {"revisions.5": signed},
        {"van.revision": "5", "van.checked": "by us", "van.units": "us"},
        {"tanks.fresh.foam": "0.03 m"},
        {"measured.a": {"number": "site.cold_water", "value": "9 °C", "on": "2026-03-14", "instrument": "probe"}},
    ):
        assert fingerprint(plan.changed(values)) == fingerprint(plan)
    assert re.fullmatch("[0-9a-f]{4}(-[0-9a-f]{4}){3}", fingerprint(plan))


def test_order_and_units_in_which_a_plan_is_written_leave_it() -> None:
    own = dict(example("weekend-cans").own)
    turned = {key: dict(reversed(list(table.items()))) for key, table in reversed(list(own.items()))}
    assert fingerprint(Plan.of(turned, file=True)) == fingerprint(example("weekend-cans"))
    litres, gallons = ({**own, "tanks": {"can": {"holds": "fresh", "capacity": said}}, "uses": {}, "runs": {}}
                       for said in ("18.9270589 L", "5 gal"))  # fmt: skip
    bare = ("van", "household", "tanks")
    assert fingerprint(Plan.of({key: litres[key] for key in bare})) == fingerprint(
        Plan.of({key: gallons[key] for key in bare})
    )


def test_every_value_that_changes_changes_it() -> None:
    plan = example("weekend-cans")
    prints = {fingerprint(example(name)) for name in NAMES}
    for values in (
        {"household.people": 3},
        {"tanks.can in use.capacity": "19.1 L"},
        {"tanks.can in use.capacity": "19.1000001 L"},
        {"van.name": "Another"},
        {"runs.tap hose.fittings.barb elbow": 7},
        {"situations.summer weekend": {"site": {"cold_water": "17.5 °C"}}},
        {"agreed.a": {"finding": "stay.days", "on": "today", "situation": "four days in May"}},
        {"runs.tap hose": None},
    ):
        prints.add(fingerprint(plan.changed(values)))
    assert len(prints) == len(NAMES) + 8


def test_one_that_somebody_typed_is_known_again() -> None:
    assert same("1A2B 3c4d5E6F-7a8b", "1a2b-3c4d-5e6f-7a8b")
    assert not same("1a2b-3c4d-5e6f-7a8c", "1a2b-3c4d-5e6f-7a8b")
    assert resource("data", "starter", "full.toml").read_text(encoding="utf-8").count("#fingerprint = ") == 1
