from __future__ import annotations

import datetime as dt
import re

import pytest

from tests.examples import example, example_answers
from vanwater.document.output_file import FORMS, PAGE, PDF, form_of
from vanwater.document.papers import in_form
from vanwater.document.writings import WRITINGS, Subject, Writing, file_name
from vanwater.options.variants import compare_plans

DAY = dt.date(2026, 11, 25)


@pytest.fixture(scope="module")
def of() -> Subject:
    plan = example("weekend-cans").read_in(False)
    change = compare_plans("now", plan, {"then": plan.changed({"household.people": 3})}, keys=())
    return Subject(answers=change.base, us=False, date=DAY, change=change)


@pytest.mark.parametrize("writing", WRITINGS.values(), ids=WRITINGS)
def test_each_is_known_again_as_what_it_is(writing: Writing, of: Subject) -> None:
    for form in writing.forms:
        if form is not PDF:  # which a browser prints
            data = in_form(writing.text(of), form, DAY)
            assert form.written_by in data[:1024] and len(data) > 200


@pytest.mark.parametrize(
    ("key", "metric", "us"),
    [("schematic", r"\d\sm\b", r"\d\sft\b"), ("scale", r"\d\sm\b", r"\d\sin\b"), ("parts", ",m,", ",ft,")],
)
def test_each_is_in_the_units_that_are_read(key: str, metric: str, us: str) -> None:
    texts = [WRITINGS[key].text(Subject(answers=example_answers("family-winter"), us=us)) for us in (False, True)]
    assert [[bool(re.search(unit, text)) for unit in (metric, us)] for text in texts] == [[True, False], [False, True]]


def test_no_two_are_called_alike_and_a_situation_is_in_the_name() -> None:
    names = [file_name(writing, "van", "ski week", form) for writing in WRITINGS.values() for form in writing.forms]
    assert len(set(names)) == len(names)
    assert file_name(WRITINGS["file"], "van") == "van.html"
    assert file_name(WRITINGS["customer"], "van", "ski week", PDF) == "van ski week customer.pdf"
    assert file_name(WRITINGS["scale"], "van", "ski week") == "van ski week scale.svg"


def test_papers_have_all_forms_and_a_change_order_needs_another_plan(of: Subject) -> None:
    for writing in WRITINGS.values():
        assert writing.forms == FORMS or len(writing.forms) == 1
        assert form_of(None) is PAGE
    with pytest.raises(TypeError, match="two plans"):
        WRITINGS["change"].text(Subject(answers=of.answers, us=False))
