"""What the example vans are told, sentence by sentence, is what ``tests/told/`` holds; and it is fit to be read."""

from __future__ import annotations

import re
from difflib import unified_diff

import pytest

from tests.examples import NAMES, example, example_answers
from tests.sentences import SYSTEMS, beside, path, told

RANGED = re.compile(r"(−?[\d ]*\d(?:\.\d+)?) [^\d(,.;:]{0,12}\((−?[\d ]*\d(?:\.\d+)?) to (−?[\d ]*\d(?:\.\d+)?)\)")
METRIC = re.compile(
    r"\d (?:mm|cm|m|km|km/h|L|mL|L/min|L/day|bar|kPa|kg|°C|K)\b|\b[Ll]it(?:re|er)s?\b|\bkilogram|\bbars?\b"
)
US = re.compile(r"\d (?:in|ft|mph|fl oz|gal|gal/min|gal/day|psi|lb|°F)(?![\w/])|\b[Gg]allons?\b|\bpounds?\b|\bpsi\b")
CLUMSY = re.compile(
    r"taken to be so|what else lives|hot on top|pieces mate|by what they take|switch = switch|Heat it hotter"
    r"|10[⁻¹²³⁴⁵⁶⁷⁸⁹⁰]+"
)

EACH = [(name, system) for name in NAMES for system in SYSTEMS]


def number(text: str) -> float:
    return float(re.sub(r"[\s]", "", text.replace("−", "-")))


@pytest.fixture(scope="module", params=EACH, ids=lambda pair: ".".join(pair))
def sentences(request: pytest.FixtureRequest) -> tuple[str, str, list[str]]:
    name, system = request.param
    return name, system, told(example(name), SYSTEMS[system])


def difference(name: str, what: str, now: list[str]) -> str:
    kept = path(name, what).read_text(encoding="utf-8").splitlines()
    return "\n".join(unified_diff(kept, now, "kept", "now", lineterm="", n=0))


def test_every_sentence_is_the_one_that_was_read(sentences: tuple[str, str, list[str]]) -> None:
    diff = difference(*sentences)
    assert not diff, (
        f"{diff}\n\nRead each new sentence aloud: would a plumber say it? Then write the files anew:\n"
        "  python -m tests.sentences"
    )


@pytest.mark.parametrize("name", NAMES)
def test_every_cell_sum_and_chart_is_the_one_that_was_read(name: str) -> None:
    diff = difference(name, "shown", beside(example(name)))
    assert not diff, f"{diff}\n\nIs each new value right? Then write the files anew:\n  python -m tests.sentences"


def test_sentences_keep_to_one_system_of_units(sentences: tuple[str, str, list[str]]) -> None:
    _, system, now = sentences
    other = METRIC if SYSTEMS[system] else US
    assert [line for line in own(now) if other.search(line.split(": ", 1)[1])] == []


def test_every_likely_value_lies_between_the_ends_beside_it(sentences: tuple[str, str, list[str]]) -> None:
    ranges = [found for line in sentences[2] for found in RANGED.finditer(line)]
    assert ranges
    for found in ranges:
        likely, low, high = map(number, found.groups())
        assert low <= likely <= high, found[0]


def test_no_sentence_is_one_that_no_plumber_would_say(sentences: tuple[str, str, list[str]]) -> None:
    assert [line for line in sentences[2] if CLUMSY.search(line)] == []


def own(lines: list[str]) -> list[str]:
    """Without names of stock, as a plan writes them."""
    stock = re.compile(
        r"\b(?:pvc|silicone|vent|spiral) hose [\d.]+ mm|pex \d+ mm|(?:polyamide|polyethylene) tube \d+ mm"
    )
    return [stock.sub("hose", line) for line in lines]


@pytest.mark.parametrize(("name", "system"), EACH)
def test_every_likely_value_of_a_table_lies_between_the_ends_beside_it(name: str, system: str) -> None:
    ranged = 0
    for answer in example_answers(name).read_in(SYSTEMS[system]).values():
        for table in answer.tables:
            for row in table.cells(SYSTEMS[system]).rows:
                for cell in row:
                    ends = re.fullmatch(r"\((?:(.+) to (.+))\)", cell.ends)
                    if ends is None or not all(any(map(str.isdigit, text)) for text in (cell.text, *ends.groups())):
                        continue
                    ranged += 1
                    likely, low, high = (
                        number(text.split("\N{NO-BREAK SPACE}")[0]) for text in (cell.text, *ends.groups())
                    )
                    assert low <= likely <= high, (table.key, cell.text, cell.ends)
    assert ranged
