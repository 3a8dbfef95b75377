"""What each question hands over is said once, in words that hold for the van, with values that the answers hold."""

from __future__ import annotations

import math
from collections.abc import Mapping

import pytest

from tests.examples import NAMES, example, example_answers
from vanwater.answers.core.amount import Amount, Range
from vanwater.answers.core.handover import HEADS, TOPICS, Fault, Gives, Handed, Living, Measure, Remember, Setting, Step
from vanwater.answers.questions import answers_to


def handed(name: str) -> list[Handed]:
    asked = example_answers(name)
    return [each for answer in asked.values() for each in answer.question.handover(asked.plan, answer)]


@pytest.mark.parametrize("name", NAMES)
def test_everything_that_is_expected_is_known(name: str) -> None:
    measures = [each for each in handed(name) if isinstance(each, Measure)]
    assert measures
    for measure in measures:
        assert measure.how and measure.means and measure.what.text()
        if isinstance(measure.expected, Amount):
            assert math.isfinite(measure.expected.value), measure.what.text()
        elif isinstance(measure.expected, Range):
            assert math.isfinite(measure.expected.likely), measure.what.text()


@pytest.mark.parametrize("name", NAMES)
def test_sentences_end_and_hold_no_hole(name: str) -> None:
    for each in handed(name):
        if isinstance(each, Measure | Setting):
            continue
        said = each.text.text() if isinstance(each, Gives | Living | Remember | Step) else each.first.text()
        assert said.endswith(".") and "{" not in said and "not known" not in said
        match each:
            case Living():
                assert each.topic in TOPICS
            case Remember():
                assert each.head in HEADS


def test_the_family_van_is_told_what_belongs_to_it() -> None:
    said = " ".join(each.text.text() for each in handed("family-winter") if isinstance(each, Living))
    assert (
        "1.1\N{NO-BREAK SPACE}bar" in said
        and "suction (R1 on the drawing), no pad on it, is blocked by ice first, after 31" in said
        and "heating and heating pad on, the fresh tank full, its water does not freeze down to" in said
        and "Fill the fresh tank with drinking water alone" in said
        and "At 60\N{NO-BREAK SPACE}°C the water of the heater is mixed before every outlet." in said
        and "after every winter, heaters off: " in said
    )
    signs = [each.sign for each in handed("family-winter") if isinstance(each, Fault)]
    assert "The relief valve drips" in signs and "It smells of gas or exhaust" not in signs


def test_what_the_van_has_decides_the_words() -> None:
    def said(name: str) -> str:
        living = [each.text.text() for each in handed(name) if isinstance(each, Living)]
        return " ".join((*living, *(each.first.text() for each in handed(name) if isinstance(each, Fault))))

    assert "with people and luggage of the plan, " in said("family-winter")
    assert "In frost think of ice" in said("family-winter") and "left in the fresh tank" in said("family-winter")
    assert "left in the can in use" in said("weekend-cans")
    bare = example("weekend-cans").changed({"loads": None, "frost": None})
    asked = answers_to(bare)
    told = [each for answer in asked.values() for each in answer.question.handover(bare, answer)]
    words = " ".join(
        each.text.text() if isinstance(each, Living) else each.first.text()
        for each in told
        if isinstance(each, Living | Fault)
    )
    assert "luggage" not in words and "ice" not in words.split()


def test_a_filter_is_looked_after_whatever_its_name() -> None:
    said = {name: [each.text.text() for each in handed(name) if isinstance(each, Remember | Step)] for name in NAMES}
    for name, lines in said.items():
        own = {kind for kind in ("strainer", "filter") for run in example(name).runs.values() if run.fitted(kind)}
        told = {kind for kind in ("strainer", "filter") if any(f"{kind.capitalize()}: " in line for line in lines)}
        assert told == own, name
        shut = next((line for line in lines if line.startswith("Every drain and tap shut")), "")
        assert all(kind in shut for kind in own)
    assert "A filter cartridge." in said["long-stay-dry-toilet"]


def test_of_frost_first_is_told_whether_a_pad_warms_it() -> None:
    def winter(changes: Mapping[str, object]) -> str:
        plan = example("family-winter").changed({"situations": None, "measured": None, **changes})
        living = [each for answer in answers_to(plan).values() for each in answer.question.handover(plan, answer)]
        return " ".join(each.text.text() for each in living if isinstance(each, Living) and each.topic == "winter")

    inside = {"runs.suction.beside": "room"}
    padded = "the last tenth of the grey tank, its pad off, is blocked by ice first"
    assert padded in winter(inside)
    assert padded.replace(", its pad off,", "") in winter({**inside, "pads.grey pad": None})
    bare = winter({"pads": None})
    assert "the suction (R1 on the drawing) is blocked by ice first" in bare and "pad" not in bare
