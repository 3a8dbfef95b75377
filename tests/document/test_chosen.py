"""What was not built is told in two figures, which are those of the plan with it."""

from __future__ import annotations

import html
from dataclasses import replace

import pytest

from tests.examples import NAMES, example, example_answers
from vanwater.answers.questions import Answers, answers_to
from vanwater.document.chosen import FIGURES, HOSE, Choice, _moved, _weighed, choices, not_taken
from vanwater.document.handover import handover
from vanwater.document.short import render_for
from vanwater.options.ready import ready
from vanwater.options.variants import compare


def test_the_figures_are_those_of_the_van_built_otherwise() -> None:
    asked = example_answers("family-winter")
    told = {each.name: each.would for each in not_taken(asked)}
    diesel = next(each for each in ready(asked.plan)["heat"].overlays if each.name == "heated by diesel")
    other = answers_to(diesel.plan(asked.plan))
    key = "battery.all_loads_a_day"
    said = told["heated by diesel"].text()
    for number in (asked.numbers[key], other.numbers[key]):
        assert number.shown.text().partition(" (")[0] in said
    assert said.index(other.numbers[key].shown.text().partition(" (")[0]) < said.index("instead of")
    assert all(len(each.amounts) <= 2 * FIGURES for each in told.values()) and len(told) <= 4


def test_nothing_of_a_drained_van_or_of_one_in_a_situation() -> None:
    for name in ("laid up", "ski week"):
        assert not_taken(answers_to(example("family-winter").in_situation(name))) == ()


def chosen(asked: Answers) -> dict[str, Choice]:
    given = handover(asked.plan, tuple(asked.values())).gives
    return {each.name: each for each in choices(asked, given)}


@pytest.mark.parametrize("name", NAMES)
def test_each_reason_of_the_plan_stands_on_the_customers_pages(name: str) -> None:
    asked = example_answers(name)
    page = html.unescape(render_for("customer", asked))
    tables = [getattr(asked.plan, table) for table in ("tanks", "pumps", "accumulators", "heaters")]
    reasons = [part.why for table in tables for part in table.values() if part.why]
    assert reasons and all(why in page for why in reasons)


def test_what_a_part_gives_is_the_answers_own_number() -> None:
    asked = example_answers("family-winter")
    told = chosen(asked)
    for part, key in (
        ("fresh tank", "tank.fresh.days"),
        ("accumulator", "pump.pump.starts"),
        ("heater", "heater.heater.charge.likely"),
    ):
        assert asked.numbers[key].shown.text() in " ".join(given.text() for given in told[part].gives), part
    assert [each.name for each in told["fresh tank"].instead] == ["fresh tank inside"]
    assert [each.name for each in told["heater"].instead] == ["heated by diesel"]
    assert told[HOSE].instead and not told[HOSE].gives
    assert "grey tank" not in told  # nobody says why, and nothing else could stand in its place


def test_every_part_with_a_reason_tells_what_it_gives() -> None:
    why = {
        f"{part}.why": "So it is."
        for part in ("tanks.grey", "pumps.pump", "pads.fresh pad", "pads.grey pad", "battery", "outlets.shower")
    }
    asked = answers_to(example("family-winter").changed(why))
    told = chosen(asked)
    for part, key in (
        ("grey tank", "tank.grey.usable"),
        ("pump", "outlet.shower.flow"),
        ("fresh pad", "tank.fresh.lowest_cold.parked"),
        ("grey pad", "tank.grey.lowest_cold.driving"),
        ("battery", "battery.days_without_charge"),
    ):
        assert asked.numbers[key].shown.text() in " ".join(given.text() for given in told[part].gives), part
    assert told["shower"].why == ("So it is.",)


def test_a_reason_is_words_and_never_markup() -> None:
    plan = example("weekend-cans").changed({"pumps.pump.why": "<b onclick=x>light</b> {so} & quiet"})
    page = render_for("customer", answers_to(plan))
    assert "&lt;b onclick=x&gt;light&lt;/b&gt; {so} &amp; quiet" in page and "<b onclick" not in page


def test_for_and_against_come_before_more_of_the_same() -> None:
    asked = example_answers("family-winter")
    others = [each.overlays[-1] for each in ready(asked.plan).values() if each.overlays][-4:]
    comparison = compare(asked.plan, others, keys=(), base=asked)
    better = {name: {each.line.key: each.better for each in _moved(comparison, name)} for name in comparison.possible}
    assert better["heated by diesel"]["battery.all_loads_a_day"]  # less is better
    assert not better["hose of 16 mm bore"]["battery.all_loads_a_day"] and not better["hose of 16 mm bore"]["stay.days"]
    (first, *_) = _moved(comparison, "hose of 16 mm bore")
    most, more, against = (replace(first, share=share, better=share > 0.2) for share in (0.5, 0.4, 0.1))
    assert _weighed([most, more, against]) == [most, against]
    assert _weighed([most, more]) == [most, more]


def test_a_part_without_a_reason_stands_there_with_what_else_could_be_built() -> None:
    told = chosen(example_answers("long-stay-dry-toilet"))
    assert told["main tank"].why == () and told["main tank"].instead and told["main tank"].gives


def test_the_other_hose_is_told_for_and_against() -> None:
    asked = example_answers("family-winter")
    hose = chosen(asked)[HOSE].instead[0].would.text()
    assert "days off-grid" in hose and "all loads of the battery" in hose


def test_a_figure_that_may_as_well_be_the_same_is_not_told(monkeypatch: pytest.MonkeyPatch) -> None:
    asked = example_answers("family-winter")
    others = [ready(asked.plan)["heat"].overlays[-1]]
    assert _moved(compare(asked.plan, others, keys=(), base=asked), others[0].name)
    monkeypatch.setattr("vanwater.options.variants_table.is_sure", lambda _: False)
    assert _moved(compare(asked.plan, others, keys=(), base=asked), others[0].name) == []
