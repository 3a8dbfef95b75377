"""Revisions stand in the title block of every paper, the newest first; a change order says which plan is signed."""

from __future__ import annotations

import datetime as dt
import io
import re
from types import ModuleType

import pytest

from tests.examples import example
from vanwater.answers.questions import Answers, answers_to
from vanwater.document.change_order import render_change
from vanwater.document.history import MOST, fingerprint_told, history
from vanwater.document.output_file import PAPERS
from vanwater.document.papers import paper
from vanwater.options.variants import compare_plans
from vanwater.plan.fingerprint import fingerprint
from vanwater.plan.model import Plan
from vanwater.terminal.compare import compared_lines
from vanwater.terminal.screen import Screen

DAY = dt.date(2026, 11, 25)
PRINT = fingerprint(example("weekend-cans"))


def revised(count: int) -> Plan:
    rows = {f"revisions.r{n}": {"on": f"day {n}", "what": f"<i>{n}</i>", "by": "us"} for n in range(count)}
    rows["revisions.r1"] |= {"signed": "both, day 2", "fingerprint": PRINT, "checked": "by two"}
    return example("weekend-cans").changed(rows)


@pytest.fixture(scope="module")
def asked() -> Answers:
    return answers_to(revised(MOST + 2))


@pytest.mark.parametrize("who", PAPERS)
def test_the_newest_stand_first_on_every_paper(asked: Answers, who: str, reader: ModuleType) -> None:
    page = paper(who, asked, date=DAY)
    (table,) = reader.page(page).all("table", class_="history")
    rows = [[cell.text for cell in row.all() if cell.tag in ("th", "td")] for row in table.all("tr")]
    assert rows[0] == ["revision", "day", "what changed", "by", "checked", "signed"]
    shown = len(rows) - 1
    assert shown == (MOST + 2 if who == "file" else MOST)
    last = MOST + 1
    assert rows[1] == [f"r{last}", f"day {last}", f"<i>{last}</i>", "us", "", ""]
    text = reader.page(page).text
    assert ("And 2 earlier ones, in the file." in text) is (who != "file")
    assert "Signed revision r1 (both, day 2). The plan has not changed since." in text
    assert f"Fingerprint of this plan: {PRINT}" in text


def test_a_plan_without_revisions_prints_none_of_it_and_a_situation_no_fingerprint(asked: Answers) -> None:
    assert 'class="history"' not in paper("customer", answers_to(example("weekend-cans")), date=DAY)
    assert fingerprint_told(example("weekend-cans")) == ()
    assert fingerprint_told(asked.plan)[0].endswith(PRINT)
    there = history(asked.plan.in_situation("late frost"), whole=True)
    assert len(there.rows) == MOST + 2 and not there.fingerprint and there.signed is None


def test_a_change_order_and_a_comparison_say_which_plan_is_signed(asked: Answers) -> None:
    plan = asked.plan
    comparison = compare_plans("now", plan, {"then": plan.changed({"household.people": 3})}, keys=())
    page = re.sub("<[^>]+>", "", render_change(comparison, date=DAY))
    lines = " ".join(compared_lines(comparison, Screen.of(io.StringIO())))
    for told in (page, lines):
        assert "now: Signed revision r1 (both, day 2). The plan has not changed since." in told
        assert "then: Signed revision r1 (both, day 2). The plan has changed since." in told
