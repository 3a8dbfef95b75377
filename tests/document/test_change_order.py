"""A change order tells what changes, what it gives, what is added and dropped, and marks it in the drawing."""

from __future__ import annotations

import datetime as dt
import html
import re

import pytest

from tests.examples import example
from vanwater.document.change_order import render_change
from vanwater.options.comparison import Comparison
from vanwater.options.variants import compare, compare_plans
from vanwater.plan.overlay import Overlay
from vanwater.plan.problems import PlanError

DAY = dt.date(2027, 3, 4)
CHANGED = {
    "tanks.can in use.capacity": "30 L",
    "runs.tap hose.length": "3 m",
    "runs.tap hose.fittings.small cartridge filter": 1,
    "runs.suction.fittings.barb elbow": 0,
}


@pytest.fixture(scope="module")
def change() -> Comparison:
    plan = example("weekend-cans").read_in(False)
    return compare_plans("now", plan, {"larger": plan.changed(CHANGED)}, keys=())


def words(page: str) -> str:
    text = re.sub(r"<(style|svg)\b.*?</\1>", " ", page, flags=re.DOTALL)
    return re.sub(r"\s+", " ", html.unescape(re.sub(r"<[^>]+>", " ", text)))


def test_values_days_and_parts_of_both_plans_are_told(change: Comparison) -> None:
    page = render_change(change, date=DAY)
    said = words(page)
    (other,) = change.possible.values()
    now, then = (re.sub(r"\s+", " ", answers.headline.text()) for answers in (change.base, other))
    assert f"now {now}" in said and f"then {then}" in said and now != then
    assert "30 L" in said and "3 m" in said and "length of the run" in said
    assert re.search(r"cartridge.{0,60}? 0 1 add 1", said) and re.search(r"elbow.{0,60}? drop \d", said)
    assert not re.search(r"<script|src=|https?://(?!www\.w3\.org)", page)


def test_the_changed_pieces_alone_are_marked(change: Comparison) -> None:
    page = render_change(change, date=DAY)
    tags = re.findall(r"<g [^>]*changed[^>]*>", page)
    marked = {re.search(r'data-key="?(.*?)(?:"| class)', tag)[1] for tag in tags}
    assert marked == {
        "tanks.can in use",
        "runs.tap hose",
        "runs.tap hose.fittings.small cartridge filter",
        "runs.suction",
    }


def test_the_drawing_of_what_is_stands_there_only_where_a_piece_goes(change: Comparison) -> None:
    assert render_change(change, date=DAY).count("<svg") == 1
    plan = example("family-winter")
    without = compare_plans("now", plan, {"bare": plan.changed({"accumulators.accumulator": None})}, keys=())
    page = render_change(without, date=DAY)
    assert page.count("<svg") == 2 and page.index("The plumbing: now") < page.index("The plumbing: bare")


def test_in_the_other_units_no_unit_of_the_first_stands(change: Comparison) -> None:
    for us, unit in ((True, r"\d\s?(?:L|kg|bar|m|cm|°C)\b"), (False, r"\d\s?(?:gal|lb|psi|ft|°F)\b")):
        plan = change.base.plan.read_in(us)
        there = compare_plans("now", plan, {"larger": change.possible["larger"].plan}, keys=())
        assert not re.findall(unit, words(render_change(there, date=DAY)))


def test_of_very_many_changes_the_first_are_named_and_the_others_counted(
    change: Comparison, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("vanwater.document.change_order.MOST", 1)
    page = render_change(change, date=DAY)
    (table,) = re.findall(r"What the plans say differently\..*?</table>", page, re.DOTALL)
    assert table.count("<tr>") == 2 and f"And {len(CHANGED) - 1} more." in words(page)


def test_the_same_plan_says_so_and_two_others_are_refused() -> None:
    plan = example("weekend-cans")
    same = compare_plans("now", plan, {"copy": plan.changed({"van.revision": "3"})}, keys=())
    page = render_change(same, date=DAY)
    assert not re.search(r"<g [^>]*changed", page) and "Parts to add" not in page
    longer, shorter = (Overlay(name, {"runs.tap hose.length": name}) for name in ("3 m", "1 m"))
    with pytest.raises(PlanError, match="two plans"):
        render_change(compare(plan, [longer, shorter]), date=DAY)
