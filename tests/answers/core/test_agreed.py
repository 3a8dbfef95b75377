"""What was agreed is told as agreed, with day and words; what can hurt somebody is never agreed."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from tests.examples import PLANS, example
from vanwater.answers.core.finding import Verdict
from vanwater.answers.core.harm import HARM, Harm
from vanwater.answers.questions import QUESTIONS, Answers, answers_to
from vanwater.command import main
from vanwater.document.short import render_for
from vanwater.plan.problems import PlanError

SAID = {"finding": "stay.days", "on": "20 November 2026", "words": "The third day is on a campsite."}


@pytest.fixture(scope="module")
def asked() -> Answers:
    return answers_to(example("family-winter").changed({"agreed.a day less": SAID}))


def test_a_finding_that_fails_is_told_as_agreed_with_its_day_and_words(asked: Answers) -> None:
    told = {finding.key: finding for finding in asked["stay"].findings}["stay.days"]
    plain = {finding.key: finding for finding in QUESTIONS["stay"].ask(example("family-winter")).findings}["stay.days"]
    assert plain.verdict is Verdict.FAILS and told.verdict is Verdict.AGREED and told.urgent
    assert told.statement.text() == f"{plain.statement.text()} Agreed 20 November 2026: The third day is on a campsite."
    assert not asked["stay"].failing and asked["frost"].failing


def test_it_counts_where_it_was_agreed_and_nowhere_else(asked: Answers) -> None:
    there = {finding.key: finding for finding in asked.situations["ski week"]["stay"].findings}
    assert there["stay.days"].verdict is Verdict.FAILS
    skiing = example("family-winter").changed({"agreed.a": SAID | {"situation": "ski week"}})
    for plan, verdict in ((skiing, Verdict.FAILS), (skiing.in_situation("ski week"), Verdict.AGREED)):
        assert {each.key: each.verdict for each in QUESTIONS["stay"].ask(plan).findings}["stay.days"] is verdict


def test_what_is_fine_or_to_be_watched_stays_so() -> None:
    plan = example("family-winter")
    plain = {finding.key: finding.verdict for answer in answers_to(plan).values() for finding in answer.findings}
    key = next(key for key in plain if key.startswith("outlets.") and plain[key] is Verdict.FINE)
    agreed = answers_to(plan.changed({"agreed.a": SAID | {"finding": key}}))
    assert {finding.key: finding.verdict for answer in agreed.values() for finding in answer.findings} == plain


@pytest.mark.parametrize("harm", (Harm.LIFE, Harm.INJURY, Harm.DAMAGE))
def test_a_danger_is_refused_with_the_reason(harm: Harm) -> None:
    kind = next(kind for kind, of in HARM.items() if of is harm).replace("*", "heater")
    plan = example("family-winter").changed({"agreed.a": SAID | {"finding": kind}})
    with pytest.raises(PlanError, match=rf"agreed\.a\.finding: .*about {harm.word}, and a signature heals nothing"):
        QUESTIONS["stay"].ask(plan)


def test_a_slip_in_the_key_is_told() -> None:
    with pytest.raises(PlanError, match="no finding of the kind"):
        QUESTIONS["stay"].ask(example("family-winter").changed({"agreed.a": SAID | {"finding": "nonsense"}}))


def test_customer_and_terminal_read_it_and_strict_lets_it_pass(
    asked: Answers, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    page = render_for("customer", asked)
    assert re.search(r'<b class="verdict agreed">\W*agreed', page) and "Agreed 20 November 2026" in page
    text = (PLANS / "weekend-cans.toml").read_text(encoding="utf-8").partition("[situations.")[0]
    text = text.replace('days_wanted = "3 days"', 'days_wanted = "9 days"')
    codes = []
    for more in ("", '\n[agreed.short]\nfinding = "stay.days"\non = "20 November 2026"\n'):
        path = tmp_path / "van.toml"
        path.write_text(text + more, encoding="utf-8")
        codes.append(main(["check", str(path), "--strict"]))
    assert codes == [1, 0]
    assert "agreed" in capsys.readouterr().out
